"""Slides: one step a screen, in one HTML file that needs no network.

In: models with their figures, and a style. Out: the bytes of a page. Each figure stands in it once, as
SVG; what comes next is shown small by a reference to it. Several models have a start before them, with
a link to each, and may have credits after them. Without its script the page is a column of all steps;
printed, it is one step a page. It stores nothing and asks for nothing.
"""

from __future__ import annotations

import base64
import re
import string
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from html import unescape
from importlib import resources

from ..drawing.scene.scene import Scene
from ..drawing.style.contrast import contrast
from ..drawing.style.styles import Style
from ..folding.ending import Ending, ending, last_words
from ..folding.steps import Model
from ..languages.levels import LEVELS
from ..languages.wording import ENGLISH, Language, Template, Translate, phrase
from ..pages.booklet.texts import BookletTexts
from ..pages.layout.head import facts
from ..pages.trimming import ink
from . import web
from .drawn import Drawn
from .fonts import FontFile, font_file, fonts_of, part_of_font, read_font
from .svg import ground, item_elements, number
from .turning import script, solid


@dataclass(frozen=True)
class _Slide:
    """One screen: its figure's name in the page, and what stands round it."""

    scene: Scene
    label: str  # '3a', '' for the finished model
    step: str  # '3' where step 3 begins, '3 4' where it shows both, else ''
    caption: str
    says: str
    window: str  # what is shown of the scene, as a view box


def slides_language(speech: Language) -> Language:
    """What the page's own words come in: the model's language, or English where that has none."""
    return web.language_for(speech, "Step {n} of {total}")


def slides_html(
    models: Sequence[Drawn],
    style: Style,
    translate: Translate = ENGLISH,
    language: str = "en",
    setting: BookletTexts | None = None,
) -> bytes:
    """One page for all models.

    Parameters
    ----------
    language : the one that `translate` gives, for what is not the script's own text
    setting : what stands round the models; without it there is one model, and nothing round it
    """
    says = _Translator(translate, language)
    name = setting.title if setting else models[0].model.title or models[0].model.name
    body = ["<main>"]
    if setting:
        body += _start(setting, models, says)
    for k, drawn in enumerate(models, start=1):
        body += _model(drawn, k, style, says, "h2" if setting else "h1")
    if setting:
        body += _credits(setting, says)
    body.append("</main>")
    body += _bar(body, says, contents=setting is not None)
    told = "\n".join(body)
    looks = _looks(style) + _file("slides.css") + _letters(told, style)
    return web.page(name, language, told, looks, _scripts(models), letters=True)


def _scripts(models: Sequence[Drawn]) -> str:
    """The page's own script, and before it what turns models, where one stands in space."""
    stands = any(drawn.model.standing is not None for drawn in models)
    return (script() if stands else "") + _file("presenting.js") + _file("slides.js")


def _letters(body: str, style: Style) -> str:
    """The fonts in the page itself, as far as the page needs them: captions look as they do in print."""
    used = {*string.printable, *unescape(body)}
    faces: list[tuple[FontFile, bool]] = []
    for bold in (False, True):
        fonts = (read_font(font_file(bold)), *fonts_of(style).lacked_by_caption_font(used, bold))
        faces += [(font, bold) for font in fonts]
    families = ", ".join(dict.fromkeys(f'"{font.family}"' for font, _ in faces))
    return f":root {{ --letters: {families}; }}\n" + "".join(
        f'@font-face {{ font-family: "{font.family}"; font-weight: {"bold" if bold else "normal"}; '
        f"src: url(data:font/woff;base64,{_woff(used, font, bold)}); }}\n"
        for font, bold in faces
    )


def _woff(used: Iterable[str], font: FontFile, bold: bool) -> str:
    part = part_of_font("".join(sorted(used)), font.path, font.design(bold))
    return base64.b64encode(part).decode()


@cache
def _file(name: str) -> str:
    return resources.files(__package__ or "foldscript.output").joinpath(name).read_text("utf-8")


def _looks(style: Style) -> str:
    """The style's own colours; round a dark screen the page is dark too."""
    ink = style.ink("text").fill or "#14191c"
    sign = style.ink("sign.solid").fill or ink
    colours = f"--ground: {ground(style)}; --ink: {ink}; --sign: {sign};"
    if contrast("#ffffff", ground(style)) > contrast("#000000", ground(style)):
        colours += " --edge: #a9b4ba; --table: #2a3136; --bar: #ffffff; --idle: #a9b4ba;"
    return f":root:root {{ {colours} }}\n"


@dataclass(frozen=True)
class _Translator:
    """Puts the page's own words into its language, escaped."""

    translate: Translate
    language: str

    def __call__(self, template: Template, **parts: str) -> str:
        return web.text(phrase(template, **parts).render(self.translate))

    def own(self, words: Model | BookletTexts) -> str:
        """A `lang` for what a person wrote, where its language is another one."""
        return f' lang="{web.text(words.language)}"' if words.language != self.language else ""


