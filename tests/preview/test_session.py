"""Files that are saved, come and go, and what is seen of them."""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from foldscript.preview import session as preview
from foldscript.preview.session import PreviewOptions, Session
from foldscript.preview.workbench import Tell, Workbench
from foldscript.source.diagnostics import FoldscriptError

from .places import CARD, session, settle, shown, until_said


def put(path: Path, text: str = CARD) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")
    return path


def test_one_script(tmp_path: Path) -> None:
    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        assert list(shown(made)) == ["card.foldscript"]
        put(path, CARD.replace('"Card"', '"Postcard"'))
        until_said(made, "1 page")
        assert shown(made)["card.foldscript"]["title"] == "Postcard"


def test_editors_that_save_by_renaming(tmp_path: Path) -> None:
    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        for title in ("Second", "Third"):
            other = put(tmp_path / ".card.swap", CARD.replace("Card", title))
            os.replace(other, path)
            until_said(made, "1 page")
            assert shown(made)["card.foldscript"]["title"] == title


def test_editors_that_take_the_file_away_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(preview, "_GRACE", 2.0)
    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        path.rename(tmp_path / "card.foldscript~")
        made.once(lambda line: None, 0.5)
        assert made.pending
        assert not shown(made)["card.foldscript"]["troubles"], "it may come back at once"
        put(path, CARD.replace("Card", "Second"))
        until_said(made, "1 page")
        assert shown(made)["card.foldscript"]["title"] == "Second"


def test_a_script_that_stays_away(tmp_path: Path) -> None:
    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        path.unlink()
        until_said(made, "there is no file")
        told = shown(made)["card.foldscript"]
        assert (told["old"], len(told["pages"])) == (True, 1)


def test_a_mistake_is_said_in_the_terminal_too(tmp_path: Path) -> None:
    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        put(path, CARD.replace("turn over", "turn ovr"))
        assert "card.foldscript:8:3: error: 'turn ovr' is no move" in until_said(made, "error")


def test_a_folder_and_what_comes_into_it(tmp_path: Path) -> None:
    put(tmp_path / "one.foldscript")
    put(tmp_path / "term" / "two.foldscript")
    put(tmp_path / ".hidden" / "three.foldscript")
    with session(tmp_path) as made:
        assert sorted(shown(made)) == ["one.foldscript", "two.foldscript"]
        put(tmp_path / "term" / "four.foldscript")
        until_said(made, "four.foldscript: 1 page")
        (tmp_path / "one.foldscript").unlink()
        until_said(made, "one.foldscript: gone")
        assert sorted(shown(made)) == ["four.foldscript", "two.foldscript"]


def test_only_what_depends_on_a_file_is_made_again(tmp_path: Path) -> None:
    put(tmp_path / "base.foldscript")
    put(tmp_path / "card.foldscript", 'start from "base.foldscript"\nstep\n  turn over\n')
    put(tmp_path / "other.foldscript")
    with session(tmp_path) as made:
        put(tmp_path / "base.foldscript", CARD.replace("valley bottom", "mountain bottom"))
        lines = settle(made, 0.5)
        assert sorted(Path(line.partition(":")[0]).name for line in lines) == [
            "base.foldscript",
            "card.foldscript",
        ]


def test_a_start_in_another_folder_is_watched(tmp_path: Path) -> None:
    put(tmp_path / "bases" / "base.foldscript")
    text = 'start from "../bases/base.foldscript"\nstep\n  turn over\n'
    path = put(tmp_path / "models" / "card.foldscript", text)
    with session(path) as made:
        before = shown(made)["card.foldscript"]["pages"]
        put(tmp_path / "bases" / "base.foldscript", CARD.replace("15 cm", "30 cm"))
        until_said(made, "1 page")
        assert shown(made)["card.foldscript"]["pages"] != before


def test_a_style_and_captions_of_ones_own(tmp_path: Path) -> None:
    path = put(tmp_path / "models" / "card.foldscript")
    style = put(tmp_path / "own.toml", 'based_on = "grey"\n')
    with session(path, str(style), "es") as made:
        before = shown(made)["card.foldscript"]["pages"]
        put(style, 'based_on = "grey"\n[colours]\nsign = "#7a1f1f"\n')
        until_said(made, "1 page")
        red = shown(made)["card.foldscript"]["pages"]
        assert red != before
        put(style, "based_on = 3\n")
        until_said(made, "error")
        assert shown(made)["card.foldscript"]["pages"] == red
        put(tmp_path / "models" / "card.es.toml", '[steps]\n2 = "Dale la vuelta."\n')
        until_said(made, "1 page")
        assert shown(made)["card.foldscript"]["pages"] != red


