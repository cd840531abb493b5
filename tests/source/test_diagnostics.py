"""Changes that hints hold, and hints of a refusal."""

from __future__ import annotations

from foldscript.source.diagnostics import (
    Diagnostic,
    Edit,
    Hint,
    Refusal,
    Source,
    Span,
    add,
    in_words,
    write,
)

TEXT = "valley A to B"


def test_words_in_the_place_of_others() -> None:
    hint = write(Span(12, 13), "C")
    assert (hint.text, hint.edit) == ("say 'C'", Edit(Span(12, 13), "C"))
    assert hint.edit is not None
    assert hint.edit.applied(TEXT) == "valley A to C"


def test_words_at_the_end() -> None:
    hint = add(Span(0, len(TEXT)), "near B", "choose")
    assert hint.text == "choose"
    assert hint.edit is not None
    assert hint.edit.applied(TEXT) == "valley A to B near B"


def test_the_same_is_hinted_once() -> None:
    """What comes first stays, with its change."""
    told = write(Span(0, 6), "mountain", "fold it behind")
    assert Refusal("code", "message", told, "fold it behind", "or not").hints == (
        told,
        Hint("or not"),
    )


def test_hints_in_words_alone() -> None:
    assert in_words([write(Span(0, 6), "mountain")]) == (Hint("say 'mountain'"),)


def test_a_refusal_with_other_hints_is_the_same_refusal() -> None:
    refused = Refusal("code", "message", "fold it behind", span=Span(2, 5))
    other = refused.with_hints("or not")
    assert (other.code, other.message, other.span) == ("code", "message", Span(2, 5))
    assert other.hints == (Hint("or not"),)
    assert refused.hints == (Hint("fold it behind"),)


def test_the_same_fault_of_two_files_is_two() -> None:
    """Where what is told twice is told once, nothing of the second file is lost."""
    one, other = (Diagnostic("stale", "it is stale", source=Source(n, "x")) for n in ("es", "de"))
    assert len({one, other}) == 2
