"""JSON schemas of booklet, style, side and settings files, by which editors complete and check TOML.

In: the keys and bounds by which foldscript itself reads those files. Out: schemas as plain data (JSON Schema,
draft 2020-12), written into the checkout by `python -m foldscript.editor.schemas`. A schema knows what a file
may say, not whether the scripts that it names are there.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

from ..building.booklet import file as booklets
from ..building.booklet.links import LONGEST_LINK
from ..building.booklet.plan import FORMATS, Texts
from ..captions import side_file
from ..drawing.style import style_files as styles
from ..drawing.style.styles import role_names, style_names
from ..languages.language import languages
from ..output.formats import format_names
from ..pages.sizes import PAGE_SIZES
from ..terminal import settings

Schema = dict[str, Any]
#: Where the schemas lie in a checkout.
FOLDER = Path(__file__).parents[2] / "editors/schemas"
_DRAFT = "https://json-schema.org/draft/2020-12/schema"
_LINK = "^(https?://[!-~]+)?$"
_TEXT: Schema = {"type": "string"}
_FLAG: Schema = {"type": "boolean"}
#: What a section of a style says besides sizes.
_IN_SECTIONS: dict[str, Schema] = {"family": _TEXT, "fonts": {"type": "array", "items": _TEXT}}


def booklet() -> Schema:
    """Schema of booklet files."""
    texts: dict[str, Schema] = {field.name: _TEXT for field in fields(Texts)}
    known: dict[str, Schema] = {
        **texts,
        "language": _one_or_more(_tag()),
        "models": {"type": "array", "items": _TEXT, "minItems": 1},
        "order": {"enum": list(booklets.ORDERS)},
        "page": _page(),
        "style": _style(),
        "format": _one_or_more({"enum": list(FORMATS)}),
        "imposed": _FLAG,
        "creep": _number(0.0, booklets.MOST_CREEP),
        "key": _FLAG,
        "link": {"type": "string", "maxLength": LONGEST_LINK, "pattern": _LINK},
        "cover": _table(
            {"figures": {"type": "array", "items": _TEXT, "maxItems": booklets.MOST_ON_COVER}}
        ),
    }
    whole = _table({key: known[key] for key in booklets.KEYS}, required=["title", "models"])
    whole["patternProperties"] = {f"^{booklets.LANGUAGE.pattern}$": _translation(texts, known)}
    return _titled("a booklet of foldscript", whole)


def _translation(texts: dict[str, Schema], known: dict[str, Schema]) -> Schema:
    """A table of texts in another language; keys of the booklet itself may look like a tag, 'key' too."""
    alike = [key for key in known if booklets.LANGUAGE.fullmatch(key)]
    return {"anyOf": [_table(texts), *(known[key] for key in alike)]}


def style() -> Schema:
    """Schema of style files."""
    colour = {"type": "string", "pattern": f"^{styles.COLOUR.pattern}$"}
    shade = {"type": "array", "items": _number(0.0, 1.0)}
    sections: dict[str, Schema] = {
        section: _table({k: _IN_SECTIONS.get(k, _number(0.0, styles.LARGEST)) for k in keys})
        for section, keys in styles.SECTIONS.items()
    }
    known: dict[str, Schema] = {
        **sections,
        "based_on": {"enum": list(style_names())},
        "enlarged": _number(0.5, 4.0),
        "colours": {"type": "object", "additionalProperties": colour},
        "tints": {"type": "object", "additionalProperties": colour},
        "shades": _table(dict.fromkeys(styles.SIDES, shade)),
        "roles": _roles(role_names()),
    }
    return _titled("a style of foldscript", _table({key: known[key] for key in styles.KEYS}))


def _roles(names: Iterable[str], before: str = "") -> Schema:
    """Tables of roles; a finer role may be written in quotes ("fold.valley") or as a table in a table."""
    below = [n.removeprefix(before) for n in names if n.startswith(before) and n != before]
    found: dict[str, Schema] = {} if not before else _fields()
    for name in below:
        first = name.partition(".")[0]
        for key in (name, first):
            found.setdefault(key, _roles(names, f"{before}{key}."))
    return _table(found)


def _fields() -> dict[str, Schema]:
    known: dict[str, Schema] = {
        "stroke": _TEXT,
        "fill": _TEXT,
        "width": _number(0.0, styles.WIDEST),
        "dash": {"type": "array", "items": _number(0.0, styles.LARGEST)},
        "cap": {"enum": list(styles.CAPS)},
        "join": {"enum": list(styles.JOINS)},
    }
    return {key: known[key] for key in styles.FIELDS}


def side() -> Schema:
    """Schema of side files."""
    entry: Schema = {"anyOf": [_TEXT, _table({"of": _TEXT, "says": _TEXT})]}
    rows: Schema = {"type": "array", "items": entry}
    steps: Schema = {
        "type": "object",
        "patternProperties": {f"^{side_file.NUMBER.pattern}$": entry},
        "additionalProperties": False,
    }
    known: Mapping[str, Schema] = {
        **dict.fromkeys(("title", "credit", "licence"), entry),
        **dict.fromkeys(("notes", "parts"), rows),
        "steps": steps,
    }
    return _titled(
        "a translation of a foldscript script", _table({key: known[key] for key in side_file.KEYS})
    )


def collection() -> Schema:
    """Schema of `foldscript.toml`, a collection's settings."""
    known: Mapping[str, Schema] = {
        "page": _page(),
        "style": _style(),
        "formats": _one_or_more({"enum": list(format_names())}),
        "languages": _one_or_more(_said("a language, or 'all'", (*languages(), "all"))),
        "out": _TEXT,
    }
    return _titled(
        "settings of a foldscript collection", _table({key: known[key] for key in settings.KEYS})
    )


def schemas() -> dict[str, Schema]:
    """Every schema by the name of its file."""
    return {
        "booklet.schema.json": booklet(),
        "style.schema.json": style(),
        "side-file.schema.json": side(),
        "settings.schema.json": collection(),
    }


# --- pieces ---------------------------------------------------------------------------------------


def _titled(title: str, schema: Schema) -> Schema:
    return {"$schema": _DRAFT, "title": title, **schema}


def _table(known: Mapping[str, Schema], required: Iterable[str] = ()) -> Schema:
    """A table that has these keys and no others."""
    wanted = list(required)
    return {
        "type": "object",
        "properties": dict(known),
        **({"required": wanted} if wanted else {}),
        "additionalProperties": False,
    }


def _number(least: float, most: float) -> Schema:
    return {"type": "number", "minimum": least, "maximum": most}


def _one_or_more(one: Schema) -> Schema:
    return {"anyOf": [one, {"type": "array", "items": one}]}


def _tag() -> Schema:
    return {"type": "string", "pattern": f"^{booklets.LANGUAGE.pattern}$"}


def _page() -> Schema:
    return _said("a page size", (size.name for size in PAGE_SIZES))


def _style() -> Schema:
    return _said("a style, or the path of a .toml file", style_names())


def _said(what: str, usual: Iterable[str]) -> Schema:
    """A text of which the usual ones are offered."""
    return {"description": what, "anyOf": [{"enum": list(usual)}, _TEXT]}


def text(schema: Schema) -> str:
    """A schema as JSON."""
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, schema in schemas().items():
        (FOLDER / name).write_text(text(schema), encoding="utf-8")
        sys.stdout.write(f"{FOLDER / name}\n")
