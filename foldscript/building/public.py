"""The stages as five functions, for programs: what `import foldscript` offers.

In: files, and values as the command line takes them. Out: a `Script`, a `Model`, figures, files. Every
function raises FoldscriptError, whose `diagnostics` say what is wrong and where.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from ..drawing.draw import DrawnFigure
from ..drawing.draw import draw as draw_figures
from ..drawing.style.styles import load_style
from ..folding.steps import Model
from ..output.formats import format_names
from ..pages.grid import figure_frame
from ..pages.sizes import page_size
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source
from .editions import Built
from .handout import build as build_handout
from .handout import build_options
from .script import Script


def read(path: str | Path) -> Script:
    """Reads and parses a script.

    Parameters
    ----------
    path : a file (`*.foldscript`, UTF-8)

    Returns
    -------
    Script : with its text as `source` and its parsed form as `program`

    Raises
    ------
    FoldscriptError : the file cannot be read, or with everything that is wrong in its text
    """
    script = Script(Path(path))
    _ = script.program
    return script


def parse(text: str, name: str = "script.foldscript") -> Script:
    """Parses the text of a script.

    Parameters
    ----------
    name : what messages call it; scripts that it starts from are looked up from the folder of this path

    Returns
    -------
    Script : as `read` gives it

    Raises
    ------
    FoldscriptError : with everything that is wrong in the text
    """
    script = Script(Path(name))
    script.source = Source(name, text)
    _ = script.program
    return script


def fold(script: Script, language: str = "") -> Model:
    """Folds a script in the simulation of flat paper.

    Parameters
    ----------
    language : of captions, title and notes: a tag ('es') or a catalogue file; '' for the script's own

    Returns
    -------
    Model : title, sheet and steps, each with the paper before and after it; lengths in `State`s are parts
        of the sheet's longer side

    Raises
    ------
    FoldscriptError : the first fold that the paper does not allow, or an unknown language
    """
    model, _ = script.said(language)
    return model


def draw(model: Model, style: str | Path = "colour", page: str = "A4") -> tuple[DrawnFigure, ...]:
    """Draws every step of a folded model.

    Parameters
    ----------
    style : name of a style, or a style file
    page : size of the page that the figures are to stand on; it settles their scale

    Returns
    -------
    tuple of DrawnFigure : in the order of folding, at least one a step, each with its `label`, `step`,
        `caption` and `scene`: paths and texts by role, in points, y down

    Raises
    ------
    FoldscriptError : an unknown style or page size
    """
    looks = load_style(style)
    return draw_figures(model, looks, figure_frame(page_size(page), looks.enlarged))


def build(
    path: str | Path,
    out: str | Path = "out",
    formats: Iterable[str] = ("svg", "pdf"),
    page: str = "A4",
    style: str | Path = "colour",
    languages: Iterable[str] = (),
) -> Built:
    """Reads, folds and draws a script, and writes what is wanted into a folder, as `foldscript build` does.

    Parameters
    ----------
    out : folder that the model's own folder, named after the script, is made in
    formats : names of formats; `foldscript build --help` lists them
    page, style : as `draw` takes them
    languages : a folder for each; () for the script's own language, without a folder

    Returns
    -------
    Built : paths of the files, and notes about them; `unchanged` when all were there already

    Raises
    ------
    FoldscriptError : with all that is wrong; nothing is written then
    """
    names = tuple(formats)
    for name in names:
        if name not in format_names():
            hint = Hint(f"formats: {', '.join(format_names())}")
            raise FoldscriptError(
                Diagnostic("unknown-format", f"there is no format '{name}'", hints=(hint,))
            )
    options = build_options(names, page, str(style), languages=languages)
    return build_handout(Path(path), Path(out), options)
