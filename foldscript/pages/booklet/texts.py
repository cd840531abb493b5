"""What a booklet says beside its models: on its covers, before and after them.

In: the words of a booklet file. Out: `BookletTexts`, for pages and slides alike.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class BookletTexts:
    """The texts of a booklet; '' for what it does not say.

    `levels` sets the contents apart by level, `key` says that there is a key of signs;
    `link` is an address that the back cover gives.
    """

    title: str
    subtitle: str = ""
    publisher: str = ""
    introduction: str = ""
    credits: str = ""
    licence: str = ""
    language: str = "en"
    levels: bool = False
    key: bool = True
    link: str = ""
