"""A repository for the tests that need one."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from .made import CARD
from .repository import in_git, put


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with two commits, 'v1' and 'v2', and a change that is not committed."""
    for name in [n for n in os.environ if n.startswith("GIT_")]:
        monkeypatch.delenv(name)
    in_git(tmp_path, "init", "-q")
    put(tmp_path, "shelf/card.foldscript", "shelf/räder.foldscript", "hat.foldscript")
    (tmp_path / "shelf/club.toml").write_text('title = "Club"\nmodels = ["card.foldscript"]\n')
    (tmp_path / "shelf/photo.png").write_bytes(b"\x89PNG")
    (tmp_path / "shelf/link.foldscript").symlink_to("/etc/passwd")
    in_git(tmp_path, "add", ".")
    in_git(tmp_path, "commit", "-qm", "one")
    in_git(tmp_path, "tag", "v1")
    (tmp_path / "shelf/link.foldscript").unlink()
    put(tmp_path, "shelf/card.foldscript", text=CARD.replace("Two.", "2."))
    in_git(tmp_path, "commit", "-qam", "two")
    in_git(tmp_path, "tag", "v2")
    put(tmp_path, "shelf/card.foldscript", text=CARD.replace("Two.", "Zwei."))
    return tmp_path
