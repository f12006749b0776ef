"""Whether it fits, as plain values for JSON and in words for people."""

from collections.abc import Iterator, Sequence

from nesting.cut_list import CutItem
from nesting.fits import FitsAnswer, Way
from nesting.sharing import Share, Sharing
from nesting.tables import Row, finding_row, finished_pieces, nap_word
from pieces.lengths import UnitSystem, format_both
from pieces.widths import format_width_both


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


def answer_words(answer: FitsAnswer) -> str:
    """Return the answer in one sentence."""
    units, shares = answer.request.owned[0].units, answer.sharing.shares
    used = [share for share in shares if share.result is not None]
    if answer.fits and len(used) == 1:
        where = "" if len(shares) == 1 else f", all of it on {owned_words(used[0])}"
        return f"Yes, it fits{where}. {format_both(used[0].spare_mm, units)} is left."
    if answer.fits:
        return f"Yes, it fits, shared out over {len(used)} lengths of cloth."
    lacking = answer.sharing.lacking_mm
    if lacking is None:
        return "No, it does not fit: a piece is wider than the cloth."
    if len(shares) == 1:
        return f"No, it does not fit: {format_both(lacking, units)} is missing."
    return (
        f"No, it does not fit: another {format_both(lacking, units)} of one of these widths "
        "would take what is left over."
    )


def owned_words(share: Share) -> str:
    """Return a length of cloth, such as ``"2 1/2 yd (2.29 m) of 54 in (137.2 cm)"``."""
    bolt = share.bolt
    length = format_both(bolt.length_left_mm or 0.0, bolt.units)
    return f"{length} of {format_width_both(bolt.width_mm, bolt.units)}"


def pieces_words(items: Sequence[CutItem]) -> str:
    """Return pieces with their counts, such as ``"2 Front M; 1 Back M"``, or ``"nothing"``."""
    return "; ".join(f"{item.count} {item.title} {item.size}" for item in items) or "nothing"


def way_words(way: Way, units: UnitSystem) -> str:
    """Return what came of a way that was tried, in one sentence."""
    return "; ".join(_way_parts(way, units)) + "."


def _way_parts(way: Way, units: UnitSystem) -> Iterator[str]:
    if way.helps:
        yield f"{way.sentence[:1].upper()}{way.sentence[1:]}: it fits"
        yield f"{format_both(_spare_mm(way.sharing), units)} is left"
        if way.condition:
            yield way.condition
        return
    lacking = way.sharing.lacking_mm
    missing = "a piece is too wide" if lacking is None else f"{format_both(lacking, units)} missing"
    yield f"{way.sentence[:1].upper()}{way.sentence[1:]}: not enough"
    yield missing
