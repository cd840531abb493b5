"""Shelves of scripts on the disk and in git."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

from .made import CARD

needs_git = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")


def put(folder: Path, *names: str, text: str = CARD) -> None:
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text.replace('"Card"', f'"{Path(name).stem}"'), "utf-8")


def in_git(folder: Path, *command: str) -> None:
    env = {k: v for k, v in os.environ.items() if not k.startswith("GIT_")}
    who = ["-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "commit.gpgsign=false"]
    subprocess.run(["git", *who, *command], cwd=folder, env=env, check=True, capture_output=True)
