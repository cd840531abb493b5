"""Reads a booklet file.

    title = "Paper on the Quay"
    models = ["cup.foldscript", "helmet.foldscript", "winter"]     # scripts, folders, booklet files
    order = "level"
    page = "A5"

    [cover]
    figures = ["helmet", "cup"]

In: the path of a TOML file; paths in it are seen from its own folder. Out: a `BookletPlan`, or
FoldscriptError with everything that is wrong, each at its line. The models' scripts are looked for,
not yet read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from difflib import get_close_matches
from pathlib import Path

from ...drawing.style.styles import Style, load_style
from ...pages.sizes import PageSize, page_size
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint, Span
from ...source.finding import SUFFIX, scripts_below
from ...source.reading import read_file
from ...source.toml_spans import KeyPath
from ...source.toml_table import MOST_FAULTS, Table, told
from .links import link
from .plan import FORMATS, BookletPlan, Listed, Location, Texts

BOOKLET_SUFFIX = ".toml"
#: What a booklet file may say.
KEYS = (
    "title",
    "subtitle",
    "publisher",
    "introduction",
    "credits",
    "licence",
    "language",
    "models",
    "order",
    "page",
    "style",
    "format",
    "imposed",
    "creep",
    "key",
    "link",
    "cover",
)
#: Most that the pages of a sheet may be moved more than those of the sheet around it, in millimetres.
MOST_CREEP = 1.0
#: Models in one booklet, and booklet files that hold one another.
MOST_MODELS = 500
LONGEST_CHAIN = 10
LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*")  # shape of a tag, BCP 47
ORDERS = ("given", "level")
MOST_ON_COVER = 6
_SHOWN_ON_COVER = 3


def read_booklet(
    path: Path, page: PageSize | None = None, style: Style | None = None
) -> BookletPlan:
    """The plan in a booklet file; `page` and `style`, where given, stand in for the file's own.

    Raises FoldscriptError: 'cannot-read', 'not-toml', 'unknown-key', 'bad-value', 'missing-model',
    'same-name', 'circle', 'not-a-booklet' for a script, and what page sizes and styles may raise.
    """
    if path.suffix == SUFFIX:
        raise FoldscriptError(
            Diagnostic(
                "not-a-booklet",
                f"'{path}' is a script, not a booklet file",
                hints=(
                    Hint(f"to draw it alone: foldscript build {path}"),
                    Hint(f'a booklet is a TOML file that lists models: models = ["{path.name}"]'),
                ),
            )
        )
    table = Table(read_file(path, str(path), "booklet file"))
    tags = tuple(key for key in table.table() if key not in KEYS and _is_translation(table, key))
    table.only(known=(*KEYS, *tags))
    table.only("cover", known=("figures",))
    models = _unlike(tuple(_listed(table, path)), table)
    languages = _languages(table)
    plan = BookletPlan(
        name=path.stem,
        source=table.source,
        title=_title(table),
        subtitle=table.text("subtitle"),
        publisher=table.text("publisher"),
        introduction=table.text("introduction"),
        credits=table.text("credits"),
        licence=table.text("licence"),
        language=languages[0],
        languages=languages,
        translated=tuple((tag, _texts(table, tag)) for tag in tags),
        page=page or _page(table),
        page_location=_location(table, "page"),
        title_location=_location(table, "title"),
        style=style or _style(table, path.parent),
        by_level=table.choice("order", among=ORDERS, default="given") == "level",
        formats=_formats(table),
        imposed=table.flag("imposed"),
        creep=table.number("creep", default=0.0, most=MOST_CREEP),
        creep_location=_location(table, "creep"),
        key=table.flag("key", default=True),
        link=link(table),
        models=models,
        cover=(),
    )
    plan = replace(plan, cover=_cover(table, models))
    table.settle()
    return plan


def _location(table: Table, *path: str | int) -> Location:
    return Location(table.source, table.span(*path))


def _title(table: Table) -> str:
    title = table.text("title")
    if not title and isinstance(table.values.get("title", ""), str):
        hint = Hint('say it in the first line: title = "Paper Afternoon"')
        table.faults.append(
            Diagnostic(
                "no-title", "the booklet has no title", Span(0, 1), (hint,), source=table.source
            )
        )
    return title


def _languages(table: Table) -> tuple[str, ...]:
    """One language or a list of them."""
    found: list[str] = []
    for key in _one_or_more(table, "language"):
        language = table.text(*key, default="en" if len(key) == 1 else "")
        if not LANGUAGE.fullmatch(language):
            hint = "use a tag such as 'en', 'fr' or 'pt-BR'"
            table.fault(key, "bad-value", f"'{language}' is no language", hint)
        found.append(language)
    return tuple(dict.fromkeys(found))


def _formats(table: Table) -> tuple[str, ...]:
    """One format or a list of them."""
    keys = _one_or_more(table, "format")
    found = [table.choice(*key, among=FORMATS, default="") for key in keys]
    return tuple(dict.fromkeys(name for name in found if name)) or FORMATS[:1]


def _one_or_more(table: Table, name: str) -> list[KeyPath]:
    """The places of what a key says: its own, or those of the items of its list."""
    several = isinstance(table.values.get(name), list)
    keys: list[KeyPath] = [(name, k) for k in table.items(name)] if several else []
    return keys or [(name,)]


def _is_translation(table: Table, key: str) -> bool:
    """Whether a key is a table of texts in another language: [es]."""
    return bool(LANGUAGE.fullmatch(key)) and isinstance(table.values[key], dict)


def _texts(table: Table, tag: str) -> Texts:
    known = tuple(field.name for field in fields(Texts))
    table.only(tag, known=known)
    return Texts(**{name: table.text(tag, name) for name in known})


def _page(table: Table) -> PageSize:
    said = table.text("page", default="A5")
    try:
        return page_size(said)
    except FoldscriptError as error:
        _moved(table, error, ("page",))
        return page_size("A5")


def _style(table: Table, folder: Path) -> Style:
    said = table.text("style", default="colour")
    try:
        return load_style(folder / said if said.endswith(".toml") else said)
    except FoldscriptError as error:
        _moved(table, error, ("style",))
        return load_style()


def _moved(table: Table, error: FoldscriptError, path: KeyPath) -> None:
    """Faults of something that the file names, pointing at its name; those with a place of their own
    stay."""
    for fault in error.diagnostics:
        if fault.source is None:
            fault = replace(fault, span=table.span(*path), source=table.source)
        table.faults.append(fault)


@dataclass(frozen=True)
class _Opened:
    """Booklet files: those that are being read, each named by the one before it, and all seen so far."""

    chain: tuple[Path, ...]
    seen: set[Path]


def _listed(table: Table, path: Path) -> Iterator[Listed]:
    """The scripts of a booklet, no more than one may have."""
    here = path.resolve()
    for number, model in enumerate(_models(table, path, _Opened((here,), {here}))):
        if number == MOST_MODELS:
            what = f"more than {MOST_MODELS} models in one booklet"
            table.faults.append(model.location.diagnostic("too-many-models", what))
            return
        yield model


def _models(table: Table, path: Path, opened: _Opened) -> Iterator[Listed]:
    """The scripts that `models` stands for."""
    if not table.has("models"):
        hint = (
            f'list them: models = ["cup{SUFFIX}", "hat{SUFFIX}"], or name a folder: models = ["."]'
        )
        table.faults.append(
            Diagnostic(
                "no-models",
                "the booklet names no models",
                Span(0, 1),
                (Hint(hint),),
                source=table.source,
            )
        )
        return
    positions = table.items("models")
    if not positions and not table.faults:
        table.fault(("models",), "no-models", "the booklet names no models")
    for position in positions:
        if len(table.faults) >= MOST_FAULTS or any(
            f.code == "folder-too-large" for f in table.faults
        ):
            return  # the rest would take long, and help no one
        key: KeyPath = ("models", position)
        said = table.text(*key)
        if said:
            yield from _entry(table, key, path, said, opened)
        elif isinstance(table.value(*key), str):
            table.fault(key, "missing-model", "this names no file")


def _entry(table: Table, key: KeyPath, path: Path, said: str, opened: _Opened) -> Iterator[Listed]:
    """A script, or all those of a folder or of another booklet."""
    target = path.parent / said
    location = Location(table.source, table.span(*key))
    try:
        exists, folder = target.exists(), target.is_dir()
    except (OSError, ValueError):
        exists = folder = False
    if not exists:
        table.fault(key, "missing-model", f"there is no file '{told(str(target))}'", *_near(target))
    elif folder and target.resolve() in opened.seen:
        table.fault(key, "same-name", f"'{target}' is listed twice", "list it once")
    elif folder:
        opened.seen.add(target.resolve())
        faults: list[Diagnostic] = []
        yield from (Listed(script, location) for script in scripts_below(target, faults))
        for fault in faults:
            table.faults.append(replace(fault, span=location.span, source=location.source))
    elif said.endswith(BOOKLET_SUFFIX):
        yield from _included(table, key, target, opened)
    elif not said.endswith(SUFFIX):
        hint = f"scripts end in {SUFFIX}, other booklets in {BOOKLET_SUFFIX}"
        table.fault(key, "not-a-model", f"'{said}' is neither a script nor a booklet", hint)
    else:
        yield Listed(target, location)


def _included(table: Table, key: KeyPath, target: Path, opened: _Opened) -> Iterator[Listed]:
    """The models of another booklet, in its order."""
    place, chain = target.resolve(), opened.chain
    if place in chain:
        way = " → ".join(p.name for p in (*chain[chain.index(place) :], target))
        table.fault(key, "circle", f"these booklets hold each other: {way}")
        return
    if place in opened.seen:
        table.fault(key, "same-name", f"'{target}' is listed twice", "list it once")
        return
    if len(chain) > LONGEST_CHAIN:
        what = f"more than {LONGEST_CHAIN} booklets hold one another"
        table.fault(key, "too-deep", what, "list the scripts themselves")
        return
    opened.seen.add(place)
    try:
        inner = Table(read_file(target, str(target), "booklet file"))
        found = tuple(_models(inner, target, _Opened((*chain, place), opened.seen)))
        inner.settle()
    except FoldscriptError as error:
        _moved(table, error, key)
        return
    yield from found


def _near(target: Path) -> list[str]:
    """A file beside the one that is missing, with nearly its name."""
    try:
        names = [
            p.name for p in target.parent.iterdir() if p.name.endswith((SUFFIX, BOOKLET_SUFFIX))
        ]
    except OSError:
        return []
    near = get_close_matches(target.name, names, 1, 0.5)
    return [f"did you mean '{near[0]}'?"] if near else []


def _unlike(models: tuple[Listed, ...], table: Table) -> tuple[Listed, ...]:
    """The models, each name once; a second one of a name is noted."""
    seen: dict[str, Listed] = {}
    for model in models:
        first = seen.setdefault(model.name.casefold(), model)
        if first is model:
            continue
        same = first.script.resolve() == model.script.resolve()
        what = (
            f"'{model.script}' is listed twice"
            if same
            else f"two models are called '{model.name}': '{first.script}' and '{model.script}'"
        )
        here = first.location.source == model.location.source
        said = Hint(
            "list it once" if same else "rename one of the files",
            first.location.span if here else None,
        )
        table.faults.append(model.location.diagnostic("same-name", what, said))
    return tuple(seen.values())


def _cover(table: Table, models: tuple[Listed, ...]) -> tuple[str, ...]:
    """Names of the models on the cover; the first few where the file does not say."""
    names = [model.name for model in models]
    if not table.has("cover", "figures"):
        return tuple(names[:_SHOWN_ON_COVER])
    positions = table.items("cover", "figures")
    chosen: list[str] = []
    for position in positions:
        said = table.text("cover", "figures", position)
        name = said.removesuffix(SUFFIX)
        if name in names:
            chosen.append(name)
        elif said:
            near = get_close_matches(name, names, 1)
            hint = f"did you mean '{near[0]}'?" if near else "models: " + ", ".join(names)
            table.fault(
                ("cover", "figures", position),
                "missing-model",
                f"no model called '{said}' is in this booklet",
                hint,
            )
    if len(positions) > MOST_ON_COVER:
        what = f"a cover has room for {MOST_ON_COVER} figures, not for {len(positions)}"
        table.fault(("cover", "figures"), "bad-value", what)
    return tuple(dict.fromkeys(chosen))
