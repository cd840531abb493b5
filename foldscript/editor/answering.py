"""What the service answers: every request of an editor, and how its answer is made.

In: a service (`service.py`). Out: the same with its answers. Each takes what is asked apart, has it found by
the file that knows, and puts it into the protocol's form; of texts that are not open it knows nothing.
"""

from __future__ import annotations

import asyncio
import logging
import sys

from lsprotocol import types
from pygls.exceptions import JsonRpcInvalidParams
from pygls.uris import from_fs_path

from ..source.diagnostics import FoldscriptError, Span
from ..syntax.formatting import formatted
from .bench import Bench
from .completing import completions
from .hovering import Hover, hover
from .kinds import KINDS, encoded, kinds
from .outline import foldings, numbers, symbols
from .places import definition, references
from .positions import Positions
from .renaming import renamable, renamed_besides, renaming
from .service import Service, bare_service
from .signatures import signatures
from .telling import fixes
from .written import Written

#: Seconds that a hover waits for a figure that is not drawn yet.
_PATIENCE = 1.0
#: Seconds after which one thread lets the other go on: answers come before folding.
_TURN = 0.002
_KINDS = {
    "move": types.CompletionItemKind.Function,
    "word": types.CompletionItemKind.Keyword,
    "text": types.CompletionItemKind.File,
    "group": types.CompletionItemKind.Module,
}


def serve() -> None:
    """Serves an editor on standard input and output until it says that it is done."""
    sys.setswitchinterval(_TURN)
    logging.getLogger("pygls.protocol.json_rpc").addFilter(_unexpected)
    service().start_io()


def _unexpected(record: logging.LogRecord) -> bool:
    """Whether a log has to hold it: what is refused is told to who asked, and is no fault."""
    return not (record.exc_info and isinstance(record.exc_info[1], JsonRpcInvalidParams))


def service() -> Service:
    """A service with everything that it answers."""
    made = bare_service()
    _beside(made)
    _places(made)
    _shape(made)
    _changes(made)
    return made


def _beside(made: Service) -> None:
    """What is shown beside the pointer: hovers, completion, signatures."""

    @made.feature(types.TEXT_DOCUMENT_HOVER)
    async def hovers(ls: Service, params: types.HoverParams) -> types.Hover | None:
        asked = ls.asked(params)
        if asked is None:
            return None
        bench, positions, offset = asked
        found = hover(bench, offset, ls.pictures)
        if found is not None and found.waits_for:
            found = await _with_figure(ls, params, bench, offset, found)
        if found is None:
            return None
        content = types.MarkupContent(types.MarkupKind.Markdown, found.markdown)
        return types.Hover(content, positions.range(found.span))

    @made.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=[" "]))
    def completes(ls: Service, params: types.CompletionParams) -> types.CompletionList:
        asked = ls.asked(params)
        if asked is None:
            return types.CompletionList(False, [])
        bench, positions, offset = asked
        items = [
            types.CompletionItem(
                offer.text,
                kind=_KINDS.get(offer.kind, types.CompletionItemKind.Variable),
                detail=offer.detail or None,
                documentation=types.MarkupContent(types.MarkupKind.Markdown, offer.told)
                if offer.told
                else None,
                sort_text=f"{k:04}",
                filter_text=offer.text,
                text_edit=types.TextEdit(positions.range(offer.span), offer.text),
            )
            for k, offer in enumerate(completions(bench, offset))
        ]
        return types.CompletionList(False, items)

    @made.feature(
        types.TEXT_DOCUMENT_SIGNATURE_HELP,
        types.SignatureHelpOptions(trigger_characters=[" ", ","]),
    )
    def signs(ls: Service, params: types.SignatureHelpParams) -> types.SignatureHelp | None:
        asked = ls.asked(params)
        return signatures(asked[0].written, asked[2]) if asked is not None else None


async def _with_figure(
    ls: Service, params: types.HoverParams, bench: Bench, offset: int, first: Hover
) -> Hover | None:
    """The hover with its figure, if that is drawn soon."""
    bench.figures.ask(first.waits_for)
    written, found = bench.written, first
    end = asyncio.get_running_loop().time() + _PATIENCE
    while found.waits_for and asyncio.get_running_loop().time() < end:
        await asyncio.sleep(0.02)
        if bench.written is not written:
            break
        found = hover(bench, offset, ls.pictures) or first
    return found


