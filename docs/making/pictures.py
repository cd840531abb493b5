"""Scripts of the pages, drawn: each once, small, and kept until the script or foldscript changes.

In: the text of a script. Out: `Picture`s of its figures, as SVG files in a folder of their own.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from pathlib import Path

import foldscript
from foldscript.building.cache.file import digest
from foldscript.building.cache.version import versions
from foldscript.building.script import Script
from foldscript.drawing.scene.scene import Scene
from foldscript.drawing.signs.key import legend
from foldscript.drawing.style.styles import Style, load_style
from foldscript.output.formats import load_format
from foldscript.output.svg import scene_svg
from foldscript.pages.sizes import page_size
from foldscript.pages.trimming import trimmed_to_ink

from .repository import ROOT

#: Where pictures are kept from one build of the site to the next.
FOLDER = ROOT / "out" / "site-pictures"
#: Figures are as large as on a page of this size.
PAGE = "A5"


@dataclass(frozen=True)
class Picture:
    """A picture: its file, its size in points, the step's number ('' for the finished model), what it says
    below, and what it shows for those who cannot see it. It shows the steps `first` to `last`;
    `changed` is whether the last of them has moved paper."""

    file: str
    width: float
    height: float
    label: str
    caption: str
    words: str
    first: int = 0
    last: int = 0
    changed: bool = True

    @property
    def path(self) -> Path:
        """Where its file is."""
        return FOLDER / self.file


def drawn(text: str, steps: int = 0) -> tuple[Picture, ...]:
    """The figures of a script, the finished model last; of its first `steps` alone where they are said.

    Raises FoldscriptError where it does not fold.
    """
    key = digest(json.dumps([text, steps, PAGE, versions()]).encode())[:16]
    kept = FOLDER / f"{key}.json"
    if kept.exists():
        return tuple(Picture(**row) for row in json.loads(kept.read_text("utf-8")))
    script = foldscript.parse(text, "samples/example.foldscript")
    made = tuple(_figures(script.beginning(steps) if steps else script, key))
    kept.write_text(json.dumps([asdict(one) for one in made]), "utf-8")
    return made


def _figures(script: Script, key: str) -> Iterator[Picture]:
    style = load_style("colour")
    whole = script.drawn(style, page_size(PAGE))
    for number, figure in enumerate(whole.figures, 1):
        last = max(figure.step, figure.last)
        scene = _kept(f"{key}-{number:02}", figure.scene, style)
        yield _picture(f"{key}-{number:02}", scene, figure.label, figure.caption, figure.step, last)
    steps = len(whole.model.steps)
    last = whole.model.steps[-1]
    changed = last.before != last.after or steps in whole.model.poses
    scene = _kept(f"{key}-end", whole.finished, style)
    yield replace(_picture(f"{key}-end", scene, "", "", steps, steps), changed=changed)


def _picture(name: str, scene: Scene, label: str, caption: str, first: int, last: int) -> Picture:
    words = scene.description or scene.title
    size = round(scene.width, 1), round(scene.height, 1)
    return Picture(f"{name}.svg", *size, label, caption, words, first, last)


def _kept(name: str, scene: Scene, style: Style) -> Scene:
    """The scene without its margins, which has been written."""
    small = trimmed_to_ink(scene)
    _written(name, small, style)
    return small


def _written(name: str, scene: Scene, style: Style) -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    (FOLDER / f"{name}.svg").write_bytes(scene_svg(scene, style))


def handout(text: str) -> Picture:
    """The first page of a script's handout, A4, as a picture of dots, smaller than it is."""
    name = f"{digest(json.dumps([text, versions()]).encode())[:16]}-page"
    page = page_size("A4")
    drawn = foldscript.parse(text, "samples/example.foldscript").drawn(load_style("colour"), page)
    if not (FOLDER / f"{name}.png").exists():
        FOLDER.mkdir(parents=True, exist_ok=True)
        _, data = next(iter(load_format("page-png").files(drawn)))
        (FOLDER / f"{name}.png").write_bytes(data)
    words = f"The first page of the handout: {drawn.model.title}"
    return Picture(f"{name}.png", 0.6 * page.width, 0.6 * page.height, "", "", words)


def sign(key: str) -> Picture:
    """A sign by itself."""
    style = load_style("colour")
    ((name, scene),) = legend([key], style)
    words = name.split(":")[0].strip()
    file = f"sign-{key.replace('.', '-')}"
    _written(file, scene, style)
    return _picture(file, scene, "", words, 0, 0)