def _start(setting: BookletTexts, models: Sequence[Drawn], says: _Translator) -> Iterator[str]:
    """The title, and every model with its picture and a link."""
    own = says.own(setting)
    yield (
        f'<section class="slide contents" id="contents" data-model="0" data-step="" '
        f'data-says="{web.text(setting.title)}">'
    )
    yield f"<header{own}><h1>{web.text(setting.title)}</h1>"
    yield from (
        f"<p>{web.text(words)}</p>" for words in (setting.subtitle, setting.publisher) if words
    )
    yield f'</header><nav aria-label="{says("Contents")}">'
    level = None
    for k, drawn in enumerate(models, start=1):
        if k == 1 or (setting.levels and drawn.model.level != level):
            level = drawn.model.level
            yield "</ol>" if k > 1 else ""
            known = setting.levels and level in LEVELS
            yield f"<h2>{web.text(_capital(says.translate(level)))}</h2>" if known else ""
            yield f'<ol start="{k}">'
        name = web.text(drawn.model.title or drawn.model.name)
        last = [*_steps(drawn, says)][-1]
        picture = _again(_close(last), _id(k, len(drawn.figures) + 1), "")
        yield f'<li{says.own(drawn.model)}><a href="#m{k}">{picture}<span>{k}. {name}</span></a></li>'
    yield "</ol></nav></section>"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _credits(setting: BookletTexts, says: _Translator) -> Iterator[str]:
    """What the booklet owes to whom, and what may be done with it."""
    if not (setting.credits or setting.licence):
        return
    title = says("Credits and licences")
    own = says.own(setting)
    yield f'<section class="slide credits" id="credits" data-model="" data-step="" data-says="{title}">'
    yield f"<h2>{title}</h2><div{own}>"
    for text in (setting.credits, setting.licence):
        yield from (f"<p>{web.text(' '.join(part.split()))}</p>" for part in _paragraphs(text))
    yield "</div></section>"


def _paragraphs(text: str) -> list[str]:
    return [part for part in re.split(r"\n\s*\n", text) if part.strip()]


def _model(
    drawn: Drawn, number_: int, style: Style, says: _Translator, level: str
) -> Iterator[str]:
    model = drawn.model
    slides = [*_steps(drawn, says)]
    name = web.text(model.title or model.name)
    own = says.own(model)
    finished = len(slides)
    yield (
        f'<section class="slide cover" id="m{number_}" data-model="{number_}" data-step="0" '
        f'data-says="{name}">'
    )
    yield f"<div><{level}{own}>{name}</{level}><p{own}>{web.text(model.credit)}</p>"
    yield _facts(model, says)
    yield from (f"<p{own}>{web.text(note)}</p>" for note in model.notes)
    yield "</div>"
    told = web.text(slides[-1].caption) or says("The finished model")
    yield _again(_close(slides[-1]), _id(number_, finished), told)
    yield "</section>"
    for k, slide in enumerate(slides, start=1):
        following = slides[k] if k < len(slides) else None
        yield from _slide(model, number_, k, slide, following, style, says)


def _facts(model: Model, says: _Translator) -> str:
    rows = "".join(
        f"<dt>{web.text(label)}</dt><dd>{web.text(value)}</dd>"
        for label, value in facts(model, says.translate)
    )
    return f"<dl>{rows}</dl>"


def _steps(drawn: Drawn, says: _Translator) -> Iterator[_Slide]:
    """The steps, then the finished model."""
    total = str(len(drawn.model.steps))
    windows = _windows([*(f.scene for f in drawn.figures), drawn.finished])
    last, begun = (0, ""), 0
    for figure, window in zip(drawn.figures, windows, strict=False):
        caption = figure.caption or (last[1] if last[0] == figure.step else "")
        if not figure.label:  # a part that is finished here
            spoken = web.text(caption)
            yield _Slide(figure.scene, "", "", caption, spoken, window)
            continue
        if figure.heading:
            caption = f"{figure.heading}. {caption}"
        ends = max(figure.step, figure.last)
        step = " ".join(str(n) for n in range(begun + 1, ends + 1))
        begun = max(begun, ends)
        last = (figure.step, caption)
        place = says("Step {n} of {total}", n=figure.label, total=total)
        yield _Slide(
            figure.scene, figure.label, step, caption, f"{place}. {web.text(caption)}", window
        )
    end = ending(drawn.model)
    told = "" if end is Ending.FLAT else last_words(drawn.model).render(says.translate)
    heading = _heading(drawn.model, says)
    spoken = f"{heading}. {web.text(told)}" if told else heading
    yield _Slide(drawn.finished, "", "", told, spoken, windows[-1])


#: What stands over the last slide, and what the last step tells of it, where that is no finished model.
_HEADING: dict[Ending, Template] = {Ending.OPENED: "Flat", Ending.REFUSED: "Unfinished"}
_NEXT: dict[Ending, Template] = {
    Ending.FLAT: "Next: finished",
    Ending.STANDING: "Next: finished",
    Ending.CURLED: "Next: finished",
    Ending.OPENED: "Next: the flat model",
    Ending.REFUSED: "Next: as far as it folds",
}


def _heading(model: Model, says: _Translator) -> str:
    """What stands over the last slide of a model."""
    return says(_HEADING.get(ending(model), "Finished"))


