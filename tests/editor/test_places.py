"""Going to names, calling them otherwise, the outline, the layout: asked over standard input and output."""

from __future__ import annotations

from collections.abc import AsyncIterator

import pytest
import pytest_lsp
from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pytest_lsp import ClientServerConfig, LanguageClient

from ..command import COMMAND
from .speaking import Editor, capabilities

EARS = """\
model "Ears"
sheet square 15 cm, coloured side down

group ear P, Q, new-fold
  crease P to Q
  mark X at midpoint of P Q
  valley P to X as new-fold
end

step
  mark O at the centre

# Two corners.
# Both alike.
step "Fold A and B to the middle, O."
  do ear A, O, left-ear
  do ear B, O, right-ear

step
  unfold left-ear
  repeat step 1 again
"""


@pytest_lsp.fixture(
    config=ClientServerConfig(server_command=[str(COMMAND), "editor-service"]), scope="module"
)
async def client(lsp_client: LanguageClient) -> AsyncIterator[None]:
    kinds = types.PositionEncodingKind
    params = types.InitializeParams(capabilities=capabilities(kinds.Utf32, kinds.Utf16))
    told = await lsp_client.initialize_session(params)
    assert told.capabilities.position_encoding == kinds.Utf32  # the first that both know
    yield
    await lsp_client.shutdown_session()


#: Marks a test that asks the one service of this file.
asks = pytest.mark.asyncio(loop_scope="module")


async def renamed(client: LanguageClient, editor: Editor, at: types.Position, new: str) -> str:
    """The text after renaming what stands there."""
    found = await client.text_document_rename_async(types.RenameParams(editor.document, at, new))
    assert found is not None
    assert found.changes is not None
    return editor.applied(list(found.changes[editor.uri]))


