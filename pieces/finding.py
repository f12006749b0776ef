"""What a check has to say: a code, how bad it is, one sentence, and the pieces concerned."""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters to the person about to cut."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True)
class Finding:
    """One thing a check noticed. Checks return findings and do not raise.

    Parameters
    ----------
    code
        Short fixed word in lower case with hyphens, such as ``"overlap"``.
    severity
        :attr:`Severity.ERROR` spoils the work; a warning is worth a look.
    sentence
        What is wrong, with the numbers and units a person needs.
    pieces
        Names of the pieces concerned, in the order of the sentence.
    """

    code: str
    severity: Severity
    sentence: str
    pieces: tuple[str, ...] = ()
