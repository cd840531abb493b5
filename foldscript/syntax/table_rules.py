"""Rules that put a teacher's words into the language's: patterns, and what comes in their place.

They are applied one after the other, in the order in which they stand; a rule may be bold, for nothing that
cannot be read is ever shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

from .whole_lines import AGAINST, CENTRE, COUNTS, NAME, PARTS, POINT, WAY

#: Decimals are rounded parts with such a denominator at most, where they are as near to it: 0.33 is a third.
_SIMPLE, _ROUNDED = 8, Fraction(5, 1000)

Rule = tuple[str, str | Callable[[re.Match[str]], str]]


def _fraction(m: re.Match[str]) -> str:
    said = Fraction(m[1]) / (100 if "%" in m[0] or "cent" in m[0] else 1)
    simple = said.limit_denominator(_SIMPLE)
    part = simple if abs(simple - said) <= _ROUNDED else said
    return f"{part.numerator}/{part.denominator} of "


def _part(m: re.Match[str]) -> str:
    return f"{COUNTS[m[1]]}/{PARTS[m[2].rstrip('s')]} of "


def _folded_over(m: re.Match[str]) -> str:
    return f"{m[1]} {m[2]} edge by 1/{PARTS[m[3]]}"


def _to_a_part(m: re.Match[str]) -> str:
    return f"{m[1]} {m[2]} edge to 1/{PARTS[m[3]]}"


def _from_side(m: re.Match[str]) -> str:
    """A part of an edge from one of its ends, counted from the left end or the lower one."""
    part = Fraction(m[1]) if m[2] in ("left", "bottom", "lower") else 1 - Fraction(m[1])
    return f"{part} of {m[3]}"


def _straight_cut(m: re.Match[str]) -> str:
    """A cut of a length straight up or to a side, as seen."""
    edge = "bottom" if m[4] in ("up", "down") else "left"
    line = f"line through {m[2]} perpendicular to {edge} edge"
    return f"{m[1]} to {m[3]} from {m[2]} on {line}"


def _numbered(m: re.Match[str]) -> str:
    return f"{m[1]} {_FEW[m[2]]}"


def _collapsed(m: re.Match[str]) -> str:
    """A collapse: 'v and h valley, mountain folds d, hold A', each crease after its word."""
    said = re.sub(r"\b(valley|mountain)(?: fold)?s\b", r"\1", m[1])
    said = re.sub(r"\b(?:hold|keep|keeping)\b(?: onto)?", "holding", said)
    parts = (
        re.sub(
            r"^((?!(?:valley|mountain|holding|with|opening)\b).+?) (?:as |is |are )?(valley|mountain)$",
            r"\2 \1",
            part,
        )
        for part in re.split(r",(?: and)? *", said)
    )
    return f"collapse {', '.join(parts)}"


def _layers(m: re.Match[str]) -> str:
    count = COUNTS.get(m[1], 1)
    return f"{count} layer{'s' if count > 1 else ''}"


def _turned(m: re.Match[str]) -> str:
    way = "anticlockwise" if re.search("left|anti|counter", m[0]) else "clockwise"
    return f"rotate {m[1]} degrees {way}"


def _page(m: re.Match[str]) -> str:
    return f"swing {AGAINST[m[1]]} corner to {m[1]} corner"


def _step_before(m: re.Match[str]) -> str:
    return f"unfold to step {max(int(m[1]) - 1, 0)}"


def _quarter(m: re.Match[str]) -> str:
    return f"rotate 90 degrees {'clockwise' if m[1] in ('clockwise', 'right') else 'anticlockwise'}"


VERBS = "(?:valley|mountain|fold|crease|pinch|turn|flip|rotate|mark|cut|repeat|squash|petal|tuck)"
#: Steps and units that are counted in words.
_FEW = {
    "one": "1",
    "two": "2",
    "three": "3",
    "four": "4",
    "first": "1",
    "second": "2",
    "third": "3",
}
FOLDING = "(?:crease|valley|mountain|pinch|fold)"
_TWO_WAYS = "(?:top|upper|bottom|lower) (?:left|right)"

#: What a stretch of a line is in the language's words, wherever it stands; one rule after the other.
STRETCHES: tuple[Rule, ...] = (
    (r"^(?:please|now|then|next) ", ""),
    (r"\bthe ", ""),
    (r"(\d)(mm|cm|inch|inches)\b", r"\1 \2"),
    (r"\b(left|right)[ -]hand (?=edge|corner|side|point|tip|flap)", r"\1 "),
    (r"\bin to\b", "to"),
    (r"\bboth layers?\b", "2 layers"),
    (rf"^({FOLDING} .*\bto) 0(?=$|,)", r"\1 O"),
    (r"^((?:fold|valley|mountain) .+ (?:to|onto) .+) in half$", r"\1"),
    (r"^cut line (?!through\b)", "cut along line "),
    (r"^repeat steps (\d+) (?!and\b|to\b)", r"repeat step \1 "),
    (
        r"^rotate ((?:anti|counter-?)?clockwise),? by (?:a )?quarter(?: turn)?$",
        r"rotate quarter turn \1",
    ),
    (
        r"^turn (?:(?:paper|model|it|sheet) )?(?:around |round |over )?to (?:its )?(?:back|other side)$",
        "turn over",
    ),
    (
        r"^pleat (\d+) (?:times )?(?:equal(?:ly)?|equal (?:times|parts|pleats))\b",
        r"pleat into \1 equal parts",
    ),
    (r"^(raise .*?),? and along ", r"\1, along "),
    (rf"^({FOLDING}) ({NAME}),? ({NAME}),? ({NAME})$", r"\1 \2 and \3 to \4"),
    (rf"^({FOLDING} .*) is ([a-z][\w-]*)$", r"\1 as \2"),
    (r"\bperpendicular (?!to\b)", "perpendicular to "),
    (r",? so that .*$", ""),
    (r" flat$", ""),
    (rf"\b({WAY}) of (?:paper|sheet|model|square)\b", r"\1"),
    (r"^(crease .*?),?(?: and)?(?: then)? unfold$", r"\1"),
    (r"\b(?:whole|entire) (?:model|stack|thing|paper)$", "all layers"),
    (r"\b(edges|corners) of (?:top|front|upper) (?:layer|flap)\b", r"\1"),
    (r"\bto (?:a )?(?:point|place|spot) (?=\d)", "to "),
    (r"\b(?:(?:up|down|in) )?to (?:meet|touch|reach)(?: up)?(?: at| with)? ", "to "),
    (r"^(inside|outside|rabbit|open|closed|spread|pull)-(reverse|ear|sink|out|apart)\b", r"\1 \2"),
    (r"^collapse (?!in?to )(.*\b(?:valley|mountain).*)$", _collapsed),
    (r"^(pleat|crease|pinch|valley|mountain|fold) (?:whole )?(?:paper|sheet|model) (?=\S)", r"\1 "),
    (r"\bout (?=(?:to|onto|along|through)\b)", ""),
    (r"^(?:lift|raise) (.+?) and squash(?: it)?(?: flat)?$", r"squash \1"),
    (
        r"^cut (?:(?:paper|sheet|it) )?in half$",
        "cut along centre line discarding bottom right corner",
    ),
    (
        rf"^(cut from ({NAME})),? (?:straight )?(\d\S* (?:mm|cm|inch|inches)) (up|down|left|right)"
        r"(?:wards?)?(?=,|$)",
        _straight_cut,
    ),
    (r"^make (\d+) (?:equal )?pleats$", r"pleat into \1"),
    (r"^pleat in (?=\d)", "pleat into "),
    (r",? and (?:re-?)?open(?: it)?(?: up)?(?: again)?$", " and unfold"),
    (
        r"^(?:curl|roll) (.+?),?(?: (?:wrapped|rolled|wound))? (?:around|round|on|over|about) "
        r"(?:a |an |your |one )?(pencil|pen|stick|finger)$",
        lambda m: f"curl {m[1]}, round a {'finger' if m[2] == 'finger' else 'pencil'}",
    ),
    (
        r"^(?:make|do) (?:an? )?(?=(?:crease|pleat|pinch|cut|valley|mountain|squash|petal|fold|mark)\b)",
        "",
    ),
    (r"\b(steps?|unit) (one|two|three|four)\b", _numbered),
    (r"\b(first|second|third) unit\b", lambda m: f"unit {_FEW[m[1]]}"),
    (r" (?:x|×) ?(\d+)$| (\d+) ?(?:x|×)$", lambda m: f", {m[1] or m[2]} times"),
    (r"(\d) and (?:a|one) half (?=mm|cm|inch)", r"\1 1/2 "),
    (
        r"\b(\d+/\d+) from (left|right|top|bottom|lower|upper)(?: end)? (?:on|of|along) (.*edge)$",
        _from_side,
    ),
    (rf"^(mark \S+) (?:at |in )?between (?={NAME})", r"\1 at midpoint of "),
    (
        r"^mark (\S+) (?:at|where) ([a-z][\w-]*|Given\d+) and ([a-z][\w-]*|Given\d+)$",
        r"mark \1 where \2 meets \3",
    ),
    (r"^mark (centre|center|.* corner) ([A-Z]\w?)$", r"mark \2 at \1"),
    (r"^(?:name|call|label) (.+?) ([A-Z]\w?)$", r"mark \2 at \1"),
    (r"^again$", "repeat"),
    (
        r"^(?:let |mark )?([A-Za-z]) ?(?::?=|:|be\b|is\b) ?(?=midpoint|centre|center|\d|where|.* corner)",
        lambda m: f"mark {m[1].upper()} at ",
    ),
    (rf"^({FOLDING}) (through \S+ parallel to )", r"\1 along line \2"),
    (rf"\b(\d+/\d+) between ({NAME}) and ({NAME})", r"\1 of \2 \3"),
    (
        rf"^({FOLDING}) ({WAY}) edge (?:[aA]|one) (half|third|quarter|fourth|fifth)(?: of way)?"
        r" (?:up|down|over|in|across)$",
        _to_a_part,
    ),
    (rf"^({FOLDING}) ({WAY}) over ({WAY})$", r"\1 \2 edge onto \3 edge"),
    (rf"^({FOLDING}) from ({WAY}) to ({WAY})$", r"\1 \2 edge onto \3 edge"),
    (rf"^({FOLDING}) from ({WAY} edge) to ({WAY} edge)$", r"\1 \2 onto \3"),
    (
        rf"^({FOLDING}) (left|right) half of (top|upper|bottom|lower) edge (.*)$",
        r"\1 \3 \2 corner \4 through midpoint of \3 edge",
    ),
    (
        rf"^({FOLDING}) (?:only )?(?:top|front|first|upper) (?:layer|flap) of (.*)$",
        r"\1 \2, 1 layer",
    ),
    (rf"\b({WAY}) (?:tip|point|end)\b", r"\1 corner"),
    (
        rf"^({FOLDING}) ({WAY}) (third|quarter|fourth)(?: up| down| over| in)+(?: to {WAY})?$",
        _folded_over,
    ),
    (rf"\b((?:parallel|perpendicular) to {WAY})$", r"\1 edge"),
    (r"(\d (?:mm|cm|inch|inches)) before ", r"\1 short of "),
    (r"\bedge to (\d\S* (?:mm|cm|inch|inches) (?:short of|beyond) )", r"edge onto \1"),
    (
        r"^(?:turn|flip)(?: it| model| paper)?(?: over)?"
        r" (?:(?:from )?(?:left|right) to (?:left|right)|sideways|horizontally)$",
        "turn over side to side",
    ),
    (r"\b(centre|center|middle) of (?:model|sheet|paper|square|figure)\b", "centre"),
    (r"\b(centre|center) point\b", "centre"),
    (r"\bin (?:middle|centre|center|half) of ", "at midpoint of "),
    (r"\bdiagonal (?:line )?(?=[A-Z] ?[A-Z]\b)", "line "),
    (r"(?<=\b(?:to|on) )(?:crease|fold) (?=[A-Z] ?[A-Z]\b)", "line "),
    (r"(?<=\b(?:onto) )(?:crease|fold) (?=[A-Z] ?[A-Z]\b)", "line "),
    (r"(?<=\balong )(?:crease|fold) (?=[A-Z] ?[A-Z]\b)", "line "),
    (r"^turn over (?:paper|model|sheet|it|everything|whole thing)$", "turn over"),
    (r"^mark [aA] (?:point|place|spot) ", "mark P "),
    (rf"\b(\d+/\d+) from ({NAME}) to ({NAME})$", r"\1 of \2 \3"),
    (
        rf"^(\w+(?: fold)?) ({_TWO_WAYS})( up| down| over)? (to|onto) ({_TWO_WAYS})$",
        r"\1 \2 corner\3 to \5 corner",
    ),
    (r"^cut [aA] (?:slit|cut|line|notch) ", "cut "),
    (r" like [aA]n? [\w-]+(?= |$)", ""),
    (r"\b(?:up|down)wards (?=(?:to|onto|along|through)\b)", ""),
    (r"\b(edge|corner|side) of (?:paper|sheet|model|square|figure)\b", r"\1"),
    (r"\btoo (?=[A-Z])", "to "),
    (r"\bonly$", ""),
    # numbers, parts, lengths
    (r"(\d),(\d)", r"\1.\2"),
    (r"(\d)[-+](\d+/\d)", r"\1 \2"),
    (r'\b1(?:"|″|”| in\b\.?)', "1 inch"),
    (r'(\d)(?:"|″|”)', r"\1 inches"),
    (r"(\d+(?:\.\d+)?) ?(?:%|per ?cent)(?: of)? ?", _fraction),
    (r"\b(0\.\d+) of ", _fraction),
    (
        r"\b(one|two|three|a)[ -](half|third|quarter|fourth|fifth|sixth|eighth)s? "
        r"(?:of way )?(?:of|along|on|up|down) ",
        _part,
    ),
    (r"(?<=\b(?:by|to) )(one|two|three|a)[ -](half|third|quarter|fourth|fifth)s?$", _part),
    (
        r"(?<!in )\b(?:half ?way|mid ?way|half|middle|centre|center) "
        r"(?:between|of|along|on|up|down) ",
        "midpoint of ",
    ),
    (rf"\bmidpoint (?:between )?(?=(?:edge |line )?{NAME} (?:and )?{NAME}\b)", "midpoint of "),
    (r"\bmidpoint between ", "midpoint of "),
    (rf"\b(midpoint of {NAME}) and ({NAME})", r"\1 \2"),
    (
        r"(\d (?:mm|cm|inch|inches)) (?:along|up|on) (?:line |edge )?([A-Z]) ([A-Z])\b",
        r"\1 from \2 on line \2 \3",
    ),
    # where things lie
    (
        rf"\b(edge|corner) ((?:top|bottom|upper|lower) (?:left|right)|{WAY})\b"
        rf"(?! (?:{WAY} )?(?:edge|corner))",
        r"\2 \1",
    ),
    (rf"\b({WAY}) (?:hand )?sides?\b", r"\1 edge"),
    (rf"\b({WAY}) (to|onto) ({WAY})$", r"\1 edge onto \3 edge"),
    (rf"\bcorner((?: up| down| over)? (?:to|onto)) ({WAY}|{WAY} {WAY})$", r"corner\1 \2 corner"),
    (
        rf"^((?!cut\b|mark\b)\w+(?: fold)?(?: {WAY})* edge(?: up| down| over)?) (?:to|onto) ({WAY})$",
        r"\1 onto \2 edge",
    ),
    (rf"^(\w+) ({WAY}) (to|onto) ({CENTRE}(?: line)?)$", r"\1 \2 edge onto \4"),
    (
        rf"^((?!cut\b|mark\b)\w+(?: fold)?(?: {WAY})* (?:edge|fold)(?: up| down| over| in)?)"
        rf" (?:to|onto) {CENTRE}(?: line| crease)?$",
        r"\1 onto centre line",
    ),
    (r"\bmiddle (?:line|crease)\b|\bcent(?:re|er) crease\b", "centre line"),
    (r"(?<![\w-])middle(?![\w-])", "centre"),
    (
        r"\b(?:intersection|crossing|crossing point|meeting point) (?:of|between) (\S+) and (\S+)",
        r"where \1 meets \2",
    ),
    (r"\bat where\b", "where"),
    (r"\bwhere (\S+) (?:crosses|intersects|cuts|touches) ", r"where \1 meets "),
    (r"\bwhere (\S+) and (\S+) (?:cross|meet|intersect)\b", r"where \1 meets \2"),
    # how many
    (r"^raise (?:only )?(?:one|single|top|front|first|upper) flap\b", "raise 1 layer"),
    (
        r"\b(?:only )?(one|single|top|front|first|upper) (?:single )?layers?\b(?! at)(?: only)?",
        _layers,
    ),
    (
        r"^(.*(?:corner|edge)) of (?:top|front|first|upper) (?:layer|flap) (.*)$",
        r"\1 \2, 1 layer",
    ),
    (r"\b(?:front|top|upper|first) (two|three|four) layers\b", _layers),
    (r"\b(?:front|top|upper|first) (\d+) layers\b", r"\1 layers"),
    (r"\b(both|two|three|four) layers\b", _layers),
    (r"\bthrough all layers\b", "all layers"),
    (r"^(\w+) (\d+ layers?|all layers) ((?!at\b).+)$", r"\1 \3 \2"),
    # ways
    (r"\b(?:towards?|until|till|upto|into) (?!(?:thirds|quarters|fourths|half|two|\d+)\b)", "to "),
    (r"\b(?:to )?meet ", "to "),
)

#: What opens a line, after the stretches.
OPENINGS: tuple[Rule, ...] = (
    (r"^(?:pre-?crease|score|mark a crease)\b", "crease"),
    (r"^(?:fold and unfold|fold & unfold)\b", "crease"),
    (r" and crease(?: it)?(?: well| sharply| firmly)?$", ""),
    (r"^(?:book|diaper|diagonal|cupboard|letter|kite)(?: fold)? (?=\S.* (?:to|onto) )", "valley "),
    (r"^(?:valley|mountain|fold)( .*?)(?: and)?(?: then)? unfold(?: it| again)?$", r"crease\1"),
    (
        r"^(?:turn|flip|swing) (?:(?:top|front|upper|first|one|[aA]|left|right) )*"
        r"(?:flap|layer|page|point)(?: over| across)?(?: to)? (left|right)(?: over)?$",
        _page,
    ),
    (r"^(?:bring|bend|take|put|move|lift|lay|place(?! unit))\b", "fold"),
    (r"^mountain crease\b", "crease mountain"),
    (r"^valley crease\b", "crease"),
    (r"^fold (?:it )?back(?: again)?$", "unfold"),
    (
        r"^(?:valley )?fold (.+) (?:away )?(?:behind|backwards?|back) (to|onto) ",
        r"mountain \1 \2 ",
    ),
    (r"^(?:valley )?fold (?:away |over )?(?:behind|backwards?|back|away)\b(.*)$", r"mountain\1"),
    (r"^(?:valley )?fold (.*) (?:away behind|behind|backwards?|to back)$", r"mountain \1"),
    (r"^valley (.*) (?:away behind|behind|backwards?|to back)$", r"mountain \1"),
    (r"^(?:re-?fold|fold) (?:it )?again$", "refold"),
    (r"^(?:re-?fold|fold) (\S+) (?:again|once more)$", r"refold \1"),
    (r"^fold\b", "valley"),
    (
        r"^(tuck|valley|mountain)(?: fold)? in (?!half|two|three|four|front|thirds|quarters|fourths)",
        r"\1 ",
    ),
    (
        rf"^(valley|mountain|crease)(?: fold)? ({POINT}|{WAY} (?:{WAY} )?corner) on (?=[A-Z]|corner)",
        r"\1 \2 to ",
    ),
    (r"^mark (centre|midpoint of .*|(?!\S+ at\b).* corner)$", r"mark P at \1"),
    (r"^mark (\S+) (?:as |at |on )?(?=midpoint|centre|\d)", r"mark \1 at "),
    (r"^(?:go |get |turn |unfold |return )?(?:back )?to step (\d+)$", r"unfold to step \1"),
    (
        r"^(?:(?:go |get |unfold )?back|return|unfold) to (?:very )?"
        r"(?:0|zero|step zero|start|beginning|flat|sheet|square|flat sheet|flat square|open sheet)$",
        "unfold to step 0",
    ),
    (r"^(?:unfold|undo) step (\d+)$", _step_before),
    (
        r"^(?:flip|turn)(?: it| paper| model| sheet)?(?: over)? to (?:other side|back|reverse)$",
        "turn over",
    ),
    (r"^flip(?: it| paper| model)?(?: over)?$", "turn over"),
    (r"^turn (?:it|paper|model|sheet)(?: over)?$", "turn over"),
    (
        r"^(?:turn|rotate|spin)(?: it| paper| model)?(?: by)? (\d+)(?: ?°| ?degrees?)?(?: (?!cm|mm|in).*)?$",
        _turned,
    ),
    (
        r"^(?:turn|rotate|spin)(?: it| paper| model)?(?: by)?(?: a| one)? half(?: turn)?$",
        "rotate half turn",
    ),
    (
        r"^(?:turn|rotate|spin)(?: it| paper| model)?(?: to)?"
        r"(?: a| one)?(?: quarter(?: turn)?)? (anti-?clockwise|counter-?clockwise|clockwise|left|right)$",
        _quarter,
    ),
    (r"^unfold (?:corner |point )?[A-Z](?: (?:to|from|and) .*)?$", "unfold"),
    (r"^(?:undo|unfold it|unfold again|unfold last fold|undo last fold)$", "unfold"),
    (r"^open(?: it| flap| layer| last fold| paper)?(?: up| out| again| back)*$", "unfold"),
    (
        r"^open (.+ edge)(?: by)? (\d\S*(?: \d+/\d+)? (?:mm|cm|inch|inches)) (?:wide|apart|far)$",
        r"open \1 by \2",
    ),
    (
        r"^raise (?:up )?(?:walls?|sides?|flaps?|ends?|wings?|legs?|paper) (?:up )?(?=along\b)",
        "raise ",
    ),
    (r"^stand (?:.+ )?up(?:right)? along (\S+)$", r"raise along \1"),
    (r"^(?:snip|clip|slit)\b", "cut"),
    (r"^raise (along .+?) (\d+)(?: ?°| degrees?)$", r"raise \1 to \2 degrees"),
    (r"^(?:valley|raise) up along (\S+)(?: (?:to|until|so)\b.*)?$", r"raise along \1"),
    (
        r"^(?:turn|rotate|spin)(?: it| paper| model)?(?: by)?(?: a| one)? quarter(?: turn)?$",
        "rotate 90 degrees clockwise",
    ),
    (
        r"^(?:open|unfold|undo) (?:everything|all|it all|completely|fully|paper|whole model)$",
        "unfold to step 0",
    ),
)
