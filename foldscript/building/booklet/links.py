"""The link of a booklet file: an address that its back cover gives, in letters and as a code.

In: the table of the file. Out: the link, '' for none; what no telephone could open is noted at its line.
"""

from __future__ import annotations

import re
from urllib.parse import urlsplit

from ...source.toml_table import Table

#: Letters; a code for more has squares that telephones read badly at the size of a cover.
LONGEST_LINK = 200
_VISIBLE = re.compile(r"[!-~]+")  # ASCII without space (RFC 3986, 2)


def link(table: Table) -> str:
    """What `link` says."""
    said = table.text("link")
    fault = _fault(said) if said else None
    if fault is None:
        return said
    table.fault(("link",), "bad-value", *fault)
    return ""


def _fault(said: str) -> tuple[str, str] | None:
    """What is wrong with a link, and a hint."""
    hint = 'for instance link = "https://example.org/folding"'
    if len(said) > LONGEST_LINK:
        return (
            f"the link has {len(said)} letters, a code on a cover has room for {LONGEST_LINK}",
            "take a shorter address",
        )
    if not _VISIBLE.fullmatch(said):
        return "a link has no spaces, and letters a to z only", hint
    try:
        parts = urlsplit(said)
        host, name = parts.hostname, parts.username
        _ = parts.port  # raises where it is none
    except ValueError:
        return "the link is no address", hint
    if parts.scheme not in ("http", "https"):
        return "a link begins with https:// or http://", hint
    if not host:
        return "the link names no site", hint
    if name is not None:
        return "a link that names a user is not printed", "leave out what stands before '@'"
    return None
