"""Pictures that are kept, and a page that shows what changed: before, after, and both laid over.

A test hands an SVG to `Pictures.check` under a name. It is compared with the one kept in
`tests/pictures/`; where they differ the test fails, and when all tests are done the page
`out/pictures/report.html` shows them side by side. `pytest --snapshot-update` keeps the new ones.
"""

from __future__ import annotations

import base64
import html
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
KEPT = ROOT / "tests" / "pictures"
REPORT = ROOT / "out" / "pictures" / "report.html"

_PAGE = """<!DOCTYPE html>
<html lang="en">
<meta charset="utf-8">
<title>Pictures that changed</title>
<style>
body {{ font: 16px/1.4 sans-serif; margin: 2rem; background: #fff; color: #1f262b }}
.row {{ display: grid; grid-template-columns: repeat(3, 1fr); gap: 1rem; margin-bottom: 3rem }}
figure {{ margin: 0; border: 1px solid #ccc }}
figcaption {{ padding: .3rem .6rem; background: #eef1f2 }}
img {{ width: 100%; display: block; background: #fff }}
.over {{ position: relative }}
.over img + img {{ position: absolute; inset: 0; mix-blend-mode: difference }}
.none {{ padding: 3rem; text-align: center }}
</style>
<h1>Pictures that changed</h1>
<p>To accept them all: <code>pytest --snapshot-update</code>, then commit
<code>tests/pictures</code> with the change that made them.</p>
{rows}
</html>
"""
_ROW = """<h2>{name}</h2>
<div class="row">
<figure><figcaption>before</figcaption>{before}</figure>
<figure><figcaption>after</figcaption>{after}</figure>
<figure><figcaption>what differs is not black</figcaption><div class="over">{before}{after}</div></figure>
</div>
"""


@dataclass
class Pictures:
    """The pictures of one test run; `update` keeps new ones instead of failing."""

    update: bool = False
    kept: Path = KEPT
    changed: dict[str, tuple[bytes | None, bytes]] = field(default_factory=dict)

    def check(self, name: str, svg: bytes) -> None:
        """Fails where a picture is not as it was kept."""
        place = self.kept / f"{name}.svg"
        before = place.read_bytes() if place.exists() else None
        if before == svg:
            return
        if self.update:
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(svg)
            return
        self.changed[name] = (before, svg)
        what = "is new" if before is None else "looks different"
        raise AssertionError(
            f"the picture '{name}' {what}: see {REPORT.relative_to(ROOT)}, "
            "and accept it with --snapshot-update"
        )

    def report(self) -> str:
        """The page that shows every changed picture before and after."""
        rows = (
            _ROW.format(name=html.escape(name), before=_shown(before), after=_shown(after))
            for name, (before, after) in sorted(self.changed.items())
        )
        return _PAGE.format(rows="\n".join(rows))

    def write(self, place: Path = REPORT) -> Path | None:
        """Writes the page where anything changed; else takes an old one away."""
        if not self.changed:
            place.unlink(missing_ok=True)
            return None
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(self.report(), encoding="utf-8")
        return place


def _shown(svg: bytes | None) -> str:
    if svg is None:
        return '<p class="none">not kept yet</p>'
    data = base64.b64encode(svg).decode("ascii")
    return f'<img alt="" src="data:image/svg+xml;base64,{data}">'
