"""Finds every template in foldscript's own source: what catalogues have to have.

In: Python modules as text. Out: templates with the places that use them.
A template is a text in quotes that stands where one is wanted: as the first argument of `phrase` and its
like, in a value that is annotated as `Template`, as an argument for such a parameter, or in what a name
that is used so has been given. Texts put together while the program runs are told as faults.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from string import Formatter

#: Functions that take templates, and which of their arguments are.
_TAKERS: Mapping[str, tuple[int, ...]] = {
    "phrase": (0,),
    "Phrase": (0,),
    "plural": (0, 1),
    "translate": (0,),
    "tell": (0,),
    "says": (0,),
    "speech": (0,),
    "language": (0,),
}
#: Keyword arguments that are templates wherever they stand.
_KEYWORDS = {"tools"}
_TEMPLATE = "Template"


@dataclass
class Found:
    """A template, the one for several where there is one, and where they are used ('moves/cut.py:12')."""

    template: str
    many: str = ""
    places: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Fault:
    """A place whose template cannot be read off the source."""

    place: str
    what: str


@dataclass
class _Module:
    name: str
    tree: ast.Module
    scopes: dict[ast.AST, list[ast.AST]]  # node -> the functions and the module that it stands in


def templates(folder: Path) -> tuple[list[Found], list[Fault]]:
    """Every template below a package's folder, by where they are used first."""
    modules = [_read(path, folder) for path in sorted(folder.rglob("*.py"))]
    takers = {**_TAKERS}
    for module in modules:
        takers |= _takers_of(module)
    fields = _fields(modules)
    found: dict[str, Found] = {}
    faults: list[Fault] = []
    for module in modules:
        for row, place in _in_module(module, takers, fields, faults):
            one = found.setdefault(row[0], Found(row[0]))
            one.many = one.many or (row[1] if len(row) > 1 else "")
            if place not in one.places:
                one.places.append(place)
    return [one for one in found.values() if _has_words(one.template)], faults


def _has_words(template: str) -> bool:
    """Whether anything is said: '{place}' is the same in every language."""
    return any(text.strip() for text, _, _, _ in Formatter().parse(template))


def _read(path: Path, folder: Path) -> _Module:
    tree = ast.parse(path.read_text("utf-8"))
    scopes: dict[ast.AST, list[ast.AST]] = {}

    def walk(node: ast.AST, around: list[ast.AST]) -> None:
        scopes[node] = around
        inner = [*around, node] if isinstance(node, ast.FunctionDef | ast.Module) else around
        for child in ast.iter_child_nodes(node):
            walk(child, inner)

    walk(tree, [])
    return _Module(path.relative_to(folder).as_posix(), tree, scopes)


def _takers_of(module: _Module) -> dict[str, tuple[int, ...]]:
    """Functions with parameters that are annotated as templates."""
    found: dict[str, tuple[int, ...]] = {}
    for node in ast.walk(module.tree):
        if isinstance(node, ast.FunctionDef):
            args = [*node.args.posonlyargs, *node.args.args]
            own = 1 if args and args[0].arg in ("self", "cls") else 0
            rows = tuple(k - own for k, a in enumerate(args) if _wants(a.annotation))
            rows += tuple(-1 for a in node.args.kwonlyargs if _wants(a.annotation))
            if rows and node.name not in ("__call__", "say"):
                found[node.name] = rows
    return found


def _fields(modules: Iterable[_Module]) -> dict[str, frozenset[str]]:
    """Classes whose fields are annotated as templates, with the names of these fields, inherited ones too."""
    classes = [n for m in modules for n in ast.walk(m.tree) if isinstance(n, ast.ClassDef)]
    found: dict[str, frozenset[str]] = {}
    settled = False
    while not settled:
        settled = True
        for node in classes:
            bases = (found.get(b.id, frozenset()) for b in node.bases if isinstance(b, ast.Name))
            own = {
                part.target.id
                for part in node.body
                if isinstance(part, ast.AnnAssign)
                and isinstance(part.target, ast.Name)
                and _wants(part.annotation)
            }
            names = found.get(node.name, frozenset()).union(own, *bases)
            if names and names != found.get(node.name):
                found[node.name], settled = names, False
    return found


def _wants(annotation: ast.expr | None) -> bool:
    if annotation is None:
        return False
    return any(
        isinstance(n, ast.Name) and n.id == _TEMPLATE for n in ast.walk(annotation)
    ) and not any(isinstance(n, ast.Name) and n.id == "Callable" for n in ast.walk(annotation))


