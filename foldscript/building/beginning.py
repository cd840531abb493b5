"""What a new script, and a new collection of scripts, begin with.

In: a path. Out: files written there, none over another; FoldscriptError where that cannot be.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from ..source.finding import SUFFIX

#: Signs of a title that would end it.
_QUOTES = str.maketrans({'"': "'", "\\": "/"})

_SCRIPT = """\
# A line that begins with # is for you alone. `foldscript check {file}` says whether everything folds,
# `foldscript preview {file} --open` shows the pages while you write.
model "{title}"
credit traditional
sheet square 15 cm, coloured side down

step "Fold in half from bottom to top, crease well, and unfold."
  crease bottom edge onto top edge as middle

step "Fold the top edge down to the crease in the middle."
  valley top edge onto middle

step  # no caption: one is written from the move
  turn over
"""
_SETTINGS = """\
# What the commands take where the command line says nothing.
page = "A4"
style = "colour"
formats = ["pdf", "svg"]
out = "pages"
"""
_BOOKLET = """\
title = "{title}"
models = ["models"]
order = "level"
page = "A5"
"""
_IGNORED = """\
# What foldscript makes, and can make again.
pages/
.foldscript.json
"""
_WORKFLOW = """\
# Every script folds, and every page can be made, or the push fails.
name: models
on: [push, pull_request]
jobs:
  models:
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
      - uses: actions/setup-python@v5
        with:
          python-version: "3.12"
      - run: sudo apt-get update && sudo apt-get install -y --no-install-recommends libcairo2
      - run: pip install foldscript # or the address of the repository that you have it from
      - run: foldscript check --strict --message-format github models booklet.toml
      - run: foldscript format --check models
      - run: foldscript build models
      - run: foldscript booklet booklet.toml
      - uses: actions/upload-artifact@v4
        with:
          name: pages
          path: pages
"""


def script_files(path: Path) -> Mapping[Path, str]:
    """A first script, by its path; its title is made of its name."""
    return {path: _SCRIPT.format(title=_title(path.stem), file=path.name)}


def collection_files(folder: Path) -> Mapping[Path, str]:
    """A folder for scripts, with a first one, a booklet of all, settings, and what keeps them right."""
    return {
        **script_files(folder / "models" / f"first{SUFFIX}"),
        folder / "booklet.toml": _BOOKLET.format(title=_title(folder.resolve().name)),
        folder / "foldscript.toml": _SETTINGS,
        folder / ".gitignore": _IGNORED,
        folder / ".github" / "workflows" / "models.yml": _WORKFLOW,
    }


def begin(files: Mapping[Path, str]) -> None:
    """Writes the files. Raises FoldscriptError, and writes none, where one is there already."""
    there = [path for path in files if path.exists() or path.is_symlink()]
    if there:
        hint = Hint("choose another name, or move what is there")
        raise FoldscriptError(
            *(Diagnostic("exists", f"'{path}' is there already", hints=(hint,)) for path in there)
        )
    for path, text in files.items():
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("x", encoding="utf-8", newline="\n") as file:
                file.write(text)
        except OSError as trouble:
            reason = (trouble.strerror or "the system refused").lower()
            what = f"'{path}' cannot be written: {reason}"
            raise FoldscriptError(Diagnostic("cannot-write", what)) from None


def _title(name: str) -> str:
    """'paper-boat' as 'Paper boat'; a title always, in one line and without quotes of its own."""
    words = re.sub(r"[\s_-]+", " ", "".join(c for c in name if c.isprintable())).strip()
    words = words.translate(_QUOTES)[:80]
    return words[:1].upper() + words[1:] or "First model"
