"""Side files: a model's words in another language, in a file of their own beside the script.

    # cup.es.toml, beside cup.foldscript
    title = { of = "Cup", says = "Vaso" }
    notes = [{ of = "Any paper will do.", says = "Sirve cualquier papel." }]

    [steps]
    1 = { of = "Fold the bottom corner up.", says = "Dobla hacia arriba la esquina de abajo." }
    3 = "Dobla la esquina derecha hasta la marca."

Each translation keeps the sentence that it translates: `of`, '' for a step without a caption of its own. It
goes where that sentence stands in the script, under whatever number; where it stands nowhere any more, the
translation is stale, which is a warning, and is not used. A plain text goes by its number alone.

In: a TOML file, and what the script says. Out: a `SideFile`, or FoldscriptError with everything that is wrong
in it, each at its line and column. What does not fit the script (a step that it has not) is a warning: the
rest is used.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..languages.language import tag_of
from ..languages.tags import code_of, is_tag
from ..source.diagnostics import Diagnostic, Edit, Hint, Severity
from ..source.reading import read_file
from ..source.toml_spans import KeyPath
from ..source.toml_table import Table

SUFFIX = ".toml"
KEYS = ("title", "credit", "licence", "notes", "parts", "steps")
#: Captions without a step that are told one by one.
_MOST_TOLD = 5
#: Letters of a sentence that a message repeats.
_LONGEST_SHOWN = 60
NUMBER = re.compile(r"[1-9][0-9]{0,5}")


@dataclass(frozen=True)
class Original:
    """What a script says itself, in its own language; '' for a step with an automatic caption."""

    title: str
    credit: str
    licence: str
    notes: tuple[str, ...]
    parts: tuple[str, ...]
    steps: tuple[str, ...]


@dataclass(frozen=True)
class SideFile:
    """What a side file says, '' for what it leaves out.

    Attributes
    ----------
    steps : captions by the number of the step
    parts : titles of the parts that have one in the script, in order
    warnings : what in it does not fit the script
    """

    language: str
    title: str = ""
    credit: str = ""
    licence: str = ""
    notes: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    steps: Mapping[int, str] = field(default_factory=dict)
    warnings: tuple[Diagnostic, ...] = ()


def side_files(script: Path) -> dict[str, Path]:
    """Language tag -> side file, for every one beside a script, by their names."""
    found: dict[str, Path] = {}
    for said, path in _beside(script).items():
        if is_tag(said):
            found.setdefault(tag_of(said), path)
    return found


def misnamed(script: Path) -> Iterator[Diagnostic]:
    """A warning for every file that has the name of a language where its code should stand."""
    for said, path in _beside(script).items():
        code = "" if is_tag(said) else code_of(said)
        if code:
            yield Diagnostic(
                "bad-language",
                f"{path.name} is not read: '{said}' is no language code",
                hints=(Hint(f"call the file {script.stem}.{code}{SUFFIX}"),),
                severity=Severity.WARNING,
            )


def _beside(script: Path) -> dict[str, Path]:
    """What may be side files, by what stands between the script's name and the suffix."""
    start = f"{script.stem}."
    try:
        names = sorted(p.name for p in script.parent.iterdir())
    except OSError:
        return {}
    return {
        name[len(start) : -len(SUFFIX)]: script.with_name(name)
        for name in names
        if name.startswith(start) and name.endswith(SUFFIX)
    }


@dataclass(frozen=True, slots=True)
class _Entry:
    """A translation, where it stands, and what it translates; None where the file does not say."""

    path: KeyPath
    says: str
    of: str | None


def read_side_file(path: Path, language: str, original: Original) -> SideFile:
    """Reads a side file of a script that says this."""
    table = Table(read_file(path, str(path), "side file"))
    table.only(known=KEYS)
    warnings: list[Diagnostic] = []
    single = {
        name: _single(table, name, getattr(original, name), warnings)
        for name in ("title", "credit", "licence")
    }
    notes = _listed(table, "notes", "note", original.notes, warnings)
    parts = _listed(table, "parts", "part with a title", original.parts, warnings)
    steps = _steps(table, original.steps, warnings)
    table.settle()
    told = tuple(sorted(warnings, key=lambda one: one.span.start if one.span else 0))
    return SideFile(language, **single, notes=notes, parts=parts, steps=steps, warnings=told)


def _entry(table: Table, *path: str | int) -> _Entry:
    """A plain text, or a table with both sentences."""
    if not isinstance(table.value(*path), dict):
        return _Entry(path, table.text(*path), None)
    table.only(*path, known=("of", "says"))
    of = _plain(table.text(*path, "of")) if table.has(*path, "of") else None
    return _Entry(path, table.text(*path, "says"), of)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _single(table: Table, name: str, text: str, warnings: list[Diagnostic]) -> str:
    entry = _entry(table, name)
    if entry.says and entry.of not in (None, _plain(text)):
        warnings.append(_stale(table, entry, f"the {name}", text))
        return ""
    return entry.says


def _listed(
    table: Table, key: str, kind: str, texts: tuple[str, ...], warnings: list[Diagnostic]
) -> tuple[str, ...]:
    """Translations of texts that have an order, one for each of them, '' for none."""
    entries = [_entry(table, key, k) for k in table.items(key)]
    found = _placed(table, dict(enumerate(entries, 1)), texts, kind, warnings)
    surplus = [k for k, entry in enumerate(entries) if entry.of is None and k >= len(texts)]
    if surplus:
        several = kind.replace(" ", "s ", 1) if " " in kind else f"{kind}s"
        has = {0: f"no {kind}", 1: f"1 {kind}"}.get(len(texts), f"{len(texts)} {several}")
        what = f"the script has {has}, and {len(entries)} are translated here"
        warnings.append(_warning(table, (key, surplus[0]), what))
    return tuple(found.get(k, "") for k in range(1, len(texts) + 1))


