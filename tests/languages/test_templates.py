"""Finding templates in source."""

from __future__ import annotations

from pathlib import Path

from foldscript.languages.templates import templates


def found(folder: Path, text: str) -> tuple[list[tuple[str, str]], list[str]]:
    (folder / "one.py").write_text(text, "utf-8")
    rows, faults = templates(folder)
    return [(r.template, r.many) for r in rows], [f.what for f in faults]


def test_straight_and_by_name(tmp_path: Path) -> None:
    rows, faults = found(
        tmp_path,
        'T = {"x": "from a table"}\n'
        "def f(a):\n"
        '    t = "one way" if a else "another"\n'
        '    return phrase(t), Phrase("straight"), phrase(T[a]), translate(T.get(a)), other("not me")\n',
    )
    assert {t for t, _ in rows} == {"one way", "another", "straight", "from a table"}
    assert faults == []


def test_one_and_several_belong_together(tmp_path: Path) -> None:
    rows, _ = found(tmp_path, 'plural("{n} a", "{n} as", n)\nphrase("b")\n')
    assert rows == [("{n} a", "{n} as"), ("b", "")]


def test_what_is_annotated(tmp_path: Path) -> None:
    rows, _ = found(
        tmp_path,
        'A: Template = "one"\n'
        'B: dict[str, Template] = {"key": "two"}\n'
        'C: tuple[Template, ...] = ("three", "four")\n'
        "def f(x, said: Template, *, also: Template): ...\n"
        'f("no", "five", also="six")\n',
    )
    assert [t for t, _ in rows] == ["one", "two", "three", "four", "five", "six"]


def test_fields_of_classes(tmp_path: Path) -> None:
    rows, _ = found(
        tmp_path,
        "@dataclass\nclass Sign:\n    key: str\n    name: Template\n"
        "@dataclass\nclass Arrow(Sign):\n    meaning: tuple[Template, ...] = ()\n"
        'Sign(key="no", name="one")\n'
        'Arrow(key="no", name="two", meaning=("three", "four"))\n'
        'other(name="no", meaning="no")\n',
    )
    assert [t for t, _ in rows] == ["one", "two", "three", "four"]


def test_texts_put_together_later_are_faults(tmp_path: Path) -> None:
    rows, faults = found(tmp_path, 'phrase(f"the {side} corner")\n')
    assert rows == []
    assert faults == ["f'the {side} corner'"]


def test_templates_without_words_need_no_translation(tmp_path: Path) -> None:
    assert found(tmp_path, 'phrase("{place}")\nphrase("")\n')[0] == []
