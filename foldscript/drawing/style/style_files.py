"""Reading style files.

In: the TOML text of a style, and those of the shipped styles it may be based on. Out: a `Style`, or
FoldscriptError with every mistake at its line. A style of one's own says only what differs:

    based_on = "grey"                       # colour when not said

    [colours]
    sign = "#7a1f1f"

    [roles]
    "fold.valley" = { width = 1.1 }         # its colour and dashes stay as they were
"""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from ...source.diagnostics import Diagnostic, Hint, Severity, Source
from ...source.reading import read_file
from ...source.toml_table import Table
from .contrast import faint
from .ink import Ink, OwnFont, Style

#: What a style may say, and how much; other sections are told apart by what is read below.
SECTIONS: dict[str, tuple[str, ...]] = {
    "text": ("family", "fonts", "label", "sign", "small"),
    "layers": ("gap", "spread", "crease_inset"),
}
KEYS = ("based_on", "enlarged", "colours", "text", "layers", "tints", "shades", "roles")
SIDES = ("plain", "coloured")
FIELDS = ("stroke", "width", "dash", "fill", "cap", "join")
FONTS = (".ttf", ".otf", ".ttc")
CAPS, JOINS = ("butt", "round", "square"), ("miter", "round", "bevel")
COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
WIDEST, LARGEST = 24.0, 72.0
_NAMED_FAINT = 4

#: Roles that shipped styles leave to their parents, and that a style of one's own may tell apart.
_FINER = (
    "paper",
    "edge.raw",
    "edge.folded",
    "arrow.shaft",
    "mark.angle",
    "mark.length",
    "text.title",
    "text.credit",
    "text.fact",
    "text.number",
    "text.caption",
    "text.heading",
    "text.key",
    "text.note",
    "text.contents",
)


def known_roles(shipped: Mapping[str, str]) -> tuple[str, ...]:
    """Every role that a style may say something about."""
    named = (
        name for text in shipped.values() for name in _flat(tomllib.loads(text).get("roles", {}))
    )
    return tuple(sorted({*named, *_FINER}))


def shipped_style(name: str, shipped: Mapping[str, str]) -> Style:
    """One of the shipped styles; `shipped` gives the text of each by its name."""
    data = tomllib.loads(shipped[name])
    return _style(name, _merged(shipped, data) if "based_on" in data else data)


def own_style(path: Path, shipped: Mapping[str, str]) -> Style:
    """A style of one's own. Raises FoldscriptError where its file cannot be read or is wrong."""
    source = read_file(path, str(path), "style file")
    table = Table(source)
    _check(table, shipped, path.parent)
    table.settle()
    style = _style(path.stem, _merged(shipped, dict(table.values)))
    fonts = tuple(_own_font(path.parent / name) for name in _names(table))
    return replace(style, fonts=fonts, notes=_notes(style, source))


def _notes(style: Style, source: Source) -> tuple[Diagnostic, ...]:
    """One warning that names the inks which are hard to see."""
    found = faint(style)
    if not found:
        return ()
    told = [f"'{f.role}' on {f.ground} ({f.ratio:.1f}:1)" for f in found[:_NAMED_FAINT]]
    more = f" and {len(found) - _NAMED_FAINT} more" if len(found) > _NAMED_FAINT else ""
    return (
        Diagnostic(
            "faint-ink",
            f"hard to see: {', '.join(told)}{more}",
            hints=(Hint("lines should stand out by 3:1 or more, text by 4.5:1"),),
            severity=Severity.WARNING,
            source=source,
        ),
    )


def _merged(shipped: Mapping[str, str], own: Mapping[str, Any]) -> dict[str, Any]:
    """The style it is based on, with what it says itself laid over."""
    base = tomllib.loads(shipped[str(own.get("based_on", "colour"))])
    out: dict[str, Any] = _merged(shipped, base) if "based_on" in base else dict(base)
    for key, value in own.items():
        if key == "roles":
            before = _flat(out["roles"])
            out["roles"] = before | {
                role: _nearest(before, role) | entry for role, entry in _flat(value).items()
            }
        elif isinstance(value, Mapping):
            out[key] = {**out.get(key, {}), **value}
        else:
            out[key] = value
    return out


def _nearest(roles: Mapping[str, dict[str, Any]], role: str) -> dict[str, Any]:
    while role and role not in roles:
        role = role.rpartition(".")[0]
    return roles.get(role, {})


def _flat(roles: Mapping[str, Any], before: str = "") -> dict[str, dict[str, Any]]:
    """Role -> fields; a role may be written with quotes ("fold.valley") or without."""
    out: dict[str, dict[str, Any]] = {}
    for key, value in roles.items():
        if isinstance(value, Mapping):
            out |= _flat(value, f"{before}{key}.")
        elif before:
            out.setdefault(before[:-1], {})[key] = value
    return out


