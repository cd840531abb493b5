"""The lines before the first step: their trees in, a `Head` out.

Each kind of head line has one entry in `_READERS`; only notes may come more than once.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ..languages.levels import LEVELS
from ..languages.tags import is_tag, what_to_say
from ..source.diagnostics import Refusal, Source, Span
from .grammar import Grammar
from .mistakes import did_you_mean, quoted, suggestions
from .nodes import Caption, Head, Lot, SheetSpec
from .operands import read_text, tokens_of, tree_span, trees_of
from .parts import OF_PARTS, read_lots
from .script_lines import cover, raw, token_span
from .sheets import read_sheet, usual_sheet

if TYPE_CHECKING:
    from lark import Token, Tree

#: Longest text of a head line or a caption, in characters.
LONGEST_TEXT = 2000


class HeadReader:
    """Gathers the head line by line; `head()` gives what has been said.

    `part` tells whether it is the head of a part, '' for that of the script: else 'part' or 'assemble'.
    """

    def __init__(self, source: Source, grammar: Grammar, part: str = "") -> None:
        self.source = source
        self.grammar = grammar
        self.part = part
        self.lots: tuple[Lot, ...] = ()
        self.texts: dict[str, str] = {}
        self.notes: list[str] = []
        self.note_spans: list[Span] = []
        self.titles: list[Caption] = []
        self.translated_notes: list[Caption] = []
        self.sheet: SheetSpec | None = None
        self.start_span: Span | None = None
        self.seen: dict[str, Span] = {}

    def read(self, tree: Tree[Token]) -> None:
        """Takes in one head line; raises Refusal."""
        kind = str(tree.data).removesuffix("_line")
        self._refuse_elsewhere(kind, tree)
        said = f"{kind} {_language_of(tree)}" if kind == "model" else kind
        if said in self.seen and kind != "note":
            line, _ = self.source.position(self.seen[said].start)
            raise Refusal(
                "said-twice",
                f"line {line} has said this already",
                "keep one of the two lines",
                span=tree_span(tree),
            )
        self.seen[said] = tree_span(tree)
        _READERS[kind](self, tree)

    def corners(self) -> tuple[str, ...]:
        """What the corners of the sheet are called, as far as the head has been read."""
        names = self.sheet.names if self.sheet is not None else ()
        return names or ("A", "B", "C", "D")

    def corner_at_the_bottom(self) -> str:
        """The corner that the sheet is laid on, where it lies on one; '' for all others."""
        lowest = self.sheet.lowest if self.sheet is not None else ()
        return lowest[0] if len(lowest) == 1 else ""

    def _refuse_elsewhere(self, kind: str, tree: Tree[Token]) -> None:
        """Refuses a line of the script's head in a part that has no say in it."""
        if self.part == "assemble" and kind in OF_PARTS:
            raise Refusal(
                "no-sheet-here",
                "what is put together has no sheets of its own",
                "say the sheets where they are folded, before 'assemble'",
                span=tree_span(tree),
            )
        if self.part and kind not in OF_PARTS:
            raise Refusal(
                "head-after-step",
                "this line is about the whole model, not about one part of it",
                "move it to the top of the script",
                span=tree_span(tree),
            )

    def head(self) -> Head:
        """The head; the usual sheet when none was given and nothing is started from."""
        sheet = self.sheet
        start = self.texts.get("start", "")
        if sheet is None and not start and "sheet" not in self.seen:
            sheet = usual_sheet(Span(0, 0))
        return Head(
            title=self.texts.get("model", ""),
            credit=self.texts.get("credit", ""),
            sheet=sheet,
            licence=self.texts.get("licence", ""),
            level=self.texts.get("level", ""),
            front_colour=self.texts.get("front", ""),
            back_colour=self.texts.get("back", ""),
            language=self.texts.get("language", "en"),
            start_from=start,
            start_span=self.start_span,
            notes=tuple(self.notes),
            titles=tuple(self.titles),
            translated_notes=tuple(self.translated_notes),
            title_span=self.seen.get("model "),
            note_spans=tuple(self.note_spans),
            level_span=self.seen.get("level"),
            lots=self.lots,
        )

    def words(self, tree: Tree[Token]) -> str:
        """A quoted text, or the plain words as they stand."""
        tokens = tokens_of(tree, "STRING", "NAME", "NUMBER", "FRACTION")
        if tokens[0].type == "STRING":
            return checked_text(tokens[0])
        text = raw(self.source, cover(tokens))
        if len(text) > LONGEST_TEXT:
            raise _too_long(cover(tokens))
        return text


