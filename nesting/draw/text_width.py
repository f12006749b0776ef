"""How wide a line of text is, so that words can be fitted before any writer sees them.

The advances are measured from the DejaVu Sans typeface, which the PNG and PDF writers use; the
SVG writer asks the reader's program to keep to the same width.
"""

import unicodedata

_FIRST = 32
# Thousandths of the type size for the characters from space to tilde.
_REGULAR = (
    *(318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337),
    *(636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531),
    *(1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787),
    *(603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500),
    *(500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612),
    *(635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838),
)
_BOLD = (
    *(348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365),
    *(696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580),
    *(1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850),
    *(733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500),
    *(500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687),
    *(716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838),
)
_UNKNOWN = 1250
"""Wider than nearly any letter, so that words in other scripts are fitted rather too small."""


def text_width_mm(words: str, height_mm: float, *, bold: bool = False) -> float:
    """Return the width of one line of text, mm.

    Parameters
    ----------
    words
        The line. Accented Latin letters are as wide as the plain ones; a character of another
        script counts as a wide one.
    height_mm
        Type size, mm.
    bold
        True for heavy type.

    Examples
    --------
    A space is 0.318 of the type size wide:

    >>> text_width_mm(" ", 10.0)
    3.18
    """
    table = _BOLD if bold else _REGULAR
    return sum(_advance(letter, table) for letter in words) * height_mm / 1000.0


def wrapped(text: str, width_mm: float, type_mm: float, *, bold: bool = False) -> list[str]:
    """Return text in lines no wider than a width; a word too long is broken.

    Examples
    --------
    >>> wrapped("two short lines", 30.0, 5.0)
    ['two short', 'lines']
    """

    def wide(words: str) -> float:
        return text_width_mm(words, type_mm, bold=bold)

    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and wide(joined) <= width_mm:
            lines[-1] = joined
            continue
        rest = word
        while wide(rest) > width_mm and len(rest) > 1:
            fits = max(n for n in range(1, len(rest)) if n == 1 or wide(rest[:n]) <= width_mm)
            lines.append(rest[:fits])
            rest = rest[fits:]
        lines.append(rest)
    return lines


def is_measured(words: str) -> bool:
    """Tell whether the width of every character is known exactly."""
    return all(_FIRST <= ord(letter) < _FIRST + len(_REGULAR) for letter in words)


def _advance(letter: str, table: tuple[int, ...]) -> int:
    base = unicodedata.normalize("NFD", letter)[:1] if letter.isalpha() else letter
    number = ord(base) - _FIRST
    return table[number] if 0 <= number < len(table) else _UNKNOWN
