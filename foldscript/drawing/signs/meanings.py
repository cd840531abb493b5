"""What each sign tells the folder to do, or where it stands, for the symbol poster.

In: the key of a sign (`legend.sign_keys`). Out: the sentence. Names are in the legend.
"""

from __future__ import annotations

from ...languages.wording import Template

#: Headings of the poster, in order.
HEADINGS: tuple[Template, ...] = (
    "Paper and edges",
    "Lines",
    "Arrows",
    "Places",
    "What hands, eye and breath do",
    "Between figures",
)
#: How the keys under each heading begin.
_BEGINNINGS: tuple[tuple[str, ...], ...] = (
    ("paper.", "edge"),
    ("fold.", "crease", "line."),
    ("arrow.",),
    ("point.landmark", "mark.", "point.detail", "inset"),
    ("point.",),
    ("turn-over", "rotate", "scale", "repeat"),
)
SECTIONS = tuple(zip(HEADINGS, _BEGINNINGS, strict=True))

MEANINGS: dict[str, Template] = {
    "paper.coloured": "The tinted side of the sheet faces you here.",
    "paper.plain": "The white side of the sheet faces you here.",
    "edge": "Heaviest line: the paper ends or is folded here.",
    "edge.under": "Fine line beside an edge: a layer behind, drawn a little aside so that you see it.",
    "fold.valley": "Even dashes. Fold the paper over in front, so that the crease is a valley.",
    "fold.mountain": "A dash and two dots. Fold the paper away behind, so that the crease is a ridge.",
    "fold.pinch": "Crease only where the short line is, and unfold.",
    "fold.hidden": "Dots. The fold is made here, behind the layers that you see.",
    "crease": "Thin line that stops short of the edges: folded in an earlier step, flat now.",
    "line.guide": "Fine dots. Nothing is folded here; the line shows where to go.",
    "line.cut": "Cut along the line with scissors.",
    "arrow.valley": "Solid head. Bring the paper from the tail over the front to the head.",
    "arrow.mountain": "Half a head. Bring the paper from the tail behind; dots run under the paper.",
    "arrow.fold-unfold": "Fold to the solid head, crease, and come back to the open head.",
    "arrow.unfold": "Open head. Open what was folded, to the head.",
    "arrow.pleat": "Fold there and back, to make a step in the paper.",
    "arrow.crimp": "Pleat both layers at once, one to either side; the small sign shows the edge end on.",
    "arrow.tuck": "Slide the paper in through the slit; dots run where it is hidden.",
    "arrow.pull-out": "Draw out paper from between the layers, as far as the head.",
    "arrow.swing": "Turn the flap over at the bar, as you turn a page.",
    "arrow.inside-reverse": "Open the two layers a little and push the tip in between them.",
    "arrow.outside-reverse": "Open the two layers and wrap them round, one on either side.",
    "arrow.squash": "Open the flap and press it flat, so that the fold comes to lie on the bar.",
    "arrow.lift": "The arrow grows towards you: raise the paper, and lay it down at the head.",
    "point.landmark": "Look here: these points meet, or the fold runs through them.",
    "point.push": "Push the paper in at the tip of the arrow.",
    "point.pull": "Pull gently, the way the arrow points.",
    "point.hold": "Hold the paper here, with a finger while you fold or with a pin for good.",
    "point.inflate": "Blow gently into the opening, so that the model fills with air.",
    "point.blow": "Blow in here, so that it opens.",
    "point.curl": "Roll the paper round a finger or a pencil.",
    "point.open-out": "Draw the front layers towards you, the back ones away. It stays open, not flat.",
    "point.open-flat": "Draw front and back apart until the ends of the opening meet; press flat.",
    "point.open-slit": "Raise both sides of the slit towards you. It stays open, not flat.",
    "point.squeeze": "Press from both sides at once.",
    "point.look": "The next figure is drawn as seen from here.",
    "point.detail": "The next steps are about the part in the circle.",
    "inset": "The part in the small circle, drawn larger beside it.",
    "mark.equal-angles": "Angles with the same tick are equal.",
    "mark.equal-lengths": "Each arc spans the same length.",
    "mark.right-angle": "A corner of 90 degrees.",
    "turn-over": "The left and right sides change places; you look at the other side.",
    "turn-over.top-to-bottom": "The top and bottom change places; you look at the other side.",
    "rotate": "The same side stays in front; turn the model as the arrows run.",
    "repeat": "Do the steps in the box here too, once for each tick.",
    "repeat.behind": "The arrow runs on in dots behind the paper: do the steps in the box on the back.",
    "scale": "The number tells how many times as large as in the first figure.",
}


def meaning(key: str) -> Template:
    """The sentence; KeyError when there is no such sign."""
    return MEANINGS[key]
