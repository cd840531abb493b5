"""A class plan as plain data: what is folded, how long it takes, and what has to lie ready."""

from __future__ import annotations

from dataclasses import dataclass

from ..folding.ending import Ending
from ..languages.levels import Level
from ..languages.wording import Phrase
from .cutting import Cutting
from .lesson import StepPlan


@dataclass(frozen=True, slots=True)
class Times:
    """Minutes, as a common rule of the trade estimates them: to fold alone, to teach to a group."""

    folding: int
    teaching: int


@dataclass(frozen=True, slots=True)
class SheetNeed:
    """The paper of one model.

    Attributes
    ----------
    words : the sheet as the script says it, 'square 15 cm'
    width, height : of the rectangle to be cut, in mm
    trimmed : whether the sheet has another shape, cut from that rectangle afterwards
    coloured_up : which side faces the folder in the beginning
    colours : the coloured side and the plain one, where the script names them
    """

    words: str
    width: float
    height: float
    trimmed: bool
    coloured_up: bool
    colours: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Amounts:
    """How many sheets a class needs of one size for one model.

    `with_spares` is for people who rarely spoil one, `children` is least and most with young children;
    `each` is how many of them one person folds.
    """

    people: int
    with_spares: int
    children: tuple[int, int]
    each: int = 1


@dataclass(frozen=True, slots=True)
class Sheets:
    """Sheets of one size for one model.

    cutting : how they come out of a page; None when none of the usual pages is large enough
    saving : width, height in mm and number a page of a slightly smaller sheet that saves paper
    """

    sheet: SheetNeed
    amounts: Amounts
    cutting: Cutting | None
    saving: tuple[float, float, int] | None


@dataclass(frozen=True)
class ModelPlan:
    """What one model asks for.

    Attributes
    ----------
    level, stated : from the moves used, and as the script's head says; None where it says nothing
    hardest : verbs of the moves that make it that hard; () where it is simple
    steps : figures of the model, without those of what it starts from
    sheets : what it is folded from, one for each of its parts
    finished, ending : width and height in mm as it lies at the end, or width, depth and height as it stands,
        and which of these
    tools, cautions : what is used while folding, and what to mind then
    uses : how often each of the tools is used, in their order
    notes : the script's own
    lesson : the steps as they are taught
    """

    name: str
    title: str
    credit: str
    level: Level
    stated: Level | None
    hardest: tuple[str, ...]
    steps: int
    times: Times
    sheets: tuple[Sheets, ...]
    finished: tuple[float, ...]
    ending: Ending
    tools: tuple[str, ...]
    cautions: tuple[Phrase, ...]
    notes: tuple[str, ...]
    uses: tuple[int, ...] = ()
    lesson: tuple[StepPlan, ...] = ()


@dataclass(frozen=True)
class PaperNeed:
    """Sheets of one size for all the models that are folded from it.

    Attributes
    ----------
    sheets, children : with spares; and least and most with young children
    cutting, saving : as of its models
    titles, each : of its models, and how many sheets one person takes for each of them
    """

    sheet: SheetNeed
    sheets: int
    children: tuple[int, int]
    cutting: Cutting | None
    saving: tuple[float, float, int] | None
    titles: tuple[str, ...]
    each: tuple[int, ...]

    @property
    def pages(self) -> int:
        """Pages to cut the sheets from, spares included; 0 where no usual page is large enough."""
        return self.pages_for(self.sheets)

    def pages_for(self, sheets: int) -> int:
        """Pages for so many sheets."""
        return -(-sheets // self.cutting.count) if self.cutting is not None else 0


@dataclass(frozen=True)
class ClassPlan:
    """A class: its models in order, and what they need together.

    `tools` and `cautions` are those of getting ready; each model has its own besides.
    """

    name: str
    title: str
    people: int
    language: str
    models: tuple[ModelPlan, ...]
    tools: tuple[str, ...]
    cautions: tuple[Phrase, ...]

    @property
    def times(self) -> Times:
        """All models one after the other."""
        return Times(
            sum(m.times.folding for m in self.models), sum(m.times.teaching for m in self.models)
        )

    @property
    def paper(self) -> tuple[PaperNeed, ...]:
        """Paper by size and shape, in the order of the models."""
        found: dict[tuple[float, float, bool], list[tuple[int, Sheets]]] = {}
        for k, model in enumerate(self.models):
            for one in model.sheets:
                short, long = sorted((one.sheet.width, one.sheet.height))
                key = (round(short, 1), round(long, 1), one.sheet.trimmed)
                found.setdefault(key, []).append((k, one))
        titles = [model.title for model in self.models]
        return tuple(_need(rows, titles) for rows in found.values())


def _need(rows: list[tuple[int, Sheets]], titles: list[str]) -> PaperNeed:
    """What models need of one size; each row is the number of a model and its sheets."""
    first = rows[0][1]
    amounts = [one.amounts for _, one in rows]
    each: dict[int, int] = {}
    for k, one in rows:
        each[k] = each.get(k, 0) + one.amounts.each
    return PaperNeed(
        first.sheet,
        sum(a.with_spares for a in amounts),
        (sum(a.children[0] for a in amounts), sum(a.children[1] for a in amounts)),
        first.cutting,
        first.saving,
        tuple(titles[k] for k in each),
        tuple(each.values()),
    )
