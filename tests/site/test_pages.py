"""What the pages of the documentation say is so: their files, commands and answers, from top to bottom.

A block with a title is a file of that name; `sh` is run in the folder of these files, each where the one
before left off; a `text` right after it is what comes of it.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

import foldscript
from foldscript.editor.schemas import FOLDER as SCHEMAS
from tests.command import run

from .reading import DOCS, ROOT, Block, blocks, name, pages

#: Lines that set a machine up, which tests/test_readme.py and every run of the tests have done.
SET_UP = re.compile(r"^(sh \.ci/setup.*|\. \.venv/bin/activate|pip install .*)$", re.M)
#: Commands that go on until they are ended: only their options are read (tests/preview runs them).
ENDLESS = re.compile(r"^(foldscript preview .*)$", re.M)
WITH_COMMANDS = [page for page in pages() if any(b.language == "sh" for b in blocks(page))]


def test_there_are_pages_with_commands() -> None:
    found = {name(page) for page in WITH_COMMANDS}
    assert {"tutorial.md", "shell.md"} <= found
    for kind in ("booklet", "class", "translation", "ci", "archive", "tools"):
        assert f"how-to/{kind}.md" in found


@pytest.mark.parametrize("page", WITH_COMMANDS, ids=name)
def test_the_commands_of_a_page_work(page: Path, tmp_path: Path) -> None:
    if "parallel " in page.read_text("utf-8") and shutil.which("parallel") is None:
        pytest.skip("GNU parallel is not installed here: sh .ci/setup test")
    place, come = tmp_path, ""
    for block in blocks(page):
        if block.title:
            file = tmp_path / block.title
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(block.text, "utf-8")
        if block.language == "sh":
            come, place = done(block, place)
        elif block.language == "text" and block.follows and not block.title:
            assert come == block.text


def done(block: Block, place: Path) -> tuple[str, Path]:
    """What comes of the commands of a block, and in which folder they end.

    They all succeed; where the last says what is wrong, it ends with 1.
    """
    commands = ENDLESS.sub(r"\1 --help >/dev/null", SET_UP.sub("", block.text))
    here = Path(sys.executable).parent
    env = {**os.environ, "PATH": f"{here}{os.pathsep}{os.environ['PATH']}"}
    env |= {"GIT_CONFIG_NOSYSTEM": "1", "HOME": str(place)}
    end = place / "ended-in"
    script = f"trap 'pwd > \"{end}\"' EXIT\n{commands}"
    ran = subprocess.run(
        ["bash", "-e", "-c", script],
        cwd=place,
        env=env,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        timeout=300,
        check=False,
    )
    assert ran.returncode == (1 if ": error: " in ran.stdout else 0), f"{commands}\n{ran.stdout}"
    place = Path(end.read_text("utf-8").strip())
    end.unlink()
    return ran.stdout, place


SCRIPTS = [
    pytest.param(block.text, id=f"{name(page)}:{number}")
    for page in pages()
    for number, block in enumerate(blocks(page))
    if block.language == "foldscript"
]


@pytest.mark.parametrize("text", SCRIPTS)
def test_the_scripts_of_the_pages_fold_without_a_warning(text: str) -> None:
    model = foldscript.fold(foldscript.parse(text))
    assert model.warnings == ()


TABLES = [
    pytest.param(block.text, id=f"{name(page)}:{number}")
    for page in pages()
    for number, block in enumerate(blocks(page))
    if block.language == "toml" and block.text.startswith("#:schema ") and block.title
]


@pytest.mark.parametrize("text", TABLES)
def test_the_files_of_the_pages_pass_their_schemas(text: str) -> None:
    named = text.splitlines()[0].removeprefix("#:schema ").rpartition("/")[2]
    schema = json.loads((SCHEMAS / named).read_text("utf-8"))
    assert [e.message for e in Draft202012Validator(schema).iter_errors(tomllib.loads(text))] == []


def test_the_matrix_builds_every_share_and_the_index_finds_all(tmp_path: Path) -> None:
    """The `run` lines of the workflow, as its jobs would run them: each share apart, then put together."""
    page = DOCS / "how-to" / "archive.md"
    for block in blocks(page):
        if block.language == "foldscript":
            file = tmp_path / block.title
            file.parent.mkdir(exist_ok=True)
            file.write_text(block.text, "utf-8")
    (workflow,) = (block.text for block in blocks(page) if block.language == "yaml")
    build, index = re.findall(r"- run: foldscript (.*)", workflow)
    shards = re.search(r"shard: \[(.*)\]", workflow)
    assert shards
    numbers = shards[1].split(", ")
    assert build.endswith(f"/{len(numbers)}")
    for number in numbers:
        command = build.replace("${{ matrix.shard }}", number).replace("pages", f"pages-{number}")
        assert run(*command.split(), cwd=tmp_path).code == 0
        if (tmp_path / f"pages-{number}").exists():
            shutil.copytree(tmp_path / f"pages-{number}", tmp_path / "pages", dirs_exist_ok=True)
    told = run(*index.split(), cwd=tmp_path)
    assert (told.code, told.out) == (0, "pages/index.html: 2 of 2 models\n")
    assert "include-hidden-files: true" in workflow  # the build cache says what was made from what


def test_every_link_of_a_page_leads_to_a_file() -> None:
    """Of the repository, or one that the site makes: tests/site/test_site.py follows those."""
    made = set(
        re.findall(r'^    "(\w+\.md)": ', (DOCS / "making/events.py").read_text("utf-8"), re.M)
    )
    assert "moves.md" in made
    for page in pages():
        for target in re.findall(r"\]\(([^)#:\s]+)(?:#[^)]*)?\)", page.read_text("utf-8")):
            there = (page.parent / target).resolve()
            assert there.exists() or (there.parent == DOCS and there.name in made), (
                f"{page.relative_to(ROOT)} links to {target}"
            )
