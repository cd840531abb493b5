"""Brings the catalogues up to date with the source: `python -m foldscript.languages [LANGUAGE ...]`.

In: foldscript's own source and its PO files. Out: the PO files with every template and no others, in the
order of the source, and their MO files. New languages get a catalogue of their own, to be translated.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from ..source.diagnostics import FoldscriptError, Source
from ..source.reporting import render
from .language import tag_of
from .mo_file import compiled
from .po_file import Catalogue, Entry, po_text, read_catalogue
from .templates import Found, templates

PACKAGE = Path(__file__).resolve().parent.parent
LOCALE = PACKAGE / "locale"
_HEADER = {
    "Content-Type": "text/plain; charset=UTF-8",
    "Content-Transfer-Encoding": "8bit",
    "Plural-Forms": "nplurals=2; plural=(n != 1);",
    "X-Decimal-Mark": ",",
}


def place_of(tag: str, kind: str) -> Path:
    """Where a language's catalogue lies; `kind` is 'po' or 'mo'."""
    return LOCALE / tag.replace("-", "_") / "LC_MESSAGES" / f"foldscript.{kind}"


def brought_up(catalogue: Catalogue, wanted: Sequence[Found]) -> Catalogue:
    """The catalogue with the templates wanted, its translations kept."""
    known = {entry.templates: entry for entry in catalogue.entries}
    rows: list[Entry] = []
    for found in wanted:
        keys = (found.template, found.many) if found.many else (found.template,)
        old = known.get(keys, Entry(found.template, found.many))
        own = [c for c in old.comments if not c.startswith("#:")]
        files = dict.fromkeys(place.partition(":")[0] for place in found.places)
        rows.append(Entry(found.template, found.many, old.strings, [*own, f"#: {' '.join(files)}"]))
    return Catalogue(catalogue.source, catalogue.header, tuple(rows))


def main(asked: Sequence[str]) -> int:
    """Does it for the languages named and those that are there; the number of those that went wrong."""
    there = [p.parent.parent.name.replace("_", "-") for p in LOCALE.glob("*/LC_MESSAGES/*.po")]
    wanted, _ = templates(PACKAGE)
    wrong = 0
    for tag in sorted({*there, *map(tag_of, asked)}):
        place = place_of(tag, "po")
        try:
            if place.exists():
                old = read_catalogue(Source(str(place), place.read_text("utf-8")))
            else:
                old = Catalogue(Source(str(place), ""), {"Language": tag, **_HEADER}, ())
        except FoldscriptError as error:
            print(render(error.diagnostics), file=sys.stderr)
            wrong += 1
            continue
        new = brought_up(old, wanted)
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(po_text(new), "utf-8")
        place_of(tag, "mo").write_bytes(compiled(new))
        left = sum(not entry.translated for entry in new.entries)
        print(f"{tag}: {len(new.entries)} sentences, {left} to be translated")
    return wrong


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
