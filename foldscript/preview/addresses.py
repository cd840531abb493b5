"""Where the preview may listen, and under which names it may be asked for.

In: an address and port as given. Out: whether others can reach it, and whether the Host header of a
request is one of ours: a page elsewhere that has its own name pointed at this machine is refused.
"""

from __future__ import annotations

import ipaddress
import socket
from dataclasses import dataclass

LOOPBACK = "127.0.0.1"


@dataclass(frozen=True)
class Address:
    """A host as given, and the port really listened on."""

    host: str
    port: int

    @property
    def url(self) -> str:
        """What to type into a browser on this machine."""
        host = LOOPBACK if self.host == "0.0.0.0" else "::1" if self.host == "::" else self.host
        return f"http://{f'[{host}]' if ':' in host else host}:{self.port}/"

    @property
    def open_to_others(self) -> bool:
        """Whether other machines can reach it."""
        return not is_loopback(self.host)

    def answers_to(self, header: str | None) -> bool:
        """Whether a Host header names this address.

        Where others may reach it, any literal IP address and this machine's own name will do: what
        must not is a name that someone else controls.
        """
        host, port = split_host(header or "")
        if port != self.port:
            return False
        if host in ("localhost", self.host.casefold()) or is_loopback(host):
            return True
        if not self.open_to_others:
            return False
        name = socket.gethostname().casefold()
        return _ip(host) is not None or host in (name, name.partition(".")[0])


def is_loopback(host: str) -> bool:
    """Whether an address or name is this machine alone."""
    address = _ip(host)
    return host.casefold() == "localhost" if address is None else address.is_loopback


def split_host(header: str) -> tuple[str, int]:
    """Host and port of a Host header (RFC 9110, 7.2); port 80 where none is said, -1 for nonsense."""
    text = header.strip().casefold()
    if text.startswith("["):
        host, found, rest = text[1:].partition("]")
        port = rest.removeprefix(":") if rest.startswith(":") else "" if not rest else "x"
        if not found or ":" not in host:
            return "", -1
    else:
        host, _, port = text.partition(":")
    if port and not (port.isascii() and port.isdigit() and len(port) <= 5):
        return "", -1
    return host, int(port) if port else 80


def _ip(host: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(host)
    except ValueError:
        return None
