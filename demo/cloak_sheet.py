"""The pattern sheet of the hooded cloak: what to cut of which cloth, and what to buy."""

from collections.abc import Callable

from demo import cloak_draft as draft
from demo.assembly import CAUTIONS, cut, drafted_piece, matching, pairs
from demo.drafting import SEAM_MM, Drafted
from demo.measurements import BODIES, SIZES, Body
from pieces.pattern import ClothNeed, Notion, NotionKind, Pattern, View
from pieces.piece import Cut, Piece

_PAIRS = (pairs("shell", 2), pairs("lining", 2))
_PANELS: tuple[tuple[str, str, tuple[Cut, ...], str], ...] = (
    (
        "back",
        "Back",
        (cut("shell", 1), cut("lining", 1)),
        "The fold edge is centre back; opened out, even XL fits a 45 in bolt.",
    ),
    (
        "side",
        "Side gore",
        _PAIRS,
        "Sew the shoulder dart before the neck seam; the edge with two notches is the back seam.",
    ),
    (
        "front",
        "Front",
        _PAIRS,
        "Leave the side seam open between the two middle notches, for the hand.",
    ),
    (
        "facing",
        "Front facing",
        (pairs("shell", 2),),
        "Lay it on the lining and stitch its inner edge down; the lining reaches centre front.",
    ),
)


def pattern() -> Pattern:
    """Return the whole cloak pattern."""
    pieces = (
        *_panels(draft.knee_ring, prefix="knee_", words=", knee length"),
        *_panels(draft.full_ring, prefix="", words=", full length"),
        *_hood_pieces(),
    )
    return Pattern(
        name="Hooded cloak of the village stage",
        sizes=SIZES,
        pieces=pieces,
        matching=matching(pieces),
        views=_views(),
        cloths=_cloths(),
        notions=_notions(),
        cautions=_cautions(),
        seam_allowance_mm=SEAM_MM,
        note=(
            "Invented demo pattern. The seam allowance of 15 mm is drawn in, and 30 mm at the "
            "hem and the face edge of the hood. Every piece fits half the width of a 45 in bolt, "
            "so the cloak can be cut open or folded from 45 in or 60 in cloth. Let it hang for a "
            "day before you level the hem."
        ),
    )


def _panels(ring: Callable[[Body], draft.Ring], *, prefix: str, words: str) -> tuple[Piece, ...]:
    drafts = (draft.back, draft.side_gore, draft.front, draft.facing)
    return tuple(
        drafted_piece(
            BODIES,
            _on_ring(panel, ring),
            name=prefix + name,
            title=title + words,
            cuts=cuts,
            note=note,
        )
        for panel, (name, title, cuts, note) in zip(drafts, _PANELS, strict=True)
    )


def _on_ring(
    panel: Callable[[Body, draft.Ring], Drafted], ring: Callable[[Body], draft.Ring]
) -> Callable[[Body], Drafted]:
    return lambda body: panel(body, ring(body))


def _hood_pieces() -> tuple[Piece, ...]:
    return (
        drafted_piece(
            BODIES,
            draft.hood,
            name="hood",
            title="Hood side",
            cuts=_PAIRS,
            note="Fold the pleat at the neck towards the back.",
        ),
        drafted_piece(
            BODIES,
            draft.band,
            name="hood_band",
            title="Hood centre band",
            cuts=(cut("shell", 1), cut("lining", 1)),
            note="The grain arrow points from the nape over the crown to the face.",
        ),
    )


def _views() -> tuple[View, ...]:
    names = tuple(name for name, *_ in _PANELS)
    hood = ("hood", "hood_band")
    return (
        View("A", (*(f"knee_{name}" for name in names), *hood), "Cloak to the knee, with hood."),
        View("B", (*names, *hood), "Cloak to below the calf, with hood."),
    )


def _cloths() -> tuple[ClothNeed, ...]:
    return (
        ClothNeed(
            "shell",
            "Heavy cloth that hangs in folds; on cloth with nap every panel points the same way.",
            ("heavy wool coating", "wide corduroy", "blanket wool", "cotton velvet"),
            ask_for="Heavy wool coating: its weight makes the folds, and its edge hardly frays.",
            hang=(
                "A light, slippery cloth clings to the legs and blows about; a stiff one spreads "
                "like a tent."
            ),
        ),
        ClothNeed(
            "lining",
            "Lets the cloak slide over a costume and hides the seams when it swings open.",
            ("viscose twill", "cotton sateen"),
            ask_for="Viscose twill: smooth enough to slide and heavy enough to hang with the wool.",
            hang="A stiff lining holds the folds open; one that stretches drops below the hem.",
        ),
    )


def _notions() -> tuple[Notion, ...]:
    one = dict.fromkeys(SIZES, 1)
    return (
        Notion(
            name="cloak clasp", detail="two halves with a hook, sewn on at the neck", counts=one
        ),
        Notion(name="thread", detail="strong thread to match", kind=NotionKind.THREAD),
    )


def _cautions() -> tuple[str, ...]:
    return (
        "Close the neck with the clasp and not with a cord: a cord at the neck can catch and "
        "strangle, and does not belong on clothing for children at all.",
        "The sizes are for adults; a cloak that touches the floor trips its wearer on stairs.",
        *CAUTIONS,
    )
