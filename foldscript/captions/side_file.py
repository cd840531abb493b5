"""Side files: a model's words in another language, in a file of their own beside the script.

    # cup.es.toml, beside cup.foldscript
    title = "Vaso"
    notes = ["Sirve cualquier papel."]

    [steps]
    1 = "Dobla la esquina inferior hasta la superior."
    3 = "Dobla la esquina derecha hasta la marca."

In: a TOML file. Out: a `SideFile`, or FoldscriptError with everything that is wrong in it, each at its line
and column. What does not fit the script (a step that it has not) is a warning: the rest is used.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ..languages.language import tag_of
from ..source.diagnostics import Diagnostic, Hint, Severity
from ..source.reading import read_file
from ..source.toml_table import Table

SUFFIX = ".toml"
KEYS = ("title", "credit", "licence", "notes", "parts", "steps")
#: Captions without a step that are told one by one.
_MOST_TOLD = 5
_NUMBER = re.compile(r"[1-9][0-9]{0,5}")
_TAG = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*")


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
    start = f"{script.stem}."
    try:
        names = sorted(p.name for p in script.parent.iterdir())
    except OSError:
        return {}
    for name in names:
        tag = name[len(start) : -len(SUFFIX)]
        if name.startswith(start) and name.endswith(SUFFIX) and _TAG.fullmatch(tag):
            found.setdefault(tag_of(tag), script.with_name(name))
    return found


def read_side_file(path: Path, language: str, steps: int, notes: int, parts: int = 0) -> SideFile:
    """Reads a side file of a script with so many steps, notes and titles of parts."""
    table = Table(read_file(path, str(path), "side file"))
    table.only(known=KEYS)
    warnings: list[Diagnostic] = []
    captions: dict[int, str] = {}
    surplus: list[str] = []
    for key in table.table("steps"):
        if not _NUMBER.fullmatch(key):
            table.fault(
                ("steps", key),
                "unknown-key",
                f"'{key}' is no step",
                'write a step by its number: 3 = "..."',
                at_key=True,
            )
            continue
        text = table.text("steps", key)
        if int(key) > steps:
            surplus.append(key)
        elif text:
            captions[int(key)] = text
    for key in surplus[:_MOST_TOLD]:
        warnings.append(_warning(table, ("steps", key), _no_step(int(key), steps)))
    if len(surplus) > _MOST_TOLD:
        what = (
            f"from here on {len(surplus) - _MOST_TOLD:,} more captions of steps that are not there"
        )
        warnings.append(_warning(table, ("steps", surplus[_MOST_TOLD]), what))
    said = tuple(table.text("notes", k) for k in table.items("notes"))
    called = tuple(table.text("parts", k) for k in table.items("parts"))
    table.settle()
    if len(said) > notes:
        has = "has no note" if not notes else f"has {notes} note{'s' * (notes > 1)}"
        what = f"the script {has}, and {len(said)} are translated here"
        warnings.append(_warning(table, ("notes", notes), what))
    if len(called) > parts:
        has = "has no part with a title" if not parts else f"has {parts} with a title"
        what = f"the script {has}, and {len(called)} are translated here"
        warnings.append(_warning(table, ("parts", parts), what))
    return SideFile(
        language,
        table.text("title"),
        table.text("credit"),
        table.text("licence"),
        said[:notes],
        called[:parts],
        captions,
        tuple(warnings),
    )


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
