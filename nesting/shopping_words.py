"""What a shopping list says, in words that the table, the files and the page share."""

from dataclasses import dataclass

from nesting.cloth_words import cloth_words as special_words
from nesting.reckoning.buttons import trade_ligne
from nesting.shopping import ClothLine, NotionLine, ShoppingList
from nesting.spread import SPREAD_WORDS
from pieces.finding import Severity
from pieces.lengths import MM_PER_INCH, MM_PER_YARD, UnitSystem, format_both
from pieces.pattern import NotionKind
from pieces.widths import format_width_both

BEFORE_YOU_CUT = (
    "Measure the width between the selvages of your bolt. If it is narrower than reckoned here, "
    "lay the pieces again for that width.",
    "Test for nap: lay one end of the cloth against the other and look at both in the same light. "
    "If they differ, all pieces must point the same way.",
    "Pre-shrink cloth, lining, interfacing and trims as the garment will be washed, then press.",
    "Lay out every piece before you cut the first one.",
    "Cover a rotary blade after every cut, and cut away from yourself. Rest the iron on its heel, "
    "keep its cord out of reach, and unplug it when you stop.",
)
_NOT_SUGGESTED = ", which is not among the suggested: sew a sample first"


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


def garment_words(shopping: ShoppingList) -> str:
    """Return what is sewn, such as ``"2 x view A, size M + view B, size L"``."""
    return " + ".join(
        ("" if one.garments == 1 else f"{one.garments} \N{MULTIPLICATION SIGN} ")
        + f"view {one.view}, size {one.size}"
        for one in shopping.request.selections
    )


def units_of(shopping: ShoppingList) -> UnitSystem:
    """Return the units of the first bolt, in which the whole list is told."""
    return shopping.cloths[0].choice.bolt.units


def cloth_words(line: ClothLine) -> ClothWords:
    """Return one cloth in words."""
    bolt, cost = line.choice.bolt, line.cost
    nap = "with nap" if bolt.nap else "without nap"
    facts = f"{format_width_both(bolt.width_mm, bolt.units)} wide, {nap}"
    special = [f"{name.lower()}: {words}" for name, words in special_words(bolt)]
    return ClothWords(
        name=line.need.name,
        ask=format_both(line.result.shop_length_mm, bolt.units),
        bolt="; ".join((f"{facts}, {SPREAD_WORDS[line.result.marker.rules.spread]}", *special)),
        price="" if bolt.price is None else str(bolt.price),
        cost="" if bolt.price is None or cost is None else f"{bolt.price.currency} {cost}".strip(),
        notes=_notes(line),
    )


def _notes(line: ClothLine) -> tuple[tuple[str, str], ...]:
    need, kind = line.need, line.choice.kind
    pairs = [("What for", need.about), ("Ask for", need.ask_for)]
    if need.suggested:
        pairs.append(("Suggested", ", ".join(need.suggested)))
    if kind:
        told = {None: "", True: ", which the pattern suggests", False: _NOT_SUGGESTED}
        pairs.append(("This bolt", kind + told[line.is_suggested]))
    pairs.append(("Other cloth", need.hang))
    return tuple((heading, words) for heading, words in pairs if words)


def notion_words(line: NotionLine, units: UnitSystem) -> NotionWords:
    """Return one notion in words: its amount in the person's units, its size as it is sold."""
    notion = line.notion
    amounts = [] if line.count is None else [str(line.count)]
    details = [size_words(line), notion.detail]
    if line.length_mm is not None and line.is_estimate:
        amounts.append(f"about {_rounded(line.length_mm, units)}")
        details.append("estimated from the seams, each sewn once; buy a little more")
    elif line.length_mm is not None:
        amounts.append(format_both(line.length_mm, units))
    return NotionWords(
        ", ".join(amounts), notion.name, "; ".join(words for words in details if words)
    )


def size_words(line: NotionLine) -> str:
    """Return the size a notion is sold by in mm and inches, a button in ligne too, or nothing."""
    size_mm = line.notion.size_mm
    if size_mm is None:
        return ""
    words = f"{size_mm:g} mm, {size_mm / MM_PER_INCH:.2f} in"
    if line.notion.kind is NotionKind.BUTTON:
        words += f", {trade_ligne(size_mm)} ligne"
    return words


def total_words(shopping: ShoppingList) -> str:
    """Return the price of all cloth, and what it leaves out; empty if nothing has a price."""
    totals = shopping.totals
    if not totals:
        return ""
    money = " + ".join(f"{currency} {amount}".strip() for currency, amount in totals.items())
    left_out = [*shopping.unpriced, "notions"]
    return f"{money}, without {', '.join(left_out)}"


def finding_words(shopping: ShoppingList) -> tuple[str, ...]:
    """Return what the check found on any cloth; nothing for markers that can be cut."""
    told = {True: "Not ready to cut", False: "Mind"}
    return tuple(
        f"{told[finding.severity is Severity.ERROR]}: {line.need.name}, {finding.sentence}."
        for line in shopping.cloths
        for finding in line.result.findings
    )


def _rounded(length_mm: float, units: UnitSystem) -> str:
    """Return an estimate in whole metres and yards, the person's first."""
    metres, yards = (max(1, round(length_mm / step)) for step in (1000.0, MM_PER_YARD))
    both = (f"{yards} yd", f"{metres} m")
    first, second = both if units is UnitSystem.IMPERIAL else reversed(both)
    return f"{first} ({second})"
