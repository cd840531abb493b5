"""The preview's server: what it answers, and to whom."""

from __future__ import annotations

import http.client
import socket
import threading
import time
from collections.abc import Iterator

import pytest

from foldscript.preview import serving
from foldscript.preview.addresses import Address, is_loopback, split_host
from foldscript.preview.board import Board
from foldscript.preview.looking import InView
from foldscript.preview.serving import MOST_WATCHERS, Server, assets
from foldscript.preview.shown import Picture, Shown

from .places import ask, news

SVG = Picture("1", b"<svg/>", 10.0, 20.0)


@pytest.fixture
def server() -> Iterator[Server]:
    made = Server("127.0.0.1", 0, Board())
    made.board.show(Shown("card.foldscript", "Card", (SVG,)))
    threading.Thread(target=made.serve_forever, args=(0.05,), daemon=True).start()
    yield made
    made.board.close()
    made.shutdown()
    made.server_close()


# --- what is served ------------------------------------------------------------------------


def test_the_page_and_what_belongs_to_it(server: Server) -> None:
    for path in assets():
        status, headers, body = ask(server, path)
        assert (status, len(body) > 100) == (200, True), path
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "unsafe" not in headers["Content-Security-Policy"]
        assert headers["X-Content-Type-Options"] == "nosniff"
    status, headers, body = ask(server, f"/picture/{SVG.name}")
    assert (status, headers["Content-Type"], body) == (200, "image/svg+xml; charset=utf-8", SVG.svg)


def test_the_page_asks_nobody_else() -> None:
    for _, content in assets().values():
        if b"</html>" in content or b"EventSource" in content or b"font-face" in content:
            text = content.decode()
            assert "//" not in text.replace("// ", "").replace("/* ", "")
            assert "innerHTML" not in text
            assert "localStorage" not in text


@pytest.mark.parametrize(
    "path",
    [
        "/../pyproject.toml",
        "/..%2f..%2fetc/passwd",
        "//etc/passwd",
        "/etc/passwd",
        "/picture/../preview.js",
        "/picture/",
        "/picture/%2e%2e",
        "/preview.py",
        "/preview.js/",
        "/?x=1",
        "/card.foldscript",
        "http://example.org/",
        "*",
        f"/picture/{'0' * 24}",
        f"/picture/{SVG.name}/",
    ],
)
def test_nothing_else_is_there(server: Server, path: str) -> None:
    status, headers, body = ask(server, path, Host=f"localhost:{server.place.port}")
    assert (status, body) == (404, b"Not Found\n")
    assert "Content-Security-Policy" in headers


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS", "TRACE"])
def test_nothing_can_be_sent(server: Server, method: str) -> None:
    assert ask(server, "/", method)[0] == 501


def test_what_is_in_view_can_be_said(server: Server) -> None:
    status, headers, body = ask(server, "/in-view/2.0.61-1.80.100/card.foldscript", "POST")
    assert (status, body, headers["Cache-Control"]) == (204, b"", "no-store")
    assert server.board.in_view("card.foldscript") == (InView(2, 0, 61), InView(1, 80, 100))
    server.board.remove("card.foldscript")
    assert server.board.in_view("card.foldscript") == ()


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/news",
        "/in-view/",
        "/in-view/1/card.foldscript",
        "/in-view/1.0.61/",
        "/in-view/-1.0.61/card.foldscript",
        "/in-view/1.0.61/a/b",
        "/in-view/1.0.61/a?b",
        "/in-view/99999.0.1/card.foldscript",
        "/in-view/" + "1.0.1-" * 16 + "1.0.1/card.foldscript",
    ],
)
def test_nothing_else_can_be_said(server: Server, path: str) -> None:
    assert ask(server, path, "POST")[0] == 404
    assert server.board.in_view("card.foldscript") == ()


def test_only_our_own_page_can_say_it(server: Server) -> None:
    path = "/in-view/1.0.61/card.foldscript"
    assert ask(server, path, "POST", Host="example.org")[0] == 421
    assert ask(server, path, "POST", Sec_Fetch_Site="cross-site")[0] == 403
    assert server.board.in_view("card.foldscript") == ()
    assert ask(server, "/in-view/1.0.61/other.foldscript", "POST")[0] == 204
    assert server.board.in_view("other.foldscript") == (), "nothing is kept of what is not shown"


def test_heads_are_answered(server: Server) -> None:
    status, headers, body = ask(server, "/", "HEAD")
    assert (status, body) == (200, b"")
    assert int(headers["Content-Length"]) > 100


def test_pictures_that_are_no_longer_shown_go(server: Server) -> None:
    other, third = (Picture("1", svg, 1.0, 1.0) for svg in (b"<svg>2</svg>", b"<svg>3</svg>"))
    server.board.show(Shown("card.foldscript", "Card", (other,)))
    assert ask(server, f"/picture/{SVG.name}")[0] == 200, "a browser may still be fetching it"
    server.board.show(Shown("card.foldscript", "Card", (third,)))
    assert ask(server, f"/picture/{SVG.name}")[0] == 404
    server.board.remove("card.foldscript")
    assert next(iter(news(server))) == {"key": "card.foldscript", "gone": True}


def test_news_comes_as_it_happens(server: Server) -> None:
    told = news(server)
    assert next(told)["pages"] == [{"name": SVG.name, "label": "1", "width": 10.0, "height": 20.0}]
    server.board.show(Shown("card.foldscript", "Another\ntitle", (SVG,), old=True))
    later = next(told)
    assert (later["title"], later["old"]) == ("Another\ntitle", True)


