"""The public Python face as a page, from its docstrings and signatures.

In: what `foldscript.__all__` names. Out: Markdown, a section each.
"""

from __future__ import annotations

import ast
import inspect
import re
import textwrap
from collections.abc import Callable, Iterator

import foldscript

from .pictures import Picture

#: A section of a docstring: 'Parameters' and a line below it.
_SECTION = re.compile(r"^(\w[\w ]*)\n-{3,}\n", re.M)
#: What that of a class's fields is called.
_FIELDS = "Attributes"
#: An entry of one: names, then what they are, which may go on in further lines.
_ENTRY = re.compile(r"^(?P<names>[\w, *]+?) : (?P<words>.*(?:\n[ \t]+.*)*)", re.M)


def python_page(uri: str) -> tuple[str, list[Picture]]:
    """Functions first, in the order of the stages, then what they give."""
    names = [name for name in foldscript.__all__ if not name.startswith("__")]
    functions = sorted(
        (name for name in names if inspect.isfunction(getattr(foldscript, name))),
        key=("read", "parse", "fold", "draw", "build").index,
    )
    classes = [name for name in names if name not in functions]
    lines = ["# From Python", *_opening(), "## Functions"]
    for name in functions:
        found = getattr(foldscript, name)
        lines += [f"### {name}", f"```python\n{_signature(found)}\n```", *_told(found)]
    lines.append("## What they give")
    for name in classes:
        found = getattr(foldscript, name)
        lines += [f"### {name}", *_told(found), *_members(found)]
    return "\n\n".join(lines) + "\n", []


def _opening() -> Iterator[str]:
    """The package's own words, its example as code."""
    _, *rest = (inspect.getdoc(foldscript) or "").split("\n\n")
    for part in rest:
        if part.startswith("    "):
            yield f"```python\nimport foldscript\n\n{inspect.cleandoc(part)}\n```"
        else:
            yield part


def _signature(found: Callable[..., object]) -> str:
    """As it is written; a long one has a line a parameter."""
    (written,) = ast.parse(textwrap.dedent(inspect.getsource(found))).body
    assert isinstance(written, ast.FunctionDef)
    assert written.returns is not None
    result = ast.unparse(written.returns)
    inner = re.sub(r"(: [^=,]+)=", r"\1 = ", ast.unparse(written.args))
    whole = f"{written.name}({inner}) -> {result}"
    if len(whole) <= 80:
        return whole
    rows = "".join(f"    {one},\n" for one in re.split(r", (?=\w+: )", inner))
    return f"{written.name}(\n{rows}) -> {result}"


def _told(found: object) -> Iterator[str]:
    """A docstring as Markdown; what it says of fields stands beside them (`_members`)."""
    opening, parts = _parts(found)
    yield opening
    for heading, text in parts.items():
        rows = [f"- {_named(e['names'])}: {_one_line(e['words'])}" for e in _ENTRY.finditer(text)]
        if heading != _FIELDS:
            yield f"**{heading}**"
            yield "\n".join(rows) if rows else text.strip()


def _parts(found: object) -> tuple[str, dict[str, str]]:
    """The opening of a docstring, and its sections by their headings."""
    first, *rest = _SECTION.split(inspect.getdoc(found) or "")
    return first.strip(), dict(zip(rest[::2], rest[1::2], strict=True))


def _named(names: str) -> str:
    return ", ".join(f"`{name.strip()}`" for name in names.split(","))


def _one_line(words: str) -> str:
    return re.sub(r"\s+", " ", words).strip()


def _members(found: type) -> Iterator[str]:
    """Its public fields, and what it can be asked for."""
    if issubclass(found, Exception):
        return
    words = {
        name.strip(): _one_line(entry["words"])
        for entry in _ENTRY.finditer(_parts(found)[1].get(_FIELDS, ""))
        for name in entry["names"].split(",")
    }
    fields = [
        f"- `{name}: {kind}`" + (f": {words[name]}" if name in words else "")
        for name, kind in inspect.get_annotations(found).items()
        if not name.startswith("_")
    ]
    asked = [
        f"- {_asked(name, member)}: {_one_line(inspect.getdoc(member) or '').split('. ')[0].rstrip('.')}"
        for name, member in vars(found).items()
        if not name.startswith("_") and _is_asked(member) and inspect.getdoc(member)
    ]
    if fields:
        yield "**Fields**"
        yield "\n".join(fields)
    if asked:
        yield "**May be asked for**"
        yield "\n".join(asked)


def _is_asked(member: object) -> bool:
    return inspect.isfunction(member) or isinstance(member, property) or hasattr(member, "func")


def _asked(name: str, member: object) -> str:
    if not inspect.isfunction(member):
        return f"`{name}`"
    parameters = list(inspect.signature(member).parameters)[1:]
    return f"`{name}({', '.join(parameters)})`"
