"""Where files of the repository are on the site, so that a link leads on from either.

In: pages with links as they lead through the repository. Out: the same with links as they lead through the
site; a link to a file that is not on the site becomes plain words.
"""

from __future__ import annotations

import posixpath
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
#: Pages that lie outside `docs/`: where they lie, and what they are called on the site.
ELSEWHERE = {
    "grammar/README.md": "language.md",
    "DEVELOPERS.md": "developers.md",
    "CHANGELOG.md": "changes.md",
    "foldscript/classes/README.md": "class-plan-json.md",
    "foldscript/changes/README.md": "changes-json.md",
}
#: Where the site has another page in their place.
_INSTEAD = {"README.md": "index.md", "samples": "gallery.md"}
#: Files that are on the site as they are.
KEPT = ("samples/",)
#: A fenced block, or a link with its words, file and part.
_FENCED_OR_LINK = re.compile(
    r"^ *(?P<fence>```+|~~~+).*?^ *(?P=fence)$|(!?)\[([^\]]*)\]\(([^)\s#:]+)(#[^)\s]*)?\)",
    re.M | re.S,
)


def home(uri: str) -> str:
    """Where a page of the site lies in the repository."""
    for place, name in ELSEWHERE.items():
        if name == uri:
            return place
    return f"docs/{uri}"


def on_site(markdown: str, uri: str) -> str:
    """The page `uri` with links that lead through the site; what stands in a fence stays as it is."""
    return _FENCED_OR_LINK.sub(lambda found: _led(found, uri), markdown)


def _led(link: re.Match[str], uri: str) -> str:
    if link["fence"]:
        return link[0]
    picture, words, target, part = link[2], link[3], link[4], link[5] or ""
    place = posixpath.normpath(posixpath.join(posixpath.dirname(home(uri)), target))
    found = _place_on_site(place)
    if found is None:
        return link[0] if not (ROOT / place).exists() else words
    way = posixpath.relpath(found, posixpath.dirname(uri) or ".")
    return f"{picture}[{words}]({way}{part})"


def _place_on_site(place: str) -> str | None:
    """The uri of a file of the repository; None where the site does not have it."""
    if place in _INSTEAD:
        return _INSTEAD[place]
    if place in ELSEWHERE:
        return ELSEWHERE[place]
    if place.startswith("docs/") or not (ROOT / place).exists():
        return place.removeprefix("docs/") if place.startswith("docs/") else None
    return place if place.startswith(KEPT) else None
