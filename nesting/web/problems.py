"""What went wrong, kept as a message that can still be said in the visitor's language."""

from dataclasses import dataclass

from nesting.languages import Words, marked
from pieces.errors import PiecesError


class ToldError(Exception):
    """Something a visitor is told.

    Parameters
    ----------
    message
        A marked message.
    values
        What it is filled in with.
    """

    def __init__(self, message: str, **values: object) -> None:
        super().__init__(message.format(**values))
        self.message = message
        self.values = values


class FieldError(ToldError):
    """A field that cannot be used, and the sentence that says why."""

    def __init__(self, name: str, message: str, **values: object) -> None:
        super().__init__(message, **values)
        self.name = name


class UnreadError(FieldError):
    """A field that the program refuses in words of its own, which are English."""

    def __init__(self, name: str, problem: str) -> None:
        super().__init__(name, "{problem}", problem=problem)


class BusyError(ToldError):
    """All places are taken; the sentence says what to do."""


class GoneError(PiecesError):
    """A pattern that was handed in and is not kept any more."""


GONE = marked(
    "That pattern is not kept any more, or it was handed in by somebody else. Hand it in again, "
    "or choose one of the list."
)


@dataclass(frozen=True)
class Problem:
    """A problem as a page shows it.

    Parameters
    ----------
    name
        The field it is about, or empty.
    lead
        A sentence in the visitor's language where the reason is not; else empty.
    sentence, language
        The reason, and the language it is in.
    """

    name: str
    lead: str
    sentence: str
    language: str


def problem_of(error: Exception, words: Words) -> Problem:
    """Return an error in the visitor's language as far as that can be done."""
    name = error.name if isinstance(error, FieldError) else ""
    if isinstance(error, GoneError):
        return Problem("pattern", "", words.say(GONE), words.language)
    if isinstance(error, ToldError) and not isinstance(error, UnreadError):
        sentence = words.say(error.message, **error.values)
        return Problem(name, "", sentence, words.language)
    lead = (
        "" if words.language == "en" else words.say("This cannot be done. The reason, in English:")
    )
    return Problem(name, lead, str(error), "en")