def checked_text(token: Token) -> str:
    """A quoted text of bearable length."""
    if len(token) > LONGEST_TEXT:
        raise _too_long(token_span(token))
    return read_text(token).strip()


def language_tag(token: Token) -> str:
    """A language tag such as es or pt-BR."""
    if not is_tag(token):
        raise Refusal(
            "bad-language",
            f"{quoted(token)} is no language code",
            what_to_say(token, token_span(token)),
            span=token_span(token),
        )
    return str(token)


def _too_long(span: Span) -> Refusal:
    return Refusal(
        "text-too-long", f"this text is longer than {LONGEST_TEXT} letters", "shorten it", span=span
    )


# --- one reader a kind of line -------------------------------------------------------------


def _text(kind: str) -> Callable[[HeadReader, Tree[Token]], None]:
    def read(reader: HeadReader, tree: Tree[Token]) -> None:
        text = reader.words(tree)
        if not text:
            raise Refusal(
                "empty-text",
                "this text is empty",
                "say it, or leave the line out",
                span=tree_span(tree),
            )
        reader.texts[kind] = text

    return read


def _level(reader: HeadReader, tree: Tree[Token]) -> None:
    level = reader.words(tree)
    if level not in LEVELS:
        near = did_you_mean(suggestions(level, LEVELS))
        raise Refusal(
            "unknown-level",
            f"{quoted(level)} is no level",
            *(near or (f"one of: {', '.join(LEVELS)}",)),
            span=cover(tokens_of(tree, "STRING", "NAME", "NUMBER", "FRACTION")),
        )
    reader.texts["level"] = level


def _colours(reader: HeadReader, tree: Tree[Token]) -> None:
    for side, part in zip(("front", "back"), trees_of(tree), strict=False):
        reader.texts[side] = reader.words(part)


def _language(reader: HeadReader, tree: Tree[Token]) -> None:
    reader.texts["language"] = language_tag(tokens_of(tree, "NAME")[0])


def _language_of(tree: Tree[Token]) -> str:
    """The language that a title or a note is said in, '' for the script's own."""
    names = tokens_of(tree, "NAME")
    return language_tag(names[0]) if names and tokens_of(tree, "STRING") else ""


def _title(reader: HeadReader, tree: Tree[Token]) -> None:
    language = _language_of(tree)
    if not language:
        _text("model")(reader, tree)
        return
    text = checked_text(tokens_of(tree, "STRING")[0])
    reader.titles.append(Caption(text, language, tree_span(tree)))


def _note(reader: HeadReader, tree: Tree[Token]) -> None:
    language = _language_of(tree)
    text = checked_text(tokens_of(tree, "STRING")[0])
    if language:
        reader.translated_notes.append(Caption(text, language, tree_span(tree)))
        return
    reader.notes.append(text)
    reader.note_spans.append(tree_span(tree))


def _start(reader: HeadReader, tree: Tree[Token]) -> None:
    _text("start")(reader, tree)
    tokens = tokens_of(tree, "STRING", "NAME", "NUMBER", "FRACTION")
    reader.start_span = cover(tokens)


def _sheet(reader: HeadReader, tree: Tree[Token]) -> None:
    reader.sheet = read_sheet(tree, reader.grammar, reader.source)


def _sheets(reader: HeadReader, tree: Tree[Token]) -> None:
    reader.lots = read_lots(tree)


_READERS: dict[str, Callable[[HeadReader, Tree[Token]], None]] = {
    "model": _title,
    "credit": _text("credit"),
    "licence": _text("licence"),
    "level": _level,
    "colours": _colours,
    "language": _language,
    "note": _note,
    "start": _start,
    "sheet": _sheet,
    "sheets": _sheets,
}
HEAD_LINES = frozenset(f"{kind}_line" for kind in _READERS)
