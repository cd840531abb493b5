"""The build cache of a folder: a file beside the results that says what they were made from.

In: the ingredients of a result (texts, style, page, foldscript itself) as names and digests. Out: a small
JSON file with them, with the digests of the files made, and with what was said about them. A result is
unchanged when all its ingredients are, and its files are still as they were made. The file itself is the
same for the same input; it may be deleted at any time.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any

from ...source.diagnostics import Diagnostic, Edit, FoldscriptError, Hint, Severity, Source, Span
from ...source.reading import bytes_of, read_file

#: What the file is called, in the folder of the results that it tells of.
CACHE_FILE = ".foldscript.json"
_ABOUT = "What foldscript made these files from. It may be deleted; they are made anew then."
#: Largest file that is read, in bytes.
_LARGEST = 2_000_000

#: Names of the ingredients, with digests or values.
Ingredients = Mapping[str, object]


@dataclass(frozen=True)
class CachedResult:
    """Files made in one go.

    Attributes
    ----------
    ingredients : what they depend on
    files : name to digest of content
    notes : what is to be known about them
    lines : to tell about them
    """

    ingredients: Ingredients
    files: Mapping[str, str]
    notes: tuple[Diagnostic, ...] = ()
    lines: tuple[str, ...] = ()

    @classmethod
    def of(
        cls,
        ingredients: Ingredients,
        files: Mapping[str, bytes],
        notes: Iterable[Diagnostic] = (),
        lines: Iterable[str] = (),
    ) -> CachedResult:
        """The result whose files have these contents."""
        digests = {name: digest(data) for name, data in files.items()}
        return cls(ingredients, digests, tuple(notes), tuple(lines))

    def intact(self, folder: Path) -> bool:
        """Whether all its files are in the folder as they were made."""
        try:
            return all(digest(bytes_of(folder / n)) == d for n, d in self.files.items())
        except OSError:
            return False


def digest(data: bytes) -> str:
    """What stands for some content."""
    return hashlib.sha256(data).hexdigest()


def values_digest(value: object, *, leaving: Iterable[str] = ()) -> str:
    """Stands for plain data: frozen dataclasses, mappings, rows, numbers and texts.

    `leaving` are names of fields, at any depth, that do not matter.
    """
    return digest(_plain(value, frozenset(leaving)).encode())


def _plain(value: object, leaving: frozenset[str]) -> str:
    if is_dataclass(value) and not isinstance(value, type):
        parts = {f.name: getattr(value, f.name) for f in fields(value) if f.name not in leaving}
        return f"{type(value).__name__}{_plain(parts, leaving)}"
    if isinstance(value, Mapping):
        rows = sorted((_plain(k, leaving), _plain(v, leaving)) for k, v in value.items())
        return "{" + ",".join(f"{k}:{v}" for k, v in rows) + "}"
    if isinstance(value, set | frozenset):
        return "{" + ",".join(sorted(_plain(v, leaving) for v in value)) + "}"
    if isinstance(value, tuple | list):
        return "(" + ",".join(_plain(v, leaving) for v in value) + ")"
    if isinstance(value, Path):
        return repr(value.as_posix())
    return repr(value)


# --- the file --------------------------------------------------------------------------------------


def cache_bytes(results: Mapping[str, CachedResult], home: Path) -> bytes:
    """The file for results by name; places of notes are told as seen from the folder `home`."""
    rows: dict[str, dict[str, object]] = {}
    for name in sorted(results):
        result = results[name]
        notes = [_note(note, home) for note in result.notes]
        if None in notes:
            continue  # what was said cannot be said again, so the result is made again
        rows[name] = {"from": dict(result.ingredients), "files": dict(result.files)}
        if result.lines:
            rows[name]["told"] = list(result.lines)
        if notes:
            rows[name]["notes"] = notes
    whole = {"about": _ABOUT, "results": rows}
    return (json.dumps(whole, ensure_ascii=False, indent=1) + "\n").encode()


def read_cache(folder: Path, home: Path) -> dict[str, CachedResult]:
    """The results that a folder's build cache tells of; none where it has none that can be read."""
    try:
        whole = json.loads(bytes_of(folder / CACHE_FILE, _LARGEST))
        read = cache(_source)  # each file once, however much is said about it
        return {
            name: CachedResult(
                dict(row["from"]),
                {str(n): str(d) for n, d in row["files"].items()},
                tuple(_note_again(note, home, read) for note in row.get("notes", ())),
                tuple(str(line) for line in row.get("told", ())),
            )
            for name, row in whole["results"].items()
        }
    except (
        OSError,
        ValueError,
        TypeError,
        KeyError,
        AttributeError,
        RecursionError,
        FoldscriptError,
    ):
        return {}


def _note(note: Diagnostic, home: Path) -> dict[str, object] | None:
    """A diagnostic as plain data; None where its place cannot be found again."""
    row: dict[str, object] = {
        "code": note.code,
        "message": note.message,
        "severity": note.severity.value,
        "hints": [_hint(hint) for hint in note.hints],
    }
    if note.source is not None:
        path = Path(note.source.name)
        if path.parent != home:
            return None
        row |= {"file": path.name, "span": _ends(note.span)}
    return row


def _hint(hint: Hint) -> list[object]:
    edit = [] if hint.edit is None else [*_ends(hint.edit.span), hint.edit.text]
    return [hint.text, _ends(hint.span), edit]


def _hint_again(text: str, ends: list[int], edit: list[Any]) -> Hint:
    return Hint(text, _span(ends), Edit(Span(edit[0], edit[1]), edit[2]) if edit else None)


def _ends(span: Span | None) -> list[int]:
    return [] if span is None else [span.start, span.end]


def _note_again(row: Mapping[str, Any], home: Path, read: Callable[[Path], Source]) -> Diagnostic:
    return Diagnostic(
        row["code"],
        row["message"],
        _span(row.get("span", ())),
        tuple(_hint_again(*hint) for hint in row["hints"]),
        Severity(row["severity"]),
        read(home / row["file"]) if "file" in row else None,
    )


def _span(ends: Iterable[int]) -> Span | None:
    row = [int(end) for end in ends]
    return Span(*row) if row else None


def _source(path: Path) -> Source:
    return read_file(path, str(path), "file")
