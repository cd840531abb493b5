"""Which foldscript makes the files: what it is made of, and of which version its libraries are.

In: the installed package. Out: names and digests for the build cache: whoever changes foldscript, or
what it draws with, gets everything drawn anew.
"""

from __future__ import annotations

import hashlib
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
        for path in sorted(folder.rglob("*")):
            inside = path.relative_to(folder)
            if path.suffix == "" or path.name.startswith(".") or "__pycache__" in inside.parts:
                continue  # what is kept between runs is made of the rest
            name = inside.as_posix().encode()
            data = path.read_bytes() if path.is_file() else b""
            whole.update(b"%d %s %d " % (len(name), name, len(data)))
            whole.update(data)
    return whole.hexdigest()