def _in_module(
    module: _Module,
    takers: Mapping[str, tuple[int, ...]],
    fields: Mapping[str, frozenset[str]],
    faults: list[Fault],
) -> Iterator[tuple[tuple[str, ...], str]]:
    for node in ast.walk(module.tree):
        place = f"{module.name}:{getattr(node, 'lineno', 0)}"
        if isinstance(node, ast.AnnAssign) and _wants(node.annotation) and node.value:
            for text in _texts(module, node.value, faults, place, set()):
                yield (text,), place
        if not isinstance(node, ast.Call):
            continue
        name = _called(node)
        rows = takers.get(name, ())
        if name == "Move" and any(k.arg == "level" for k in node.keywords):
            rows = (0,)  # class plans name the moves that make a model hard
        wanted = [node.args[k] for k in rows if 0 <= k < len(node.args)]
        wanted = [w for w in wanted if not isinstance(w, ast.Starred)]
        if name == "plural" and len(wanted) == 2:
            one, many = (_texts(module, w, faults, place, set()) for w in wanted)
            yield from (((a, b), place) for a, b in zip(one, many, strict=False))
            continue
        wanted += [
            k.value
            for k in node.keywords
            if k.arg in _KEYWORDS
            or k.arg in fields.get(name, ())
            or (-1 in rows and isinstance(k.value, ast.Constant))
        ]
        for value in wanted:
            for text in _texts(module, value, faults, place, set()):
                yield (text,), place


def _called(node: ast.Call) -> str:
    function = node.func
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _texts(
    module: _Module, node: ast.AST, faults: list[Fault], place: str, seen: set[str]
) -> list[str]:
    """The texts that an expression may stand for."""
    match node:
        case ast.Constant(value=str(text)):
            return [text] if text else []
        case ast.IfExp(body=body, orelse=other):
            return _all(module, (body, other), faults, place, seen)
        case ast.BoolOp(values=values):
            return _all(module, values, faults, place, seen)
        case ast.Dict(values=values):
            return _all(module, values, faults, place, seen)
        case ast.Tuple(elts=parts) | ast.List(elts=parts) | ast.Set(elts=parts):
            return _all(module, parts, faults, place, seen)
        case ast.NamedExpr(value=value):
            return _texts(module, value, faults, place, seen)
        case ast.Subscript(value=value):
            return _texts(module, value, faults, place, seen)
        case ast.Name(id=name):
            if name in seen:
                return []
            return _all(module, _given(module, node, name), faults, place, {*seen, name})
        case ast.Call(func=ast.Attribute(value=value, attr="get")):
            return _texts(module, value, faults, place, seen)
        case ast.JoinedStr():
            faults.append(Fault(f"{module.name}:{node.lineno}", ast.unparse(node)))
            return []
    return []


def _all(
    module: _Module, nodes: Iterable[ast.AST], faults: list[Fault], place: str, seen: set[str]
) -> list[str]:
    return [text for n in nodes for text in _texts(module, n, faults, place, seen)]


def _given(module: _Module, node: ast.AST, name: str) -> list[ast.AST]:
    """What a name has been given, in the innermost function around it that gives it something."""
    for scope in reversed(module.scopes[node]):
        found: list[ast.AST] = []
        for other in ast.walk(scope):
            if module.scopes[other][-1:] != [scope] and other is not scope:
                continue
            match other:
                case ast.Assign(targets=targets, value=value):
                    found += [v for t in targets for v in _named(t, value, name)]
                case ast.AnnAssign(target=ast.Name(id=given), value=value) if given == name:
                    found += [value] if value is not None else []
                case ast.NamedExpr(target=ast.Name(id=given), value=value) if given == name:
                    found.append(value)
                case ast.For(target=target, iter=rows):
                    found += _looped(target, rows, name)
        if found:
            return found
    return []


def _named(target: ast.expr, value: ast.expr, name: str) -> list[ast.AST]:
    if isinstance(target, ast.Name):
        return [value] if target.id == name else []
    if isinstance(target, ast.Tuple):
        if isinstance(value, ast.Tuple) and len(value.elts) == len(target.elts):
            pairs = zip(target.elts, value.elts, strict=True)
            return [v for t, one in pairs for v in _named(t, one, name)]
        if isinstance(value, ast.IfExp):
            return [v for part in (value.body, value.orelse) for v in _named(target, part, name)]
        if isinstance(value, ast.Subscript) and any(
            isinstance(t, ast.Name) and t.id == name for t in target.elts
        ):
            return [value]
    return []


def _looped(target: ast.expr, rows: ast.expr, name: str) -> list[ast.AST]:
    """What a loop over a table written there gives a name."""
    if isinstance(rows, ast.Tuple | ast.List):
        return [v for row in rows.elts for v in _named(target, row, name)]
    return []
