"""Sentences in one language: looked up, filled in, and with numbers as they are written there."""

import io
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from gettext import GNUTranslations, NullTranslations
from importlib.resources import files
from types import MappingProxyType

LANGUAGES: Mapping[str, str] = MappingProxyType(
    {"en": "English", "fr": "Français", "es": "Español"}
)
"""Each language by its code (ISO 639-1), under the name it has itself."""

_DECIMAL_POINT = re.compile(r"(?<=\d)\.(?=\d)")


def marked(message: str) -> str:
    """Return a message as it is: it is gathered here, and said in a language elsewhere."""
    return message


@dataclass(frozen=True)
class Words:
    """What to say sentences with.

    Parameters
    ----------
    language
        One of :data:`LANGUAGES`.
    catalogue
        Translations of the English messages; without one they stay English.

    Examples
    --------
    >>> ENGLISH.say("Ask for {length}", length="2 yd")
    'Ask for 2 yd'
    >>> words_of("fr").figures("2 3/8 yd (2.17 m)")
    '2 3/8 yd (2,17 m)'
    """

    language: str = "en"
    catalogue: NullTranslations = field(default_factory=NullTranslations, compare=False)

    def say(self, message: str, /, **values: object) -> str:
        """Return a message with its values filled in."""
        return self.catalogue.gettext(message).format(**values)

    def say_many(self, one: str, many: str, number: int, /, **values: object) -> str:
        """Return the form of a message that goes with a number; it may say ``{number}``."""
        told = self.catalogue.ngettext(one, many, number)
        return told.format(**{"number": number, **values})

    def joined(self, sign: str, *parts: str) -> str:
        """Return parts with a colon or semicolon between them, set off as the language does.

        Examples
        --------
        >>> ENGLISH.joined(":", "Nap", "with"), words_of("fr").joined(":", "Sens", "avec")
        ('Nap: with', 'Sens : avec')
        """
        before = " " if self.language == "fr" else ""
        return f"{before}{sign} ".join(parts)

    def figures(self, text: str) -> str:
        """Return figures with the decimal sign of the language; units stay."""
        return text if self.language == "en" else _DECIMAL_POINT.sub(",", text)


ENGLISH = Words()


@lru_cache
def words_of(language: str) -> Words:
    """Return the words of a language.

    Raises
    ------
    KeyError
        If it is none of :data:`LANGUAGES`.
    """
    if language not in LANGUAGES:
        raise KeyError(language)
    if language == "en":
        return ENGLISH
    from babel.messages.mofile import write_mo  # noqa: PLC0415 - English needs no Babel
    from babel.messages.pofile import read_po  # noqa: PLC0415

    source = files("nesting.languages").joinpath(f"{language}.po").read_bytes()
    compiled = io.BytesIO()
    write_mo(compiled, read_po(io.BytesIO(source), locale=language))
    compiled.seek(0)
    return Words(language, GNUTranslations(compiled))
