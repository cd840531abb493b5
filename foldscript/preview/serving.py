"""The preview's server: one page, its looks, its font, the pictures on the board, and the news.

In: requests by browsers. Out: what has been made, and nothing else: an address is looked up in a table,
never on the disk. The page may say which pages are in view, so that these are made first. Every answer
forbids the page to load or send anything elsewhere.
"""

from __future__ import annotations

import re
import socket
import threading
import time
from contextlib import suppress
from functools import cache
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib import resources
from urllib.parse import unquote

from ..output import fonts, turning
from .addresses import Address
from .board import Board
from .looking import InView

#: Browsers (open pages) that are told the news at the same time.
MOST_WATCHERS = 32
#: Connections at the same time; whoever comes then is sent away.
MOST_LINKS = 128
#: Seconds of silence before a watcher is sent a sign of life.
_HEARTBEAT = 10.0
#: Seconds that a request may take to come in.
_PATIENCE = 20.0
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; "
    "img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "Content-Security-Policy": _POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
_KINDS = {"html": "text/html", "css": "text/css", "js": "text/javascript"}
_ICON = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16">'
    b'<path fill="#ffffff" stroke="#14191c" d="M1 12.5 8 3.5l7 9z"/>'
    b'<path fill="#c9dde4" stroke="#14191c" d="M4 12.5 8 7.5l4 5z"/></svg>'
)
_PICTURES = "/picture/"
_Link = socket.socket | tuple[bytes, socket.socket]
#: What is in view (page, top and bottom in hundredths of its height), and the script that it is of.
_PART = r"\d{1,4}\.\d{1,3}\.\d{1,3}"
_LOOKING = re.compile(rf"/in-view/({_PART}(?:-{_PART}){{0,15}})/([^/?#]{{1,2000}})")


@cache
def assets() -> dict[str, tuple[str, bytes]]:
    """Address -> kind and content of everything that is always there."""
    folder = resources.files(__package__ or "foldscript.preview")
    found = {"/icon.svg": ("image/svg+xml", _ICON)}
    for name in ("preview.html", "preview.css", "preview.js"):
        kind = f"{_KINDS[name.rpartition('.')[2]]}; charset=utf-8"
        address = "/" if name == "preview.html" else f"/{name}"
        found[address] = kind, (folder / name).read_bytes()
    found["/turning.js"] = f"{_KINDS['js']}; charset=utf-8", turning.script().encode()
    for address, bold in (("/regular.ttf", False), ("/bold.ttf", True)):
        found[address] = "font/ttf", fonts.font_file(bold).read_bytes()
    return found


