"""A web page that leads to what was made of many models: a card for each, with its finished picture.

In: `Entry`s, whose files are told as seen from the page. Out: the bytes of a page that stands alone but for
the pictures and files that lie beside it; it asks for no network.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from importlib import resources
from urllib.parse import quote

from . import web


@dataclass(frozen=True)
class Entry:
    """A model among the results.

    Attributes
    ----------
    name, title, level : of its script and from its head; '' where that does not say
    picture : of the finished model; '' where there is none
    files : what was made, each with what it is called
    fault : what is wrong with the results; '' where nothing is
    """

    name: str
    title: str
    level: str = ""
    picture: str = ""
    files: tuple[tuple[str, str], ...] = ()
    fault: str = ""


def index_html(title: str, entries: Sequence[Entry]) -> bytes:
    """The page, models in the order given."""
    made = sum(not entry.fault for entry in entries)
    body = [
        "<main>",
        f"<h1>{web.text(title)}</h1>",
        f"<p>{made} of {len(entries)} models</p>",
        '<ul class="models">',
        *_cards(entries),
        "</ul>",
        "</main>",
    ]
    sheet = (resources.files(__package__ or "foldscript.output") / "index.css").read_text("utf-8")
    return web.page(title, "en", "\n".join(body), sheet, pictures=True)


def _cards(entries: Iterable[Entry]) -> Iterator[str]:
    for entry in entries:
        yield f'<li id="{web.text(entry.name)}"{" class=wrong" if entry.fault else ""}>'
        if entry.picture:
            yield f'<img src="{_address(entry.picture)}" alt="" loading="lazy">'
        yield f"<h2>{web.text(entry.title or entry.name)}</h2>"
        yield from (f"<p>{web.text(words)}</p>" for words in (entry.level, entry.fault) if words)
        links = (f'<a href="{_address(file)}">{web.text(kind)}</a>' for kind, file in entry.files)
        yield f"<p>{' '.join(links)}</p></li>"


def _address(path: str) -> str:
    """A path beside the page as an address; a name with a colon is no scheme."""
    return web.text(f"./{quote(path)}")
