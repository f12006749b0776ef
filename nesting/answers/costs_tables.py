"""What each rule costs, as rows of plain values, in sentences and as the bars of a picture."""

from decimal import Decimal

from nesting.answers.costs import Explanation, Rule, RulePrice
from nesting.answers.rows import Row, money
from nesting.cloth.spread import SPREAD_WORDS
from nesting.cloth.words import repeat_words
from nesting.draw.scene import Scene
from nesting.draw.waterfall_scene import Bar, BarKind, WaterfallWords, waterfall_scene
from nesting.lay import LayRequest
from nesting.reckoning.panels import half_yard_extra_mm, one_repeat_extra_mm
from pieces.measures.format import format_both, format_length
from pieces.measures.widths import format_width

BARE = "bare cloth"
BARE_DETAIL = "outlines and grain alone"
_WITHOUT = {rule: f"Without the {rule.value}" for rule in Rule} | {
    Rule.FLAWS: "Without the flaws",
    Rule.SPREAD: "Laid open",
}
NOTHING_MM = 0.05
"""A length below this is told as nothing: it is rounding of the search."""


def rule_words(rule: Rule, request: LayRequest) -> str:
    """Return what a rule says of this cloth, in a few words."""
    bolt, rules = request.bolt, request.rules
    step_mm = bolt.shop_step_mm
    words = {
        Rule.ROUNDING: "" if step_mm is None else f"steps of {format_length(step_mm, bolt.units)}",
        Rule.ENDS: f"{format_width(bolt.end_allowance_mm, bolt.units)} beyond the last piece",
        Rule.SHRINKAGE: f"{100.0 * bolt.shrink_along:.3g}% along, "
        f"{100.0 * bolt.shrink_across:.3g}% across",
        Rule.GAP: f"{format_width(rules.gap_mm, bolt.units)} between pieces",
        Rule.FLAWS: f"{len(bolt.flaws)} to keep off",
        Rule.REPEAT: repeat_words(bolt),
        Rule.NAP: "all tops one way",
        Rule.SPREAD: SPREAD_WORDS[rules.spread],
        Rule.SELVAGE: f"{format_width(bolt.selvage_mm, bolt.units)} on each side",
    }
    if rule is Rule.REPEAT and bolt.extra_repeat_mm:
        return f"{words[rule]}, and one to begin on"
    return words[rule]


def explain_row(explanation: Explanation) -> Row:
    """Return what each rule costs as plain values; lengths are mm, money only with a price."""
    has_price = explanation.bare_cost is not None
    row: Row = {
        "asked_mm": explanation.asked_mm,
        "bare_mm": explanation.bare_mm,
        "rules": [_price_row(one, has_price=has_price) for one in explanation.prices],
    }
    if explanation.request.bolt.repeat is not None:
        row["rules_of_thumb"] = list(rule_of_thumb_sentences(explanation))
    return row | ({"bare_cost": _number(explanation.bare_cost)} if has_price else {})


def _price_row(one: RulePrice, *, has_price: bool) -> Row:
    row: Row = {
        "rule": one.rule.value,
        "adds_mm": one.adds_mm,
        "alone_mm": one.alone_mm,
        "shop_without_mm": one.shop_without_mm,
    }
    if has_price:
        costs = {"adds_cost": one.adds_cost, "cost_without": one.cost_without}
        row |= {name: _number(cost) for name, cost in costs.items()}
    return row


def _number(cost: Decimal | None) -> float | None:
    return None if cost is None else float(cost)


def length_words(explanation: Explanation, length_mm: float) -> str:
    """Return a length in both systems, or a word for none at all."""
    if length_mm < NOTHING_MM:
        return "nothing"
    return format_both(length_mm, explanation.request.bolt.units)


def cost_words(explanation: Explanation, cost: Decimal | None) -> str:
    """Return money in words, or nothing without a price."""
    return "" if cost is None else money(explanation.request.bolt.price, cost)


