"""Catalogues as people write them: gettext's PO files.

In: a `Source`. Out: a `Catalogue` of entries, each with its place, or FoldscriptError with everything
that is wrong, at its line. Only what our catalogues use is read: comments, `msgid`, `msgid_plural`,
`msgstr`, `msgstr[n]`; `fuzzy` entries and those without a translation are left out of the words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from gettext import c2py  # type: ignore[attr-defined]

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source, Span
from .holes import wrong

_LINE = re.compile(r'(msgid_plural|msgid|msgstr\[(\d)\]|msgstr)?\s*"((?:[^"\\]|\\.)*)"\s*')
_ESCAPES = {"n": "\n", "t": "\t", '"': '"', "\\": "\\"}
_PLACES = re.compile(r"nplurals\s*=\s*(\d)\s*;\s*plural\s*=([^;]+)")


@dataclass
class Entry:
    """A template and its translations; `strings` are the plural forms, one where there is no plural."""

    template: str = ""
    many: str = ""
    strings: list[str] = field(default_factory=list)
    comments: list[str] = field(default_factory=list)
    spans: dict[str, Span] = field(default_factory=dict)

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


@dataclass(frozen=True)
class Catalogue:
    """A catalogue: the header's fields, and entries in their order."""

    source: Source
    header: dict[str, str]
    entries: tuple[Entry, ...]

    @property
    def language(self) -> str:
        """BCP 47 tag of its language."""
        return self.header.get("Language", "").replace("_", "-")


def read_catalogue(source: Source) -> Catalogue:
    """Reads and checks a PO file. Raises FoldscriptError 'bad-catalogue' with all that is wrong."""
    faults: list[Diagnostic] = []
    entries = list(_entries(source, faults))
    header = _header(source, entries, faults)
    if (said := header.get("Plural-Forms")) is not None and not _is_plural(said):
        at = source.text.find("Plural-Forms")
        hint = Hint("for instance: nplurals=2; plural=(n != 1);")
        what = "this does not tell which plural form goes with which number"
        faults.append(_fault(source, Span(at, at + len("Plural-Forms")), what, hint))
    forms = _forms(header)
    seen: dict[str, Entry] = {}
    for entry in entries:
        if entry.template in seen:
            where = Hint("the first one is here", seen[entry.template].spans["msgid"])
            faults.append(
                _fault(source, entry.spans["msgid"], "this sentence stands here twice", where)
            )
        seen.setdefault(entry.template, entry)
        faults.extend(_wrong(source, entry, forms))
    if faults:
        raise FoldscriptError(*sorted(faults, key=lambda f: f.span.start if f.span else 0))
    return Catalogue(source, header, tuple(e for e in entries if e.template))


def _fault(source: Source, span: Span, message: str, *hints: Hint) -> Diagnostic:
    return Diagnostic("bad-catalogue", message, span, hints, source=source)


def _entries(source: Source, faults: list[Diagnostic]) -> Iterator[Entry]:
    entry, part, at = Entry(), "", 0
    for line in source.text.split("\n"):
        span = Span(at, at + len(line))
        at += len(line) + 1
        text = line.strip()
        if text.startswith("#"):
            if part:
                yield entry
                entry, part = Entry(), ""
            if not text.startswith("#~"):
                entry.comments.append(text)
            continue
        if not text:
            continue
        match = _LINE.fullmatch(text)
        if match is None or (not match[1] and not part):
            hint = Hint('a line is msgid "..." or msgstr "...", or a comment that begins with #')
            faults.append(_fault(source, span, "this line is none of a catalogue", hint))
            continue
        if match[1] == "msgid" and part:
            yield entry
            entry = Entry()
        part = match[1] or part
        entry.spans.setdefault(part, span)
        _add(entry, part, _plain(match[3]), first=bool(match[1]))
    if part:
        yield entry


def _add(entry: Entry, part: str, text: str, *, first: bool) -> None:
    if part == "msgid":
        entry.template += text
    elif part == "msgid_plural":
        entry.many += text
    elif first:
        entry.strings.append(text)
    else:
        entry.strings[-1] += text


def _plain(text: str) -> str:
    return re.sub(r"\\(.)", lambda m: _ESCAPES.get(m[1], m[0]), text)


def _header(source: Source, entries: list[Entry], faults: list[Diagnostic]) -> dict[str, str]:
    first = next((e for e in entries if not e.template), None)
    lines = first.strings[0].split("\n") if first is not None and first.strings else []
    header = {k.strip(): v.strip() for k, _, v in (line.partition(":") for line in lines) if v}
    if not header.get("Language"):
        hint = Hint('it begins with msgid "", and msgstr "Language: es\\n" and further lines')
        faults.append(
            _fault(source, Span(0, 1), "the catalogue does not say its language first", hint)
        )
    return header


def _is_plural(said: str) -> bool:
    match = _PLACES.fullmatch(said.strip().rstrip(";"))
    if match is None:
        return False
    try:
        rule = c2py(match[2].strip())
        return all(rule(n) < int(match[1]) for n in range(200))
    except (ValueError, RecursionError, ZeroDivisionError):
        return False


def _forms(header: dict[str, str]) -> int:
    match = _PLACES.search(header.get("Plural-Forms", ""))
    return int(match[1]) if match else 2


def _wrong(source: Source, entry: Entry, forms: int) -> Iterator[Diagnostic]:
    if not entry.template or not entry.translated:
        return
    count = forms if entry.many else 1
    if len(entry.strings) != count:
        span = entry.spans["msgid"]
        yield _fault(source, span, f"{len(entry.strings)} translations stand here, not {count}")
    for k, text in enumerate(entry.strings):
        problem = wrong(entry.templates, text, k)
        if problem:
            key = f"msgstr[{k}]" if entry.many else "msgstr"
            span = entry.spans.get(key, entry.spans["msgid"])
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
            strings = entry.strings or [""] * _forms(catalogue.header)
            lines += [f'msgstr[{k}] "{_quoted(text)}"' for k, text in enumerate(strings)]
        else:
            lines.append(f'msgstr "{_quoted(entry.strings[0] if entry.strings else "")}"')
        blocks.append("\n".join(lines) + "\n")
    return "\n".join(blocks)


def _quoted(text: str) -> str:
    for plain, written in (("\\", "\\\\"), ('"', '\\"'), ("\n", "\\n"), ("\t", "\\t")):
        text = text.replace(plain, written)
    return text
