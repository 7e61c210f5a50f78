"""A watch in a process of its own, with what it has told so far."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from http.client import HTTPConnection
from pathlib import Path
from types import TracebackType
from typing import Any, Self

DEADLINE_S = 60.0
"""How long a machine may take that has much else to do: no time is measured here."""


class Watched:
    """``mixlint watch`` with these arguments, its outputs in files of a folder."""

    def __init__(self, folder: Path, *arguments: object) -> None:
        self.out, self.err = folder / "told.out", folder / "told.err"
        with self.out.open("wb") as out, self.err.open("wb") as err:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "mixlint", "watch", *map(str, arguments)],
                stdout=out,
                stderr=err,
                cwd=folder,
                start_new_session=True,
            )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def told(self) -> str:
        """What stands on the terminal."""
        return self.out.read_text("utf-8")

    def said(self) -> str:
        """What stands on standard error."""
        return self.err.read_text("utf-8")

    def until(self, holds: Callable[[], object]) -> None:
        """Wait until something holds."""
        end = time.monotonic() + DEADLINE_S
        while not holds():
            assert self.process.poll() is None, self.said()
            assert time.monotonic() < end, f"{self.told()}\n{self.said()}"
            time.sleep(0.02)

    def until_stands(self, count: int) -> str:
        """Wait until so many reviews stood; the last of them."""
        self.until(lambda: len(self._reviews()) > count and " not applicable." in self._reviews()[count])
        return self._reviews()[count]

    def until_said(self, *words: str) -> None:
        """Wait until all of these stand on standard error."""
        self.until(lambda: all(word in self.said() for word in words))

    def _reviews(self) -> list[str]:
        found = re.split(r"^─+\n(?=\d\d:\d\d:\d\d)", self.told(), flags=re.MULTILINE)
        return [one for one in found if "Without its sound" not in one]  # shown while a slow machine hears it

    def stopped(self) -> tuple[int, str]:
        """Stop it from the keyboard: the status, and the last line that was said."""
        os.killpg(self.process.pid, signal.SIGINT)
        status = self.process.wait(DEADLINE_S)
        return status, self.said().splitlines()[-1]

    def ask(self, what: str, body: object = None, **headers: str) -> tuple[int, Any]:
        """Ask the page for something: the status, and the answer where it is JSON."""
        self.until_said("/\n")
        found = re.search(r"http://(\S+?)/(\S+)/\n", self.said())
        assert found
        return ask(found[1], f"/{found[2]}/{what}", body, **headers)


def ask(host: str, path: str, body: object = None, **headers: str) -> tuple[int, Any]:
    """One request: posted where there is a body."""
    connection = HTTPConnection(host, timeout=DEADLINE_S)
    try:
        if body is None:
            connection.request("GET", path, headers=headers)
        else:
            sent = body if isinstance(body, bytes) else json.dumps(body).encode()
            given = {"Origin": f"http://{host}", "Content-Type": "application/json", **headers}
            connection.request("POST", path, sent, {name: value for name, value in given.items() if value})
        answer = connection.getresponse()
        text = answer.read().decode("utf-8")
        return answer.status, json.loads(text) if answer.headers["Content-Type"] == "application/json" else text
    finally:
        connection.close()
