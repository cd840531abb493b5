"""Words of every day, and of other languages taken word for word, put into those that the table's rules know.

They come before those rules (`table_rules.py`), one after the other: patterns of a line's text, and what
stands in their place.
"""

from __future__ import annotations

#: What is said of where a thing lies and where it goes, whoever translates word for word.
EVERYDAY: tuple[tuple[str, str], ...] = (
    (r"\b(?:under|underneath|below|nether) (corner|edge|tip|point|side)\b", r"bottom \1"),
    (r"\b(?:above|over|uppermost|topmost) (corner|edge|tip|point|side)\b", r"top \1"),
    (r"\b(?:lowest|undermost|bottommost) (corner|edge|tip|point|side)\b", r"bottom \1"),
    (r"\b(?:leftmost|left[- ]most) (corner|edge|tip|point|side)\b", r"left \1"),
    (r"\b(?:rightmost|right[- ]most) (corner|edge|tip|point|side)\b", r"right \1"),
    (r"\b(top|bottom|upper|lower)-(left|right)\b", r"\1 \2"),
    (r"^(repeat (?:step|steps) [\d to]+?) (?:for|to|at) (?:the )?(left|right)$", r"\1 on the \2"),
    (r"^pleat (?:in )?(?=\d+ (?:equal )?parts\b)", "pleat into "),
    (r",? with (?=(?:all|\d+) layers?\b)", ", "),
    (
        r"^((?:valley|mountain)(?: fold)? \S+) (?:up|down|over|across) "
        r"(?=(?:the )?(?:top|bottom|left|right)[a-z ]* (?:corner|edge|point)$)",
        r"\1 to ",
    ),
    (
        r"^(mountain(?: fold)? (?:the )?[a-z ]+ corner) behind (?=(?:the )?[a-z ]+ corner$)",
        r"\1 to ",
    ),
    (r"\bline from ([A-Z]\w?) to ([A-Z]\w?)\b", r"line \1 \2"),
    (r"\bedge line (?=[A-Z]\w? [A-Z])", "line "),
    (r"(\bwhere .+?) meet (?=\S)", r"\1 meets "),
    (
        r"(\d ?(?:mm|cm|inch(?:es)?)) (?:under|below|above|beside|off|away from) "
        r"(?=(?:the )?(?:top|bottom|left|right)\b)",
        r"\1 from ",
    ),
    (r"\b(?:centre|center)-line\b", "centre line"),
    (r"\b(?:every|each|entire) layers?\b", "all layers"),
    (r"^repeat (?:the )?(\d+)(?:st|nd|rd|th) step\b", r"repeat step \1"),
    (
        r"^((?:valley|mountain|crease|pinch)(?: fold)? .*?\b(?:edge|line(?: [A-Z]\w? [A-Z]\w?)?)) meets? ",
        r"\1 onto ",
    ),
    (r"^((?:valley|mountain|crease)(?: fold)? .*?\b(?:corner|[A-Z]\w?)) meets? ", r"\1 to "),
    (
        r"^mark (?:the )?((?:top|bottom|left|right|centre|midpoint)\b[a-z ]*?) ([A-Z]\w?)$",
        r"mark \2 at \1",
    ),
    (r"\b(left|right) page\b", r"\1 corner"),
    (r"^(inside|outside)-reverse(?: fold)?(?: of)?\b", r"\1 reverse"),
    (r",? (?:the )?((?:(?:top|bottom|left|right) )+edge|[A-Z]\w?) moving$", r", moving \1"),
    (r",? opened at (?=[A-Z]\w?\b)", ", opening "),
    (r"^open (?:the |that |this )?(?:last )?fold(?: again| up| back)*$", "unfold"),
    (
        r"\b(to|onto) ((?:the )?[A-Za-z ]+?),? (\d+(?:\.\d+)? ?(?:mm|cm)) short$",
        r"\1 \3 short of \2",
    ),
    (r"^flatten (?:at|on|in) ", "flatten "),
    (r"\bequal parts (\d+)\b", r"\1 equal parts"),
    (r"\b(\d+) parts equal\b", r"\1 equal parts"),
    (r"^(fold|valley(?: fold)?) (?:in|into|to) (?:a )?(?:triangle|half),? (?=.)", r"\1 "),
    (r"^hood(?:ed)?(?: reverse)? fold ", "outside reverse "),  # craft's names of older books
    (r"^pocket(?: reverse)? fold ", "inside reverse "),
    (
        r"^(repeat (?:step|steps) [\d to]+?) (?:on )?(?:the )?other side,? and (?:on )?(?:the )?"
        r"(?:back|behind)$",
        r"\1 on the other side and behind",
    ),
    (r"^(curl .*?) (?:to|towards) the front\b", r"\1 in front"),
    (r"^(curl .*?) (?:to|towards) the back\b", r"\1 behind"),
    (r"^pull ([A-Z]\w?) and ([A-Z]\w?) apart\b", r"pull \1 from \2"),
    (
        r"^cut off (?:the )?(?:corner |tip |point )?([A-Z]\w?) (?:through|along|from) (?:line )?"
        r"([A-Z]\w?)(?: to| and)? ([A-Z]\w?)(.*)$",
        r"cut from \2 to \3\4, discarding \1",
    ),
    (
        r"^((?:valley|mountain)(?: fold)? .*\b(?:edge|corner)) (?:at|against) (?=(?:the )?[a-z ]*\bline$)",
        r"\1 onto ",
    ),
    (r"^(repeat .*\bon) (?:the )?(left|right)(?:[- ]hand)? side\b", r"\1 the \2"),
    (r"^repeat steps (\d+)(?! *(?:to|and|[-–,])\b)", r"repeat step \1"),
    (
        r"^((?:valley|mountain)(?: fold)? \w+) (?:down|up|over|across) on(?:to)? (?=[A-Z]\b)",
        r"\1 to ",
    ),
    (r"\b(corner|edge) on (?=(?:the )?(?:top|bottom|left|right|upper|lower)\b)", r"\1 to "),
    (r"^(mark [A-Z]\w?) (?:as|is|for) (?:the )?(?=centre|center|midpoint|middle)", r"\1 at "),
    (
        r",? (?:and|then|and then) (?:call|name|label)(?: (?:it|this|that))? (?:crease )?(?=[\w-]+$)",
        " as ",
    ),
    (
        r"^(?:turn|flip) (?:(?:the )?(?:model|paper|sheet|it) )?(?:around|round|over)?,? ?"
        r"(?:so|until|to)(?: that)?(?: you)? (?:can )?(?:see|look at|have)"
        r" (?:the |its )?(?:back|other side|behind)(?: side)?$",
        "turn over",
    ),
)
