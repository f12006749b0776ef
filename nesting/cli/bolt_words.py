"""How the words after ``--bolt`` and ``--also`` are read.

A bolt is the name of a cloth, a width and perhaps a price, then in any order ``nap``, how it is
spread (``fold``, ``crosswise``, ``turned``, ``double`` or ``best``) and facts such as
``selvage=0.5in``; what stands behind ``of`` says which cloth it is.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from nesting.answers.shopping.shopping import ClothChoice
from nesting.cli.options import OptionError
from nesting.cloth.bolt import EIGHTH_YARD_MM, TEN_CM_MM, Bolt
from nesting.cloth.lay_rules import LayRules
from nesting.cloth.repeat import Repeat
from nesting.cloth.shrinkage import parse_shrinkage
from nesting.cloth.spread import Spread
from nesting.errors import BoltError
from nesting.marker.cut_list import Selection
from pieces.errors import LengthError
from pieces.measures.parse import parse_length_mm, typed_system
from pieces.measures.price import Price, parse_price
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
        f'--bolt "{text}": no cloth "{first}" in this pattern; its cloths are {", ".join(cloths)}, '
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
    units = typed_system(width) if units is None else units
    step_mm = EIGHTH_YARD_MM if units is UnitSystem.IMPERIAL else TEN_CM_MM
    bolt = Bolt(
        width_mm=parse_length_mm(width),
        nap="nap" in words,
        price=price,
        units=units,
        repeat=_repeat(facts, is_uneven="uneven" in words),
        **{"shop_step_mm": step_mm, **facts},
    )
    return ClothChoice(bolt, LayRules(_spread(words)), kind)


def _spread(words: Sequence[str]) -> Spread:
    """Return how the cloth is spread: open, if nothing is said."""
    said = [word for word in words if word in _SPREADS]
    if len(said) > 1:
        raise LengthError(f'"{said[0]}" and "{said[1]}" are two ways to spread; keep one of them')
    return _SPREADS[said[0]] if said else Spread.OPEN


def _facts(words: Sequence[str]) -> dict[str, Any]:
    """Return what ``name=value`` words say of the bolt."""
    facts: dict[str, Any] = {}
    for word in words:
        name, _, value = word.partition("=")
        if name not in _FACTS:
            raise LengthError(f'"{name}=" is not known; the facts are {", ".join(_FACTS)}')
        field, read = _FACTS[name]
        if field in facts:
            raise LengthError(f'"{name}=" stands twice; keep one of them')
        facts[field] = read(value)
    return facts


def _repeat(facts: dict[str, Any], *, is_uneven: bool) -> Repeat | None:
    """Take the repeat out of the facts, or return None for cloth without one."""
    along_mm, across_mm = facts.pop("repeat-along", None), facts.pop("repeat-across", None)
    if along_mm is None and across_mm is None:
        if is_uneven:
            raise LengthError(
                '"uneven" is said of a repeat; add repeat-along= or repeat-across=, or remove it'
            )
        return None
    return Repeat(along_mm=along_mm, across_mm=across_mm, even=not is_uneven)


def _step_mm(text: str) -> float | None:
    return None if text.lower() == "exact" else parse_length_mm(text)


_FACTS: Mapping[str, tuple[str, Callable[[str], Any]]] = {
    "selvage": ("selvage_mm", partial(parse_length_mm, allow_zero=True)),
    "step": ("shop_step_mm", _step_mm),
    "repeat-along": ("repeat-along", parse_length_mm),
    "repeat-across": ("repeat-across", parse_length_mm),
    "shrink-along": ("shrink_along", parse_shrinkage),
    "shrink-across": ("shrink_across", parse_shrinkage),
    "end-allowance": ("end_allowance_mm", partial(parse_length_mm, allow_zero=True)),
    "length-left": ("length_left_mm", parse_length_mm),
}


def _width_and_price(words: Sequence[str]) -> tuple[str, Price | None]:
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
        return width, _price(rest) if rest else None
    parse_length_mm(words[0])  # tells what is wrong with it
    raise LengthError(f'the width "{words[0]}" cannot be read; {EXAMPLE}')


def _price(text: str) -> Price:
    try:
        return parse_price(text)
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
