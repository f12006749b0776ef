"""What a comparison of bolts means for the person at the counter, in a few sentences."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from nesting.answers.compare import CompareRow
from nesting.answers.rows import money
from nesting.cloth.bolt import Bolt
from nesting.languages import ENGLISH, Words
from nesting.lay import LayResult
from pieces.measures.format import format_both
from pieces.measures.price import Price
from pieces.measures.widths import format_width

Laid = tuple[Bolt, LayResult]


def advice(rows: Sequence[CompareRow], words: Words = ENGLISH) -> tuple[str, ...]:
    """Return what to do with a comparison: one sentence for each thing worth knowing.

    Which bolt needs less and by how much, what nap costs on each width, which bolt is cheapest,
    and which bolts the garment does not go on. Bolts with and without nap are never weighed
    against each other as if one could choose: the cloth decides.
    """
    laid = [(row.request.bolt, row.result) for row in rows if row.result is not None]
    refused = [row.request.bolt for row in rows if row.result is None]
    if not laid:
        return (
            words.say(
                "The garment goes on none of these bolts; look for a wider one, or divide the "
                "piece that is too wide by a seam."
            ),
        )
    told = _Told(words)
    sentences = [*told.about_widths(laid), *told.about_nap(laid)]
    if not sentences:
        bolt, result = laid[0]
        length = told.length(bolt, result.shop_length_mm)
        sentences.append(
            words.say("Ask for {length} of {bolts}.", length=length, bolts=told.bolts([bolt]))
        )
    if len(_currencies(laid)) > 1:
        sentences.append(
            words.say("The prices are in different currencies, so costs are not compared.")
        )
    if refused:
        sentences.append(words.say("It does not go on {bolts}.", bolts=told.bolts(refused)))
    return tuple(sentences)


@dataclass(frozen=True)
class _Told:
    """Makes the sentences in one language."""

    words: Words

    def about_widths(self, laid: list[Laid]) -> Iterator[str]:
        """Say for each kind of cloth which bolt needs least, and which is cheapest."""
        compare_costs = len(_currencies(laid)) == 1
        naps = list(dict.fromkeys(bolt.nap for bolt, _ in laid))
        for nap in naps:
            group = [(bolt, result) for bolt, result in laid if bolt.nap is nap]
            clauses = [*self.shortest(group), *(self.cheapest(group) if compare_costs else ())]
            if not clauses:
                continue
            told = self.words.joined(";", *clauses)
            if len(naps) > 1:
                told = (
                    self.words.say("with nap {clauses}", clauses=told)
                    if nap
                    else self.words.say("without nap {clauses}", clauses=told)
                )
            yield f"{told[:1].upper()}{told[1:]}."

    def shortest(self, group: list[Laid]) -> Iterator[str]:
        """Say which width needs least, and how much less than the one that needs most."""
        if len(_widths([bolt for bolt, _ in group])) < 2:
            return
        best, worst = _ends([(result.shop_length_mm, bolt) for bolt, result in group])
        lengths = [result.shop_length_mm for _, result in group]
        least, most = min(lengths), max(lengths)
        length = self.length(best[0], least)
        if least == most:
            yield self.words.say(
                "{bolts} need the same: {length}", bolts=self.bolts(best), length=length
            )
            return
        yield self.words.say_many(
            "{bolts} needs {length}, {less} less than {others}",
            "{bolts} need {length}, {less} less than {others}",
            len(_widths(best)),
            bolts=self.bolts(best),
            length=length,
            less=self.words.figures(format_both(most - least, best[0].units)),
            others=self.bolts(worst),
        )

    def cheapest(self, group: list[Laid]) -> Iterator[str]:
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
            cost = self.money(price, min(costs))
            yield self.words.say("all cost the same: {cost}", cost=cost)
            return
        told_apart = len(_widths([bolt for _, bolt in priced])) == len(priced)
        named = self.bolts if told_apart else self.bolts_by_price
        best, _ = _ends([(result.shop_length_mm, bolt) for bolt, result in group])
        is_best = told_apart and cheap == best and len(best) == 1
        yield self.words.say_many(
            "{bolts} is cheapest at {cost}, {less} less than {others}",
            "{bolts} are cheapest at {cost}, {less} less than {others}",
            len(cheap),
            bolts=self.words.say("it") if is_best else named(cheap),
            cost=self.money(price, min(costs)),
            less=self.money(price, max(costs) - min(costs)),
            others=named(dear),
        )

    def about_nap(self, laid: list[Laid]) -> Iterator[str]:
        """Say for each bolt that was laid both ways how much more its nap asks for."""
        plain = {bolt: result for bolt, result in laid if not bolt.nap}
        costs = []
        for bolt, result in laid:
            other = plain.get(replace(bolt, nap=False))
            if not bolt.nap or other is None:
                continue
            more_mm = result.shop_length_mm - other.shop_length_mm
            bolts = self.bolts([bolt])
            costs.append(
                self.words.say(
                    "{length} more on {bolts}", length=self.length(bolt, more_mm), bolts=bolts
                )
                if more_mm > 0.0
                else self.words.say("nothing on {bolts}", bolts=bolts)
            )
        if costs:
            yield self.words.say("Nap costs {amounts}.", amounts=self.joined(costs))

    def bolts(self, bolts: list[Bolt]) -> str:
        """Return bolts by their widths, with the article."""
        widths = [self.words.figures(width) for width in _widths(bolts)]
        return self.words.say_many(
            "the {widths} bolt", "the {widths} bolts", len(widths), widths=self.joined(widths)
        )

    def bolts_by_price(self, bolts: list[Bolt]) -> str:
        """Return bolts by their widths and prices, with the article."""
        told = [
            self.words.say(
                "{width} bolt at {price}",
                width=self.words.figures(format_width(bolt.width_mm, bolt.units)),
                price=self.words.figures(str(bolt.price)),
            )
            for bolt in bolts
        ]
        return self.words.say("the {bolts}", bolts=self.joined(told))

    def length(self, bolt: Bolt, length_mm: float) -> str:
        """Return a length that is to be bought, in the units of a bolt."""
        return self.words.figures(format_both(length_mm, bolt.units, up=True))

    def money(self, price: Price | None, cost: Any) -> str:
        """Return a cost with its currency."""
        return self.words.figures(money(price, cost))

    def joined(self, told: list[str]) -> str:
        """Return a list as it is read out."""
        if len(told) == 1:
            return told[0]
        return self.words.say("{most} and {last}", most=", ".join(told[:-1]), last=told[-1])


def _ends(measured: Sequence[tuple[Any, Bolt]]) -> tuple[list[Bolt], list[Bolt]]:
    """Return the bolts that measure least, and those that measure most."""
    least, most = min(size for size, _ in measured), max(size for size, _ in measured)
    return (
        [bolt for size, bolt in measured if size == least],
        [bolt for size, bolt in measured if size == most],
    )


def _currencies(laid: list[Laid]) -> set[str]:
    return {bolt.price.currency for bolt, _ in laid if bolt.price is not None}


def _widths(bolts: list[Bolt]) -> list[str]:
    return list(dict.fromkeys(format_width(bolt.width_mm, bolt.units) for bolt in bolts))
