"""Brings the catalogues up to date with the source: `python -m foldscript.languages [LANGUAGE ...]`.

In: foldscript's own source and its PO files. Out: the PO files with every template and no others, in the
order of the source. New languages get a catalogue of their own, to be translated.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from ..source.diagnostics import FoldscriptError, Source
from ..source.reporting import render
from .language import CATALOGUE_SUFFIX, tag_of
from .po_file import Catalogue, CatalogueEntry, po_text, read_catalogue
from .templates import Found, templates

PACKAGE = Path(__file__).resolve().parent.parent
LOCALE = PACKAGE / "locale"
_HEADER = {
    "Content-Type": "text/plain; charset=UTF-8",
    "Content-Transfer-Encoding": "8bit",
    "Plural-Forms": "nplurals=2; plural=(n != 1);",
    "X-Decimal-Mark": ",",
}


def place_of(tag: str) -> Path:
    """Where a language's catalogue lies."""
    return LOCALE / (tag + CATALOGUE_SUFFIX)


def brought_up(catalogue: Catalogue, wanted: Sequence[Found]) -> Catalogue:
    """The catalogue with the templates wanted, its translations kept."""
    known = {entry.templates: entry for entry in catalogue.entries}
    rows: list[CatalogueEntry] = []
    for found in wanted:
        new = CatalogueEntry(found.template, found.many)
        old = known.get(new.templates, new)
        own = (c for c in old.comments if not c.startswith("#:"))
        files = dict.fromkeys(place.partition(":")[0] for place in found.places)
        rows.append(replace(new, strings=old.strings, comments=(*own, f"#: {' '.join(files)}")))
    return replace(catalogue, entries=tuple(rows))


def main(asked: Sequence[str]) -> int:
    """Does it for the languages named and those that are there; the number of those that went wrong."""
    there = [path.stem for path in LOCALE.glob(f"*{CATALOGUE_SUFFIX}")]
    wanted, _ = templates(PACKAGE)
    wrong = 0
    for tag in sorted({*there, *map(tag_of, asked)}):
        place = place_of(tag)
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
        place.write_text(po_text(new), "utf-8")
        left = sum(not entry.translated for entry in new.entries)
        print(f"{tag}: {len(new.entries)} sentences, {left} to be translated")
    return wrong


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