def test_a_fault_of_our_own_does_not_end_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from foldscript.preview import workbench

    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        monkeypatch.setattr(workbench, "page_svg", lambda *given: 1 / 0)
        put(path, CARD.replace("again", "once more"))
        assert "internal error" in until_said(made, "ZeroDivisionError")
        monkeypatch.undo()
        put(path, CARD)
        until_said(made, "1 page")
        assert not shown(made)["card.foldscript"]["old"]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"path": "empty"}, "no-scripts"),
        ({"page": "A55"}, "unknown-page"),
        ({"style": "gray"}, "unknown-style"),
    ],
)
def test_what_cannot_be_seen(tmp_path: Path, change: dict[str, str], code: str) -> None:
    put(tmp_path / "card.foldscript")
    (tmp_path / "empty").mkdir()
    path = tmp_path / change.get("path", "card.foldscript")
    with pytest.raises(FoldscriptError) as caught:
        Session(
            PreviewOptions(path, change.get("page", "A4"), change.get("style", "colour"), "", "", 0)
        )
    assert caught.value.diagnostics[0].code.startswith(code.split("-")[0])


def test_a_port_that_is_taken(tmp_path: Path) -> None:
    path = put(tmp_path / "card.foldscript")
    one = Session(PreviewOptions(path, "A4", "colour", "", "127.0.0.1", 0))
    server = one.listen()
    try:
        two = Session(PreviewOptions(path, "A4", "colour", "", "127.0.0.1", server.place.port))
        with pytest.raises(FoldscriptError) as caught:
            two.listen()
        assert caught.value.diagnostics[0].code == "cannot-listen"
        two.close()
    finally:
        one.close()
        server.shutdown()
        server.server_close()


# --- slow scripts -----------------------------------------------------------------------------------


@contextmanager
def slow(monkeypatch: pytest.MonkeyPatch, *names: str) -> Iterator[threading.Event]:
    """Scripts of these names are made only once the event is set."""
    done, make = threading.Event(), Workbench.make

    def waits(self: Workbench, tell: Tell) -> None:
        if self.path.name in names:
            done.wait(20)
        make(self, tell)

    monkeypatch.setattr(Workbench, "make", waits)
    monkeypatch.setattr(preview, "_PATIENCE", 0.05)
    try:
        yield done
    finally:
        done.set()


def test_a_slow_script_does_not_keep_the_others_waiting(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    slowly = put(tmp_path / "a.foldscript")
    quick = put(tmp_path / "b.foldscript")
    with slow(monkeypatch, "a.foldscript") as done:
        made = Session(PreviewOptions(tmp_path, "A4", "colour", "", "127.0.0.1", 0))
        try:
            until_said(made, "b.foldscript: 1 page")
            assert list(shown(made)) == ["b.foldscript"]
            put(quick, CARD.replace("Card", "Second"))
            put(slowly, CARD.replace("Card", "Slowly"))
            until_said(made, "b.foldscript: 1 page")
            assert shown(made)["b.foldscript"]["title"] == "Second"
            assert made.pending
            done.set()
            until_said(made, "a.foldscript: 1 page")
            settle(made)
            assert shown(made)["a.foldscript"]["title"] == "Slowly"
        finally:
            made.close()


def test_a_slow_script_that_was_taken_away_is_not_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    slowly = put(tmp_path / "a.foldscript")
    put(tmp_path / "b.foldscript")
    with slow(monkeypatch, "a.foldscript") as done:
        made = Session(PreviewOptions(tmp_path, "A4", "colour", "", "127.0.0.1", 0))
        try:
            until_said(made, "b.foldscript: 1 page")
            slowly.unlink()
            until_said(made, "a.foldscript: gone")
            done.set()
            settle(made)
            assert list(shown(made)) == ["b.foldscript"]
        finally:
            made.close()


def test_no_more_than_a_few_slow_scripts_at_the_same_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = [f"s{k}.foldscript" for k in range(5)]
    for name in names:
        put(tmp_path / name)
    monkeypatch.setattr(preview, "_MOST_SLOW", 2)
    with slow(monkeypatch, *names) as done:
        made = Session(PreviewOptions(tmp_path, "A4", "colour", "", "127.0.0.1", 0))
        try:
            lines: list[str] = []
            for _ in range(5):
                made.once(lines.append, 0.0)
            assert sum("takes long" in line for line in lines) == 2
            done.set()
            settle(made)
            assert sorted(shown(made)) == names
        finally:
            made.close()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with names are POSIX")
def test_a_pipe_in_the_place_of_a_file_is_not_waited_for(tmp_path: Path) -> None:
    path = put(tmp_path / "card.foldscript")
    with session(path) as made:
        os.mkfifo(tmp_path / "pipe")
        os.replace(tmp_path / "pipe", path)
        until_said(made, "no ordinary file")
        path.unlink()
        put(path, CARD.replace("Card", "Second"))
        os.mkfifo(tmp_path / "card.es.toml")
        until_said(made, "1 page")
        assert shown(made)["card.foldscript"]["title"] == "Second"
