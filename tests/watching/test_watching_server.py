"""The served page: who is let in, what is refused, what is signed."""

from __future__ import annotations

import json
import socket
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "cli"))

from cli_sessions import half_wet, session_body
from watched import ask

from mixlint.errors import MixlintError
from mixlint.reports.plain import Page
from mixlint.runs.listening import Watch
from mixlint.watching import server as served
from mixlint.watching.reviewing import Wanted, Watched, watch_here
from mixlint.watching.server import HOST, PageServer
from mixlint.watching.signing_desk import MOST_BYTES, SigningDesk, line_of
from mixlint.watching.watcher import Renewal

pytestmark = pytest.mark.slow

HOSTILE = "<script>alert(1)</script> '\"\x1b[2J`$(id)`; ::error::"


@pytest.fixture(autouse=True)
def _cache(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "cache"))
    (tmp_path / "mixlint-standard.toml").write_text(
        'name = "lamp-house"\ntakes = ["return-fully-wet", "nothing-soloed"]\n'
    )


def renewal_of(path: Path) -> Renewal:
    wanted = Wanted({"audio": False}, None, Page(), True, "", 0)
    made = watch_here(wanted.task(path, None), Watch())
    assert isinstance(made, Watched)
    return Renewal(path, "12:00:00", made, None, False, 0.1)


def many_halls(path: Path, names: list[str]) -> Path:
    """A session with so many half-wet halls."""
    body = half_wet(session_body())
    hall = body["channels"][1]
    body["channels"][1:2] = [{**hall, "id": f"hall-{at}", "name": name} for at, name in enumerate(names)]
    body["channels"][0]["sends"] = [{"to": f"hall-{at}", "level_db": -12.0} for at in range(len(names))]
    path.write_text(json.dumps(body))
    return path


@pytest.fixture
def page(tmp_path: Path) -> Iterator[PageServer]:
    path = many_halls(tmp_path / "lamp.json", ["Hall"])
    with SigningDesk(None, audio=False) as desk, PageServer(desk) as server:
        server.renew(renewal_of(path))
        yield server


def raw(server: PageServer, text: bytes) -> bytes:
    """What comes back for bytes as they are; nothing where the connection is closed."""
    with socket.create_connection((HOST, server.server_address[1]), timeout=60) as one:
        one.sendall(text)
        parts = []
        while part := one.recv(1 << 16):
            parts.append(part)
        return b"".join(parts)


def test_it_listens_on_the_loopback_address_alone(page: PageServer) -> None:
    """Every address of 127.0.0.0/8 leads to this machine on Linux (RFC 1122, 3.2.1.3); none but the first is open."""
    assert page.socket.getsockname()[0] == "127.0.0.1"
    with pytest.raises(OSError):  # noqa: PT011 - refused, or no such address, as the system has it
        socket.create_connection(("127.0.0.2", page.server_address[1]), timeout=5)


def test_nothing_is_found_without_the_secret(page: PageServer) -> None:
    secret = page.secret
    for path in ("/", "/state", "//", f"/{secret[:-1]}/", f"/{secret}x/", f"/{secret}", secret, f"/x/{secret}/", "*"):
        assert raw(page, f"GET {path} HTTP/1.0\r\nHost: {page.host}\r\n\r\n".encode()).split()[1] == b"404", path
        assert raw(page, f"PUT {path} HTTP/1.0\r\nHost: {page.host}\r\n\r\n".encode()).split()[1] == b"404", path
        assert ask(page.host, path if path != "*" else "/*", {})[0] == 404
    assert ask(page.host, f"/{secret}/state")[0] == 200


@pytest.mark.parametrize("host", ["evil.example", "localhost", "127.0.0.1", "127.0.0.1:1", "", "[::1]"])
def test_under_another_name_it_is_refused(host: str, page: PageServer) -> None:
    """As a page elsewhere would come whose name was made to lead here."""
    request = f"GET /{page.secret}/ HTTP/1.1\r\nHost: {host}\r\n\r\n".encode()
    assert raw(page, request).split()[1] == b"403"
    twice = f"GET /{page.secret}/ HTTP/1.1\r\nHost: {page.host}\r\nHost: {page.host}\r\n\r\n".encode()
    assert raw(page, twice).split()[1] == b"403"
    assert raw(page, f"GET /{page.secret}/ HTTP/1.0\r\n\r\n".encode()).split()[1] == b"403"


def test_what_is_wrong_with_a_request_is_refused(page: PageServer, tmp_path: Path) -> None:
    path = f"/{page.secret}/sign"
    good = {"rule": "return-fully-wet", "channel": "Hall", "because": "intended sound", "by": "RM"}
    assert ask(page.host, path, good, Origin="http://evil.example")[0] == 403
    assert ask(page.host, path, good, Origin="null")[0] == 403
    assert ask(page.host, path, good, Origin="")[0] == 403
    assert ask(page.host, path, good, **{"Content-Type": "text/plain"})[0] == 415
    assert ask(page.host, path, b" " * (MOST_BYTES + 1))[0] == 413
    assert ask(page.host, path, b"[" * MOST_BYTES)[0] == 422
    assert ask(page.host, path)[0] == 404  # GET
    assert ask(page.host, f"/{page.secret}/", good)[0] == 404
    head = (
        f"POST {path} HTTP/1.0\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nContent-Type: application/json\r\n"
    )
    assert raw(page, f"{head}\r\n{{}}".encode()).split()[1] == b"411"
    assert raw(page, f"{head}Content-Length: -1\r\n\r\n{{}}".encode()).split()[1] == b"411"
    assert raw(page, f"{head}Content-Length: 2\r\nContent-Length: 3\r\n\r\n{{}}".encode()).split()[1] == b"411"
    assert raw(page, f"{head}Transfer-Encoding: chunked\r\nContent-Length: 2\r\n\r\n{{}}".encode()).split()[1] == b"411"
    for method in ("PUT", "DELETE", "HEAD", "OPTIONS", "TRACE", "PATCH"):
        answer = raw(page, f"{method} {path} HTTP/1.0\r\nHost: {page.host}\r\n\r\n".encode())
        assert answer.split()[1] == b"405", method
    assert not (tmp_path / "lamp.signed.txt").exists()


