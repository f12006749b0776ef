"""What is found in a picture: its groups and its words, and where things lie in it."""

from nesting.draw.scene import Act, Area, Group, Lines, Scene, Text, walk
from nesting.draw.style import CUT
from pieces.outline.polygon import FloatArray


def groups(acts: tuple[Act, ...], name: str) -> list[Group]:
    """Return all groups of one name, however deep."""
    found = []
    for act in acts:
        if isinstance(act, Group):
            found += [act] if act.name == name else []
            found += groups(act.acts, name)
    return found


def words(acts: tuple[Act, ...]) -> list[str]:
    """Return all lines of text."""
    return [act.words for _, act in walk(acts) if isinstance(act, Text)]


def outline(piece: Group) -> FloatArray:
    """Return the outline of a drawn piece."""
    first = piece.acts[0]
    assert isinstance(first, Area)
    return first.outline_mm


def cut_end_mm(scene: Scene) -> float:
    """Return the x of the cut end: where the sheet of cloth begins."""
    cloth = groups(scene.acts, "cloth")[0]
    sheet = next(act for act in cloth.acts if isinstance(act, Area))
    return float(sheet.outline_mm[:, 0].min())


def cut_line_mm(scene: Scene) -> float:
    """Return the x of the line where the shop cuts."""
    ends = groups(scene.acts, "ends")[0]
    cut = next(a for a in ends.acts if isinstance(a, Lines) and a.pen.colour == CUT)
    return float(cut.lines_mm[0][0, 0])
