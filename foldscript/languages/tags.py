"""Language codes: what a person wrote in, its usual spelling or what to write instead out.

A code is one of two letters by ISO 639-1 or of three by ISO 639-3 (of these any is taken), with a region or a
script where that is said: pt-BR, zh-Hant. Longer words are no codes: RFC 5646 keeps them for later.
"""

from __future__ import annotations

import re

from ..source.diagnostics import Edit, Hint, Span

_SHAPE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*")

#: All codes of two letters (ISO 639-1).
_CODES = frozenset(
    re.findall(
        "..",
        "aaabaeafakamanarasavayazbabebgbhbibmbnbobrbscacechcocrcscucvcyda"
        "dedvdzeeeleneoeseteufafffifjfofrfygagdglgngugvhahehihohrhthuhyhz"
        "iaidieigiiikioisitiujajvkakgkikjkkklkmknkokrkskukvkwkylalblgliln"
        "loltlulvmgmhmimkmlmnmrmsmtmynanbndnengnlnnnonrnvnyocojomorospapi"
        "plpsptqurmrnrorurwsascsdsesgshsiskslsmsnsosqsrssstsusvswtatetgth"
        "titktltntotrtstttwtyugukuruzvevivowawoxhyiyozazhzu",
    )
)
#: What people write instead: a language's name in English, its own name, the code of a country.
_CALLED = {
    "ar": "Arabic",
    "bg": "Bulgarian",
    "ca": "Catalan català catala",
    "cs": "Czech čeština cestina cz",
    "cy": "Welsh cymraeg",
    "da": "Danish dansk dk",
    "de": "German deutsch",
    "el": "Greek gr",
    "en": "English us gb",
    "eo": "Esperanto",
    "es": "Spanish español espanol castellano castilian",
    "et": "Estonian eesti",
    "eu": "Basque euskara",
    "fa": "Persian farsi",
    "fi": "Finnish suomi",
    "fr": "French français francais",
    "ga": "Irish gaeilge",
    "gl": "Galician galego",
    "he": "Hebrew",
    "hi": "Hindi",
    "hr": "Croatian hrvatski",
    "hu": "Hungarian magyar",
    "id": "Indonesian indonesia",
    "is": "Icelandic",
    "it": "Italian italiano",
    "ja": "Japanese nihongo jp",
    "ko": "Korean",
    "la": "Latin latina",
    "lt": "Lithuanian",
    "lv": "Latvian",
    "nl": "Dutch nederlands flemish",
    "no": "Norwegian norsk",
    "pl": "Polish polski",
    "pt": "Portuguese português portugues",
    "ro": "Romanian română romana",
    "ru": "Russian",
    "sk": "Slovak",
    "sl": "Slovenian slovene",
    "sr": "Serbian",
    "sv": "Swedish svenska",
    "th": "Thai",
    "tr": "Turkish türkçe turkce",
    "uk": "Ukrainian ua",
    "vi": "Vietnamese",
    "zh": "Chinese mandarin cn",
}
_CODE_OF = {word.lower(): code for code, words in _CALLED.items() for word in words.split()}
_EXAMPLES = "en for English, es for Spanish, pt-BR for Brazilian Portuguese"


def is_tag(said: str) -> bool:
    """Whether this is a language code, with or without a region."""
    first = said.lower().partition("-")[0]
    return bool(_SHAPE.fullmatch(said)) and (len(first) == 3 or first in _CODES)


def code_of(name: str) -> str:
    """The code of a language by its name, or by what is often taken for its code; '' if it is not known."""
    return _CODE_OF.get(name.lower(), "")


def what_to_say(said: str, span: Span | None = None) -> Hint:
    """What to write instead of what is no language code; `span` is where it stands in a script."""
    code = code_of(said)
    if not code:
        return Hint(_EXAMPLES)
    edit = None if span is None else Edit(span, code)
    return Hint(f"say '{code}' for {_CALLED[code].split()[0]}", edit=edit)
