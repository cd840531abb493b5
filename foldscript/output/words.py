"""A telling as plain text and as an HTML page.

In: a `Narration`, and how to translate its phrases. Out: UTF-8 bytes: lines of at most 78 characters, or
a page of headings, paragraphs and lists that a screen reader goes through without help.
"""

from __future__ import annotations

import textwrap

from ..languages.wording import ENGLISH, Language, Translate, sentences
from ..narration.narration import Block, Chapter, Listing, Narration, Paragraph
from . import web
from .svg import plain

WIDTH = 78

_STYLE = """
body { max-width: 42rem; margin: 0 auto; padding: 1rem; font: 1.2rem/1.6 Verdana, sans-serif;
  color: #14191c; background: #ffffff; }
h1, h2 { line-height: 1.25; }
h2 { margin-top: 2.2rem; border-top: 0.12rem solid #0f5560; padding-top: 0.6rem; }
@media print {
  body { max-width: none; font-size: 14pt; }
  p, li { break-inside: avoid; }
  h2 { break-after: avoid; }
}
"""


def words_language(speech: Language) -> Language:
    """What the words come in for a model: its language, or English where that has no words for them."""
    return web.language_for(speech, "How the words are meant")


def words_text(telling: Narration, translate: Translate = ENGLISH) -> bytes:
    """The telling as plain text: headings underlined, paragraphs apart."""
    lines = [*_wrapped(telling.title), "=" * min(WIDTH, len(plain(telling.title)))]
    if telling.credit:
        lines += _wrapped(telling.credit)
    for chapter in telling.chapters:
        heading = chapter.heading.render(translate)
        lines += ["", "", heading, "-" * len(heading)]
        for block in chapter.blocks:
            lines += _lines(block, translate)
    return ("\n".join(line.rstrip() for line in lines) + "\n").encode()


def _lines(block: Block, translate: Translate) -> list[str]:
    if isinstance(block, Paragraph):
        return ["", *_wrapped(_label(block, translate) + sentences(block.sentences, translate))]
    out: list[str] = [""]
    for row in block.rows:
        out += _wrapped("- " + sentences(row, translate), indent="  ")
    return out


def _label(block: Paragraph, translate: Translate) -> str:
    return f"{block.label.render(translate)} " if block.label is not None else ""


def _wrapped(words: str, indent: str = "") -> list[str]:
    return textwrap.wrap(
        plain(words), WIDTH, subsequent_indent=indent, break_long_words=True, break_on_hyphens=False
    )


def words_html(telling: Narration, translate: Translate = ENGLISH, language: str = "en") -> bytes:
    """The telling as a page; `language` is the one that `translate` gives."""
    own = f' lang="{web.text(telling.language)}"' if telling.language != language else ""
    body = ["<main>", f"<h1{own}>{web.text(telling.title)}</h1>"]
    if telling.credit:
        body.append(f"<p{own}>{web.text(telling.credit)}</p>")
    for k, chapter in enumerate(telling.chapters, start=1):
        body += _section(chapter, k, translate)
    body.append("</main>")
    return web.page(telling.title, language, "\n".join(body), _STYLE)


def _section(chapter: Chapter, number: int, translate: Translate) -> list[str]:
    name = f"step-{chapter.step}" if chapter.step else f"part-{number}"
    heading = web.text(chapter.heading.render(translate))
    out = [f'<section aria-labelledby="{name}">', f'<h2 id="{name}">{heading}</h2>']
    for block in chapter.blocks:
        if isinstance(block, Listing):
            rows = (web.text(sentences(row, translate)) for row in block.rows)
            out += ["<ul>", *(f"<li>{row}</li>" for row in rows), "</ul>"]
            continue
        label = web.text(_label(block, translate).strip())
        lead = f"<strong>{label}</strong> " if label else ""
        out.append(f"<p>{lead}{web.text(sentences(block.sentences, translate))}</p>")
    return [*out, "</section>"]
