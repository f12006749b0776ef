"""How the words after ``--bolt`` and ``--also`` are read.

A bolt is the name of a cloth, a width and perhaps a price, then in any order ``nap``, how it is
spread (``fold``, ``crosswise``, ``turned``, ``double`` or ``best``) and facts such as
``selvage=0.5in``; what stands behind ``of`` says which cloth it is.
"""

from collections.abc import Sequence
from typing import Any

from nesting.answers.shopping.shopping import ClothChoice
from nesting.cli.options import OptionError
from nesting.cloth.bolt_text import BoltText
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.spread import Spread
from nesting.errors import BoltError
from nesting.marker.cut_list import Selection
from pieces.errors import LengthError, listed
from pieces.measures.parse import parse_length_mm
from pieces.measures.price import parse_price
from pieces.measures.units import UnitSystem

EXAMPLE = 'write it like "shell 45in 12.50/yd nap"'
_SPREADS = {
    "fold": Spread.LENGTHWISE,
    "crosswise": Spread.CROSSWISE,
    "turned": Spread.TURNED,
    "double": Spread.DOUBLE,
    "best": Spread.BEST,
}
_FLAGS = ("nap", "uneven", *_SPREADS)
_FACTS = (
    *("selvage", "step", "repeat-along", "repeat-across", "shrink-along", "shrink-across"),
    *("end-allowance", "length-left"),
)


def read_bolts(typed: Sequence[str], cloths: Sequence[str]) -> dict[str, ClothChoice]:
    """Return the bolt typed for each cloth; the first width sets the units of all.

    Parameters
    ----------
    typed
        What stands after each ``--bolt``.
    cloths
        Names of the cloths of the pattern.

    Raises
    ------
    OptionError
        If a bolt cannot be read, is for no cloth of the pattern, or a cloth has two bolts.
    """
    choices: dict[str, ClothChoice] = {}
    units: UnitSystem | None = None
    for text in typed:
        name, words = _split_name(text, cloths)
        if name in choices:
            raise OptionError(f'--bolt: cloth "{name}" has two bolts; keep one of them')
        try:
            choices[name] = _choice(words, units)
        except (LengthError, BoltError) as problem:
            raise OptionError(f'--bolt "{text}": {problem}') from problem
        units = choices[name].bolt.units
    return choices


def _split_name(text: str, cloths: Sequence[str]) -> tuple[str, list[str]]:
    """Return the cloth at the beginning, the longest name that fits, and the words behind it."""
    words = text.split()
    for name in sorted(cloths, key=len, reverse=True):
        own = name.split()
        if words[: len(own)] == own:
            return name, words[len(own) :]
    first = words[0] if words else ""
    raise OptionError(
        f'--bolt "{text}": no cloth "{first}" in this pattern; its cloths are {listed(cloths)}, '
        f"and a bolt begins with one of them: {EXAMPLE}"
    )


def _choice(words: list[str], units: UnitSystem | None) -> ClothChoice:
    facts = _facts([word for word in words if "=" in word])
    words = [word for word in words if "=" not in word]
    kind = ""
    if "of" in words:
        at = words.index("of")
        words, kind = words[:at], " ".join(words[at + 1 :])
        if not kind:
            raise LengthError('nothing stands behind "of"; say which cloth, or leave "of" out')
    for flag in _FLAGS:
        if words.count(flag) > 1:
            raise LengthError(f'"{flag}" stands twice; keep one of them')
    width, price = _width_and_price([word for word in words if word not in _FLAGS])
    told = BoltText(width=width, price=price, nap="nap" in words, uneven="uneven" in words, **facts)
    return ClothChoice(told.bolt(units=units), LayRules(_spread(words)), kind)


def _spread(words: Sequence[str]) -> Spread:
    """Return how the cloth is spread: open, if nothing is said."""
    said = [word for word in words if word in _SPREADS]
    if len(said) > 1:
        raise LengthError(f'"{said[0]}" and "{said[1]}" are two ways to spread; keep one of them')
    return _SPREADS[said[0]] if said else Spread.OPEN


def _facts(words: Sequence[str]) -> dict[str, Any]:
    """Return what ``name=value`` words say of the bolt, by the fields of :class:`BoltText`."""
    facts: dict[str, Any] = {}
    for word in words:
        name, _, value = word.partition("=")
        if name not in _FACTS:
            raise LengthError(f'"{name}=" is not known; the facts are {", ".join(_FACTS)}')
        field = name.replace("-", "_")
        if field in facts:
            raise LengthError(f'"{name}=" stands twice; keep one of them')
        if not value:
            raise LengthError(f'nothing stands behind "{name}="; write its value, or leave it out')
        facts[field] = value
    return facts


def _width_and_price(words: Sequence[str]) -> tuple[str, str | None]:
    """Return the width, one word or several, and the price that the other words are."""
    if not words:
        raise LengthError(f"the width is missing; {EXAMPLE}")
    for end in range(1, len(words) + 1):
        width = " ".join(words[:end])
        if not _is_length(width):
            continue
        rest = " ".join(words[end:])
        if _is_length(f"{width} {rest}".strip()) and rest:
            continue
        if rest:
            _check_price(rest)
        return width, rest or None
    parse_length_mm(words[0])  # tells what is wrong with it
    raise LengthError(f'the width "{words[0]}" cannot be read; {EXAMPLE}')


def _check_price(text: str) -> None:
    """Refuse what stands behind the width and is no price."""
    try:
        parse_price(text)
    except LengthError as problem:
        raise LengthError(
            f"{problem}; behind the width stand a price, nap, {', '.join(_SPREADS)}, "
            f"{', '.join(f'{name}=' for name in _FACTS)} or of: {EXAMPLE}"
        ) from problem


def _is_length(text: str) -> bool:
    try:
        parse_length_mm(text)
    except LengthError:
        return False
    return True


def read_also(text: str) -> Selection:
    """Return the garments typed after ``--also``: a view, a size and perhaps a number.

    Raises
    ------
    OptionError
        If there are not two or three words, or the last of three is no number from 1 to 100.
    """
    words = text.split()
    if len(words) not in (2, 3):
        raise OptionError(
            f'--also "{text}": write a view, a size and perhaps a number, as in B L 2'
        )
    number = words[2] if words[2:] else "1"
    if not number.isascii() or not number.isdigit() or not 1 <= int(number) <= 100:
        raise OptionError(f'--also "{text}": "{number}" is no number of garments from 1 to 100')
    return Selection(words[0], words[1], int(number))
