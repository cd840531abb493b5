"""Phrases: templates and parts, said in a language."""

from __future__ import annotations

from foldscript.languages.wording import (
    ENGLISH,
    Language,
    Number,
    Phrase,
    briefly,
    decimal,
    listed,
    phrase,
    plural,
    sentences,
)


class Fancy(Language):
    """A made-up language with a case, a comma in numbers, and words that melt."""

    tag = "xx"
    decimal_mark = ","

    def say(self, template: str, case: str = "") -> str:
        words = {
            ("Fold {what} to {where}.", ""): "FOLD {what} AN {where:dat}.",
            ("the corner", ""): "DIE ECKE",
            ("the corner", "dat"): "DER ECKE",
        }
        return words.get((template, case), words.get((template, ""), template))

    def joined(self, before: str, after: str) -> tuple[str, str]:
        if before.endswith("AN ") and after.startswith("DER "):
            return before[:-3], "ANNER" + after[3:]
        return before, after


def test_parts_are_said_in_the_language_too() -> None:
    words = phrase("Fold {what} to {where}.", what=Phrase("the corner"), where="C")
    assert words.render() == "Fold the corner to C."
    assert words.render(Fancy()) == "FOLD DIE ECKE AN C."


def test_a_hole_asks_for_a_case_and_words_melt() -> None:
    words = phrase("Fold {what} to {where}.", what="A", where=Phrase("the corner"))
    assert words.render(Fancy()) == "FOLD A ANNER ECKE."


def test_a_template_without_words_hands_its_case_on() -> None:
    where = phrase("{place}", place=Phrase("the corner"))
    words = phrase("Fold {what} to {where}.", what="A", where=where)
    assert words.render(Fancy()) == "FOLD A ANNER ECKE."


def test_a_plain_function_translates_as_well() -> None:
    assert Phrase("Unfold.").render(str.upper) == "UNFOLD."


def test_one_and_several() -> None:
    words = [plural("{n} step", "{n} steps", n).render() for n in (1, 2)]
    assert words == ["1 step", "2 steps"]


def test_numbers_have_the_languages_mark() -> None:
    assert phrase("{n} cm", n=Number("7.5")).render() == "7.5 cm"
    assert phrase("{n} cm", n=Number("7.5")).render(Fancy()) == "7,5 cm"
    assert decimal("7.5", Fancy()) == "7,5"
    assert decimal("7.5", ENGLISH) == "7.5"


def test_braces_of_a_person_stay() -> None:
    assert phrase("{text}", text="{what} {0}").render() == "{what} {0}"


def test_lists_and_sentences() -> None:
    things = [Phrase("a"), Phrase("b"), Phrase("c")]
    assert [listed(things[:k]).render() for k in (1, 2, 3)] == ["a", "a and b", "a, b and c"]
    assert sentences([Phrase("one."), Phrase(""), Phrase("two.")]) == "One. Two."


def test_a_term_has_a_long_and_a_short_form() -> None:
    words = briefly(phrase("Sink {p} (push it in).", p="A"), phrase("Sink {p}.", p="A"))
    assert words.render() == "Sink A (push it in)."
    assert words.again is not None
    assert words.again.render() == "Sink A."