def test_too_many_watchers(server: Server) -> None:
    watching = [news(server) for _ in range(MOST_WATCHERS)]
    for one in watching:
        next(one)
    assert ask(server, "/news")[0] == 503
    assert ask(server, "/")[0] == 200


# --- to whom -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "host",
    ["example.org", "example.org:{port}", "127.0.0.1:1", "", "localhost", "[::1", "a b:{port}"],
)
def test_a_foreign_name_is_refused(server: Server, host: str) -> None:
    """A page elsewhere that has its own name pointed here (DNS rebinding) gets nothing."""
    assert ask(server, "/", Host=host.format(port=server.place.port))[0] == 421


def test_no_host_at_all_is_refused(server: Server) -> None:
    with socket.create_connection(("127.0.0.1", server.place.port), 5) as link:
        link.sendall(b"GET / HTTP/1.0\r\n\r\n")
        assert b" 421 " in link.makefile("rb").readline()


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "LOCALHOST", "[::1]"])
def test_this_machine_by_any_of_its_names(server: Server, host: str) -> None:
    assert ask(server, "/", Host=f"{host}:{server.place.port}")[0] == 200


def test_other_pages_may_link_here_and_no_more(server: Server) -> None:
    for site in ("cross-site", "same-site"):
        assert ask(server, "/", Sec_Fetch_Site=site)[0] == 200
        assert ask(server, "/news", Sec_Fetch_Site=site)[0] == 403
        assert ask(server, f"/picture/{SVG.name}", Sec_Fetch_Site=site)[0] == 403
    assert "Access-Control-Allow-Origin" not in ask(server, "/")[1]
    assert "frame-ancestors 'none'" in ask(server, "/")[1]["Content-Security-Policy"]


def test_it_listens_on_loopback_alone(server: Server) -> None:
    assert server.socket.getsockname()[0] == "127.0.0.1"
    assert not server.place.open_to_others


@pytest.mark.parametrize(
    ("host", "open_to_others"),
    [
        ("127.0.0.1", False),
        ("127.8.9.1", False),
        ("localhost", False),
        ("::1", False),
        ("0.0.0.0", True),
        ("::", True),
        ("192.168.1.7", True),
        ("club.example", True),
    ],
)
def test_which_addresses_others_can_reach(host: str, open_to_others: bool) -> None:
    assert Address(host, 80).open_to_others is open_to_others
    assert is_loopback(host) is not open_to_others


def test_an_address_open_to_others_still_refuses_names() -> None:
    place = Address("0.0.0.0", 8320)
    assert place.answers_to("192.168.1.7:8320")
    assert place.answers_to("localhost:8320")
    assert not place.answers_to("evil.example:8320")
    assert not Address("127.0.0.1", 8320).answers_to("192.168.1.7:8320")
    assert place.url == "http://127.0.0.1:8320/"
    assert Address("::1", 8320).url == "http://[::1]:8320/"


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        ("a", ("a", 80)),
        ("A:8", ("a", 8)),
        ("[::1]", ("::1", 80)),
        ("[::1]:8", ("::1", 8)),
        ("", ("", 80)),
        ("a:", ("a", 80)),
        ("a:b", ("", -1)),
        ("[::1]8", ("", -1)),
        ("[a]:8", ("", -1)),
        ("a:999999", ("", -1)),
        ("a:１", ("", -1)),
        ("::1", ("", -1)),
    ],
)
def test_hosts_are_read(header: str, expected: tuple[str, int]) -> None:
    assert split_host(header) == expected


# --- those who never finish ---------------------------------------------------------------------


def test_a_request_that_drips_in_is_cut_off(
    server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(serving, "_PATIENCE", 0.3)
    with socket.create_connection(("127.0.0.1", server.place.port), timeout=10) as link:
        link.sendall(b"GET / HTTP/1.1\r\nX: ")
        link.settimeout(0.05)
        for _ in range(200):
            try:
                link.sendall(b"a")  # always a little, so that no single wait is long
                if not link.recv(100):
                    break
            except TimeoutError:
                continue
            except OSError:
                break
        else:
            raise AssertionError("still waited for")
    assert ask(server, "/")[0] == 200


def test_the_news_go_on_longer_than_a_request_may_take(
    server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(serving, "_PATIENCE", 0.1)
    told = news(server)
    assert next(told)["title"] == "Card"
    time.sleep(0.5)
    server.board.show(Shown("card.foldscript", "Second", (SVG,)))
    assert next(told)["title"] == "Second"


def test_connections_have_a_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serving, "MOST_LINKS", 2)
    made = Server("127.0.0.1", 0, Board())
    threading.Thread(target=made.serve_forever, args=(0.05,), daemon=True).start()
    where = ("127.0.0.1", made.place.port)
    try:
        held = [socket.create_connection(where, timeout=10) for _ in range(2)]
        with socket.create_connection(where, timeout=10) as third:
            assert third.recv(1) == b""
        held.pop().close()
        for _ in range(100):
            try:
                assert ask(made, "/")[0] == 200
                break
            except (ConnectionError, http.client.HTTPException):
                time.sleep(0.05)
        else:
            raise AssertionError("the place was not given back")
        held.pop().close()
    finally:
        made.board.close()
        made.shutdown()
        made.server_close()
