"""Catalogues: gettext's PO files, read and written.

In: a `Source`. Out: a `Catalogue` of entries, each with its spans, or FoldscriptError with everything
that is wrong, at its line. Only what our catalogues use is read: comments, `msgid`, `msgid_plural`,
`msgstr`, `msgstr[n]`; `fuzzy` entries and those without a translation are left out of the words.

Why a reader of our own: those of general libraries take a string that is not closed, the same sentence
twice, too few plural forms or a plural rule that is no rule without a word.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from gettext import c2py  # type: ignore[attr-defined]

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source, Span
from .holes import wrong

_LINE = re.compile(r'(msgid_plural|msgid|msgstr\[\d\]|msgstr)?\s*"((?:[^"\\]|\\.)*)"\s*')
_ESCAPES = {"n": "\n", "t": "\t", '"': '"', "\\": "\\"}
_PLURALS = re.compile(r"nplurals\s*=\s*(\d)\s*;\s*plural\s*=([^;]+)")


@dataclass(frozen=True, slots=True)
class CatalogueEntry:
    """A template and its translations.

    Attributes
    ----------
    many : the template for several things, '' where there is none
    strings : the plural forms; one where there is no template for several
    spans : first line of each part, by its keyword ('msgid')
    """

    template: str
    many: str = ""
    strings: tuple[str, ...] = ()
    comments: tuple[str, ...] = ()
    spans: Mapping[str, Span] = field(default_factory=dict)

    @property
    def fuzzy(self) -> bool:
        """Whether someone should look at the translation before it is used."""
        return any(c.startswith("#,") and "fuzzy" in c for c in self.comments)

    @property
    def translated(self) -> bool:
        """Whether there is a translation to use."""
        return bool(self.strings) and all(self.strings) and not self.fuzzy

    @property
    def templates(self) -> tuple[str, ...]:
        """The template, and that for several."""
        return (self.template, self.many) if self.many else (self.template,)

    @property
    def span(self) -> Span:
        """The first line of the entry."""
        return next(iter(self.spans.values()))


@dataclass(frozen=True)
class Catalogue:
    """A catalogue: the header's fields, and entries in their order."""

    source: Source
    header: Mapping[str, str]
    entries: tuple[CatalogueEntry, ...]

    def field(self, name: str, default: str = "") -> str:
        """What the header says in a field, however that is capitalised."""
        said = (v for k, v in self.header.items() if k.casefold() == name.casefold())
        return next(said, default)

    @property
    def language(self) -> str:
        """BCP 47 tag of its language."""
        return self.field("Language").replace("_", "-")

    @cached_property
    def plurals(self) -> tuple[int, Callable[[int], int]]:
        """How many plural forms there are, and which goes with a number.

        Raises ValueError where the header does not tell it, RecursionError and ZeroDivisionError where
        what it tells cannot be worked out.
        """
        said = self.field("Plural-Forms", "nplurals=2; plural=(n != 1);")
        match = _PLURALS.fullmatch(said.strip().rstrip(";"))
        if match is None:
            raise ValueError(said)
        count, form = int(match[1]), c2py(match[2].strip())
        if not all(form(n) < count for n in range(200)):
            raise ValueError(said)
        return count, form


def read_catalogue(source: Source) -> Catalogue:
    """Reads and checks a PO file. Raises FoldscriptError 'bad-catalogue' with all that is wrong."""
    faults: list[Diagnostic] = []
    entries = list(_entries(source, faults))
    header = _header(entries)
    catalogue = Catalogue(source, header, tuple(e for e in entries if e.template))
    if not catalogue.language:
        hint = Hint('it begins with msgid "", and msgstr "Language: es\\n" and further lines')
        what = "the catalogue does not say its language first"
        faults.append(_fault(source, Span(0, 1), what, hint))
    faults.extend(_twice(source, entries))
    forms = _forms(catalogue, faults)
    for entry in catalogue.entries:
        if entry.translated:
            faults.extend(_wrong(source, entry, forms))
    if faults:
        raise FoldscriptError(*sorted(faults, key=lambda f: f.span.start if f.span else 0))
    return catalogue


def _fault(source: Source, span: Span, message: str, *hints: Hint) -> Diagnostic:
    return Diagnostic("bad-catalogue", message, span, hints, source=source)


