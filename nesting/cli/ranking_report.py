"""The bolts of a shop, for people: ranked by what the garment costs."""

from collections.abc import Sequence

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.bolt_ranking import RankedBolt, ranking_sentences
from nesting.answers.rows import money
from nesting.cli.terminal import CleanConsole
from nesting.cloth.words import nap_cell
from nesting.languages import Words
from pieces.measures.format import format_both
from pieces.measures.widths import format_width


def print_ranking(ranked: Sequence[RankedBolt], words: Words) -> None:
    """Print a line for each bolt, the best first, with the reason where one will not do."""
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    table.add_column("", justify="right", no_wrap=True)
    table.add_column(words.say("Bolt"))
    table.add_column(words.say("Width"), no_wrap=True)
    table.add_column(words.say("Nap"), no_wrap=True)
    table.add_column(words.say("Ask for"), style="bold green")
    table.add_column(words.say("Cost"), justify="right", no_wrap=True)
    table.add_column("")
    for rank, one in enumerate(ranked, start=1):
        bolt, cost = one.row.request.bolt, one.row.cost
        width = format_width(bolt.width_mm, bolt.units)
        result = one.row.result if one.will_do else None
        ask = "" if result is None else format_both(result.shop_length_mm, bolt.units, up=True)
        price = "" if result is None or cost is None else money(bolt.price, cost)
        width, ask, price = map(words.figures, (width, ask, price))
        place = str(rank) if one.will_do else "\N{EN DASH}"
        why = Text(_why_not(one, words), "red")
        table.add_row(place, Text(one.name), width, nap_cell(bolt, words), ask, price, why)
    console = CleanConsole()
    request = ranked[0].row.request
    garments = " + ".join(
        words.say("view {view}, size {size}", view=one.view, size=one.size)
        for one in request.selections
    )
    console.print(Text(f"{request.pattern.name}, {garments}, {request.cloth}", style="bold"))
    console.print(table)
    for sentence in ranking_sentences(ranked, words):
        console.print(Text(sentence))


def _why_not(one: RankedBolt, words: Words) -> str:
    """Return why a bolt will not do, or nothing if it will."""
    if one.row.result is None:
        return one.row.refusal
    if one.lacking_mm:
        lacking = words.figures(format_both(one.lacking_mm, one.row.request.bolt.units))
        return words.say("{length} too little is left", length=lacking)
    return ""
