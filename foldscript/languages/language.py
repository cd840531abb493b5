"""Languages that foldscript speaks: its own words out of a catalogue.

In: a language tag, or a PO file of one's own. Out: a `Language`. The catalogues that come along lie in
foldscript/locale/<language>/LC_MESSAGES/ and are read by Python's gettext; a language that has none
stands for itself and says everything in English.
"""

from __future__ import annotations

import re
from functools import cache
from gettext import GNUTranslations
from importlib import resources
from importlib.resources.abc import Traversable
from io import BytesIO
from pathlib import Path

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity, Source, Span
from ..source.reading import read_file
from .holes import cases, wrong
from .mo_file import compiled
from .po_file import read_catalogue
from .wording import ENGLISH, Language, Template

CATALOGUE_SUFFIX = ".po"
_TAG = re.compile(r"[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*")
_DOMAIN = "foldscript"


class Spoken(Language):
    """A language with a catalogue."""

    def __init__(self, tag: str, words: GNUTranslations) -> None:
        self.tag = tag
        self._words = words
        self._cases: dict[str, dict[str, str]] = {}
        info = words.info()
        self.decimal_mark = info.get("x-decimal-mark", ".")
        #: ('de', 'le') -> 'du': words that melt into one where a sentence and its parts meet
        self._joined = [
            (*before.split(), after.strip())
            for before, _, after in (row.partition("=") for row in _rows(info.get("x-joined", "")))
        ]

    def say(self, template: Template, case: str = "") -> str:
        """The template in this language, in the case asked for where the catalogue has it."""
        found = self._cases.get(template)
        if found is None:
            found = cases(self._words.gettext(template)) if template else {"": ""}
            self._cases[template] = found
        return found.get(case) or found[""]

    def plural(self, one: Template, many: Template, n: int) -> str:
        """The template for that many things."""
        return self._words.ngettext(one, many, n)

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
    found = [p.name.replace("_", "-") for p in _locale().iterdir() if _file(p, "mo").is_file()]
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
    parts = tag.split("-")
    if parts[0] == ENGLISH.tag:
        return English(tag)
    for end in range(len(parts), 0, -1):
        found = _shipped("-".join(parts[:end]))
        if found is not None:
            return Spoken(tag, found)
    return Silent(tag)


def tag_of(said: str) -> str:
    """A language tag in its usual spelling: 'pt-BR'. Raises FoldscriptError 'bad-language'."""
    words = said.strip().replace("_", "-")
    if not _TAG.fullmatch(words):
        hint = Hint("en for English, es for Spanish, pt-BR for Brazilian Portuguese")
        raise FoldscriptError(
            Diagnostic("bad-language", f"'{said}' is no language code", hints=(hint,))
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
    return resources.files(_DOMAIN).joinpath("locale")


def _file(folder: Traversable, kind: str) -> Traversable:
    return folder.joinpath("LC_MESSAGES", f"{_DOMAIN}.{kind}")


@cache
def _shipped(tag: str) -> GNUTranslations | None:
    """The catalogue of a tag; None when there is none."""
    folder = _locale().joinpath(tag.replace("-", "_"))
    place = _file(folder, "mo")
    if not place.is_file():
        return None
    with place.open("rb") as file:
        words = GNUTranslations(file)  # type: ignore[arg-type]
    if not _sound(words):
        _refuse(folder)
    return words


def _sound(words: GNUTranslations) -> bool:
    """Whether every translation has the holes of its template; the file might not be as we made it."""
    entries: dict[str | tuple[str, int], str] = words._catalog  # type: ignore[attr-defined]
    for key, text in entries.items():
        if isinstance(key, tuple):
            if wrong((key[0], "{n}"), text, key[1]):
                return False
        elif key and wrong((key,), text):
            return False
    return True


def _refuse(folder: Traversable) -> None:
    """Raises what is wrong with a catalogue that came along, at its lines."""
    place = _file(folder, "po")
    name = str(place)
    text = place.read_text("utf-8") if place.is_file() else ""
    read_catalogue(Source(name, text))
    hint = Hint("its MO file is older or newer than it: python -m foldscript.languages")
    raise FoldscriptError(
        Diagnostic(
            "bad-catalogue",
            "this catalogue was put together wrongly",
            Span(0, 1),
            (hint,),
            source=Source(name, text),
        )
    )


def _own(path: Path) -> Language:
    catalogue = read_catalogue(read_file(path, str(path), "catalogue"))
    words = GNUTranslations(BytesIO(compiled(catalogue)))  # type: ignore[arg-type]
    return Spoken(tag_of(catalogue.language), words)
