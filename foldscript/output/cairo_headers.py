"""What the cairo library's functions take and give, as cairocffi declares it: read from C once, and kept.

cairocffi reads its declarations anew in every process, which takes longer than to draw a few pages. In: the
declarations of the cairocffi that is installed. Out: its module of them, with what cffi makes of them kept
between runs (`source.kept`). Where anything of it is otherwise than expected, cairocffi does as it always
does.
"""

from __future__ import annotations

import sys
from contextlib import suppress
from importlib.machinery import SourceFileLoader
from importlib.metadata import version
from importlib.util import find_spec
from io import StringIO
from pathlib import Path
from types import ModuleType

from ..source.kept import keep, place

_MODULE = "cairocffi.ffi"
#: With this package cairocffi declares more.
_MORE = "xcffib"


def declared() -> None:
    """Has cairocffi, where it is not loaded yet, find its declarations as they are kept."""
    if "cairocffi" in sys.modules or find_spec(_MORE) is not None:
        return
    # whatever another version does otherwise, and a file that another hand has spoilt
    with suppress(Exception):
        made = ModuleType(_MODULE)
        exec(compile(_kept(), _MODULE, "exec"), made.__dict__)  # as cffi wrote it
        if "ffi" in made.__dict__:
            sys.modules[_MODULE] = made


def _kept() -> bytes:
    """The module's text, from the file that keeps it or made and kept."""
    versions = (version("cffi"), version("cairocffi"))
    file = place(__file__, "cairo", "declarations", "\0".join(versions))
    if file is not None and file.is_file():
        return file.read_bytes()
    text = _made()
    if file is not None:
        keep(text, file)
    return text


def _made() -> bytes:
    """The module's text, by cffi."""
    from cffi import FFI
    from cffi.recompiler import make_py_source

    package = find_spec("cairocffi")
    if package is None or not package.submodule_search_locations:
        raise ImportError("cairocffi")
    constants = Path(package.submodule_search_locations[0]) / "constants.py"
    loader = SourceFileLoader("cairo_constants", str(constants))
    names = ModuleType("cairo_constants")
    loader.exec_module(names)
    ffi, text = FFI(), StringIO()
    ffi.cdef(names.__dict__["_CAIRO_HEADERS"])
    make_py_source(ffi, _MODULE, text)
    return text.getvalue().encode()
