"""The service over standard input and output, asked by a general LSP client."""

from __future__ import annotations

import base64
import re
from collections.abc import AsyncIterator

import pytest
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

from ..command import COMMAND
from .speaking import Editor, capabilities

CARD = """\
model "Card"
sheet square 10 cm, coloured side down

step "Fold in half."
  mark M at midpoint of A B
  valley bottom edge onto top edge as half
step
  unfold half
  valley A to M
"""


@pytest_lsp.fixture(
    config=ClientServerConfig(server_command=[str(COMMAND), "editor-service"]), scope="module"
)
async def client(lsp_client: LanguageClient) -> AsyncIterator[None]:
    params = types.InitializeParams(capabilities=capabilities())
    told = await lsp_client.initialize_session(params)
    assert told.capabilities.position_encoding == types.PositionEncodingKind.Utf16
    yield
    await lsp_client.shutdown_session()


#: Marks a test that asks the one service of this file.
asks = pytest.mark.asyncio(loop_scope="module")


@asks
async def test_messages_while_one_types(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    told = await editor.write(CARD.replace("valley A to M", "vally A to M"))
    assert [(one.code, one.range.start.line) for one in told] == [("unknown-word", 8)]
    assert told[0].severity == types.DiagnosticSeverity.Error
    assert await editor.write(CARD) == []


@asks
async def test_a_fold_that_cannot_be_is_told_at_its_words(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    told = await editor.write(CARD.replace("valley A to M", "valley A to N"))
    assert [one.code for one in told] == ["unknown-name"]
    assert told[0].range == types.Range(types.Position(8, 14), types.Position(8, 15))


@asks
async def test_hints_are_quick_fixes(client: LanguageClient) -> None:
    wrong = CARD.replace("valley A to M", "vally A to M")
    editor = await Editor.opened(client, CARD)
    told = await editor.write(wrong)
    found = await client.text_document_code_action_async(
        types.CodeActionParams(
            editor.document, told[0].range, types.CodeActionContext(diagnostics=told)
        )
    )
    first = (found or [])[0]
    assert isinstance(first, types.CodeAction)
    assert first.is_preferred
    assert first.edit is not None
    assert first.edit.changes is not None
    assert editor.applied(list(first.edit.changes[editor.uri])) == CARD


@asks
async def test_a_step_shows_its_figure(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    said = await editor.hover("step", nth=0)
    picture = re.search(r"!\[step 1\]\(data:image/svg\+xml;base64,([^)]+)\)", said)
    assert picture
    svg = base64.b64decode(picture[1]).decode()
    assert svg.startswith("<?xml")
    assert "Fold in half." in svg  # the description of the very figure
    assert r"**Step 1** Fold in half\." in said


@asks
async def test_a_step_that_never_folded_says_what_is_in_the_way(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD.replace("valley A to M", "valley A to N"))
    said = await editor.hover("step", nth=1)
    assert "not folded: line 9 has to be put right first" in said
    assert await editor.write(CARD) == []
    assert "not folded" not in await editor.hover("step", nth=1)


@asks
async def test_a_figure_is_seen_whole_in_a_low_hover(client: LanguageClient) -> None:
    """Editors give a hover some 250 pixels of height, of 96 to the inch."""
    editor = await Editor.opened(client, CARD)
    picture = re.search(r"base64,([^)]+)\)", await editor.hover("step", nth=0))
    assert picture
    size = re.search(r'height="([\d.]+)pt"', base64.b64decode(picture[1]).decode())
    assert size
    assert float(size[1]) * 96 / 72 < 250


@asks
async def test_a_point_tells_where_it_lies(client: LanguageClient) -> None:
    """M is in the middle of the lower edge of a square of 10 cm; corner B at its lower right."""
    editor = await Editor.opened(client, CARD)
    said = await editor.hover("to M", into=3)
    assert "point, named in line 5 of step 1" in said
    assert "50 mm from the left and 0 mm from the bottom" in said
    assert "100 mm from the left and 0 mm from the bottom" in await editor.hover("A B", into=2)


@asks
async def test_a_move_tells_its_forms(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    said = await editor.hover("valley")
    assert "fold a flap over in front" in said
    assert "valley edge A B onto edge C D" in said


@asks
async def test_names_are_offered_where_they_are_known(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    here = await editor.offers("valley A to ")
    assert {"M", "half", "A", "B"} <= set(here)
    before = await editor.offers("valley bottom edge onto ")
    assert "M" in before
    assert "half" not in before  # named by this very line
    assert {"edge", "line", "midpoint", "top"} <= set(before)
    assert not {"onto", "along", "behind"} & set(before)  # a line or a point has to follow


@asks
async def test_moves_and_words_are_offered_where_they_fit(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    first = await editor.offers("  unfold", into=2)
    assert {"valley", "inside reverse", "repeat", "step"} <= set(first)
    after = await editor.offers("valley A ")
    assert {"to", "onto", "through", "into the pocket at"} <= set(after)
    assert "degrees" not in after
    assert "sheet" in await editor.offers("sheet", into=2)
    assert await editor.offers('step "Fold') == []


@asks
async def test_completion_of_languages_and_of_numbers_of_steps(client: LanguageClient) -> None:
    editor = await Editor.opened(client, CARD)
    await editor.write(CARD + "  caption ")
    offered = await editor.offers("  caption ")
    assert offered[:2] == ["de", "en"]
    assert "M" not in offered
    await editor.write(f"language \n{CARD}")
    assert "fr" in await editor.offers("language ")
    await editor.write(CARD + "step\n  repeat step ")
    assert await editor.offers("  repeat step ") == ["2", "1"]
    await editor.write(CARD + "step\n  repeat step 1 to ")
    assert await editor.offers("  repeat step 1 to ") == ["2", "1"]
    await editor.write(CARD + "step\n  turn over\n" * 10 + "step\n  repeat step ")
    assert (await editor.offers("  repeat step "))[:4] == ["12", "11", "10", "9"]


@asks
async def test_half_a_script_is_answered_too(client: LanguageClient) -> None:
    """What is broken below a step takes nothing from it."""
    editor = await Editor.opened(client, CARD)
    await editor.write(CARD + 'step "never closed\n  valley (((\n  mark\n')
    assert "data:image/svg+xml" in await editor.hover("step", nth=0)
    assert "M" in await editor.offers("valley A to ")


@asks
async def test_letters_beyond_the_first_plane(client: LanguageClient) -> None:
    """A letter outside the basic plane is two code units of UTF-16 (Unicode 15, section 3.9)."""
    text = CARD.replace('step "Fold in half."', 'step "🦢 half"').replace(
        "step\n", 'step "😀😀" junk\n', 1
    )
    editor = await Editor.opened(client, text)
    told = await editor.write(text + "\n")
    (junk,) = [one for one in told if one.range.start.line == 6]
    assert (junk.range.start.character, junk.range.end.character) == (12, 16)