def _steps(table: Table, texts: tuple[str, ...], warnings: list[Diagnostic]) -> dict[int, str]:
    """Captions by the number of the step that they belong to."""
    entries: dict[int, _Entry] = {}
    surplus: list[str] = []
    for key in table.table("steps"):
        if not NUMBER.fullmatch(key):
            table.fault(
                ("steps", key),
                "unknown-key",
                f"'{key}' is no step",
                'write a step by its number: 3 = "..."',
                at_key=True,
            )
            continue
        entry = _entry(table, "steps", key)
        if entry.of is None and int(key) > len(texts):
            surplus.append(key)
        else:
            entries[int(key)] = entry
    for key in surplus[:_MOST_TOLD]:
        warnings.append(_warning(table, ("steps", key), _no_step(int(key), len(texts))))
    if len(surplus) > _MOST_TOLD:
        more = len(surplus) - _MOST_TOLD
        what = f"from here on {more:,} more captions of steps that are not there"
        warnings.append(_warning(table, ("steps", surplus[_MOST_TOLD]), what))
    return _placed(table, entries, texts, "step", warnings)


def _placed(
    table: Table,
    entries: Mapping[int, _Entry],
    texts: Sequence[str],
    kind: str,
    warnings: list[Diagnostic],
) -> dict[int, str]:
    """Translations by the number of what they translate: where it stands, or else where it has gone."""
    now = {number: _plain(text) for number, text in enumerate(texts, 1)}
    placed = {
        number: entry.says
        for number, entry in entries.items()
        if number in now and entry.of in (None, now[number])
    }
    gone = {number: entry for number, entry in entries.items() if number not in placed}
    for number, entry in sorted(gone.items()):
        free = [k for k, text in now.items() if entry.of and text == entry.of and k not in placed]
        if free:
            placed[min(free, key=lambda k: abs(k - number))] = entry.says
        elif entry.says and entry.of is not None:
            here = f"{kind} {number}" if number in now else ""
            warnings.append(_stale(table, entry, here, texts[number - 1] if here else ""))
    return {number: says for number, says in placed.items() if says}


def _stale(table: Table, entry: _Entry, here: str, text: str) -> Diagnostic:
    """A translation of what the script does not say any more; `here` says what stands in its place now."""
    was = f"'{_short(entry.of or '')}'" if entry.of else "a step without a caption of its own"
    now = (
        f"{here} says '{_short(text)}' now"
        if text
        else f"{here} has no caption now"
        if here
        else ""
    )
    what = f"this translates {was}, which the script does not say any more"
    return _warning(
        table,
        entry.path,
        f"{what}: {now}, and this is not used" if now else what,
        Hint("translate it anew, and write the new sentence after 'of'" if here else "take it out"),
        code="stale-translation",
    )


def _short(text: str) -> str:
    return text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1].rstrip()}…"


def with_sentences(path: Path, original: Original) -> str:
    """The side file's text with the sentence that each plain text translates beside it.

    What stands there otherwise, comments too, stays. Raises FoldscriptError where the file is wrong.
    """
    read_side_file(path, "", original)
    table = Table(read_file(path, str(path), "side file"))
    wanted: list[tuple[KeyPath, str]] = [
        *(((name,), getattr(original, name)) for name in ("title", "credit", "licence")),
        *((("notes", k), text) for k, text in enumerate(original.notes)),
        *((("parts", k), text) for k, text in enumerate(original.parts)),
        *((("steps", str(k)), text) for k, text in enumerate(original.steps, 1)),
    ]
    text = table.source.text
    edits: list[Edit] = []
    for place, of in wanted:
        span = table.span(*place)
        if span is not None and table.value(*place) and isinstance(table.value(*place), str):
            says = text[span.start : span.end]
            edits.append(Edit(span, f"{{ of = {toml_text(_plain(of))}, says = {says} }}"))
    for edit in sorted(edits, key=lambda one: one.span.start, reverse=True):
        text = edit.applied(text)
    return text


def toml_text(text: str) -> str:
    """A text in quotes, as TOML writes it."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def said_twice(path: Path, numbers: Iterator[int], language: str) -> Iterator[Diagnostic]:
    """Warnings at captions that the script itself has in this language."""
    table: Table | None = None
    for number in numbers:
        table = table or Table(read_file(path, str(path), "side file"))
        yield _warning(
            table,
            ("steps", str(number)),
            f"the script has a caption of step {number} in '{language}' itself, which is used",
            Hint("keep one of the two"),
            code="said-twice",
        )


def _no_step(number: int, steps: int) -> str:
    return f"there is no step {number}: the script has {steps} step{'s' * (steps > 1)}"


def _warning(
    table: Table,
    path: tuple[str | int, ...],
    message: str,
    *hints: Hint,
    code: str = "no-such-step",
) -> Diagnostic:
    one = table.diagnostic(path, code, message, *hints, at_key=code == "no-such-step")
    return Diagnostic(
        one.code, one.message, one.span, one.hints, Severity.WARNING, source=one.source
    )
