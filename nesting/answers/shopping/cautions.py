"""Cautions for clothing for children: cords, sleepwear and small things.

They remind, and they promise nothing: the rules they name bind those who sell, differ from country
to country and change. Sources: US Consumer Product Safety Commission, questions and answers on
drawstrings (16 CFR 1120, ASTM F1816) and on children's sleepwear (16 CFR 1615 and 1616); Finnish
Safety and Chemicals Agency, cords and drawstrings on children's clothing (EN 14682), which speaks
to parents who sew as well; 16 CFR 1501.3, under which garment buttons are no banned small part.
"""

from pieces.pattern import NotionKind, Pattern
from pieces.wearer import ChildWearer, GarmentKind

EU_YOUNG_YEARS, EU_OLD_YEARS = 7, 14
"""EN 14682: stricter to age 7 (134 cm), milder from 7 to 14."""
US_NECK_YEARS, US_WAIST_YEARS = (2, 12), (2, 16)
"""US sizes 2T to 12 and 2T to 16, read as ages: common practice."""
US_SLEEPWEAR_YEARS = (0, 14)
"""US sizes 0 to 6X and 7 to 14, read as ages: common practice."""
SMALL_PARTS_YEARS = 3

LOCAL_RULES = (
    "These are cautions, no legal advice: rules differ by country and change, so ask for those "
    "where you live, above all before you sell or give away what you sew."
)


def child_cautions(pattern: Pattern, view: str) -> tuple[str, ...]:
    """Return what to mind when a pattern is for children; nothing for any other pattern.

    Parameters
    ----------
    pattern
        Whose :attr:`~pieces.pattern.Pattern.child` says of which age and what it is.
    view
        The version sewn: its notions tell whether it has a cord.

    Raises
    ------
    UnknownNameError
        If the pattern has no such view.
    """
    notions = pattern.notions_for(view)
    child = pattern.child
    if child is None:
        return ()
    kinds = {notion.kind for notion in notions}
    told = [*_about_cords(child, has_cord=bool(kinds & {NotionKind.CORD, NotionKind.RIBBON}))]
    told += _about_sleepwear(child)
    if child.youngest_years < SMALL_PARTS_YEARS:
        told.append(
            "Under 3 years: buttons, beads and other small things can choke. Sew them on firmly, "
            "pull to test them, or use none."
        )
    return (*told, LOCAL_RULES)


def _about_cords(child: ChildWearer, *, has_cord: bool) -> list[str]:
    if child.garment is GarmentKind.NOT_CLOTHING:
        if not has_cord:
            return []
        return ["Long cords can catch and strangle: keep them short, and away from small children."]
    told = ["Cords can strangle. Leave them out of hood and neck of clothing for children."]
    if has_cord:
        told.append(
            "This view asks for cord or ribbon: at hood or neck, sew an elastic or a snap instead."
        )
    if child.youngest_years < EU_YOUNG_YEARS:
        told.append(
            "To age 7 (134 cm), EN 14682 of the European Union has no cords at hood or neck at "
            "all, and no ties of a halter neck."
        )
    if child.oldest_years >= EU_YOUNG_YEARS and child.youngest_years <= EU_OLD_YEARS:
        told.append("From 7 to 14 years, EN 14682 has no cords with free ends at hood or neck.")
    if child.garment is GarmentKind.UPPER_OUTERWEAR:
        told += _about_us_drawstrings(child)
    return told


def _about_us_drawstrings(child: ChildWearer) -> list[str]:
    told = []
    if _overlaps(child, US_NECK_YEARS):
        told.append(
            "Sizes 2T to 12: in the United States drawstrings at hood or neck of upper outerwear "
            "are taken for a substantial hazard (16 CFR 1120)."
        )
    if _overlaps(child, US_WAIST_YEARS):
        told.append(
            "Sizes 2T to 16: strings at waist or hem of upper outerwear may show at most 3 in "
            "(7.5 cm) with the garment spread flat, have no knots or toggles at free ends, and are "
            "tacked down at the middle if they are one piece."
        )
    return told


def _about_sleepwear(child: ChildWearer) -> list[str]:
    if child.garment is not GarmentKind.SLEEPWEAR:
        return []
    told = ["Sleepwear can catch fire: choose tight-fitting, and keep it away from open flames."]
    if _overlaps(child, US_SLEEPWEAR_YEARS):
        told.append(
            "Sizes 0 to 14: in the United States sleepwear must pass a test of flame resistance "
            "(16 CFR 1615 to size 6X, 1616 for 7 to 14), with exceptions for tight-fitting "
            "garments and those for infants to 9 months; ask the shop whether a cloth passes it."
        )
    return told


def _overlaps(child: ChildWearer, years: tuple[int, int]) -> bool:
    return child.youngest_years <= years[1] and child.oldest_years >= years[0]