@asks
async def test_a_name_leads_to_where_it_is_given(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    found = await client.text_document_definition_async(
        types.DefinitionParams(editor.document, editor.at("unfold left-ear", 9))
    )
    assert isinstance(found, types.Location)
    assert found.range.start == editor.at("left-ear")
    step = await client.text_document_definition_async(
        types.DefinitionParams(editor.document, editor.at("step 1 again", 5))
    )
    assert isinstance(step, types.Location)
    assert step.range.start.line == 9


@asks
async def test_a_base_leads_to_its_file(client: LanguageClient) -> None:
    text = "start from kite base\nstep\n  turn over\n"
    editor = await Editor.opened(client, text)
    found = await client.text_document_definition_async(
        types.DefinitionParams(editor.document, editor.at("kite"))
    )
    assert isinstance(found, types.Location)
    assert found.uri.endswith("/kite-base.foldscript")


@asks
async def test_every_place_of_a_name(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    found = await client.text_document_references_async(
        types.ReferenceParams(
            types.ReferenceContext(include_declaration=True),
            editor.document,
            editor.at("mark O", 5),
        )
    )
    assert [place.range.start.line for place in found or ()] == [10, 14, 15, 16]


@asks
async def test_a_point_is_renamed_with_its_captions(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    now = await renamed(client, editor, editor.at("mark O", 5), "M")
    assert "mark M at the centre" in now
    assert "to the middle, M." in now
    assert "do ear A, M, left-ear" in now


@asks
async def test_a_name_in_a_group_stays_there(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    now = await renamed(client, editor, editor.at("mark X", 5), "Y")
    assert now == EARS.replace("mark X", "mark Y").replace("to X", "to Y")
    now = await renamed(client, editor, editor.at("group ear", 6), "tip")
    assert now == EARS.replace("group ear", "group tip").replace("do ear", "do tip")


@asks
@pytest.mark.parametrize(
    ("words", "into", "new", "why"),
    [
        ("mark O", 5, "A", "name of something else"),
        ("mark X", 5, "Q", "name of something else"),
        ("mark O", 5, "edge", "word of the language"),
        ("mark O", 5, "1st", "no name"),
        ("mark O", 5, "two words", "no name"),
        ("do ear A", 7, "T", "corners named"),
    ],
)
async def test_names_that_cannot_be(
    client: LanguageClient, words: str, into: int, new: str, why: str
) -> None:
    editor = await Editor.opened(client, EARS)
    with pytest.raises(JsonRpcException, match=why):
        await renamed(client, editor, editor.at(words, into), new)


@asks
async def test_a_letter_in_a_caption_leads_to_its_point(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    spoken, given = editor.at("middle, O", 8), editor.at("mark O", 5)
    found = await client.text_document_definition_async(
        types.DefinitionParams(editor.document, spoken)
    )
    assert isinstance(found, types.Location)
    assert found.range.start == given
    uses = await client.text_document_references_async(
        types.ReferenceParams(types.ReferenceContext(True), editor.document, spoken)
    )
    assert [use.range.start for use in uses or ()] == [
        given,
        spoken,
        editor.at("ear A, O", 7),
        editor.at("ear B, O", 7),
    ]
    by_caption = await renamed(client, editor, spoken, "M")
    assert by_caption == await renamed(client, editor, given, "M")
    assert "to the middle, M" in by_caption


@asks
async def test_other_words_of_a_caption_lead_nowhere(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    for words in ("Fold A", "the middle"):
        found = await client.text_document_definition_async(
            types.DefinitionParams(editor.document, editor.at(words))
        )
        assert found is None


@asks
async def test_the_outline(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    found = await client.text_document_document_symbol_async(
        types.DocumentSymbolParams(editor.document)
    )
    symbols = [one for one in found or () if isinstance(one, types.DocumentSymbol)]
    assert [one.name for one in symbols] == [
        "group ear",
        "1. mark",
        "2. Fold A and B to the middle, O.",
        "3. unfold, repeat",
    ]
    assert [child.name for child in symbols[1].children or ()] == ["O"]


@asks
async def test_what_folds_away(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    found = await client.text_document_folding_range_async(
        types.FoldingRangeParams(editor.document)
    )
    rows = {(one.start_line, one.end_line) for one in found or ()}
    assert {(3, 7), (9, 10), (12, 13), (14, 16), (18, 20)} == rows


@asks
async def test_steps_have_their_numbers(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    whole = types.Range(types.Position(0, 0), types.Position(99, 0))
    found = await client.text_document_inlay_hint_async(
        types.InlayHintParams(editor.document, whole)
    )
    assert [(one.position.line, one.label) for one in found or ()] == [
        (9, "1"),
        (14, "2"),
        (18, "3"),
    ]


@asks
async def test_a_moves_forms_while_it_is_written(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    found = await client.text_document_signature_help_async(
        types.SignatureHelpParams(editor.document, editor.at("valley P to X", 12))
    )
    assert found is not None
    assert found.active_signature is not None
    active = found.signatures[found.active_signature]
    assert active.label == "valley A to C"
    assert found.active_parameter is not None
    (start, end) = (active.parameters or ())[found.active_parameter].label
    assert isinstance(start, int)
    assert isinstance(end, int)
    assert active.label[start:end] == "to C"


@asks
async def test_the_layout(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS.replace("  mark O", "      mark   O"))
    found = await client.text_document_formatting_async(
        types.DocumentFormattingParams(editor.document, types.FormattingOptions(2, True))
    )
    assert editor.applied(list(found or ())) == EARS


@asks
async def test_kinds_of_words(client: LanguageClient) -> None:
    editor = await Editor.opened(client, EARS)
    found = await client.text_document_semantic_tokens_full_async(
        types.SemanticTokensParams(editor.document)
    )
    assert found is not None
    legend = list(types.SemanticTokenTypes)
    assert legend
    data, line, column = list(found.data), 0, 0
    seen = {}
    rows = EARS.split("\n")
    for k in range(0, len(data), 5):
        line, column = line + data[k], data[k + 1] + (0 if data[k] else column)
        seen[rows[line][column : column + data[k + 2]]] = data[k + 3]
    alike = [
        {seen["group"], seen["end"]},
        {seen["valley"], seen["crease"]},
        {seen["P"], seen["Q"]},
    ]
    assert [len(one) for one in alike] == [1, 1, 1]
    assert (
        len({seen["group"], seen["valley"], seen["P"], seen["O"], seen["left-ear"], seen["ear"]})
        == 6
    )
