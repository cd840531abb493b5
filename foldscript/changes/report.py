"""The way from two versions to what is told of them: pairs, comparison, pages, files.

In: two versions. Out: a text, and the before/after page written where it belongs.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from ..building.script import Doing
from ..captions.choosing import chosen
from ..drawing.style.styles import Style, load_style
from ..output.writing import write_files
from ..pages.sizes import PageSize, page_size
from ..source.diagnostics import Diagnostic, FoldscriptError
from .comparing import Fate, compare
from .page import changes_html
from .reprinting import reprint
from .telling import changes_json, changes_text
from .versions import Version, pairs, revisions, two_paths

#: Name of the folder and of the page.
NAME = "changes"


@dataclass(frozen=True)
class Looks:
    """How drawings are compared and shown: a change is what is different then.

    `languages` are those of a booklet's pages, () for those that its file asks for.
    """

    page: PageSize
    style: Style
    languages: tuple[str, ...] = ()


def looks(page: str, style: str, languages: Iterable[str] = ()) -> Looks:
    """As given on the command line. Raises FoldscriptError where one is unknown."""
    return Looks(page_size(page), load_style(style), chosen(languages))


@dataclass(frozen=True)
class Reported:
    """What there is to tell, as text and as JSON; the page, None where nothing has changed."""

    text: str
    json: str
    page: Path | None
    notes: tuple[Diagnostic, ...]

    @property
    def changed(self) -> bool:
        """Whether anything looks other than before."""
        return self.page is not None


def between_paths(old: Path, new: Path, looks: Looks, out: Path, doing: Doing) -> Reported:
    """Compares two scripts, folders or booklet files. Raises FoldscriptError."""
    return _report(*two_paths(old, new), looks, out, doing)


def between_revisions(
    path: Path, since: str, until: str, looks: Looks, out: Path, doing: Doing
) -> Reported:
    """Compares a path at a revision of git with another, '' for how it is now."""
    with ExitStack() as stack:
        doing("reading earlier revisions of")
        return _report(*revisions(path, since, until, stack), looks, out, doing)


def _report(old: Version, new: Version, looks: Looks, out: Path, doing: Doing) -> Reported:
    changes = []
    try:
        found = pairs(old, new)
    except FoldscriptError as error:
        faults = (old.named(new.named(fault)) for fault in error.diagnostics)
        raise FoldscriptError(*faults) from error
    for pair in found:
        doing(f"comparing {pair.name} in")
        changes.append(compare(pair, old, new, looks.style, looks.page))
    notes = [fault for change in changes for fault in change.faults]
    broken = any(change.fate is Fate.BROKEN for change in changes)
    again = reprint(old, new, doing, looks.languages) if new.booklet and not broken else ()
    text = changes_text(changes, again)
    same = all(change.fate is Fate.SAME for change in changes) and not any(
        edition.changed for edition in again
    )
    page = None
    if not same:
        html = changes_html(changes, again, looks.style, old.words, new.words)
        (page,) = write_files(out / NAME, {f"{NAME}.html": html}, NAME)
    return Reported(text, changes_json(changes, again, page), page, tuple(notes))
