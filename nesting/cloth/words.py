"""What is told of real cloth, for tables and pictures alike: design, washing, ends, flaws."""

from nesting.cloth.bolt import Bolt
from nesting.languages import ENGLISH, Words, marked
from pieces.measures.format import format_both
from pieces.measures.widths import format_width


def cloth_words(bolt: Bolt, words: Words = ENGLISH) -> tuple[tuple[str, str], ...]:
    """Return what is particular about a bolt, each with its name; nothing for plain cloth.

    Examples
    --------
    >>> cloth_words(Bolt(width_mm=1143.0, shrink_along=0.03))
    (('Shrinkage', '3% along, 0% across'),)
    """

    def length(length_mm: float) -> str:
        return words.figures(format_both(length_mm, bolt.units))

    told = []
    if bolt.repeat is not None:
        told.append((words.say("Repeat"), repeat_words(bolt, words)))
    if bolt.shrink_along or bolt.shrink_across:
        told.append((words.say("Shrinkage"), shrinkage_words(bolt, words)))
    if bolt.end_allowance_mm:
        told.append((words.say("End allowance"), length(bolt.end_allowance_mm)))
    if bolt.extra_repeat_mm:
        told.append((words.say("To begin on the repeat"), _extra_repeat_words(bolt, words)))
    if bolt.length_left_mm is not None:
        told.append((words.say("Left of the bolt"), length(bolt.length_left_mm)))
    if bolt.flaws:
        told.append((words.say("Flaws"), str(len(bolt.flaws))))
    return tuple(told)


def shrinkage_words(bolt: Bolt, words: Words = ENGLISH) -> str:
    """Return the shares that washing takes.

    Examples
    --------
    >>> shrinkage_words(Bolt(width_mm=1143.0, shrink_along=0.03))
    '3% along, 0% across'
    """
    along, across = (
        words.figures(f"{100.0 * share:.3g}%") for share in (bolt.shrink_along, bolt.shrink_across)
    )
    return words.say("{along} along, {across} across", along=along, across=across)


def _extra_repeat_words(bolt: Bolt, words: Words) -> str:
    """Return the repeat that is bought beside the lay, why, and who need not buy it."""
    return words.say(
        "{length}: nobody chooses where the bolt was cut last; a shop that cuts where you choose "
        "saves it",
        length=words.figures(format_both(bolt.extra_repeat_mm, bolt.units)),
    )


def cloth_name_words(name: str, words: Words = ENGLISH) -> str:
    """Return the name of a cloth; the shell with what people at a counter call it.

    Examples
    --------
    >>> cloth_name_words("shell"), cloth_name_words("lining")
    ('shell (main fabric)', 'lining')
    """
    return words.say("shell (main fabric)") if name == "shell" else name


def nap_words(bolt: Bolt, words: Words = ENGLISH) -> str:
    """Return ``"with nap"`` or ``"without nap"``."""
    return words.say("with nap") if bolt.nap else words.say("without nap")


def nap_cell(bolt: Bolt, words: Words = ENGLISH) -> str:
    """Return ``"with"`` or ``"without"``, for a column that is headed by nap."""
    return words.say("with") if bolt.nap else words.say("without")


def repeat_words(bolt: Bolt, words: Words = ENGLISH) -> str:
    """Return the repeat of a bolt in words, or ``"none"``.

    Examples
    --------
    >>> from nesting.cloth.repeat import Repeat
    >>> repeat_words(Bolt(width_mm=1143.0, repeat=Repeat(along_mm=101.6, across_mm=50.8)))
    '4 in along, 2 in across, even'
    """
    if bolt.repeat is None:
        return words.say("none")
    ways = (
        (marked("{width} along"), bolt.repeat.along_mm),
        (marked("{width} across"), bolt.repeat.across_mm),
    )
    told = [
        words.say(way, width=words.figures(format_width(mm, bolt.units)))
        for way, mm in ways
        if mm is not None
    ]
    return ", ".join((*told, words.say("even") if bolt.repeat.even else words.say("uneven")))
