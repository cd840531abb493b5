"""The wheel holds everything a build needs: grammar, styles, glyphs."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from importlib.metadata import version
from pathlib import Path

import pytest

from .command import script

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from a copy of the sources, so that nothing is left in the checkout."""
    if int(version("setuptools").split(".")[0]) < 77:
        pytest.skip("building needs setuptools 77 or newer: sh .ci/setup test")
    copy = tmp_path_factory.mktemp("wheel") / "source"
    copy.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE", "CHANGELOG.md"):
        shutil.copy(ROOT / name, copy)
    for name in ("foldscript", "grammar", "samples"):
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
    pip = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation"]
    subprocess.run([*pip, "-w", str(copy.parent), str(copy)], check=True, stdin=subprocess.DEVNULL)
    (made,) = copy.parent.glob("*.whl")
    return made


def test_every_file_of_the_package_is_in_the_wheel(wheel: Path) -> None:
    packed = set(zipfile.ZipFile(wheel).namelist())
    wanted = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "foldscript").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    wanted |= {
        f"foldscript/grammar/{path.name}" for path in (ROOT / "grammar").iterdir() if path.is_file()
    }
    wanted |= {f"foldscript/bases/{path.name}" for path in (ROOT / "samples/bases").iterdir()}
    assert wanted <= packed
    assert any(name.endswith("/LICENSE") for name in packed)
    assert any(name.endswith("/share/doc/foldscript/CHANGELOG.md") for name in packed)


def test_the_wheel_alone_builds_a_model(wheel: Path, tmp_path: Path) -> None:
    """Unpacked far from the checkout, the package finds its own data."""
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    path = script(tmp_path)
    code = (
        f"import foldscript; assert foldscript.__file__.startswith({str(site)!r});"
        "import foldscript.grammar as g;"
        f"assert g.__file__.startswith({str(site)!r}), g.__file__;"
        "from foldscript.cli import main; main()"
    )
    subprocess.run(
        [sys.executable, "-c", code, "build", str(path), "--out", str(tmp_path / "out")],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(site)},
        stdin=subprocess.DEVNULL,
        check=True,
        capture_output=True,
    )
    assert (tmp_path / "out" / "card" / "card.pdf").exists()


def test_the_wheel_alone_knows_the_bases(wheel: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    code = "from foldscript.folding.start import base_names; print(*base_names())"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(site)},
        stdin=subprocess.DEVNULL,
        check=True,
        capture_output=True,
        text=True,
    )
    assert {"preliminary", "waterbomb", "kite", "blintz"} <= set(done.stdout.split())
