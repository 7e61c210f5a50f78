"""The page of a watched session, served to this machine alone.

It listens on 127.0.0.1 and on nothing else. The address holds a secret, and whatever comes without it finds nothing.
What comes under another name of the host is refused, since a stranger's page can have its own name lead here (DNS
rebinding), and so is a request to sign that another page sends. Requests are answered one per connection, a few at a
time, each within bounds of size and time.
"""

from __future__ import annotations

import hmac
import json
import secrets
import socket
import threading
from contextlib import suppress
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from socketserver import TCPServer
from types import TracebackType
from typing import TYPE_CHECKING, Any, Final, Self

from mixlint.errors import InputError, MixlintError
from mixlint.reports.page.environment import hashed, page_script
from mixlint.watching.page import rows_to_sign, served_page, waiting_page
from mixlint.watching.signing_desk import MOST_BYTES, SigningDesk

if TYPE_CHECKING:
    from mixlint.watching.watcher import Renewal

HOST: Final = "127.0.0.1"
"""The only address that is listened on: no option names another."""
MOST_AT_ONCE: Final = 16
"""So many requests are answered at a time; more are turned away."""
PATIENCE_S: Final = 10.0
"""How long a request may take to arrive, and each piece of the answer to be taken, seconds."""
POLICY: Final = (
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'self' {}; connect-src 'self'; img-src data:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""What the page may do: the scripts of the page and of this server, asking this server, and nothing else."""
_SCRIPT: Final = Path(__file__).parent / "renew.js"


class PageServer(ThreadingHTTPServer):
    """Serves what stands.

    Args:
        desk: signs what comes from the page.
        port: the port; 0 takes a free one.

    Raises:
        InputError: the port is taken.
    """

    daemon_threads = True
    block_on_close = False
    allow_reuse_address = True
    request_queue_size = 2 * MOST_AT_ONCE

    def __init__(self, desk: SigningDesk, port: int = 0) -> None:
        self._desk = desk
        self._renewal: Renewal | None = None
        self._said = "The first review is being made."
        self._turn = 0
        self._free = threading.BoundedSemaphore(MOST_AT_ONCE)
        self.secret = secrets.token_urlsafe(24)
        try:
            super().__init__((HOST, port), _Answer)
        except OSError as fault:
            raise InputError(
                f"no page can be served there ({fault.strerror or fault})",
                where=f"port {port}",
                do="choose another --port, or leave it out",
            ) from None
        self.host = f"{HOST}:{self.server_address[1]}"

    def server_bind(self) -> None:
        """Take the address as it is: the library would ask for its name, which can take seconds."""
        TCPServer.server_bind(self)

    @property
    def address(self) -> str:
        """Where the page is, with the secret in it."""
        return f"http://{self.host}/{self.secret}/"

    def __enter__(self) -> Self:
        """Begin to serve."""
        threading.Thread(target=self.serve_forever, args=(0.1,), daemon=True).start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Serve no more."""
        self.shutdown()
        self.server_close()

    def renew(self, renewal: Renewal) -> None:
        """Show this from now on."""
        if renewal is not self._renewal or self._said:
            self._renewal, self._said = renewal, ""
            self._turn += 1

    def wait(self, said: str) -> None:
        """Say this beside what stands."""
        self._said = said

    # --- what is answered

    def page(self) -> str:
        """The page as it stands."""
        turn, renewal = self._turn, self._renewal
        return waiting_page(self._said, turn) if renewal is None else served_page(renewal, turn)

    def state(self) -> dict[str, Any]:
        """Which review stands, and what is said beside it."""
        unheard = self._renewal is not None and self._renewal.unheard
        return {"turn": self._turn, "said": self._said, "unheard": unheard}

    def rows(self) -> dict[str, Any]:
        """What can be signed in what stands."""
        rows = [] if self._renewal is None else rows_to_sign(self._renewal, self._desk.standard, audio=self._desk.audio)
        return {"turn": self._turn, "rows": rows}

    def sign(self, body: bytes) -> tuple[int, dict[str, Any]]:
        """Sign what was asked for: a status and what to tell."""
        if self._renewal is None:
            return 409, {"fault": "no review stands yet"}
        try:
            return 200, {"signed": self._desk.sign(self._renewal.session, body)}
        except (MixlintError, OSError) as fault:
            return 422, {"fault": str(fault)}

    # --- within bounds

    def process_request(self, request: Any, client_address: Any) -> None:
        """Answer in a thread, as long as there are not too many of them."""
        if not self._free.acquire(blocking=False):
            self.shutdown_request(request)
            return
        super().process_request(request, client_address)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """Answer, and let the next one in."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._free.release()

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A connection that broke off is nobody's fault, and nothing to tell."""


class _Answer(BaseHTTPRequestHandler):
    """Answers one request."""

    server: PageServer
    timeout = PATIENCE_S
    protocol_version = "HTTP/1.0"  # one request a connection

    def version_string(self) -> str:
        """The name of the server in a header, which tells nothing."""
        return "mixlint"

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is written of requests: they hold the secret."""

    def handle(self) -> None:
        """Take the request while there is time: a byte now and then would keep a thread for ever."""
        self._timer = threading.Timer(PATIENCE_S, self._give_up)
        self._timer.daemon = True
        self._timer.start()
        try:
            super().handle()
        finally:
            self._timer.cancel()

    def _give_up(self) -> None:
        with suppress(OSError):
            self.connection.shutdown(socket.SHUT_RDWR)

    def do_GET(self) -> None:
        """The page and what it asks for."""
        what = self._asked()
        if what is None:
            return
        if what == "":
            self._send(200, self.server.page(), "text/html; charset=utf-8")
        elif what == "renew.js":
            self._send(200, _SCRIPT.read_text(encoding="utf-8"), "text/javascript; charset=utf-8")
        elif what == "state":
            self._send_json(200, self.server.state())
        elif what == "rows":
            self._send_json(200, self.server.rows())
        else:
            self._refuse(404)

    def do_POST(self) -> None:
        """Sign a row."""
        what = self._asked()
        if what is None:
            return
        if what != "sign":
            self._refuse(404)
        elif self.headers.get_all("Origin") != [f"http://{self.server.host}"]:
            self._refuse(403)
        elif self.headers.get("Content-Type", "").partition(";")[0].strip().lower() != "application/json":
            self._refuse(415)
        elif (length := self._length()) is None:
            self._refuse(411)
        elif length > MOST_BYTES:
            self._refuse(413)
        else:
            body = self.rfile.read(length)
            if len(body) < length:
                self._refuse(400)
                return
            self._timer.cancel()  # it is here: what it asks for may take as long as a review
            self._send_json(*self.server.sign(body))

    def _asked(self) -> str | None:
        """What is asked for behind the secret; None where it was refused."""
        if self.headers.get_all("Host") != [self.server.host]:
            self._refuse(403)
            return None
        secret, slash, what = self.path.removeprefix("/").partition("/")
        known = hmac.compare_digest(secret.encode("utf-8", "replace"), self.server.secret.encode())
        if not (known and slash and self.path.startswith("/")):
            self._refuse(404)
            return None
        return what

    def _length(self) -> int | None:
        """How long the body is; None where that is not said, or in another way than in one number."""
        said = self.headers.get_all("Content-Length") or []
        if len(said) != 1 or "Transfer-Encoding" in self.headers:
            return None
        text = said[0].strip()
        return int(text) if text.isascii() and text.isdigit() and len(text) <= 12 else None

    def _refuse(self, status: int) -> None:
        self._send(status, "refused\n", "text/plain; charset=utf-8")

    def send_error(self, code: int, *_: Any, **__: Any) -> None:
        """What the library finds wrong with a request; of another method nothing is told without the secret."""
        if code == 501:
            if self._asked() is None:
                return
            code = 405
        self._send(code, "refused\n", "text/plain; charset=utf-8")

    def _send_json(self, status: int, body: dict[str, Any]) -> None:
        self._send(status, json.dumps(body), "application/json")

    def _send(self, status: int, text: str, kind: str) -> None:
        data = text.encode("utf-8", "backslashreplace")
        self.send_response(status)
        for name, value in (
            ("Content-Type", kind),
            ("Content-Length", str(len(data))),
            ("Content-Security-Policy", POLICY.format(hashed(page_script()))),
            ("Cache-Control", "no-store"),
            ("Referrer-Policy", "no-referrer"),
            ("X-Content-Type-Options", "nosniff"),
            ("Cross-Origin-Resource-Policy", "same-origin"),
            ("Connection", "close"),
        ):
            self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)
