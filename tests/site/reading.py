"""Pages of the documentation as what they hold: fenced blocks, in order."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
_BLOCK = re.compile(
    r"^```(?P<language>\w+)(?: title=\"(?P<title>[^\"]+)\")?\n(?P<text>.*?)^```$", re.M | re.S
)


@dataclass(frozen=True)
class Block:
    """A fenced block: its language, the file that it is said to be ('' for none), its text."""

    language: str
    title: str
    text: str
    follows: bool  # whether only blank lines part it from the block before


def blocks(page: Path) -> list[Block]:
    """All of a page."""
    text = page.read_text(encoding="utf-8")
    found: list[Block] = []
    end = -1
    for one in _BLOCK.finditer(text):
        follows = end >= 0 and not text[end : one.start()].strip()
        found.append(Block(one["language"], one["title"] or "", one["text"], follows))
        end = one.end()
    return found


def pages() -> list[Path]:
    """Every page that is written by hand."""
    return sorted(DOCS.rglob("*.md"))


def name(page: Path) -> str:
    """A page as it is called in messages."""
    return page.relative_to(DOCS).as_posix()
