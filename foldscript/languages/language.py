"""Languages that foldscript speaks: its own words out of a catalogue.

In: a language tag, or a PO file of one's own. Out: a `Language`. The catalogues that come along are
foldscript/locale/<language>.po; a language that has none stands for itself and says everything in English.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity, Source
from ..source.reading import read_file
from .holes import cases
from .po_file import Catalogue, read_catalogue
from .said_in import tags_of
from .tags import is_tag, what_to_say
from .wording import ENGLISH, Language, Template

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

CATALOGUE_SUFFIX = ".po"


class Spoken(Language):
    """A language with a catalogue."""

    def __init__(self, tag: str, catalogue: Catalogue) -> None:
        self.tag = tag
        self.decimal_mark = catalogue.field("X-Decimal-Mark", ".")
        _, self._form = catalogue.plurals
        known = [entry for entry in catalogue.entries if entry.translated]
        self._forms = {entry.template: entry.strings for entry in known if entry.many}
        self._said = {
            entry.template: entry.strings[self._form(1) if entry.many else 0] for entry in known
        }
        self._cases: dict[str, dict[str, str]] = {}
        #: ('de', 'le') -> 'du': words that melt into one where a sentence and its parts meet
        self._joined = [
            (*before.split(), after.strip())
            for before, _, after in (
                row.partition("=") for row in _rows(catalogue.field("X-Joined"))
            )
        ]

    def say(self, template: Template, case: str = "") -> str:
        """The template in this language, in the case asked for where the catalogue has it."""
        found = self._cases.get(template)
        if found is None:
            found = cases(self._said.get(template, template))
            self._cases[template] = found
        return found.get(case) or found[""]

    def plural(self, one: Template, many: Template, n: int) -> str:
        """The template for that many things."""
        forms = self._forms.get(one)
        return forms[self._form(n)] if forms else super().plural(one, many, n)

    def joined(self, before: str, after: str) -> tuple[str, str]:
        """'la mitad de ', 'el borde' become 'la mitad ', 'del borde'."""
        for first, second, melted in self._joined:
            head = before[: -len(first) - 1]
            if (
                before.endswith(f"{first} ")
                and after.startswith(f"{second} ")
                and (not head or not head[-1].isalnum())
            ):
                return head, melted + after[len(second) :]
        return before, after


def _rows(text: str) -> list[str]:
    return [row for row in text.split(";") if "=" in row]


class English(Language):
    """English, of some region."""

    def __init__(self, tag: str) -> None:
        self.tag = tag


class Silent(Language):
    """A language without a catalogue: what foldscript says itself stays English."""

    def __init__(self, tag: str) -> None:
        self.tag = tag


def languages() -> tuple[str, ...]:
    """Tags of the languages that foldscript speaks, English first."""
    names = (file.name for file in _locale().iterdir())
    found = (n.removesuffix(CATALOGUE_SUFFIX) for n in names if n.endswith(CATALOGUE_SUFFIX))
    return (ENGLISH.tag, *sorted(found))


def speaks(language: Language) -> bool:
    """Whether foldscript's own words come in this language."""
    return not isinstance(language, Silent)


def load_language(said: str) -> Language:
    """A language by its tag ('es', 'pt-BR'), or a catalogue file of one's own ('words.po').

    A tag is looked up as it stands, then without its region. Raises FoldscriptError: 'bad-language'
    for what is no tag, 'bad-catalogue' for a catalogue that cannot be used, what `read_file` raises.
    """
    if said.endswith(CATALOGUE_SUFFIX):
        return _own(Path(said))
    tag = tag_of(said)
    plainer = tags_of(tag)
    if plainer[-1] == ENGLISH.tag:
        return English(tag)
    found = next((catalogue for t in plainer if (catalogue := _shipped(t)) is not None), None)
    return Silent(tag) if found is None else Spoken(tag, found)


def tag_of(said: str) -> str:
    """A language tag in its usual spelling: 'pt-BR'. Raises FoldscriptError 'bad-language'."""
    words = said.strip().replace("_", "-")
    if not is_tag(words):
        raise FoldscriptError(
            Diagnostic("bad-language", f"'{said}' is no language code", hints=(what_to_say(words),))
        )
    first, *rest = words.split("-")
    return "-".join([first.lower(), *(p.upper() if len(p) == 2 else p for p in rest)])


def no_catalogue(language: Language) -> Diagnostic:
    """The warning that foldscript's own words stay English."""
    known = ", ".join(languages())
    return Diagnostic(
        "no-catalogue",
        f"foldscript has no words of its own in '{language.tag}': what it writes itself is English",
        hints=(
            Hint(f"it speaks: {known}"),
            Hint("or give it a catalogue of your own: --language words.po"),
        ),
        severity=Severity.WARNING,
    )


def _locale() -> Traversable:
    from importlib import resources  # English needs none

    return resources.files("foldscript").joinpath("locale")


@cache
def _shipped(tag: str) -> Catalogue | None:
    """The catalogue of a tag; None when there is none."""
    place = _locale().joinpath(tag + CATALOGUE_SUFFIX)
    if not place.is_file():
        return None
    return read_catalogue(Source(str(place), place.read_text("utf-8")))


def _own(path: Path) -> Language:
    catalogue = read_catalogue(read_file(path, str(path), "catalogue"))
    return Spoken(tag_of(catalogue.language), catalogue)
