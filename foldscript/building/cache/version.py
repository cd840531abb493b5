"""Which foldscript makes the files: what it is made of, and of which version its libraries are.

In: the installed package. Out: names and digests for the build cache: whoever changes foldscript, or
what it draws with, gets everything drawn anew.
"""

from __future__ import annotations

import hashlib
import os
from functools import cache
from pathlib import Path

from ...source.finding import bases_folder

#: What the looks of a page depend on besides foldscript.
_LIBRARIES = (
    "cairosvg",
    "fontpkg-heebo",
    "fontpkg-noto-sans",
    "fontpkg-noto-sans-arabic",
    "fontpkg-noto-sans-devanagari",
    "fontpkg-noto-sans-thai",
    "fontpkg-pt-sans",
    "fonttools",
    "lark",
    "numpy",
    "pikepdf",
    "python-bidi",
    "shapely",
    "svgwrite",
    "threadpoolctl",
    "uharfbuzz",
    "uniseg",
)


@cache
def versions() -> dict[str, str]:
    """'foldscript' and each library, with version or digest."""
    found = {name: _version(name) for name in ("foldscript", *_LIBRARIES)}
    found["foldscript"] += f" {_content()[:16]}"
    return found


def _version(name: str) -> str:
    # What reads them takes longer to load than a script to be parsed.
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version(name)
    except PackageNotFoundError:
        return "missing"


def _content() -> str:
    """Stands for all files of the package, the grammar and the bases."""
    package = Path(__file__).parents[2]
    grammar = package / "grammar" if (package / "grammar").is_dir() else package.parent / "grammar"
    whole = hashlib.sha256()
    for folder in (package, grammar, bases_folder()):
        for at, folders, files in os.walk(folder):
            # what is kept between runs is made of the rest
            folders[:] = sorted(name for name in folders if name != "__pycache__")
            for file in sorted(files):
                if file.startswith(".") or "." not in file:
                    continue
                path = os.path.join(at, file)
                name = os.path.relpath(path, folder).replace(os.sep, "/").encode()
                with open(path, "rb") as opened:
                    data = opened.read()
                whole.update(b"%d %s %d " % (len(name), name, len(data)))
                whole.update(data)
    return whole.hexdigest()
