"""Catalogues as gettext reads them: MO files.

In: the entries of a catalogue. Out: bytes, the same for the same entries. Layout after the GNU gettext
manual, 'The Format of GNU MO Files': no hash table, strings sorted.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable

from .po_file import Catalogue, Entry

_MAGIC = 0x950412DE


def compiled(catalogue: Catalogue) -> bytes:
    """The MO file of a catalogue."""
    fields = {**catalogue.header, "Content-Type": "text/plain; charset=UTF-8"}
    header = "".join(f"{key}: {value}\n" for key, value in fields.items())
    rows = [(b"", header.encode()), *_rows(catalogue.entries)]
    rows.sort()
    start = 28 + 16 * len(rows)
    keys, texts = b"", b""
    key_places: list[int] = []
    text_places: list[int] = []
    for key, _ in rows:
        key_places += (len(key), start + len(keys))
        keys += key + b"\0"
    for _, text in rows:
        text_places += (len(text), start + len(keys) + len(texts))
        texts += text + b"\0"
    head = struct.pack("<7I", _MAGIC, 0, len(rows), 28, 28 + 8 * len(rows), 0, 0)
    return head + struct.pack(f"<{4 * len(rows)}I", *key_places, *text_places) + keys + texts


def _rows(entries: Iterable[Entry]) -> Iterable[tuple[bytes, bytes]]:
    for entry in entries:
        if entry.translated:
            yield "\0".join(entry.templates).encode(), "\0".join(entry.strings).encode()
