"""A shopping list for people, on standard output."""

from collections.abc import Sequence

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from nesting.shopping import ShoppingList
from nesting.shopping_words import (
    BEFORE_YOU_CUT,
    cloth_words,
    finding_words,
    garment_words,
    notion_words,
    total_words,
    units_of,
)


def print_shopping(shopping: ShoppingList) -> None:
    """Print a shopping list: cloths, what to ask for, notions, and what to mind."""
    console = Console()
    console.print(Text(f"{shopping.request.pattern.name}, {garment_words(shopping)}", style="bold"))
    console.print(_cloths(shopping))
    if total_words(shopping):
        console.print(Text(f"Total: {total_words(shopping)}", style="bold"))
    for line in shopping.cloths:
        told = cloth_words(line)
        if told.notes:
            console.print(Text(f"\n{told.name}", style="bold"))
        for heading, words in told.notes:
            console.print(Text(f"  {heading}: {words}"))
    console.print(_notions(shopping))
    _print_list(console, "Before you cut", BEFORE_YOU_CUT)
    _print_list(console, "Cautions", shopping.cautions)
    for sentence in finding_words(shopping):
        console.print(Text(sentence, style="bold red"))


def _cloths(shopping: ShoppingList) -> Table:
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    table.add_column("Cloth", style="bold")
    table.add_column("Ask for", style="bold green")
    table.add_column("Bolt")
    priced = bool(shopping.totals)
    if priced:
        table.add_column("Price", justify="right")
        table.add_column("Cost", justify="right", no_wrap=True)
    for line in shopping.cloths:
        told = cloth_words(line)
        cells = [told.name, told.ask, told.bolt, told.price, told.cost]
        table.add_row(*(Text(cell) for cell in (cells if priced else cells[:3])))
    return table


def _notions(shopping: ShoppingList) -> Table:
    table = Table(box=box.SIMPLE_HEAVY, pad_edge=False)
    table.add_column("Notion", style="bold")
    table.add_column("How much", style="bold green")
    table.add_column("Details")
    for line in shopping.notions:
        told = notion_words(line, units_of(shopping))
        table.add_row(*(Text(cell) for cell in (told.name, told.amount, told.detail)))
    return table


def _print_list(console: Console, heading: str, sentences: Sequence[str]) -> None:
    if sentences:
        console.print(Text(heading, style="bold"))
    for sentence in sentences:
        console.print(Text(f"- {sentence}"))
