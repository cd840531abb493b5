"""What a booklet file asks for, as plain data; what may be wrong keeps its location in the file."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from ...drawing.style.styles import Style
from ...languages.said_in import tags_of
from ...pages.sizes import PageSize
from ...source.diagnostics import Diagnostic, Hint, Severity, Source, Span

#: What can be made of a booklet: pages, and one step a screen.
FORMATS = ("pdf", "slides")


@dataclass(frozen=True)
class Location:
    """Where something is said, for messages about it."""

    source: Source
    span: Span | None

    def diagnostic(
        self, code: str, message: str, *hints: Hint, severity: Severity = Severity.ERROR
    ) -> Diagnostic:
        """A diagnostic that points here."""
        return Diagnostic(code, message, self.span, hints, severity, self.source)


@dataclass(frozen=True)
class Listed:
    """A script, and where a booklet file names it."""

    script: Path
    location: Location

    @property
    def name(self) -> str:
        """What the script is called by, in the booklet file and in messages."""
        return self.script.stem


@dataclass(frozen=True)
class Texts:
    """What a booklet says in one language, '' for what it does not say."""

    title: str = ""
    subtitle: str = ""
    publisher: str = ""
    introduction: str = ""
    credits: str = ""
    licence: str = ""


@dataclass(frozen=True)
class BookletPlan:
    """A booklet.

    Attributes
    ----------
    name : what its files are called
    title, subtitle, publisher : lines of the cover
    introduction, credits, licence : paragraphs, line breaks kept; '' for none
    language : that it is bound in (BCP 47)
    languages : all that the file asks for, the first one that of its own texts
    translated : language and texts, for the others
    page, page_location : size of a page, and where that is said
    by_level : simple models first; else as listed
    formats : which of FORMATS are to be made
    imposed : with the PDF also two pages side by side, to be folded and stapled
    creep, creep_location : millimetres that the pages of each such sheet are moved to the spine, more
        than those of the sheet around it; and where that is said
    key : with the key of signs before the models
    link : an address for the back cover, '' for none
    models : scripts in the order listed
    cover : names of the models shown on the cover
    """

    name: str
    source: Source
    title: str
    subtitle: str
    publisher: str
    introduction: str
    credits: str
    licence: str
    language: str
    page: PageSize
    page_location: Location
    title_location: Location
    style: Style
    by_level: bool
    imposed: bool
    models: tuple[Listed, ...]
    cover: tuple[str, ...]
    languages: tuple[str, ...] = ("en",)
    translated: tuple[tuple[str, Texts], ...] = ()
    formats: tuple[str, ...] = FORMATS[:1]
    creep: float = 0.0
    creep_location: Location | None = None
    key: bool = True
    link: str = ""

    def in_language(self, tag: str) -> BookletPlan:
        """The booklet in a language; what is not translated stays as it is."""
        known = {language.lower(): texts for language, texts in self.translated}
        texts = next((known[t] for t in tags_of(tag.lower()) if t in known), Texts())
        said = {name: text for name, text in vars(texts).items() if text}
        return replace(self, language=tag, **said)