@pytest.mark.parametrize(
    "body",
    [
        b"", b"[]", b"1", b"null", b"{", b'{"rule": 1}', b'{"rule": {"a": "b"}}', b'{"rule": NaN}', b"\xff",
        b'{"rule": "a", "rule": "b"}', b'{"rule": "a", "file": "/etc/passwd"}', b'{"rule": "a", "scope": "world"}',
        b'{"rule": "a", "answer": "perhaps"}', b'{"a":' * 3000,
    ],
)  # fmt: skip
def test_only_one_flat_object_of_texts_is_read(body: bytes) -> None:
    with pytest.raises(MixlintError):
        line_of(body, audio=False)


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.text(), lambda one: st.lists(one) | st.dictionaries(
    st.sampled_from(["rule", "channel", "because", "by", "scope", "until", "answer", "x"]), one)))  # fmt: skip
def test_any_json_is_read_or_refused(body: Any) -> None:
    try:
        line = line_of(json.dumps(body).encode(), audio=True)
    except MixlintError:
        return
    assert all(isinstance(one, str) for one in (line.rule, line.because, line.by, line.scope, line.until))


def test_headers_let_the_page_do_nothing_else(page: PageServer) -> None:
    head = raw(page, f"GET /{page.secret}/ HTTP/1.0\r\nHost: {page.host}\r\n\r\n".encode()).partition(b"\r\n\r\n")[0]
    said = dict(line.split(": ", 1) for line in head.decode().split("\r\n")[1:])
    assert said["Cache-Control"] == "no-store"
    assert said["Referrer-Policy"] == "no-referrer"
    policy = said["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'")
    assert "script-src 'self'" in policy
    assert "form-action 'none'" in policy
    assert "Access-Control-Allow-Origin" not in said


def test_what_is_refused_by_sign_is_refused_here(page: PageServer, tmp_path: Path) -> None:
    path = f"/{page.secret}/sign"
    good = {"rule": "return-fully-wet", "channel": "Hall", "because": "intended sound", "by": "RM"}
    for change, word in (
        ({"by": ""}, "initials"), ({"by": "R M"}, "initials"), ({"because": " "}, "reason"), ({"rule": ""}, "no rule"),
        ({"rule": "nothing-soloed"}, "no flagged row"), ({"channel": "Plate"}, "no flagged row on Plate"),
        ({"until": "yesterday"}, "until"), ({"answer": "yes"}, "It is flagged"),
    ):  # fmt: skip
        status, answer = ask(page.host, path, {**good, **change})
        assert (status, word in answer["fault"]) == (422, True), answer
    assert not (tmp_path / "lamp.signed.txt").exists()


def test_all_who_sign_at_once_keep_their_lines(tmp_path: Path) -> None:
    """Twelve from the page, on a session with twelve rows; each stands in the file."""
    names = [f"Hall {at}" for at in range(12)]
    path = many_halls(tmp_path / "lamp.json", names)
    with SigningDesk(None, audio=False) as desk, PageServer(desk) as server:
        server.renew(renewal_of(path))

        def sign(name: str) -> int:
            body = {"rule": "return-fully-wet", "channel": name, "because": "intended sound", "by": "RM"}
            return ask(server.host, f"/{server.secret}/sign", body)[0]

        with ThreadPoolExecutor(12) as pool:
            assert list(pool.map(sign, names)) == [200] * 12
    lines = (tmp_path / "lamp.signed.txt").read_text().splitlines()
    assert len([one for one in lines if one.startswith("sign ")]) == 12


def test_hostile_names_and_reasons_stay_words(tmp_path: Path) -> None:
    path = many_halls(tmp_path / "lamp.json", [HOSTILE])
    with SigningDesk(None, audio=False) as desk, PageServer(desk) as server:
        renewal = renewal_of(path)
        server.renew(renewal)
        text = ask(server.host, f"/{server.secret}/")[1]
        assert text.count("<script") == 2  # the page's own, and the one that renews it
        assert "\x1b" not in text
        row = ask(server.host, f"/{server.secret}/rows")[1]["rows"][0]
        body = {"rule": row["rule"], "channel": row["channel"], "because": HOSTILE + "\nsign x", "by": "RM"}
        assert ask(server.host, f"/{server.secret}/sign", body)[0] == 200
    lines = (tmp_path / "lamp.signed.txt").read_text().splitlines()
    assert [one for one in lines if not one.startswith("#")] == [lines[[*map(len, lines)].index(max(map(len, lines)))]]
    assert "\x1b" not in "".join(lines)


def test_a_slow_client_is_given_up_and_too_many_are_turned_away(
    page: PageServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(served, "PATIENCE_S", 2.0)
    slow = [socket.create_connection((HOST, page.server_address[1]), timeout=60) for _ in range(served.MOST_AT_ONCE)]
    try:
        for one in slow:
            one.sendall(b"GET ")
        while page._free._value:  # all have been let in
            pass
        with pytest.raises((OSError, AssertionError)):
            assert raw(page, f"GET /{page.secret}/state HTTP/1.0\r\nHost: {page.host}\r\n\r\n".encode())
        for one in slow:
            assert one.recv(1) == b""  # given up
    finally:
        for one in slow:
            one.close()
    assert ask(page.host, f"/{page.secret}/state")[0] == 200
