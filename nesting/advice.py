"""What a comparison of bolts means for the person at the counter, in a few sentences."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from nesting.bolt import Bolt
from nesting.compare import CompareRow
from nesting.lay import LayResult
from nesting.tables import money, nap_word
from pieces.lengths import format_both
from pieces.widths import format_width

Laid = tuple[Bolt, LayResult]


def advice(rows: Sequence[CompareRow]) -> tuple[str, ...]:
    """Return what to do with a comparison: one sentence for each thing worth knowing.

    Which bolt needs less and by how much, what nap costs on each width, which bolt is cheapest,
    and which bolts the garment does not go on. Bolts with and without nap are never weighed
    against each other as if one could choose: the cloth decides.
    """
    laid = [(row.request.bolt, row.result) for row in rows if row.result is not None]
    refused = [row.request.bolt for row in rows if row.result is None]
    if not laid:
        return (
            "The garment goes on none of these bolts; look for a wider one, or divide the piece "
            "that is too wide by a seam.",
        )
    sentences = [*_about_widths(laid), *_about_nap(laid)]
    if not sentences:
        bolt, result = laid[0]
        sentences.append(f"Ask for {_words(bolt, result.shop_length_mm)} of the {_named(bolt)}.")
    if len(_currencies(laid)) > 1:
        sentences.append("The prices are in different currencies, so costs are not compared.")
    if refused:
        sentences.append(f"It does not go on the {_bolts(refused)}.")
    return tuple(sentences)


def _about_widths(laid: list[Laid]) -> Iterator[str]:
    """Say for each kind of cloth which bolt needs least, and which is cheapest."""
    compare_costs = len(_currencies(laid)) == 1
    for start, group in _by_nap(laid):
        clauses = [*_shortest(group), *(_cheapest(group) if compare_costs else ())]
        if clauses:
            sentence = f"{start}{'; '.join(clauses)}."
            yield sentence[:1].upper() + sentence[1:]


def _shortest(group: list[Laid]) -> Iterator[str]:
    """Say which width needs least, and how much less than the one that needs most."""
    if len(_widths([bolt for bolt, _ in group])) < 2:
        return
    best, worst = _ends([(result.shop_length_mm, bolt) for bolt, result in group])
    lengths = [result.shop_length_mm for _, result in group]
    least, most = min(lengths), max(lengths)
    words = _words(best[0], least)
    if least == most:
        yield f"the {_bolts(best)} need the same: {words}"
        return
    yield (
        f"the {_bolts(best)} {'needs' if len(_widths(best)) == 1 else 'need'} {words}, "
        f"{_words(best[0], most - least)} less than the {_bolts(worst)}"
    )


def _cheapest(group: list[Laid]) -> Iterator[str]:
    """Say which bolt is cheapest, and how much less it costs than the dearest."""
    priced = [
        (bolt.price.cost(result.shop_length_mm), bolt)
        for bolt, result in group
        if bolt.price is not None
    ]
    if len(priced) < 2:
        return
    cheap, dear = _ends(priced)
    costs, price = [cost for cost, _ in priced], cheap[0].price
    if min(costs) == max(costs):
        yield f"all cost the same: {money(price, min(costs))}"
        return
    told_apart = len(_widths([bolt for _, bolt in priced])) == len(priced)
    named = _bolts if told_apart else _bolts_by_price
    best, _ = _ends([(result.shop_length_mm, bolt) for bolt, result in group])
    subject = "it" if told_apart and cheap == best and len(best) == 1 else f"the {named(cheap)}"
    yield (
        f"{subject} {'is' if len(cheap) == 1 else 'are'} cheapest at {money(price, min(costs))}, "
        f"{money(price, max(costs) - min(costs))} less than the {named(dear)}"
    )


def _ends(measured: Sequence[tuple[Any, Bolt]]) -> tuple[list[Bolt], list[Bolt]]:
    """Return the bolts that measure least, and those that measure most."""
    least, most = min(size for size, _ in measured), max(size for size, _ in measured)
    return (
        [bolt for size, bolt in measured if size == least],
        [bolt for size, bolt in measured if size == most],
    )


def _currencies(laid: list[Laid]) -> set[str]:
    return {bolt.price.currency for bolt, _ in laid if bolt.price is not None}


def _about_nap(laid: list[Laid]) -> Iterator[str]:
    """Say for each bolt that was laid both ways how much more its nap asks for."""
    plain = {bolt: result for bolt, result in laid if not bolt.nap}
    costs = []
    for bolt, result in laid:
        other = plain.get(replace(bolt, nap=False))
        if bolt.nap and other is not None:
            more_mm = result.shop_length_mm - other.shop_length_mm
            amount = f"{_words(bolt, more_mm)} more" if more_mm > 0.0 else "nothing"
            costs.append(f"{amount} on the {_named(bolt)}")
    if costs:
        yield f"Nap costs {_joined(costs)}."


def _by_nap(laid: list[Laid]) -> Iterator[tuple[str, list[Laid]]]:
    """Return the rows of each kind of cloth, and how to begin a sentence about them."""
    naps = list(dict.fromkeys(bolt.nap for bolt, _ in laid))
    for nap in naps:
        start = f"{nap_word(nap=nap)} nap " if len(naps) > 1 else ""
        yield start, [(bolt, result) for bolt, result in laid if bolt.nap is nap]


def _bolts(bolts: list[Bolt]) -> str:
    widths = _widths(bolts)
    return f"{_joined(widths)} bolt" + ("" if len(widths) == 1 else "s")


def _bolts_by_price(bolts: list[Bolt]) -> str:
    return _joined([f"{_named(bolt)} at {bolt.price}" for bolt in bolts])


def _widths(bolts: list[Bolt]) -> list[str]:
    return list(dict.fromkeys(format_width(bolt.width_mm, bolt.units) for bolt in bolts))


def _named(bolt: Bolt) -> str:
    return f"{format_width(bolt.width_mm, bolt.units)} bolt"


def _words(bolt: Bolt, length_mm: float) -> str:
    return format_both(length_mm, bolt.units)


def _joined(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
