"""Samples with one word wrong, by night: how often the first hint leads back to what was meant.

    .venv/bin/python -m tests.beginners.night 1 0.3 hints.txt    # seed, share of the lines, file

Every line of a sample is a line that somebody meant, so a wrong word in it is a mistake whose cure is known:
what is folded in the end has to be what the sample folds. Each is told twice: as the last line, for a
beginner who checks as he goes ('ends'), and with all that comes after it ('goes on'). The words that are
changed are those that are easily taken for each other (common practice); nothing here knows of hints.

Outcomes: `right` the first change that is offered folds what was meant; `wrong` it folds something else;
`refused` it is refused in its turn; `none` nothing to write is offered; `unseen` the wrong line folds, and
`warned` it does with a warning; `same` it folds what was meant all the same.
"""

from __future__ import annotations

import random
import re
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.folding.trying import lying
from foldscript.folding.unread import read
from foldscript.source.diagnostics import Diagnostic, FoldscriptError, Source

SAMPLES = Path(__file__).parents[2] / "samples"
_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
_FOLD = re.compile(r"(valley|mountain) ")
_MOVES = ("squash", "petal", "inside reverse", "outside reverse")


def wrong_lines(line: str, chance: random.Random) -> Iterator[tuple[str, str]]:
    """The line with one word changed, and what kind of word that is."""
    for pattern, kind in ((r"[A-D]", "corner"), (r"[E-Z]", "point")):
        names = [*re.finditer(rf"(?<![\w'-]){pattern}(?![\w'-])", line)]
        if names:
            at = chance.choice(names)
            other = chance.choice([name for name in "ABCD" if name != at[0]])
            yield kind, line[: at.start()] + other + line[at.end() :]
    if _FOLD.match(line):
        verb, _, rest = line.partition(" ")
        yield "move", f"{'mountain' if verb == 'valley' else 'valley'} {rest}"
        yield "goal", re.sub(r"^(\w+) (\S+) to (\S+)$", r"\1 \3 to \2", line)
    for verb in (verb for verb in _MOVES if line.startswith(f"{verb} ")):
        other = chance.choice([one for one in _MOVES if one != verb])
        yield "move", other + line[len(verb) :]
    yield "unfold", re.sub(r",? and unfold$", "", line)
    sides = [*re.finditer(r"\b(?:left|right|top|bottom)\b", line)]
    if sides:
        at = chance.choice(sides)
        yield "side", line[: at.start()] + _OPPOSITE[at[0]] + line[at.end() :]
    count = re.search(r",? ?\b(?:all layers|\d+ layers?)\b", line)
    if count is not None:
        yield "layers", line[: count.start()] + line[count.end() :]
        one = ", all layers" if "1 layer" in count[0] else ", 1 layer"
        yield "layers", line[: count.start()] + one + line[count.end() :]
    yield "moving", re.sub(r", moving \w+", "", line)
    step = re.search(r"(?<=repeat step )\d+", line)
    if step is not None:
        number = max(1, int(step[0]) + chance.choice((-1, 1)))
        yield "step", f"{line[: step.start()]}{number}{line[step.end() :]}"


def outcome(wrong: str, meant: str, name: str) -> tuple[str, str]:
    """What comes of a script with a mistake beside the one that was meant, and what was said first."""
    goal = _folded(meant, name)
    assert isinstance(goal, Model)
    done = _folded(wrong, name)
    if isinstance(done, Model):
        if _lies(done) == _lies(goal):
            return "same", ""
        return ("warned", done.warnings[0].message) if done.warnings else ("unseen", "")
    first = next((hint for hint in done.hints if hint.edit is not None), None)
    if first is None or first.edit is None:
        return "none", done.message
    again = _folded(first.edit.applied(wrong), name)
    if isinstance(again, Diagnostic):
        return "refused", first.text
    return "right" if _lies(again) == _lies(goal) else "wrong", first.text


def _folded(text: str, name: str) -> Model | Diagnostic:
    """The model, or what refused it."""
    path = SAMPLES / f"{name}.foldscript"
    try:
        return fold(read(Source(str(path), text)), path)
    except FoldscriptError as error:
        return error.diagnostics[0]


def _lies(model: Model) -> object:
    return lying(model.steps[-1].after)


def run(seed: int, share: float, file: Path) -> Counter[tuple[str, str]]:
    """Tries a share of the lines of all samples; one line of the file for each case, and the counts."""
    chance, counts = random.Random(seed), Counter[tuple[str, str]]()
    for path in sorted(SAMPLES.glob("*.foldscript")):
        text = path.read_text("utf-8")
        for step in read(Source(str(path), text)).steps:
            for one in step.body:
                line = text[one.span.start : one.span.end]
                if chance.random() >= share or "\n" in line:
                    continue
                ways = [way for way in wrong_lines(line, chance) if way[1] != line]
                if not ways:
                    continue
                kind, other = chance.choice(ways)
                for what, rest in (("ends", "\n"), ("goes on", text[one.span.end :])):
                    head = text[: one.span.start]
                    came, said = outcome(head + other + rest, head + line + rest, path.stem)
                    counts[what, came] += 1
                    with file.open("a", encoding="utf-8") as out:
                        row = (path.stem, what, kind, line, other, came, said)
                        out.write(" | ".join(row) + "\n")
    return counts


if __name__ == "__main__":
    for (what, came), number in sorted(
        run(int(sys.argv[1]), float(sys.argv[2]), Path(sys.argv[3])).items()
    ):
        print(f"{what}: {came} {number}")
