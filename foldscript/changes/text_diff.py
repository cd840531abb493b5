"""The lines of a script that are different, in the colours of the language, on the before/after page.

In: a script's text in both versions. Out: markup: lines that have gone and lines that have come, with the few
lines about them.
"""

from __future__ import annotations

import difflib

from ..building.colours import coloured
from ..output import web

#: Lines that stay, shown about those that do not.
_AROUND = 2
#: The longest line that is coloured; reading one that is no script's is no work for a browser either.
_LONGEST = 2_000
_TAGS = {"+": "ins", "-": "del"}
#: For lines that are alike in both, and far from any that is not.
_GAP = "<i>…</i>"


def text_diff(before: str, after: str) -> str:
    """'' where both say the same."""
    old, new = before.splitlines(), after.splitlines()
    lines = list(difflib.unified_diff(old, new, n=_AROUND, lineterm=""))[2:]
    if not lines:
        return ""
    rows = "".join(_row(line) for line in lines).removeprefix(_GAP)
    return (
        f'<details open><summary>In the script</summary><pre class="lines">{rows}</pre></details>'
    )


def _row(line: str) -> str:
    if line.startswith("@@"):
        return _GAP
    tag = _TAGS.get(line[0], "span")
    return f"<{tag}>{line[0]} {_coloured(line[1:])}</{tag}>"


def _coloured(line: str) -> str:
    if len(line) > _LONGEST:
        return web.text(line)
    return "".join(
        web.text(piece) if kind == "plain" else f'<b class="{kind}">{web.text(piece)}</b>'
        for piece, kind in coloured(line)
    )
