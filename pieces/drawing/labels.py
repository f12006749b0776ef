"""What the names of groups, layers and shapes say: the part a line plays, the piece, the size."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """The part a line or a point plays on a piece."""

    OUTLINE = "outline"
    GRAIN = "grainline"
    FOLD = "fold"
    NOTCH = "notch"
    DRILL = "drill hole"
    MATCH = "match point"
    LINE = "line"
    SEW = "sew line"
    IGNORE = "ignore"


@dataclass(frozen=True)
class Label:
    """What a name says; None where it says nothing of the kind.

    Parameters
    ----------
    role
        The part it names.
    name
        What follows it: of a piece or outline the piece, of a match point or line its own name.
    size
        Size it names.
    is_piece
        Whether it says that a group is one piece.
    """

    role: Role | None = None
    name: str | None = None
    size: str | None = None
    is_piece: bool = False


_WORDS: Mapping[str, Role] = {
    "outline": Role.OUTLINE,
    "cut line": Role.OUTLINE,
    "cutting line": Role.OUTLINE,
    "grainline": Role.GRAIN,
    "grain line": Role.GRAIN,
    "grain": Role.GRAIN,
    "fold edge": Role.FOLD,
    "fold line": Role.FOLD,
    "fold": Role.FOLD,
    "notches": Role.NOTCH,
    "notch": Role.NOTCH,
    "drill holes": Role.DRILL,
    "drill hole": Role.DRILL,
    "drill": Role.DRILL,
    "match points": Role.MATCH,
    "match point": Role.MATCH,
    "match": Role.MATCH,
    "sew line": Role.SEW,
    "sewing line": Role.SEW,
    "seam line": Role.SEW,
    "internal lines": Role.LINE,
    "internal line": Role.LINE,
    "lines": Role.LINE,
    "line": Role.LINE,
    "ignore": Role.IGNORE,
}
_NAMED = (Role.OUTLINE, Role.MATCH, Role.LINE)
_GAP = r"[\s_-]+"
_HEAD = re.compile(
    "(?:(?P<piece>piece)|"
    + "|".join(f"(?P<w{i}>{word.replace(' ', _GAP)})" for i, word in enumerate(_WORDS))
    + r")(?=$|[\s_:,.-])[\s_:,.-]*",
    re.IGNORECASE,
)
_SIZE = re.compile(r"(?:(?P<name>.*?)[\s_,;.-]+)?size[\s_:-]+(?P<size>\S.*)", re.IGNORECASE)
_NUMBER = re.compile(r"[\d\s_.-]*")


def read_label(text: str, roles: Mapping[str, Role] | None = None) -> Label:
    """Return what the name of a group, layer or shape says.

    Parameters
    ----------
    text
        Such as ``"piece front, size M"``, ``"notches"`` or ``"match side at waist"``.
    roles
        Whole names that a mapping file declares to play a part; they come first.

    Examples
    --------
    >>> read_label("piece front panel, size M")
    Label(role=None, name='front panel', size='M', is_piece=True)
    >>> read_label("Match side at waist").name, read_label("rect42").role
    ('side at waist', None)
    """
    text = text.strip()[:200]
    if roles and text in roles:
        return Label(role=roles[text])
    head = _HEAD.match(text)
    rest = text if head is None else text[head.end() :]
    size = _SIZE.fullmatch(rest)
    name = rest if size is None else (size["name"] or "")
    size_name = None if size is None else size["size"].strip()
    if head is None:
        return Label(size=size_name)
    if head["piece"]:
        return Label(None, name.strip() or None, size_name, is_piece=True)
    index = next(i for i in range(len(_WORDS)) if head[f"w{i}"])
    role = list(_WORDS.values())[index]
    bare = role not in _NAMED or _NUMBER.fullmatch(name) is not None
    return Label(role, None if bare else name.strip(), size_name)
