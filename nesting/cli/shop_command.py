"""``nesting shop``: everything to buy for a garment, or for several."""

# ruff: noqa: PLC0415 - numba, shapely and matplotlib load only when there is something to lay
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nesting.cli.options import Effort, OptionError, takes
from nesting.cli.outputs import check_outputs, write_together
from nesting.cli.shop_options import ShopTyped

if TYPE_CHECKING:
    from nesting.answers.shopping.shopping import ShoppingList, ShoppingRequest


@takes(ShopTyped)
def shop_command(typed: ShopTyped) -> int:
    """List all there is to buy: every cloth from its own bolt, and the notions."""
    check_outputs(typed, {"csv": (".csv",), "markdown": (".md",), "pdf": (".pdf",)})
    from nesting.answers.shopping.shopping import cloths_needed, shop
    from nesting.answers.shopping.shopping_tables import shopping_row
    from nesting.cli import report
    from nesting.cli.progress import watching
    from nesting.cli.shop_report import print_shopping
    from nesting.languages import words_of

    request, notes = _request(typed)
    try:
        needs = cloths_needed(request)
    except ValueError as problem:
        raise OptionError(f"--bolt: {problem}") from problem
    report.note((*notes, *_unused(request, {need.name for need in needs})))
    bolts = tuple(request.choices[need.name].bolt for need in needs)
    with watching(bolts, quiet=typed.json, only_fills=typed.effort is Effort.QUICK) as watch:
        shopping = shop(request, progress=watch.row)
    written = _write(typed, shopping)
    report.note(report.stop_note([line.result for line in shopping.cloths]))
    if typed.json:
        report.print_json(shopping_row(shopping))
    else:
        print_shopping(shopping, words_of(typed.language.value))
        report.print_written(written)
    findings = [finding for line in shopping.cloths for finding in line.result.findings]
    return 1 if report.has_errors(findings) else 0


def _request(typed: ShopTyped) -> "tuple[ShoppingRequest, list[str]]":
    """Return what was asked, and what the person should hear about the pattern."""
    from nesting.answers.shopping.shopping import ShoppingRequest
    from nesting.cli.asking import checked_notes, only_one, search_of
    from nesting.cli.bolt_words import read_also, read_bolts
    from nesting.marker.cut_list import Selection
    from pieces.sheet.pattern_file import read_pattern

    pattern = read_pattern(typed.pattern)
    notes = checked_notes(pattern, typed.pattern)
    view = typed.view or only_one("--view", "views", pattern, [view.name for view in pattern.views])
    size = typed.size or only_one("--size", "sizes", pattern, pattern.sizes)
    first = Selection(view, size, typed.garments)
    selections = (first, *(read_also(text) for text in typed.also or ()))
    for one in selections:
        pattern.view(one.view), pattern.size(one.size)
    cloths = [cloth.name for cloth in pattern.cloths]
    request = ShoppingRequest(
        pattern=pattern,
        selections=selections,
        choices=read_bolts(typed.bolt or (), cloths),
        search=search_of(typed),
        thread_ratio=typed.thread_ratio,
        neaten_ratio=typed.neaten_ratio,
        thread_waste=_waste(typed.thread_waste),
    )
    return request, notes


def _waste(text: str) -> float:
    try:
        percent = float(text.strip().removesuffix("%").replace(",", "."))
    except ValueError:
        percent = float("nan")
    if not text.strip().endswith("%") or not 0.0 <= percent <= 100.0:
        raise OptionError(f'--thread-waste: "{text}" is not from 0% to 100%; write it like 15%')
    return percent / 100.0


def _unused(request: "ShoppingRequest", used: set[str]) -> list[str]:
    return [
        f"these garments take no {name}; its bolt is left out"
        for name in request.choices
        if name not in used
    ]


def _write(typed: ShopTyped, shopping: "ShoppingList") -> list[Path]:
    """Write the files asked for, all or none, and return their names."""
    from nesting.answers.shopping.shopping_tables import shopping_csv, shopping_markdown
    from nesting.languages import words_of
    from pieces.files.atomic_file import write_text_atomically

    words = words_of(typed.language.value)
    writers: dict[Path, Callable[[Path], None]] = {}
    if typed.csv is not None:
        text = shopping_csv(shopping)
        writers[typed.csv] = partial(write_text_atomically, text=text)
    if typed.markdown is not None:
        text = shopping_markdown(shopping, words)
        writers[typed.markdown] = partial(write_text_atomically, text=text)
    if typed.pdf is not None:
        from nesting.answers.shopping.shopping_page import shopping_scene
        from nesting.draw import save_scene

        writers[typed.pdf] = partial(save_scene, shopping_scene(shopping, words))
    write_together(writers)
    return list(writers)