def _style(name: str, data: Mapping[str, Any]) -> Style:
    colours: Mapping[str, str] = data["colours"]
    layers, sizes = data["layers"], data["text"]
    return Style(
        name=name,
        roles={role: _ink(entry, colours) for role, entry in _flat(data["roles"]).items()},
        tints={key: value.lower() for key, value in data.get("tints", {}).items()},
        family=str(sizes["family"]),
        label=float(sizes["label"]),
        sign=float(sizes["sign"]),
        small=float(sizes["small"]),
        layer_gap=float(layers["gap"]),
        layer_spread=float(layers["spread"]),
        crease_inset=float(layers["crease_inset"]),
        shades={side: tuple(float(x) for x in data["shades"][side]) for side in SIDES},
        enlarged=float(data.get("enlarged", 1.0)),
    )


def _ink(entry: Mapping[str, Any], colours: Mapping[str, str]) -> Ink:
    def colour(key: str) -> str | None:
        value = entry.get(key)
        return None if value in (None, "none") else colours.get(value, value).lower()

    return Ink(
        stroke=colour("stroke"),
        width=float(entry.get("width", 0.0)),
        dash=tuple(float(x) for x in entry.get("dash", ())),
        fill=colour("fill"),
        cap=str(entry.get("cap", "round")),
        join=str(entry.get("join", "round")),
    )


def _check(table: Table, shipped: Mapping[str, str], folder: Path) -> None:
    """Notes everything that is wrong in a style of one's own."""
    table.only(known=KEYS)
    basis = table.choice("based_on", among=tuple(sorted(shipped)), default="colour")
    table.number("enlarged", default=1.0, least=0.5, most=4.0)
    for section, keys in SECTIONS.items():
        table.table(section)
        table.only(section, known=keys)
        for key in keys:
            if key not in ("family", "fonts"):
                table.number(section, key, default=1.0, most=LARGEST)
    table.text("text", "family")
    for k in table.items("text", "fonts"):
        _check_font(table, ("text", "fonts", k), folder)
    table.table("shades")
    table.only("shades", known=SIDES)
    for side in SIDES:
        for k in table.items("shades", side):
            table.number("shades", side, k, default=0.0, most=1.0)
    base = _merged(shipped, {"based_on": basis})
    names = {**base["colours"], **dict.fromkeys(table.table("colours"), "")}
    for key in table.table("colours"):
        _colour(table, ("colours", key), {})
    for key in table.table("tints"):
        _colour(table, ("tints", key), {})
    known = known_roles(shipped)
    for key in table.table("roles"):
        _role(table, ("roles", key), key, known, names)


def _role(
    table: Table,
    path: tuple[str, ...],
    role: str,
    known: tuple[str, ...],
    names: Mapping[str, str],
) -> None:
    """A role's fields, and the finer roles below it where it was written without quotes."""
    fields = table.table(*path)
    finer = [key for key in fields if f"{role}.{key}" in known or _is_table(table, (*path, key))]
    for key in finer:
        _role(table, (*path, key), f"{role}.{key}", known, names)
    if role not in known and len(finer) < max(1, len(fields)):
        near = get_close_matches(role, known, 1)
        hint = f"did you mean '{near[0]}'?" if near else "roles: " + ", ".join(known)
        table.fault(path, "unknown-role", f"nothing is drawn as '{role}'", hint, at_key=True)
        return
    table.only(*path, known=(*FIELDS, *finer))
    for key in ("stroke", "fill"):
        if table.has(*path, key):
            _colour(table, (*path, key), names)
    table.number(*path, "width", default=0.0, most=WIDEST)
    table.choice(*path, "cap", among=CAPS, default="round")
    table.choice(*path, "join", among=JOINS, default="round")
    lengths = [
        table.number(*path, "dash", k, default=1.0, most=LARGEST)
        for k in table.items(*path, "dash")
    ]
    if lengths and sum(lengths) <= 0.0:
        table.fault((*path, "dash"), "bad-value", "a dash needs a length", "solid: dash = []")


def _names(table: Table) -> list[str]:
    return [table.text("text", "fonts", k) for k in table.items("text", "fonts")]


def _own_font(path: Path) -> OwnFont:
    return OwnFont(str(path), hashlib.sha256(path.read_bytes()).hexdigest())


def _check_font(table: Table, path: tuple[str | int, ...], folder: Path) -> None:
    """A font's file, beside the style file."""
    name = table.text(*path)
    if not (folder / name).is_file():
        table.fault(path, "no-font", f"there is no font file '{name}' beside this style file")
    elif Path(name).suffix.lower() not in FONTS:
        table.fault(path, "bad-font", f"'{name}' is no font file", f"these are: {', '.join(FONTS)}")


def _is_table(table: Table, path: tuple[str, ...]) -> bool:
    return isinstance(table.value(*path), Mapping)


def _colour(table: Table, path: tuple[str, ...], names: Mapping[str, str]) -> None:
    value = table.text(*path, default="none" if names else "#000000")
    if value in names or (names and value == "none") or COLOUR.fullmatch(value):
        return
    near = get_close_matches(value, tuple(names), 1)
    hints = [f"did you mean '{near[0]}'?"] if near else []
    hints.append(
        "write '#' and six digits, as in '#7a1f1f'" + (f", or {', '.join(names)}" if names else "")
    )
    table.fault(path, "bad-colour", f"'{value}' is no colour", *hints)
