"""Holes in sentences: whether a translation has those of its template, and says its cases properly.

In: a template and what a catalogue says for it. Out: what is wrong with it, in words; '' for nothing.

A translation may give other cases of a noun phrase behind bars, `die obere Ecke|dat:der oberen Ecke`,
and a hole in another sentence asks for one: `an {where:dat}`. A case that is not given is the first.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from string import Formatter

_NAME = re.compile(r"[a-z_]+")
_CASE = re.compile(r"([a-z]+):")


def cases(translation: str) -> dict[str, str]:
    """The cases of a translation; '' is how it stands alone."""
    if "|" not in translation:
        return {"": translation}
    first, *more = translation.split("|")
    found = {"": first}
    for other in more:
        name, mark, text = other.partition(":")
        found[name if mark else ""] = text if mark else other
    return found


def holes(template: str) -> set[str]:
    """Names of the holes. Raises ValueError where braces do not pair, or hold more than a name."""
    found: set[str] = set()
    if "{" not in template and "}" not in template:
        return found
    for _, name, case, conversion in Formatter().parse(template):
        if name is None:
            continue
        if not _NAME.fullmatch(name) or conversion:
            raise ValueError(
                f"'{{{name}}}' is no hole: a hole is a name in braces, such as {{what}}"
            )
        if case and not case.isalpha():
            raise ValueError(f"'{case}' is no case")
        found.add(name)
    return found


def wrong(templates: Sequence[str], translation: str, number: int = 0) -> str:
    """What is wrong with a translation.

    Parameters
    ----------
    templates : the template, and the one for several where there is one
    number : which of the plural forms the translation is; the first may leave {n} out
    """
    try:
        wanted = {name for template in templates for name in holes(template)}
    except ValueError:  # a template that is no format: it must come out as it is
        return "" if not number else "this text has no plural"
    for k, part in enumerate(translation.split("|")):
        if k and not _CASE.match(part):
            return f"after a bar stands a case and a colon, such as 'dat:', not '{part[:12]}'"
        text = part.partition(":")[2] if k else part
        problem = _wrong_holes(text, wanted, optional={"n"} if len(templates) > 1 else set())
        if problem:
            return problem
        if _blanks(text) != _blanks(templates[0]):
            return "it has to begin and end with the same blanks as the English"
    return ""


def _wrong_holes(text: str, wanted: set[str], optional: set[str]) -> str:
    try:
        found = holes(text)
    except ValueError as error:
        said = str(error)
        return said if said.startswith("'") else "a brace '{' or '}' stands alone"
    if missing := sorted(wanted - found - optional):
        return "it lacks " + ", ".join(f"{{{name}}}" for name in missing)
    if extra := sorted(found - wanted):
        return ", ".join(f"{{{name}}}" for name in extra) + " is not in the English"
    return ""


def _blanks(text: str) -> tuple[str, str]:
    return text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
