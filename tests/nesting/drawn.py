"""What is found in a picture: its groups and its words."""

from nesting.draw.scene import Act, Group, Text, walk


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