def _entries(source: Source, faults: list[Diagnostic]) -> Iterator[CatalogueEntry]:
    comments: list[str] = []
    rows: list[_Row] = []
    at = 0
    for line in source.text.split("\n"):
        start, at = at, at + len(line) + 1
        text = line.strip()
        if not text:
            continue
        comment = text.startswith("#")
        match = None if comment else _LINE.fullmatch(text)
        if not comment and (match is None or not (match[1] or rows)):
            hint = Hint('a line is msgid "..." or msgstr "...", or a comment that begins with #')
            span = Span(start, start + len(line))
            faults.append(_fault(source, span, "this line is none of a catalogue", hint))
            continue
        if rows and (match is None or match[1] == "msgid"):
            yield _entry(comments, rows)
            comments, rows = [], []
        if match is None:
            comments += [] if text.startswith("#~") else [text]
        elif match[1]:
            rows.append(_Row(match[1], _plain(match[2]), Span(start, start + len(line))))
        else:
            rows[-1].text += _plain(match[2])
    if rows:
        yield _entry(comments, rows)


@dataclass(slots=True)
class _Row:
    """A keyword, the text that it and the lines after it give, and the first of these lines."""

    part: str
    text: str
    span: Span


def _entry(comments: list[str], rows: list[_Row]) -> CatalogueEntry:
    return CatalogueEntry(
        "".join(row.text for row in rows if row.part == "msgid"),
        "".join(row.text for row in rows if row.part == "msgid_plural"),
        tuple(row.text for row in rows if row.part.startswith("msgstr")),
        tuple(comments),
        {row.part: row.span for row in rows},
    )


def _plain(text: str) -> str:
    if "\\" not in text:
        return text
    return re.sub(r"\\(.)", lambda m: _ESCAPES.get(m[1], m[0]), text)


def _header(entries: list[CatalogueEntry]) -> dict[str, str]:
    first = next((e for e in entries if not e.template), None)
    lines = first.strings[0].split("\n") if first is not None and first.strings else []
    return {k.strip(): v.strip() for k, _, v in (line.partition(":") for line in lines) if v}


def _twice(source: Source, entries: list[CatalogueEntry]) -> Iterator[Diagnostic]:
    seen: dict[str, CatalogueEntry] = {}
    for entry in entries:
        first = seen.setdefault(entry.template, entry)
        if first is not entry:
            where = Hint("the first one is here", first.span)
            yield _fault(source, entry.span, "this sentence stands here twice", where)


def _forms(catalogue: Catalogue, faults: list[Diagnostic]) -> int | None:
    """How many plural forms there are; None where the header does not tell."""
    try:
        return catalogue.plurals[0]
    except (ValueError, RecursionError, ZeroDivisionError):
        at = catalogue.source.text.casefold().find("plural-forms")
        hint = Hint("for instance: nplurals=2; plural=(n != 1);")
        what = "this does not tell which plural form goes with which number"
        faults.append(_fault(catalogue.source, Span(at, at + len("Plural-Forms")), what, hint))
        return None


def _wrong(source: Source, entry: CatalogueEntry, forms: int | None) -> Iterator[Diagnostic]:
    """What is wrong with the translations of an entry."""
    count = forms if entry.many else 1
    if count is not None and len(entry.strings) != count:
        what = f"{len(entry.strings)} translations stand here, not {count}"
        yield _fault(source, entry.span, what)
    for k, text in enumerate(entry.strings):
        problem = wrong(entry.templates, text, k)
        if problem:
            span = entry.spans.get(f"msgstr[{k}]" if entry.many else "msgstr", entry.span)
            hint = Hint(f"the English is: {entry.template}")
            yield _fault(source, span, f"this translation cannot be used: {problem}", hint)


def po_text(catalogue: Catalogue) -> str:
    """A catalogue as text, a sentence a line."""
    blocks = [
        'msgid ""\nmsgstr ""\n'
        + "".join(f'"{_quoted(f"{k}: {v}")}\\n"\n' for k, v in catalogue.header.items())
    ]
    for entry in catalogue.entries:
        lines = [*entry.comments, f'msgid "{_quoted(entry.template)}"']
        if entry.many:
            lines.append(f'msgid_plural "{_quoted(entry.many)}"')
            strings = entry.strings or ("",) * catalogue.plurals[0]
            lines += [f'msgstr[{k}] "{_quoted(text)}"' for k, text in enumerate(strings)]
        else:
            lines.append(f'msgstr "{_quoted(entry.strings[0] if entry.strings else "")}"')
        blocks.append("\n".join(lines) + "\n")
    return "\n".join(blocks)


def _quoted(text: str) -> str:
    for plain, written in (("\\", "\\\\"), ('"', '\\"'), ("\n", "\\n"), ("\t", "\\t")):
        text = text.replace(plain, written)
    return text
