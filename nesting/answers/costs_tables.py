"""What each rule costs, as rows of plain values, in sentences and as the bars of a picture."""

from decimal import Decimal

from nesting.answers.costs import Explanation, Rule, RulePrice
from nesting.answers.rows import Row, money
from nesting.cloth.spread import SPREAD_WORDS
from nesting.cloth.words import cloth_name_words, repeat_words, shrinkage_words
from nesting.draw.scene import Scene
from nesting.draw.waterfall_scene import Bar, BarKind, WaterfallWords, waterfall_scene
from nesting.languages import ENGLISH, Words, marked
from nesting.lay import LayRequest
from nesting.reckoning.panels import half_yard_extra_mm, one_repeat_extra_mm
from pieces.measures.format import format_both, format_length
from pieces.measures.widths import format_width

RULE_NAMES = {
    Rule.ROUNDING: marked("Shop rounding"),
    Rule.ENDS: marked("End allowance"),
    Rule.SHRINKAGE: marked("Shrinkage"),
    Rule.GAP: marked("Gap"),
    Rule.FLAWS: marked("Flaws"),
    Rule.REPEAT: marked("Repeat"),
    Rule.NAP: marked("Nap"),
    Rule.SPREAD: marked("Spread"),
    Rule.SELVAGE: marked("Selvage"),
}
_WITHOUT = {
    Rule.ENDS: marked("Without the end allowance and all else the same, ask for {less} less."),
    Rule.SHRINKAGE: marked("Without the shrinkage and all else the same, ask for {less} less."),
    Rule.GAP: marked("Without the gap and all else the same, ask for {less} less."),
    Rule.FLAWS: marked("Without the flaws and all else the same, ask for {less} less."),
    Rule.REPEAT: marked("Without the repeat and all else the same, ask for {less} less."),
    Rule.NAP: marked("Without the nap and all else the same, ask for {less} less."),
    Rule.SPREAD: marked("Laid open and all else the same, ask for {less} less."),
    Rule.SELVAGE: marked("Without the selvage and all else the same, ask for {less} less."),
}
NOTHING_MM = 0.05
"""A length below this is told as nothing: it is rounding of the search."""


def rule_words(rule: Rule, request: LayRequest, words: Words = ENGLISH) -> str:
    """Return what a rule says of this cloth, in a few words."""
    bolt, rules = request.bolt, request.rules
    units = bolt.units

    def width(width_mm: float) -> str:
        return words.figures(format_width(width_mm, units))

    step_mm = bolt.shop_step_mm
    step = "" if step_mm is None else words.figures(format_length(step_mm, units))
    repeat = repeat_words(bolt, words)
    told = {
        Rule.ROUNDING: words.say("steps of {length}", length=step) if step else "",
        Rule.ENDS: words.say("{width} beyond the last piece", width=width(bolt.end_allowance_mm)),
        Rule.SHRINKAGE: shrinkage_words(bolt, words),
        Rule.GAP: words.say("{width} between pieces", width=width(rules.gap_mm)),
        Rule.FLAWS: words.say("{count} to keep off", count=len(bolt.flaws)),
        Rule.REPEAT: words.say("{repeat}, and one to begin on", repeat=repeat)
        if bolt.extra_repeat_mm
        else repeat,
        Rule.NAP: words.say("all tops one way"),
        Rule.SPREAD: words.say(SPREAD_WORDS[rules.spread]),
        Rule.SELVAGE: words.say("{width} on each side", width=width(bolt.selvage_mm)),
    }
    return told[rule]


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


def length_words(
    explanation: Explanation, length_mm: float, words: Words = ENGLISH, *, up: bool = False
) -> str:
    """Return a length in both systems, or a word for none at all; ``up`` for one to ask for."""
    if length_mm < NOTHING_MM:
        return words.say("nothing")
    return words.figures(format_both(length_mm, explanation.request.bolt.units, up=up))


def cost_words(explanation: Explanation, cost: Decimal | None, words: Words = ENGLISH) -> str:
    """Return money in words, or nothing without a price."""
    if cost is None:
        return ""
    return words.figures(money(explanation.request.bolt.price, cost))