def _places(made: Service) -> None:
    """Where things are named."""

    @made.feature(types.TEXT_DOCUMENT_DEFINITION)
    def defines(ls: Service, params: types.DefinitionParams) -> types.Location | None:
        asked = ls.asked(params)
        there = definition(asked[0].written, asked[2]) if asked is not None else None
        if asked is None or there is None:
            return None
        if there.file is not None:
            top = types.Position(0, 0)
            return types.Location(from_fs_path(str(there.file)) or "", types.Range(top, top))
        return types.Location(params.text_document.uri, asked[1].range(there.span))

    @made.feature(types.TEXT_DOCUMENT_REFERENCES)
    def refers(ls: Service, params: types.ReferenceParams) -> list[types.Location]:
        asked = ls.asked(params)
        if asked is None:
            return []
        bench, positions, offset = asked
        spans = references(bench.written, offset, definitions=params.context.include_declaration)
        return [types.Location(params.text_document.uri, positions.range(s)) for s in spans]

    @made.feature(types.TEXT_DOCUMENT_DOCUMENT_HIGHLIGHT)
    def marks(ls: Service, params: types.DocumentHighlightParams) -> list[types.DocumentHighlight]:
        asked = ls.asked(params)
        if asked is None:
            return []
        bench, positions, offset = asked
        spans = references(bench.written, offset, definitions=True)
        return [types.DocumentHighlight(positions.range(span)) for span in spans]


def _shape(made: Service) -> None:
    """The outline, what folds away, numbers of steps, kinds of words."""

    @made.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def outlines(ls: Service, params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        known = _known(ls, params.text_document)
        return symbols(*known) if known is not None else []

    @made.feature(types.TEXT_DOCUMENT_FOLDING_RANGE)
    def folds(ls: Service, params: types.FoldingRangeParams) -> list[types.FoldingRange]:
        known = _known(ls, params.text_document)
        return foldings(known[0]) if known is not None else []

    @made.feature(types.TEXT_DOCUMENT_INLAY_HINT)
    def hints(ls: Service, params: types.InlayHintParams) -> list[types.InlayHint]:
        known = _known(ls, params.text_document)
        if known is None:
            return []
        written, positions = known
        return numbers(written, positions, positions.span(params.range))

    @made.feature(
        types.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL,
        types.SemanticTokensLegend([kind.value for kind in KINDS], []),
    )
    def colours(ls: Service, params: types.SemanticTokensParams) -> types.SemanticTokens:
        known = _known(ls, params.text_document)
        if known is None:
            return types.SemanticTokens([])
        return encoded(kinds(known[0]), known[1])


def _known(ls: Service, document: types.TextDocumentIdentifier) -> tuple[Written, Positions] | None:
    bench = ls.bench(document.uri)
    return (bench.written, ls.positions(bench.written)) if bench is not None else None


def _changes(made: Service) -> None:
    """What changes the text: quick fixes, other names, the layout."""

    @made.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions(code_action_kinds=[types.CodeActionKind.QuickFix]),
    )
    def acts(ls: Service, params: types.CodeActionParams) -> list[types.CodeAction]:
        uri = params.text_document.uri
        bench = ls.bench(uri)
        if bench is None or bench.faults[0] is not bench.written:
            return []
        positions = ls.positions(bench.written)
        return list(fixes(bench.faults[1], positions, uri, positions.span(params.range)))

    @made.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    def prepares(
        ls: Service, params: types.PrepareRenameParams
    ) -> types.PrepareRenamePlaceholder | None:
        asked = ls.asked(params)
        if asked is None:
            return None
        bench, positions, offset = asked
        try:
            entity, span = renamable(bench.written, offset)
        except FoldscriptError as error:
            raise _no(error) from None
        return types.PrepareRenamePlaceholder(positions.range(span), entity.name)

    @made.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    def renames(ls: Service, params: types.RenameParams) -> types.WorkspaceEdit | None:
        asked = ls.asked(params)
        if asked is None:
            return None
        bench, positions, offset = asked
        try:
            edits = renaming(bench.written, offset, params.new_name, bench.folded.begun_with)
        except FoldscriptError as error:
            raise _no(error) from None
        changes = {params.text_document.uri: [positions.edit(edit) for edit in edits]}
        for source, more in renamed_besides(bench.written, offset, params.new_name):
            places = Positions(source, ls.encoding)
            changes[from_fs_path(source.name) or ""] = [places.edit(edit) for edit in more]
        return types.WorkspaceEdit(changes=changes)

    @made.feature(types.TEXT_DOCUMENT_FORMATTING)
    def lays_out(
        ls: Service, params: types.DocumentFormattingParams
    ) -> list[types.TextEdit] | None:
        known = _known(ls, params.text_document)
        if known is None or known[0].mistakes:
            return None
        written, positions = known
        now = formatted(written.source)
        if now == written.source.text:
            return []
        whole = positions.range(Span(0, len(written.source.text)))
        return [types.TextEdit(whole, now)]


def _no(error: FoldscriptError) -> JsonRpcInvalidParams:
    """An answer that says why something cannot be done."""
    return JsonRpcInvalidParams(message="; ".join(d.message for d in error.diagnostics))