def explain_bars(explanation: Explanation) -> tuple[Bar, ...]:
    """Return the bars of a waterfall: bare cloth, then each rule on top of it, then the whole."""
    end_mm = explanation.bare_mm
    bars = [
        Bar(
            BarKind.BASE,
            BARE[:1].upper() + BARE[1:],
            BARE_DETAIL,
            0.0,
            end_mm,
            length_words(explanation, end_mm),
            cost_words(explanation, explanation.bare_cost),
        )
    ]
    for one in reversed(explanation.prices):
        start_mm, end_mm = end_mm, end_mm + one.adds_mm
        is_nothing = one.adds_mm < NOTHING_MM
        bars.append(
            Bar(
                BarKind.SHARE,
                one.rule.value[:1].upper() + one.rule.value[1:],
                rule_words(one.rule, explanation.request),
                start_mm,
                end_mm,
                ("" if is_nothing else "+ ") + length_words(explanation, one.adds_mm),
                "" if is_nothing else cost_words(explanation, one.adds_cost),
            )
        )
    asked_mm = explanation.asked_mm
    price = explanation.request.bolt.price
    total = None if price is None else price.cost(asked_mm)
    told = length_words(explanation, asked_mm), cost_words(explanation, total)
    return (*bars, Bar(BarKind.TOTAL, "Ask for", "", 0.0, asked_mm, *told))


def explain_sentences(explanation: Explanation) -> tuple[str, ...]:
    """Return which single rule would save a step of the shop if it were away."""
    saving = [
        one
        for one in explanation.prices
        if one.rule is not Rule.ROUNDING
        and explanation.asked_mm - one.shop_without_mm >= NOTHING_MM
    ]
    if not saving:
        return (
            "No single rule costs a step of the shop: without any one of them ask for as much.",
        )
    saving.sort(key=lambda one: one.shop_without_mm)
    told = []
    for one in saving:
        less = length_words(explanation, explanation.asked_mm - one.shop_without_mm)
        cost = explanation.request.bolt.price
        saved = (
            ""
            if cost is None or one.cost_without is None
            else (f" and save {money(cost, cost.cost(explanation.asked_mm) - one.cost_without)}")
        )
        told.append(f"{_WITHOUT[one.rule]} and all else the same, ask for {less} less{saved}.")
    return tuple(told)


def rule_of_thumb_sentences(explanation: Explanation) -> tuple[str, ...]:
    """Return what the rules of thumb would have added for the repeat, beside what it takes here.

    One sentence, or none on cloth without a repeat. Sources: always half a yard, *Success With
    Plaids and Stripes*, S. J. Doyle, thriftyfun.com; one repeat on top, sew4home.com. Published
    rules disagree, which is why both are told beside a lay.
    """
    bolt = explanation.request.bolt
    if bolt.repeat is None:
        return ()
    adds_mm = next(one.adds_mm for one in explanation.prices if one.rule is Rule.REPEAT)
    repeat_mm = bolt.repeat.along_mm or bolt.repeat.across_mm or 0.0
    half_yard = length_words(explanation, half_yard_extra_mm())
    one_repeat = length_words(explanation, one_repeat_extra_mm(repeat_mm))
    return (
        f"Matching takes {length_words(explanation, adds_mm)} more here; the rule of half a yard "
        f"says {half_yard}, the rule of one repeat {one_repeat}.",
    )


def explain_scene(explanation: Explanation) -> Scene:
    """Return the waterfall of what makes up the length to ask for."""
    request = explanation.request
    bolt = request.bolt
    garments = " + ".join(f"view {one.view}, size {one.size}" for one in request.selections)
    width = format_width(bolt.width_mm, bolt.units)
    words = WaterfallWords(
        title=f"{request.pattern.name}: what each rule costs",
        subtitle=f"{garments}, {request.cloth}, {width} wide",
        headings=("what the cloth has to obey", "takes", "costs"),
        foot=(
            "Every rule was laid anew, on top of those above it; end and rounding are sums.",
            *explain_sentences(explanation),
            *rule_of_thumb_sentences(explanation),
        ),
    )
    return waterfall_scene(explain_bars(explanation), words, bolt.units)
