"""The house keeps its shape: imports run one way, and the guide's tables tell of the real folders.

The table in docs/rooms.md is the one place that says which room may import which, the one in DEVELOPERS.md
gives their order; these tests read them there and hold the source to them.
"""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "foldscript"
MOST_LINES = 400
#: Files that may be longer, for each is one thing.
LONGER: dict[str, int] = {}


def rows(page: str, header: str) -> list[list[str]]:
    """Cells of the table of a page that has this header."""
    text = (ROOT / page).read_text(encoding="utf-8")
    table = re.search(re.escape(header) + r"\n\|[-| ]+\|\n((?:\|.*\|(?:\n|$))+)", text)
    assert table, f"{page} has no table with the header {header}"
    return [[c.strip() for c in line.strip("|").split("|")] for line in table[1].splitlines()]


def named(cell: str) -> list[str]:
    """The rooms that a cell names."""
    return re.findall(r"`([\w/]+?)/?`", cell)


@cache
def allowed() -> dict[str, frozenset[str]]:
    """Room -> rooms it may import, as the table in docs/rooms.md says."""
    table = rows("docs/rooms.md", "| room | may import |")
    return {named(first)[0]: frozenset(named(last)) for first, last in table}


@cache
def order() -> list[str]:
    """Rooms in the order of the guide, from those that know nothing of others on."""
    table = rows("DEVELOPERS.md", "| room | what comes in and what goes out |")
    return [named(first)[0] for first, _ in table]


@cache
def modules() -> dict[str, Path]:
    """Dotted name -> file of every module of the package, the grammar's too."""
    found = {}
    for base, prefix in ((PACKAGE, "foldscript"), (ROOT / "grammar", "foldscript.grammar")):
        for path in sorted(base.rglob("*.py")):
            parts = path.relative_to(base).with_suffix("").parts
            name = ".".join((prefix, *parts)).removesuffix(".__init__")
            found[name] = path
    return found


def part_of(module: str) -> str:
    """'foldscript.drawing.signs.arrows' belongs to 'drawing/signs', the innermost folder; a module
    beside the folders, 'foldscript.cli', is a part of its own; the package itself belongs to ''."""
    name = module
    while not (name in modules() and modules()[name].name == "__init__.py"):
        name = name.rpartition(".")[0]
    if name == "foldscript":
        return module.split(".")[1] if "." in module else ""
    return name.removeprefix("foldscript.").replace(".", "/")


def imports_of(module: str, path: Path) -> set[str]:
    """Modules of the package that a module imports, late imports and type-only ones included."""
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    known = modules()
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                up = package.split(".")[: len(package.split(".")) - node.level + 1]
                base = ".".join([*up, base] if base else up)
            for alias in node.names:
                inner = f"{base}.{alias.name}"
                found.add(inner if inner in known else base)
    return {name for name in found if name == "foldscript" or name.startswith("foldscript.")}


@pytest.mark.parametrize("module", sorted(modules()))
def test_imports_run_one_way(module: str) -> None:
    part = part_of(module)
    if part in ("", "__main__"):
        return
    assert part in allowed(), f"'{part}' has no row in the table of docs/rooms.md"
    for other in imports_of(module, modules()[module]):
        target = part_of(other)
        fine = target in ("", part) or target in allowed()[part]
        assert fine, f"{module} imports {other}; '{part}' may not import '{target}'"


def test_no_arrow_goes_back_up() -> None:
    place = {room: k for k, room in enumerate(order())}
    assert sorted(place) == sorted(allowed())
    back = [
        (one, other)
        for one, some in allowed().items()
        for other in some
        if place[other] >= place[one]
    ]
    assert not back, "a room imports only rooms above it in the table of DEVELOPERS.md"


def test_the_table_names_no_more_than_is_imported() -> None:
    found: dict[str, set[str]] = {room: set() for room in allowed()}
    for name, path in modules().items():
        if part_of(name) in found:
            found[part_of(name)] |= {part_of(other) for other in imports_of(name, path)}
    for room, some in allowed().items():
        assert not some - found[room], f"'{room}' imports nothing of {sorted(some - found[room])}"


def test_no_module_imports_itself_by_a_detour() -> None:
    graph = {name: imports_of(name, path) - {"foldscript"} for name, path in modules().items()}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail(f"imports go in a circle: {' -> '.join(error.args[1])}")


def test_the_table_tells_of_every_folder_and_of_no_other() -> None:
    parts = {part_of(name) for name in modules()} - {"", "__main__"}
    assert set(allowed()) == parts


def test_a_wrong_direction_is_noticed(tmp_path: Path) -> None:
    """The reader of imports sees plain, relative, late and type-only imports."""
    path = tmp_path / "wrong.py"
    path.write_text(
        "from typing import TYPE_CHECKING\n"
        "import foldscript.moves\n"
        "from ..syntax import nodes\n"
        "if TYPE_CHECKING:\n    from ..drawing.scene.scene import Scene\n"
        "def late():\n    from .. import cli\n",
        encoding="utf-8",
    )
    seen = {part_of(name) for name in imports_of("foldscript.paper.wrong", path)}
    assert seen == {"moves", "syntax", "drawing/scene", "cli"}


@pytest.mark.parametrize(
    "path", sorted([*PACKAGE.rglob("*.py"), *(ROOT / "tests").rglob("*.py")]), ids=lambda p: p.name
)
def test_files_stay_readable(path: Path) -> None:
    """Past 400 lines a file does more than one thing: split it by what it does."""
    count = len(path.read_text(encoding="utf-8").splitlines())
    name = path.relative_to(ROOT).as_posix()
    assert count <= LONGER.get(name, MOST_LINES), f"{name} has {count} lines"


def test_no_file_keeps_short_by_not_being_formatted() -> None:
    for path in [*PACKAGE.rglob("*.py"), *(ROOT / "tests").rglob("*.py")]:
        assert "# fmt: " + "skip" not in path.read_text(encoding="utf-8"), path


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda p: p.name)
def test_every_module_says_what_it_is(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))


def test_names_say_what_a_file_does() -> None:
    for name in modules():
        assert not {"utils", "util", "common", "helpers", "manager", "misc"} & set(name.split("."))


def test_the_wheel_holds_every_package() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    folders = {path.parent for path in modules().values() if path.name == "__init__.py"}
    names = {
        ".".join(("foldscript", *folder.relative_to(PACKAGE).parts))
        if folder.is_relative_to(PACKAGE)
        else "foldscript.grammar"
        for folder in folders
    }
    data = {"foldscript.bases"}  # scripts only: samples/bases
    assert set(settings["tool"]["setuptools"]["packages"]) == names | data


def test_the_command_starts_light() -> None:
    """`--version` and `--help` answer at once: nothing heavy is imported for them."""
    code = (
        "import sys, foldscript.cli\n"
        "heavy = {'shapely', 'numpy', 'lark', 'svgwrite', 'cairosvg', 'cairocffi', 'fontTools'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
        "print(sorted(name for name in sys.modules if name.startswith('foldscript.')))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    heavy, own = run.stdout.splitlines()
    assert heavy == "[]"
    light = [
        "cli",
        "source",
        "source.diagnostics",
        "source.reading",
        "source.showing",
        "terminal",
        "terminal.completing",
        "terminal.dividing",
        "terminal.jobs",
        "terminal.options",
        "terminal.running",
        "terminal.sharding",
        "terminal.telling",
    ]
    assert own == str([f"foldscript.{name}" for name in light])
