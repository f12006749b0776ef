"""Whether it fits, for people, on standard output."""

from rich import box
from rich.table import Table
from rich.text import Text

from nesting.answers.fits.fits import FitsAnswer
from nesting.answers.fits.fits_tables import answer_words, owned_words, pieces_words, way_words
from nesting.cli.terminal import CleanConsole
from pieces.measures.format import format_both


def print_fits(answer: FitsAnswer) -> None:
    """Print the answer first, then what lies where, then the ways that were tried."""
    console = CleanConsole()
    lay, units = answer.request.lay, answer.request.owned[0].units
    chosen = ", ".join(f"view {one.view}, size {one.size}" for one in lay.selections)
    console.print(Text(f"{lay.pattern.name}, {chosen}, {lay.cloth}", style="bold"))
    console.print(Text(answer_words(answer), style="bold green" if answer.fits else "bold red"))
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    for head in ("You have", "It takes", "Left", "What lies on it"):
        table.add_column(head)
    for share in answer.sharing.shares:
        result = share.result
        taken_mm = 0.0 if result is None else result.cut_length_mm
        pieces = pieces_words(() if result is None else result.marker.items)
        cells = (
            owned_words(share),
            format_both(taken_mm, units),
            format_both(share.spare_mm, units),
            pieces,
        )
        table.add_row(*(Text(cell) for cell in cells))
    console.print(table)
    if not answer.fits:
        console.print(Text(f"Left over: {pieces_words(answer.sharing.left_over)}.", style="bold"))
        console.print(Text("Ways that were tried, one at a time:"))
        for way in answer.ways:
            console.print(Text(f"- {way_words(way, units)}", style="green" if way.helps else ""))
        if answer.ways_left:
            console.print(Text(f"Time was up before {answer.ways_left} more could be tried."))
