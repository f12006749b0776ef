"""What a shopping list says, in words that the table, the files and the page share."""

import math
from dataclasses import dataclass

from nesting.answers.shopping.shopping import ClothLine, NotionLine, ShoppingList
from nesting.cloth.spread import SPREAD_WORDS
from nesting.cloth.words import cloth_words as special_words
from nesting.languages import ENGLISH, Words, marked
from nesting.reckoning.buttons import trade_ligne
from nesting.reckoning.thread import REEL_MM
from pieces.finding import Severity
from pieces.measures.format import format_both
from pieces.measures.tape import format_tape
from pieces.measures.units import MM_PER_INCH, MM_PER_YARD, UnitSystem
from pieces.measures.widths import format_width_both
from pieces.pattern import NotionKind

BEFORE_YOU_CUT = (
    marked(
        "Measure the width between the selvages of your bolt. If it is narrower than reckoned "
        "here, lay the pieces again for that width."
    ),
    marked(
        "Test for nap: lay one end of the cloth against the other and look at both in the same "
        "light. If they differ, all pieces must point the same way."
    ),
    marked(
        "Pre-shrink cloth, lining, interfacing and trims as the garment will be washed, then press."
    ),
    marked("Lay out every piece before you cut the first one."),
    marked(
        "Cover a rotary blade after every cut, and cut away from yourself. Rest the iron on its "
        "heel, keep its cord out of reach, and unplug it when you stop."
    ),
)
_KINDS = {
    None: marked("{kind}"),
    True: marked("{kind}, which the pattern suggests"),
    False: marked("{kind}, which is not among the suggested: sew a sample first"),
}


@dataclass(frozen=True)
class ClothWords:
    """One cloth in words.

    Parameters
    ----------
    name
        Of the cloth.
    ask, bolt
        What to ask for, and from which bolt.
    price, cost
        Price for a length and for all of it; empty without a price.
    notes
        Pairs of a heading and a sentence: what it is for, which kind to ask for and so on.
    """

    name: str
    ask: str
    bolt: str
    price: str
    cost: str
    notes: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class NotionWords:
    """One notion in words: how much, of what, and anything more."""

    amount: str
    name: str
    detail: str


def garment_words(shopping: ShoppingList, words: Words = ENGLISH) -> str:
    """Return what is sewn, such as ``"2 x view A, size M + view B, size L"``."""
    return " + ".join(
        ("" if one.garments == 1 else f"{one.garments} \N{MULTIPLICATION SIGN} ")
        + words.say("view {view}, size {size}", view=one.view, size=one.size)
        for one in shopping.request.selections
    )


def units_of(shopping: ShoppingList) -> UnitSystem:
    """Return the units of the first bolt, in which the whole list is told."""
    return shopping.cloths[0].choice.bolt.units


def cloth_words(line: ClothLine, words: Words = ENGLISH) -> ClothWords:
    """Return one cloth in words."""
    bolt, cost = line.choice.bolt, line.cost
    facts = (
        words.say(
            "{width} wide", width=words.figures(format_width_both(bolt.width_mm, bolt.units))
        ),
        words.say("with nap") if bolt.nap else words.say("without nap"),
        words.say(SPREAD_WORDS[line.result.marker.rules.spread]),
    )
    special = [words.joined(":", name.lower(), told) for name, told in special_words(bolt, words)]
    return ClothWords(
        name=line.need.name,
        ask=words.figures(format_both(line.result.shop_length_mm, bolt.units, up=True)),
        bolt="; ".join((", ".join(facts), *special)),
        price="" if bolt.price is None else words.figures(str(bolt.price)),
        cost=""
        if bolt.price is None or cost is None
        else words.figures(f"{bolt.price.currency} {cost}".strip()),
        notes=_notes(line, words),
    )


def _notes(line: ClothLine, words: Words) -> tuple[tuple[str, str], ...]:
    need, kind = line.need, line.choice.kind
    pairs = [(words.say("What for"), need.about), (words.say("Ask for"), need.ask_for)]
    if need.suggested:
        pairs.append((words.say("Suggested"), ", ".join(need.suggested)))
    if kind:
        pairs.append((words.say("This bolt"), words.say(_KINDS[line.is_suggested], kind=kind)))
    pairs.append((words.say("Other cloth"), need.hang))
    return tuple((heading, told) for heading, told in pairs if told)


def notion_words(line: NotionLine, units: UnitSystem, words: Words = ENGLISH) -> NotionWords:
    """Return one notion in words: its amount in the person's units, its size as it is sold."""
    notion = line.notion
    amounts = [] if line.count is None else [str(line.count)]
    details = [size_words(line, words), notion.detail]
    if line.reels is not None and line.count is None:
        amounts.append(reel_words(line.reels, units, words))
    if line.length_mm is not None and line.is_estimate:
        details.append(
            words.say(
                "about {length}, estimated from the seams: each sewn once, both raw edges neatened",
                length=_rounded(line.length_mm, units),
            )
        )
    elif line.length_mm is not None and line.reels is None:
        amounts.append(words.figures(format_both(line.length_mm, units, up=True)))
    return NotionWords(", ".join(amounts), notion.name, "; ".join(told for told in details if told))


def reel_words(reels: int, units: UnitSystem, words: Words = ENGLISH) -> str:
    """Return how many reels, and how long each is."""
    return words.say_many(
        "{count} reel of {length}",
        "{count} reels of {length}",
        reels,
        count=reels,
        length=_rounded(REEL_MM, units),
    )


def size_words(line: NotionLine, words: Words = ENGLISH) -> str:
    """Return the size a notion is sold by in mm and inches, a button in ligne too, or nothing."""
    size_mm = line.notion.size_mm
    if size_mm is None:
        return ""
    if line.notion.kind is not NotionKind.BUTTON:
        return words.figures(f"{size_mm:g} mm, {size_mm / MM_PER_INCH:.2f} in")
    told = words.figures(f"{size_mm:g} mm, {format_tape(size_mm, UnitSystem.IMPERIAL)}")
    told += ", " + words.say("{number} ligne", number=trade_ligne(size_mm))
    return told


def total_words(shopping: ShoppingList, words: Words = ENGLISH) -> str:
    """Return the price of all cloth, and what it leaves out; empty if nothing has a price."""
    totals = shopping.totals
    if not totals:
        return ""
    money = " + ".join(f"{currency} {amount}".strip() for currency, amount in totals.items())
    left_out = ", ".join((*shopping.unpriced, words.say("notions")))
    return words.say("{money}, without {left_out}", money=words.figures(money), left_out=left_out)


def finding_words(shopping: ShoppingList, words: Words = ENGLISH) -> tuple[str, ...]:
    """Return what the check found on any cloth; nothing for markers that can be cut."""
    told = {True: words.say("Not ready to cut"), False: words.say("Mind")}
    return tuple(
        words.joined(
            ":", told[finding.severity is Severity.ERROR], f"{line.need.name}, {finding.sentence}."
        )
        for line in shopping.cloths
        for finding in line.result.findings
    )


def _rounded(length_mm: float, units: UnitSystem) -> str:
    """Return an estimate in whole metres and yards, the person's first."""
    metres, yards = (math.ceil(length_mm / step - 1e-9) for step in (1000.0, MM_PER_YARD))
    both = (f"{yards} yd", f"{metres} m")
    first, second = both if units is UnitSystem.IMPERIAL else reversed(both)
    return f"{first} ({second})"
