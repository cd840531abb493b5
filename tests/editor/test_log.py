"""What the service writes to standard error, which editors keep as its log."""

from __future__ import annotations

import json
import subprocess
from typing import Any

from ..command import COMMAND

URI = "file:///no/such/folder/card.foldscript"
AT = {"textDocument": {"uri": URI}, "position": {"line": 0, "character": 2}}


def message(method: str, params: Any = None, number: int | None = None) -> bytes:
    said = {"jsonrpc": "2.0", "method": method, "params": params}
    body = json.dumps(said if number is None else said | {"id": number}).encode()
    return b"Content-Length: %d\r\n\r\n%s" % (len(body), body)


def test_a_refusal_is_told_and_leaves_no_traceback() -> None:
    text = {"uri": URI, "languageId": "foldscript", "version": 1, "text": "step\n  turn over\n"}
    asked = (
        message("initialize", {"capabilities": {}, "processId": None, "rootUri": None}, 1)
        + message("initialized", {})
        + message("textDocument/didOpen", {"textDocument": text})
        + message("textDocument/prepareRename", AT, 2)
        + message("shutdown", None, 3)
        + message("exit")
    )
    done = subprocess.run([COMMAND, "editor-service"], input=asked, capture_output=True, timeout=60)
    assert b"here stands no name" in done.stdout
    assert done.stderr == b""