def _next(model: Model, says: _Translator) -> str:
    """What the last step tells of the slide after it."""
    return says(_NEXT[ending(model)])


def _close(slide: _Slide) -> _Slide:
    """The figure as large as its place allows, whatever the scale of the others."""
    return replace(slide, window=_windows([slide.scene])[0])


def _windows(scenes: Sequence[Scene]) -> list[str]:
    """One size for all figures, so that paper keeps its scale; each in the middle of its own."""
    boxes = [ink(scene) for scene in scenes]
    wide = max(b[2] - b[0] for b in boxes)
    high = max(b[3] - b[1] for b in boxes)
    corners = [((b[0] + b[2] - wide) / 2, (b[1] + b[3] - high) / 2) for b in boxes]
    return [" ".join(number(v) for v in (x, y, wide, high)) for x, y in corners]


def _slide(
    model: Model,
    number_: int,
    k: int,
    slide: _Slide,
    following: _Slide | None,
    style: Style,
    says: _Translator,
) -> Iterator[str]:
    own = says.own(model)
    total = str(len(model.steps))
    yield (
        f'<section class="slide" id="m{number_}-{k}" data-model="{number_}" '
        f'data-step="{slide.step}" '
        f'data-says="{slide.says}">'
    )
    place = (
        f'<span class="number">{web.text(slide.label)}</span>'
        f'<span class="of">{says("of {total}", total=total)}</span>'
        if slide.label
        else f'<span class="number">{_heading(model, says)}</span>'
    )
    spoken = (
        says("Step {n} of {total}", n=slide.label, total=total)
        if slide.label
        else _heading(model, says)
    )
    yield (
        f'<header class="head"><h2 aria-label="{spoken}">{place}</h2>'
        f'<p class="model"{own}>{web.text(model.title or model.name)}</p></header>'
    )
    yield '<div class="stage">'
    yield _turning(model, _figure(slide, _id(number_, k), style), slide, style, says)
    theirs = own if slide.label else ""
    yield f'<p class="caption"{theirs}>{web.text(slide.caption)}</p>'
    if following is not None:
        words = (
            says("Next: {label}", label=following.label) if following.label else _next(model, says)
        )
        yield f'<div class="peek" aria-hidden="true"><p>{words}</p>'
        yield _again(following, _id(number_, k + 1), "")
        yield "</div>"
    yield "</div></section>"


def _turning(model: Model, figure: str, slide: _Slide, style: Style, says: _Translator) -> str:
    """The finished model as a picture that can be turned, where it stands in space."""
    found = "" if slide.label else solid(model, style)
    if not found:
        return figure
    hint = says("Drag the model to turn it, or use the arrow keys.")
    return (
        f'<div class="turn" data-solid="{web.text(found)}" aria-label="{hint}">{figure}'
        f'<p class="hint" aria-hidden="true">{hint}</p></div>'
    )


def _id(model: int, figure: int) -> str:
    return f"f{model}-{figure}"


def _figure(slide: _Slide, name: str, style: Style) -> str:
    scene = slide.scene
    drawn = "".join(e.tostring() for e in item_elements(scene.items, style))
    spoken = web.text(scene.description or scene.title)
    return (
        f'<svg viewBox="{slide.window}" role="img" aria-label="{spoken}" lang="{web.text(scene.language)}">'
        f'<g id="{name}">{drawn}</g></svg>'
    )


def _again(slide: _Slide, name: str, spoken: str) -> str:
    """A figure that stands elsewhere in the page, shown here too."""
    role = f'role="img" aria-label="{spoken}"' if spoken else 'aria-hidden="true"'
    return f'<svg viewBox="{slide.window}" {role}><use href="#{name}"/></svg>'


def _bar(body: Sequence[str], says: _Translator, contents: bool) -> list[str]:
    count = sum(part.startswith('<section class="slide') for part in body)
    link = [f'<a href="#contents">{says("Contents")}</a>'] if contents else []

    def button(key: str, words: str, looks: str = "quiet") -> str:
        does = f'class="{looks}" data-key="{key}" title="{key.upper()}"'
        return f'<button type="button" {does}>{words}</button>'

    # on small screens there is no room for what is `far`
    speaker = [
        button("o", says("Overview")),
        button("f", says("Full screen"), "quiet far"),
        button("n", says("Notes"), "quiet far"),
    ]
    told = {
        "overview": says("Overview"),
        "notes": says("Notes"),
        "next": says("Next: {label}", label="").strip(),
    }
    told["restart"] = says("Start the clock again")
    data = " ".join(f'data-{key}="{words}"' for key, words in told.items())
    return [
        f'<nav class="bar" aria-label="{says("Slides")}" {data}>',
        *link,
        f'<button type="button" class="back">{says("Back")}</button>',
        f'<span class="place" aria-hidden="true"></span><progress max="{count}" value="1" '
        f'aria-label="{says("How far you are")}"></progress>',
        f'<button type="button" class="on">{says("Next")}</button>',
        *speaker,
        "</nav>",
        '<p class="spoken" role="status" aria-live="polite"></p>',
    ]
