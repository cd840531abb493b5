"""The language service: what an editor asks over standard input, answered on standard output.

In: requests of the Language Server Protocol 3.17. Out: answers, and messages of its own accord whenever more
is known of a text. Requests are answered in one thread from what is ready; reading, folding and drawing goes
on in another (`desk.py`). No text that an editor sends ends the service.
"""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from lsprotocol import types
from pygls.lsp.server import LanguageServer
from pygls.uris import to_fs_path

from .. import __version__
from ..source.diagnostics import Diagnostic, Span
from .bench import Bench
from .desk import Desk
from .positions import Positions
from .telling import told
from .written import Written

#: Editors that show Markdown as text; their hovers have no pictures, where nothing else is asked.
_PLAIN = ("neovim", "vim", "helix", "emacs", "eglot", "kakoune")


class At(Protocol):
    """Parameters of a request about a place of a text."""

    @property
    def text_document(self) -> types.TextDocumentIdentifier: ...

    @property
    def position(self) -> types.Position: ...


class Service(LanguageServer):
    """The server and its desk."""

    def __init__(self) -> None:
        super().__init__("foldscript", __version__)
        self.desk = Desk(self._found)
        self.pictures = "svg"
        self._loop: asyncio.AbstractEventLoop | None = None

    def begin(self, asked: types.InitializeParams) -> None:
        """Settles what the editor wants, and starts to work."""
        self._loop = asyncio.get_running_loop()
        options = asked.initialization_options
        said = options.get("figures") if isinstance(options, dict) else None
        name = asked.client_info.name.lower() if asked.client_info is not None else ""
        usual = "none" if any(word in name for word in _PLAIN) else "svg"
        self.pictures = said if said in ("svg", "png", "none") else usual
        self.desk.start()

    def bench(self, uri: str) -> Bench | None:
        """The bench of a text that is open."""
        return self.desk.benches.get(uri)

    def positions(self, written: Written) -> Positions:
        """Places of a version as the editor counts them."""
        return Positions(written.source, self.encoding)

    @property
    def encoding(self) -> str:
        """What the editor counts by."""
        return self.workspace.position_encoding or types.PositionEncodingKind.Utf16

    def asked(self, at: At) -> tuple[Bench, Positions, int] | None:
        """What is asked about: the bench, the places of its text, and the offset."""
        bench = self.bench(at.text_document.uri)
        if bench is None:
            return None
        positions = self.positions(bench.written)
        return bench, positions, positions.offset(at.position)

    def _found(self, uri: str, written: Written, faults: Sequence[Diagnostic]) -> None:
        """Called by the thread that works."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._publish, uri, written, tuple(faults))

    def _publish(self, uri: str, written: Written, faults: Sequence[Diagnostic]) -> None:
        bench = self.bench(uri)
        if bench is None or bench.written is not written:
            return
        start = written.program.head.start_span or Span(0, 0)
        messages = told(faults, self.positions(written), uri, start)
        self.text_document_publish_diagnostics(
            types.PublishDiagnosticsParams(uri, messages, version=written.version)
        )


def bare_service() -> Service:
    """A service that knows the texts and tells what is wrong with them; it answers nothing yet."""
    made = Service()

    @made.feature(types.INITIALIZE)
    def begin(ls: Service, params: types.InitializeParams) -> None:
        ls.begin(params)

    @made.feature(types.SHUTDOWN)
    def end(ls: Service, params: None) -> None:
        ls.desk.stop()

    _texts(made)
    return made


def _path(uri: str) -> Path:
    """The file of a URI; of a text that is in none yet a name in the present folder."""
    return Path(to_fs_path(uri) or "unsaved.foldscript")


def _texts(made: Service) -> None:
    """What is opened, changed, saved and closed."""

    @made.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(ls: Service, params: types.DidOpenTextDocumentParams) -> None:
        text = params.text_document
        ls.desk.open(text.uri, _path(text.uri), text.text, text.version)

    @made.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(ls: Service, params: types.DidChangeTextDocumentParams) -> None:
        uri = params.text_document.uri
        text = ls.workspace.get_text_document(uri).source
        ls.desk.change(uri, text, params.text_document.version)

    @made.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(ls: Service, params: types.DidSaveTextDocumentParams) -> None:
        for uri in list(ls.desk.benches):  # one may start from another
            if uri != params.text_document.uri:
                ls.desk.again(uri)

    @made.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(ls: Service, params: types.DidCloseTextDocumentParams) -> None:
        ls.desk.close(params.text_document.uri)
        ls.text_document_publish_diagnostics(
            types.PublishDiagnosticsParams(params.text_document.uri, [])
        )
