"""The line that a shell takes: what ``mixlint sign`` gets of it is what was meant."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.naming import fold_name
from mixlint.review.findings import Finding, SubjectRef
from mixlint.signoffs.shell_line import quoted, sign_line
from mixlint.unseen import UNSEEN

pytestmark = pytest.mark.skipif(os.name != "posix", reason="asks a POSIX shell")


def finding(name: str, verdict: str = "flagged") -> Finding:
    return Finding(
        rule="return-fully-wet",
        area="ambience",
        grade="hold",
        verdict=verdict,  # type: ignore[arg-type]
        subject=SubjectRef(table="return", id="hall", name=name),
        message="",
        fingerprint="0" * 16,
    )


def as_the_shell_takes(line: str) -> list[str]:
    """The words that a shell makes of a line: what it runs in the place of the command prints its arguments."""
    script = f'mixlint() {{ for one in "$@"; do printf \'%s\\0\' "$one"; done; }}\n{line}\n'
    done = subprocess.run(["sh", "-s"], input=os.fsencode(script), capture_output=True, check=True, timeout=60)
    assert not done.stderr
    return [os.fsdecode(one) for one in done.stdout.split(b"\0")[:-1]]


WORDS = st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"]), max_size=40) | st.sampled_from(
    [
        "-n",
        "--by",
        "$(id)",
        "`id`",
        "a'b",
        'a"b',
        "\\",
        "\n",
        "*",
        "~",
        "!!",
        "#x",
        "%s",
        "\x1b[2J",
        "\u202ex",
        "é",
        ";ls",
    ]
)


@settings(max_examples=150)
@given(st.lists(WORDS, min_size=1, max_size=8))
def test_a_shell_takes_each_word_as_it_was_meant(words: list[str]) -> None:
    """Held against ``sh`` itself. Line feeds at the end of an unseen text are lost, as said."""
    line = " ".join(["mixlint", *map(quoted, words)])
    assert "\n" not in line
    assert not UNSEEN.search(line)
    got = as_the_shell_takes(line)
    assert [one.rstrip("\n") for one in got] == [one.rstrip("\n") for one in words]


@settings(max_examples=60)
@given(WORDS, WORDS, WORDS)
def test_the_name_and_the_reason_arrive(name: str, because: str, path: str) -> None:
    line = sign_line(finding(name), Path(f"/songs/{path}" if path else "lamp.json"), because=because, by="RM")
    got = as_the_shell_takes(line)
    assert got[:1] == ["sign"]
    assert got[2] == "return-fully-wet"
    rest = iter(got[3:])
    told: dict[str, str] = {}
    for one in rest:
        option, equals, value = one.partition("=")
        told[option] = value if equals and option in ("--on", "--because") else next(rest)
    assert fold_name(told.get("--on", "")) == fold_name(name)
    assert told["--because"].rstrip("\n") == because.rstrip("\n")
    assert told["--by"] == "RM"


def test_what_only_a_person_can_say_is_left_empty() -> None:
    line = sign_line(finding("Hall"), Path("lamp.json"))
    assert line == "mixlint sign lamp.json return-fully-wet --on Hall --because '' --by ''"
    asked = sign_line(finding("Hall", "open"), Path("-lamp.json"), standard="our house.toml", audio=False)
    assert re.fullmatch(
        r"mixlint sign \./-lamp\.json \S+ --on Hall --answer '' --because '' --by '' "
        r"--standard 'our house\.toml' --no-audio",
        asked,
    )
    assert sign_line(finding("a\0b"), Path("lamp.json")) == ""
