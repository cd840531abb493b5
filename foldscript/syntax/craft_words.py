"""Words of the craft that the language says otherwise: a word in, what to write instead out.

A teacher's first script is full of 'fold in half', 'the middle' and 'both sides'. None of these is a word of
the language, and each has one that does what is meant. The hints here are shown beside whatever is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable

#: Names for a crease that a hint gives one.
FREE_NAMES = ("k", "m", "k1", "k2", "k3", *(f"crease-{n}" for n in range(1, 2000)))

_DIRECTION = "two words, the height first: 'top right corner'"
_NUMBER = "write numbers with figures: '2 layers', '3 times'"
_ONE_EACH = "name one thing at a time, with a line for each move"
_MIDDLE = (
    "say 'centre' for the middle of the figure, 'centre line' for its middle line, "
    "'midpoint of A B' for the middle of a way"
)
_MEETING = "say 'where L meets M' for the place where two lines cross"
_FLAP = "say which flap by a corner of it, by its name or as it lies: 'A', 'top corner'"
_UPRIGHT = (
    "to stand paper upright on a fold that has a name, say 'raise along k', "
    "or 'raise along k to 60 degrees'"
)
_LANDING = "say where it lands: 'to' a point or 'onto' a line"
_NAMED = "give it a name with 'as' when it is made, as in 'crease A to C as k', and say that name"

_BEHIND = "use 'mountain' to fold away behind, and say where it lands: 'mountain A to C'"

_PAST = "say 'beyond', as in 'valley A to 2 cm beyond the top edge', or 'short of'"

_CUT_OFF = "say which piece goes: 'cut from P to Q, discarding A', or with 'keeping A' which stays"

#: What to write for a word that stands among the words of a move.
INSTEAD: dict[str, str] = {
    "a": "leave 'a' out; corners are written with capitals: A",
    "above": _PAST,
    "all": "say 'all layers' for the whole stack; " + _ONE_EACH,
    "angle": _UPRIGHT,
    "an": "leave 'an' out",
    "away": _BEHIND,
    "back": "use 'mountain' to fold away behind, with 'to' where it lands; 'unfold' takes a fold back",
    "backward": _BEHIND,
    "backwards": _BEHIND,
    "below": _PAST,
    "both": f"{_ONE_EACH}; of layers say '2 layers'",
    "corners": f"{_ONE_EACH}: 'corner A'",
    "beak": _FLAP,
    "crease": f"{_NAMED}; 'centre line' is the middle line of the figure",
    "creases": _NAMED,
    "cross": _MEETING,
    "crossing": _MEETING,
    "diagonal": "say 'line A C' for a diagonal: 'crease along line A C', or 'crease B to D'",
    "diagonals": "say 'line A C' for a diagonal: 'crease along line A C', or 'crease B to D'",
    "doors": _FLAP,
    "downwards": _LANDING,
    "edges": f"{_ONE_EACH}: 'edge A B'",
    "every": "say how many parts: 'pleat into 8 equal parts, moving the right edge'",
    "everything": "say 'all layers' for the whole stack, 'unfold to step 0' to take everything back",
    "flap": _FLAP,
    "flaps": _FLAP,
    "fold": _NAMED,
    "front": _FLAP,
    "half": "say which edge goes where: 'bottom edge onto top edge'; 'midpoint of A B' is halfway",
    "halfway": "say 'midpoint of A B' for the place halfway",
    "head": _FLAP,
    "hole": "for a hole fold until its place is a corner, and cut that off: 'cut from P to Q, discarding O'",
    "horizontally": "say which edge goes where: 'bottom edge onto top edge'",
    "intersection": _MEETING,
    "it": "say what is meant by its name",
    "last": "'unfold' alone takes the last fold back",
    "leg": _FLAP,
    "legs": _FLAP,
    "lines": f"{_ONE_EACH}: 'line A C'",
    "meet": "say 'to' a point or 'onto' a line; 'where L meets M' is the place where two lines cross",
    "middle": _MIDDLE,
    "middles": _MIDDLE,
    "neck": _FLAP,
    "off": _CUT_OFF,
    "one": _NUMBER,
    "only": "say 'crease from P to Q' for a crease that stops at both points, or 'pinch' for a short mark",
    "opposite": "say which corner or edge is meant by its name, or as it lies: 'top right corner'",
    "paper": "say what moves by a corner, an edge or a name, and leave 'paper' out",
    "past": _PAST,
    "pocket": "say where the pocket is, by a point on its layers: 'into the pocket at P'",
    "points": f"{_ONE_EACH}: 'point P'",
    "quarter": "write parts with figures: '1/4 of A B'",
    "remove": _CUT_OFF,
    "same": "say 'repeat step 1 on the other side', or 'repeat step 1 again'",
    "segment": "say 'crease from P to Q' for a crease that stops at both points",
    "side": "say 'left edge' for a side of the figure, 'edge A B' for one of the sheet",
    "sides": "say 'left edge' for a side of the figure, 'edge A B' for one of the sheet",
    "sideways": "say 'side to side', or 'top to bottom'",
    "them": "say what is meant by its name",
    "they": "say what is meant by its name",
    "tail": _FLAP,
    "third": "write parts with figures: '1/3 of A B'",
    "slit": "say where it begins and ends: 'cut from P to Q', points marked before",
    "three": _NUMBER,
    "throw": _CUT_OFF,
    "tip": "say which corner it is: 'top corner', or A",
    "toward": _LANDING,
    "towards": _LANDING,
    "twice": "say it once, and 'repeat step 1 again' in the next step",
    "two": _NUMBER,
    "upwards": _LANDING,
    "way": "say '1/3 of A B' for a part of the way from A to B",
    "vertically": "say which edge goes where: 'left edge onto right edge'",
    "wing": _FLAP,
    "wings": f"{_FLAP}; 'raise along k' stands it up on its fold",
}

_PLACED = "place, as in 'place unit 2, A of unit 2 to P of unit 1, under Q of unit 1'"
_START = "or put 'start from {0} base' before the first step"
INSTEAD |= dict.fromkeys(("rotate", "then", "turn"), "write each move in a line of its own")
INSTEAD |= {
    base: f"put 'start from {base} base' before the first step, or name the creases that fold"
    for base in ("bird", "fish", "frog", "preliminary", "waterbomb", "windmill")
}

#: What to write for a word that opens a line.
_VALLEY_OR_MOUNTAIN = (
    "valley, which folds to the front, or mountain, which folds behind; "
    "say what moves, and where to, as in 'valley A to C'",
)
OPENERS: dict[str, tuple[str, ...]] = {
    "assemble": (_PLACED,),
    "back": ("unfold, as in 'unfold to step 1'; 'unfold to step 0' opens everything",),
    "blintz": (_START.format("blintz"),),
    "insert": (_PLACED, "or tuck, as in 'tuck A under B'"),
    "join": (_PLACED,),
    "bird": (_START.format("bird")[3:],),
    "cabinet": (_START.format("cupboard"),),
    "cupboard": (_START.format("cupboard"),),
    "fish": (_START.format("fish")[3:],),
    "fold": _VALLEY_OR_MOUNTAIN,
    "frog": (_START.format("frog")[3:],),
    "gate": (_START.format("cupboard"),),
    "kite": (_START.format("kite"),),
    "preliminary": (_START.format("preliminary")[3:],),
    "waterbomb": (_START.format("waterbomb")[3:],),
    "windmill": (_START.format("windmill")[3:],),
    "accordion": ("pleat, as in 'pleat into 8 equal parts, moving the right edge'",),
    "zigzag": ("pleat, as in 'pleat along k and m, moving A'",),
    "blow": ("say where: 'inflate at A', or 'blow into A'",),
    "bend": _VALLEY_OR_MOUNTAIN,
    "bring": ("valley, as in 'valley A to C'",),
    "call": ("mark, as in 'mark M at midpoint of A B'",),
    "flatten": (
        "squash, as in 'squash line O M onto line O A'",
        "or, for a pocket with a slit, 'open pocket at the left corner'",
    ),
    "flip": ("turn over",),
    "lift": (
        "valley, which brings a point over: 'valley A to C'",
        "or petal, where the sides of the flap come in as well: 'petal A along P Q'",
    ),
    "label": ("mark, as in 'mark M at midpoint of A B'",),
    "let": ("mark, as in 'mark M at midpoint of A B'",),
    "make": (
        "to stand paper up on a fold that has a name say 'raise along k'",
        "or mark, as in 'mark M at midpoint of A B'",
    ),
    "name": ("mark, as in 'mark M at midpoint of A B'",),
    "precrease": ("crease",),
    "reverse": (
        "inside reverse: the tip goes in between its layers, 'inside reverse A to P'",
        "or outside reverse: it wraps round them, 'outside reverse A to P'",
    ),
    "roll": (
        "valley, one fold after the other: 'valley along line 2 cm from the bottom edge, moving the "
        "bottom edge', and in the next step 'repeat step 1 again'",
    ),
    "sink": (
        "open sink: the point is turned inside out, 'open sink A along k'",
        "or closed sink: it goes in between its layers; or spread sink: it is pressed flat in front",
    ),
    "spin": ("rotate, as in 'rotate 90 degrees clockwise'",),
    "snip": ("cut, as in 'cut from P to Q, all layers'",),
    "trim": ("cut, as in 'cut from P to Q, discarding A'",),
    "take": ("valley, as in 'valley A to C'",),
    "turn": (
        "turn over or rotate: 'turn over', 'rotate 90 degrees clockwise'",
        "or 'turn inside out A along k'; the whole model, 'turn inside out through O'",
    ),
    "undo": ("unfold",),
}

#: What to write for a character that stands for words.
SIGNS: dict[str, str] = {
    ";": "write each statement in a line of its own",
    "-": "say 'to' before a point and 'onto' before a line, where an arrow is meant",
    "=": "say 'to' before a point and 'onto' before a line, where an arrow is meant",
    "/": "put what is no part of the fold after '#', where nothing is read; fractions are 1/2",
    "→": "say 'to' before a point and 'onto' before a line",
    "(": "leave it out, or put what is no part of the fold after '#', where nothing is read",
    ")": "leave it out, or put what is no part of the fold after '#', where nothing is read",
}

#: What to say where a line ends before it tells which one.
WHICH = {
    "EDGE": "say which: 'bottom edge', 'left edge', or by its ends: 'edge A B'",
    "CORNER": "say which: 'top left corner', or by its name: 'corner A'",
    "MIDPOINT": "say of what: 'midpoint of A B', 'midpoint of the bottom edge'",
    "LINE": "say which: 'line P Q' through two points, or the name of a crease",
}

_PAIR = re.compile(r"(top|upper|bottom|lower)-?(left|right)|(left|right)-?(top|upper|bottom|lower)")


def instead(word: str, names: Collection[str] = ()) -> str:
    """What to write for a word that is no word of the language and no name; '' when nobody knows.

    `names` are the names known.
    """
    capital = word.upper()
    if word != capital and capital in names:
        return f"did you mean '{capital}'? Capitals matter"
    letters = [ch for ch in word if ch not in "-'"]
    if 2 <= len(letters) <= 3 and all(ch.isupper() for ch in letters):
        return f"with blanks between: '{' '.join(letters)}', as in 'edge A B' or 'line A C'"
    if _PAIR.fullmatch(word.lower()):
        return _DIRECTION
    return INSTEAD.get(word if len(word) == 1 else word.lower(), "")


def among(words: Iterable[str]) -> tuple[str, ...]:
    """What to write for the words of a broken line, at most two hints."""
    hints = (instead(word) for word in words if len(word) > 1)
    return tuple(dict.fromkeys(h for h in hints if h))[:2]


def opened_by(word: str, inside: bool) -> str:
    """What opens a line, where nobody knows what its first word was meant for; `inside` a step."""
    if not inside:
        return "start the line with model, credit, sheet or another word of the head, or step"
    if word.startswith('"'):
        return f"a step's caption stands behind 'step', on the same line: step {word}"
    return "start the line with a move, such as valley, mountain, crease or turn over"
