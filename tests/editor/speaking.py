"""An editor made of a general LSP client: opens texts, waits for messages, asks at a word."""

from __future__ import annotations

import asyncio
import itertools
from pathlib import Path

from lsprotocol import types
from pytest_lsp import LanguageClient

SAMPLES = Path(__file__).parents[2] / "samples"
_NUMBERS = itertools.count()


def capabilities(*encodings: types.PositionEncodingKind | str) -> types.ClientCapabilities:
    """An editor that can do everything asked here; `encodings` as it would like to count."""
    general = types.GeneralClientCapabilities(position_encodings=list(encodings))
    return types.ClientCapabilities(general=general if encodings else None)


class Editor:
    """One text in an editor."""

    def __init__(self, client: LanguageClient, uri: str, text: str) -> None:
        self.client, self.uri, self.text, self.version = client, uri, text, 1

    @classmethod
    async def opened(cls, client: LanguageClient, text: str, name: str = "") -> Editor:
        """A new file of this text, opened and worked at."""
        uri = f"file:///no/such/folder/{name or f'script-{next(_NUMBERS)}'}.foldscript"
        made = cls(client, uri, text)
        client.text_document_did_open(
            types.DidOpenTextDocumentParams(types.TextDocumentItem(uri, "foldscript", 1, text))
        )
        await made.messages()
        return made

    async def write(self, text: str) -> list[types.Diagnostic]:
        """Another text in its place; gives the messages about it."""
        self.version += 1
        self.text = text
        self.client.text_document_did_change(
            types.DidChangeTextDocumentParams(
                types.VersionedTextDocumentIdentifier(self.version, self.uri),
                [types.TextDocumentContentChangeWholeDocument(text)],
            )
        )
        return await self.messages()

    async def messages(self, seconds: float = 60.0) -> list[types.Diagnostic]:
        """The messages about this version, once they stay the same for half a second."""
        told: list[types.PublishDiagnosticsParams] = []

        def note(params: types.PublishDiagnosticsParams) -> None:
            if params.uri == self.uri and params.version == self.version:
                told.append(params)

        end = asyncio.get_running_loop().time() + seconds
        seen = -1
        while not told or len(told) != seen:
            seen = len(told)
            wait = 0.5 if told else max(0.1, end - asyncio.get_running_loop().time())
            try:
                note(
                    await asyncio.wait_for(
                        self.client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS),
                        wait,
                    )
                )
            except TimeoutError:
                assert told, "nothing was told of this text"
        return list(told[-1].diagnostics)

    @property
    def document(self) -> types.TextDocumentIdentifier:
        return types.TextDocumentIdentifier(self.uri)

    def at(self, words: str, into: int = 0, nth: int = 0) -> types.Position:
        """Where words stand in the text, so many letters into them, as UTF-16 counts."""
        start = -1
        for _ in range(nth + 1):
            start = self.text.index(words, start + 1)
        before = self.text[: start + into]
        row = before.rpartition("\n")[2]
        return types.Position(before.count("\n"), len(row.encode("utf-16-le")) // 2)

    async def hover(self, words: str, into: int = 0, nth: int = 0) -> str:
        """What is said there, as Markdown; '' for nothing."""
        found = await self.client.text_document_hover_async(
            types.HoverParams(self.document, self.at(words, into, nth))
        )
        if found is None:
            return ""
        assert isinstance(found.contents, types.MarkupContent)
        return found.contents.value

    async def offers(self, words: str, into: int | None = None, nth: int = 0) -> list[str]:
        """What may be written there, in order; right behind the words without `into`."""
        place = self.at(words, len(words) if into is None else into, nth)
        found = await self.client.text_document_completion_async(
            types.CompletionParams(self.document, place)
        )
        assert isinstance(found, types.CompletionList)
        return [item.label for item in sorted(found.items, key=lambda one: one.sort_text or "")]

    def applied(self, edits: list[types.TextEdit]) -> str:
        """The text with changes made, of ASCII lines."""
        lines = self.text.split("\n")

        def offset(at: types.Position) -> int:
            return sum(len(line) + 1 for line in lines[: at.line]) + at.character

        text = self.text
        for edit in sorted(edits, key=lambda one: offset(one.range.start), reverse=True):
            start, end = offset(edit.range.start), offset(edit.range.end)
            text = text[:start] + edit.new_text + text[end:]
        return text
