"""Web pages that stand alone: one file, no network, and a policy that forbids everything else.

In: a title, a body already escaped, a style sheet and a script of our own. Out: the bytes of an HTML
page whose content policy allows that very style sheet and script, by their digests, and nothing more.
"""

from __future__ import annotations

import base64
import hashlib
from html import escape

from ..languages.wording import ENGLISH, Language, Template
from .svg import plain

_PAGE = """<!DOCTYPE html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="foldscript">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
{body}
{script}</body>
</html>
"""


def page(
    title: str,
    language: str,
    body: str,
    style: str,
    script: str = "",
    letters: bool = False,
    pictures: bool = False,
) -> bytes:
    """A whole page; `body` is markup, everything else plain text. With `letters` the style brings fonts.

    With `pictures` it shows files that lie beside it, and does not stand alone.
    """
    rules = ["default-src 'none'", f"style-src 'sha256-{digest(style)}'"]
    if script:
        rules.append(f"script-src 'sha256-{digest(script)}'")
    if letters:
        rules.append("font-src data:")
    if pictures:
        rules.append("img-src 'self' file:")
    rules += ["base-uri 'none'", "form-action 'none'"]
    return _PAGE.format(
        language=text(language),
        policy="; ".join(rules),
        title=text(title),
        style=style,
        body=body.strip(),
        script=f"<script>{script}</script>\n" if script else "",
    ).encode()


def language_for(speech: Language, known: Template) -> Language:
    """The language of a page: the model's, or English where its catalogue lacks the page's words.

    `known` is a template that is on every such page. So no page is half in one language and half in
    another, and what it calls its language is true.
    """
    own = speech.tag.split("-")[0] == ENGLISH.tag or speech(known) != known
    return speech if own else ENGLISH


def text(words: str) -> str:
    """Plain words as markup, fit for attributes too."""
    return escape(plain(words), quote=True)


def digest(content: str) -> str:
    """What a content policy calls a style sheet or script that stands in the page."""
    return base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
