"""Whether it fits, as plain values for JSON and in words for people."""

from collections.abc import Iterator, Sequence

from nesting.answers.fits.allocation import Share, Sharing
from nesting.answers.fits.fits import FitsAnswer, Way
from nesting.answers.rows import Row, finding_row, finished_pieces, nap_word
from nesting.cloth.spread import SPREAD_WORDS, Spread
from nesting.languages import ENGLISH, Words
from nesting.marker.cut_list import CutItem
from pieces.measures.format import format_both
from pieces.measures.units import UnitSystem
from pieces.measures.widths import format_width, format_width_both


def fits_row(answer: FitsAnswer) -> Row:
    """Return the answer as plain values; lengths are mm of unwashed cloth."""
    lay = answer.request.lay
    chosen = lay.selections
    return {
        "pattern": lay.pattern.name,
        "view": ", ".join(dict.fromkeys(one.view for one in chosen)),
        "size": ", ".join(dict.fromkeys(one.size for one in chosen)),
        "garments": sum(one.garments for one in chosen),
        "cloth": lay.cloth,
        "spread": lay.rules.spread.value,
        "fits": answer.fits,
        "lacking_mm": answer.sharing.lacking_mm,
        "lacking": [dict(vars(one)) for one in answer.sharing.lacking],
        "spread_that_fits": _spread_that_fits(answer),
        "ways_left": answer.ways_left,
        "remnants": [_share_row(share) for share in answer.sharing.shares],
        "left_over": [_piece_row(item) for item in answer.sharing.left_over],
        "ways": [_way_row(way) for way in answer.ways],
    }


def _share_row(share: Share) -> Row:
    bolt, result = share.bolt, share.result
    return {
        "width_mm": bolt.width_mm,
        "usable_width_mm": bolt.usable_width_mm,
        "length_mm": bolt.length_left_mm,
        "nap": nap_word(nap=bolt.nap),
        "marker_length_mm": 0.0 if result is None else result.marker_length_mm,
        "cut_length_mm": 0.0 if result is None else result.cut_length_mm,
        "spare_mm": share.spare_mm,
        "utilisation": None if result is None else result.utilisation,
        "placed": 0 if result is None else finished_pieces(result.marker),
        "pieces": [] if result is None else [_piece_row(item) for item in result.marker.items],
        "findings": [] if result is None else [finding_row(one) for one in result.findings],
    }


def _piece_row(item: CutItem) -> Row:
    return {"piece": item.title, "size": item.size, "count": item.count}


def _way_row(way: Way) -> Row:
    return {
        "code": way.code.value,
        "sentence": way.sentence,
        "condition": way.condition,
        "helps": way.helps,
        "lacking_mm": way.sharing.lacking_mm,
        "spare_mm": _spare_mm(way.sharing) if way.helps else None,
    }


def _spare_mm(sharing: Sharing) -> float:
    return sum(share.spare_mm for share in sharing.shares)


def _spread_that_fits(answer: FitsAnswer) -> str | None:
    spread = other_spread(answer)
    return None if spread is None else spread.value


def other_spread(answer: FitsAnswer) -> Spread | None:
    """Return the way of spreading that it fits in, if that is not the one asked for."""
    asked = answer.request.lay.rules.spread
    laid = [one.result.marker.rules.spread for one in answer.sharing.shares if one.result]
    if not answer.fits or asked is Spread.BEST or all(one is asked for one in laid):
        return None
    return next(one for one in laid if one is not asked)


def answer_words(answer: FitsAnswer, words: Words = ENGLISH) -> str:
    """Return the answer in one sentence or two."""
    told = _yes_or_no(answer, words)
    spread = other_spread(answer)
    if spread is None:
        return told
    how = words.say("Not as you asked, but {spread}.", spread=words.say(SPREAD_WORDS[spread]))
    return f"{told} {how}"


def _yes_or_no(answer: FitsAnswer, words: Words) -> str:
    units, shares = answer.request.owned[0].units, answer.sharing.shares
    used = [share for share in shares if share.result is not None]
    if answer.fits and len(used) == 1:
        left = words.figures(format_both(used[0].spare_mm, units))
        if len(shares) == 1:
            return words.say("Yes, it fits. {left} is left.", left=left)
        where = owned_words(used[0], words)
        return words.say(
            "Yes, it fits, all of it on {where}. {left} is left.", where=where, left=left
        )
    if answer.fits:
        return words.say("Yes, it fits, shared out over {count} lengths of cloth.", count=len(used))
    lacking = answer.sharing.lacking
    if not lacking:
        return words.say("No, it does not fit: a piece is wider than the cloth.")
    if len(shares) == 1:
        missing = words.figures(format_both(lacking[0].length_mm, units, up=True))
        return words.say("No, it does not fit: {missing} is missing.", missing=missing)
    each = [
        words.say(
            "{length} of {width}",
            length=words.figures(format_both(one.length_mm, units, up=True)),
            width=words.figures(format_width(one.width_mm, units)),
        )
        for one in lacking
    ]
    return words.say(
        "No, it does not fit: what is left over would take another {lengths}.",
        lengths=words.say(" or ").join(each),
    )


def owned_words(share: Share, words: Words = ENGLISH) -> str:
    """Return a length of cloth, such as ``"2 1/2 yd (2.29 m) of 54 in (137.2 cm)"``."""
    bolt = share.bolt
    length = format_both(bolt.length_left_mm or 0.0, bolt.units)
    width = format_width_both(bolt.width_mm, bolt.units)
    return words.say(
        "{length} of {width}", length=words.figures(length), width=words.figures(width)
    )


def pieces_words(items: Sequence[CutItem], words: Words = ENGLISH) -> str:
    """Return pieces with their counts, such as ``"2 Front M; 1 Back M"``, or ``"nothing"``."""
    told = "; ".join(f"{item.count} {item.title} {item.size}" for item in items)
    return told or words.say("nothing")


def way_words(way: Way, units: UnitSystem, words: Words = ENGLISH) -> str:
    """Return what came of a way that was tried, in one sentence."""
    return "; ".join(_way_parts(way, units, words)) + "."


def _way_parts(way: Way, units: UnitSystem, words: Words) -> Iterator[str]:
    told = words.say(way.message, **way.values)
    told = f"{told[:1].upper()}{told[1:]}"
    if way.helps:
        yield words.say("{way}: it fits", way=told)
        left = words.figures(format_both(_spare_mm(way.sharing), units))
        yield words.say("{left} is left", left=left)
        if way.condition:
            yield words.say(way.condition)
        return
    yield words.say("{way}: not enough", way=told)
    lacking = way.sharing.lacking_mm
    if lacking is None:
        yield words.say("a piece is too wide")
    else:
        missing = words.figures(format_both(lacking, units, up=True))
        yield words.say("{missing} missing", missing=missing)