def explain_bars(explanation: Explanation, words: Words = ENGLISH) -> tuple[Bar, ...]:
    """Return the bars of a waterfall: bare cloth, then each rule on top of it, then the whole."""
    end_mm = explanation.bare_mm
    bars = [
        Bar(
            BarKind.BASE,
            words.say("Bare cloth"),
            words.say("outlines and grain alone"),
            0.0,
            end_mm,
            length_words(explanation, end_mm, words),
            cost_words(explanation, explanation.bare_cost, words),
        )
    ]
    for one in reversed(explanation.prices):
        start_mm, end_mm = end_mm, end_mm + one.adds_mm
        is_nothing = one.adds_mm < NOTHING_MM
        bars.append(
            Bar(
                BarKind.SHARE,
                words.say(RULE_NAMES[one.rule]),
                rule_words(one.rule, explanation.request, words),
                start_mm,
                end_mm,
                ("" if is_nothing else "+ ") + length_words(explanation, one.adds_mm, words),
                "" if is_nothing else cost_words(explanation, one.adds_cost, words),
            )
        )
    asked_mm = explanation.asked_mm
    price = explanation.request.bolt.price
    total = None if price is None else price.cost(asked_mm)
    length = length_words(explanation, asked_mm, words, up=True)
    cost = cost_words(explanation, total, words)
    return (*bars, Bar(BarKind.TOTAL, words.say("Ask for"), "", 0.0, asked_mm, length, cost))


def explain_sentences(explanation: Explanation, words: Words = ENGLISH) -> tuple[str, ...]:
    """Return which single rule would save a step of the shop if it were away."""
    saving = [
        one
        for one in explanation.prices
        if one.rule in _WITHOUT and explanation.asked_mm - one.shop_without_mm >= NOTHING_MM
    ]
    if not saving:
        return (
            words.say(
                "No single rule costs a step of the shop: without any one of them ask for as much."
            ),
        )
    saving.sort(key=lambda one: one.shop_without_mm)
    return tuple(_saving_words(explanation, one, words) for one in saving)


def _saving_words(explanation: Explanation, one: RulePrice, words: Words) -> str:
    """Return what is asked for less without one rule, and the money that saves."""
    less = length_words(explanation, explanation.asked_mm - one.shop_without_mm, words)
    told = words.say(_WITHOUT[one.rule], less=less)
    price = explanation.request.bolt.price
    if price is None or one.cost_without is None:
        return told
    saved = cost_words(explanation, price.cost(explanation.asked_mm) - one.cost_without, words)
    money_too = words.say("That saves {cost}.", cost=saved)
    return f"{told} {money_too}"


def rule_of_thumb_sentences(explanation: Explanation, words: Words = ENGLISH) -> tuple[str, ...]:
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
    told = words.say(
        "Matching takes {more} more here; the rule of half a yard says {half_yard}, the rule of "
        "one repeat {one_repeat}.",
        more=length_words(explanation, adds_mm, words),
        half_yard=length_words(explanation, half_yard_extra_mm(), words),
        one_repeat=length_words(explanation, one_repeat_extra_mm(repeat_mm), words),
    )
    return (told,)


def explain_scene(explanation: Explanation, words: Words = ENGLISH) -> Scene:
    """Return the waterfall of what makes up the length to ask for."""
    request = explanation.request
    bolt = request.bolt
    garments = " + ".join(
        words.say("view {view}, size {size}", view=one.view, size=one.size)
        for one in request.selections
    )
    width = words.figures(format_width(bolt.width_mm, bolt.units))
    around = WaterfallWords(
        title=words.say("{pattern}: what each rule costs", pattern=request.pattern.name),
        subtitle=words.say(
            "{garments}, {cloth}, {width} wide",
            garments=garments,
            cloth=cloth_name_words(request.cloth, words),
            width=width,
        ),
        headings=(words.say("what the cloth has to obey"), words.say("takes"), words.say("costs")),
        foot=(
            words.say(
                "Every rule was laid anew, on top of those above it; end and rounding are sums."
            ),
            *explain_sentences(explanation, words),
            *rule_of_thumb_sentences(explanation, words),
        ),
    )
    return waterfall_scene(explain_bars(explanation, words), around, bolt.units)