class Server(ThreadingHTTPServer):
    """Listens at an address and serves a board."""

    daemon_threads = True
    block_on_close = False
    allow_reuse_address = True

    def __init__(self, host: str, port: int, board: Board) -> None:
        self.address_family = socket.AF_INET6 if ":" in host else socket.AF_INET
        self.board = board
        self.seats = threading.BoundedSemaphore(MOST_WATCHERS)
        self._links = threading.BoundedSemaphore(MOST_LINKS)
        self._asking: dict[
            socket.socket, float
        ] = {}  # requests that come in -> until when they may
        self._lock = threading.Lock()
        super().__init__((host, port), _Handler)
        self.place = Address(host, self.server_address[1])

    def server_bind(self) -> None:
        """Binds without asking any name service who we are."""
        self.socket.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        self.socket.bind(self.server_address)
        self.server_address = self.socket.getsockname()
        self.server_name, self.server_port = str(self.server_address[0]), self.server_address[1]

    def process_request(self, request: _Link, client_address: object) -> None:
        """A thread for a connection, as long as there are not too many."""
        if self._links.acquire(blocking=False):
            super().process_request(request, client_address)
        else:
            self.shutdown_request(request)

    def process_request_thread(self, request: _Link, client_address: object) -> None:
        """Gives the place back afterwards."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._links.release()

    def asking(self, link: socket.socket) -> None:
        """Notes that a request may come in from now on, for so long and no longer."""
        with self._lock:
            self._asking[link] = time.monotonic() + _PATIENCE

    def asked(self, link: socket.socket) -> None:
        """Notes that it is there, or that no more will come."""
        with self._lock:
            self._asking.pop(link, None)

    def service_actions(self) -> None:
        """Hangs up on those who send their request byte by byte, or never to its end."""
        with self._lock:
            late = [link for link, end in self._asking.items() if end < time.monotonic()]
            for link in late:
                del self._asking[link]
        for link in late:
            with suppress(OSError):
                link.shutdown(socket.SHUT_RDWR)

    def handle_error(self, request: object, client_address: object) -> None:
        """A browser that goes away in the middle is nothing to talk about."""


class _Handler(BaseHTTPRequestHandler):
    server: Server  # pyright: ignore[reportIncompatibleVariableOverride]
    protocol_version = "HTTP/1.1"
    timeout = _PATIENCE
    disable_nagle_algorithm = True

    def handle_one_request(self) -> None:
        """One request, which has to come in within its time."""
        self.server.asking(self.connection)
        try:
            super().handle_one_request()
        finally:
            self.server.asked(self.connection)

    def parse_request(self) -> bool:
        """Reads the head; there is no more to a request."""
        fit = super().parse_request()
        self.server.asked(self.connection)
        return fit

    def do_GET(self) -> None:
        """Answers a request."""
        if not self._welcome():
            return
        if self.path == "/news":
            self._news()
        elif self.path.startswith(_PICTURES):
            svg = self.server.board.picture(self.path.removeprefix(_PICTURES))
            self._answer("image/svg+xml; charset=utf-8", svg, keep=True)
        else:
            kind, content = assets().get(self.path, ("", None))
            self._answer(kind, content)

    do_HEAD = do_GET

    def do_POST(self) -> None:
        """Takes in which pages are in view; the address says it all."""
        self.close_connection = True  # whatever else is sent is not read
        if not self._welcome():
            return
        said = _LOOKING.fullmatch(self.path)
        if said is None:
            self._refuse(HTTPStatus.NOT_FOUND)
            return
        views = [InView(*map(int, part.split("."))) for part in said[1].split("-")]
        self.server.board.look(unquote(said[2]), views)
        self._head(HTTPStatus.NO_CONTENT, "text/plain; charset=utf-8", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()

    def _welcome(self) -> bool:
        """Whether the request comes from our own page, or from the address bar; refuses it if not."""
        if not self.server.place.answers_to(self.headers.get("Host")):
            self._refuse(HTTPStatus.MISDIRECTED_REQUEST)
        elif self.path != "/" and self.headers.get("Sec-Fetch-Site") in ("cross-site", "same-site"):
            self._refuse(HTTPStatus.FORBIDDEN)
        else:
            return True
        return False

    def version_string(self) -> str:
        """What the server calls itself."""
        return "foldscript"

    def log_message(self, format: str, *args: object) -> None:
        """Requests are not told one by one."""

    def _answer(self, kind: str, content: bytes | None, keep: bool = False) -> None:
        if content is None:
            self._refuse(HTTPStatus.NOT_FOUND)
            return
        self._head(HTTPStatus.OK, kind, "private, max-age=3600, immutable" if keep else "no-cache")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command == "GET":
            self.wfile.write(content)

    def _refuse(self, status: HTTPStatus) -> None:
        self._head(status, "text/plain; charset=utf-8", "no-store")
        content = f"{status.phrase}\n".encode()
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Connection", "close")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def _head(self, status: HTTPStatus, kind: str, cache: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Cache-Control", cache)
        for name, value in _HEADERS.items():
            self.send_header(name, value)

    def _news(self) -> None:
        """Server-sent events (HTML Living Standard, 9.2), until the browser or the board goes."""
        if not self.server.seats.acquire(blocking=False):
            self._refuse(HTTPStatus.SERVICE_UNAVAILABLE)
            return
        try:
            self._tell_on()
        except OSError:
            pass  # the browser has gone
        finally:
            self.server.seats.release()

    def _tell_on(self) -> None:
        self._head(HTTPStatus.OK, "text/event-stream; charset=utf-8", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        if self.command != "GET":
            return
        number = 0
        self.wfile.write(b"retry: 1000\n\n")
        while (messages := self.server.board.wait(number, _HEARTBEAT)) is not None:
            if not messages:
                self.wfile.write(b": still here\n\n")
            for message in messages:
                self.wfile.write(f"data: {message.text}\n\n".encode())
                number = message.number
