"""foldscript: folding sequences as text, folded for real and drawn as printable steps.

    script = foldscript.read("cone.foldscript")
    model = foldscript.fold(script)
    figures = foldscript.draw(model, style="grey")
    foldscript.build("cone.foldscript", out="out", formats=["svg"])

`read` gives a `Script` (`parse` makes one of a text), `fold` a `Model` of `Step`s, each with the paper before
and after it (`State`), `draw` a tuple of `DrawnFigure`, each with a `Scene`, `build` a `Built`. What is wrong
is a `FoldscriptError`, whose `diagnostics` say what and where. Everything is imported when it is first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .building.editions import Built
    from .building.public import build, draw, fold, parse, read
    from .building.script import Script
    from .drawing.draw import DrawnFigure
    from .drawing.scene.scene import Scene
    from .folding.steps import Model, Step
    from .paper.state import State
    from .source.diagnostics import Diagnostic, FoldscriptError

__version__ = "0.1.0"
__all__ = [
    "Built",
    "Diagnostic",
    "DrawnFigure",
    "FoldscriptError",
    "Model",
    "Scene",
    "Script",
    "State",
    "Step",
    "__version__",
    "build",
    "draw",
    "fold",
    "parse",
    "read",
]

#: Where each name comes from.
_HOMES = {
    "Built": "building.editions",
    "Diagnostic": "source.diagnostics",
    "DrawnFigure": "drawing.draw",
    "FoldscriptError": "source.diagnostics",
    "Model": "folding.steps",
    "Scene": "drawing.scene.scene",
    "Script": "building.script",
    "State": "paper.state",
    "Step": "folding.steps",
    "build": "building.public",
    "draw": "building.public",
    "fold": "building.public",
    "parse": "building.public",
    "read": "building.public",
}


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'foldscript' has no attribute '{name}'")
    found = getattr(import_module(f"foldscript.{_HOMES[name]}"), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
