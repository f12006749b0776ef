"""Make the pictures of README, docs and demo from the demo patterns, from the checkout.

``python docs/make_pictures.py`` writes docs/pictures/ and demo/paper_pieces.jpg, a rendered
photograph. The markers are those of the standard effort, so the pictures come out the same wherever
the same versions run. ``python docs/make_pictures.py photo`` makes the photograph alone.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from PIL import Image

from nesting.cli.app import main
from tests.pieces.photo.rendering import Shot, jpeg, laid, render

PICTURES = ROOT / "docs" / "pictures"
LAYS = {
    "waistcoat-45-nap": ["waistcoat", "--view", "A", "--width", "45in", "--nap", "with"],
    "waistcoat-45-fold": ["waistcoat", "--view", "A", "--width", "45in", "--nap", "with",
                          "--spread", "lengthwise"],
    "smock-shirt-60": ["smock_shirt", "--view", "A", "--width", "60in"],
    "cloak-150": ["cloak", "--view", "B", "--width", "150cm"],
    "knapsack-45": ["knapsack", "--view", "A", "--width", "45in"],
}  # fmt: skip
COMPARES = {
    "waistcoat-compare": ["waistcoat", "--view", "A", "--width", "45in", "--width", "60in",
                          "--nap", "both"],
}  # fmt: skip
COMMON = ["--size", "M", "--cloth", "shell", "--selvage", "0.5in"]


def make(command: str, name: str, arguments: list[str]) -> None:
    """Run one command and stop if it fails."""
    sheet = str(ROOT / "demo" / f"{arguments[0]}.toml")
    picture = str(PICTURES / f"{name}.png")
    code = main([command, sheet, *arguments[1:], *COMMON, "--draw", picture])
    if code:
        raise SystemExit(code)


PHOTO = ROOT / "demo" / "paper_pieces.jpg"
PAPER_PIECES = Shot(
    pieces=(
        laid("waistcoat", "front", at=(-135.0, -5.0), turn=3.0, grain=True),
        laid("knapsack", "pocket", at=(185.0, -70.0), turn=-6.0, grain=True, paper="white"),
        laid("knapsack", "tab", at=(235.0, 190.0), turn=80.0, grain=True, paper="kraft"),
    ),
    pages=((-440.0, 170.0, 4.0), (445.0, 200.0, -6.0), (450.0, -190.0, 3.0), (-445.0, -200.0, 7.0)),
    floor="green",
    aim_mm=(-15.0, 0.0),
    size_px=(2000, 1500),
    view_mm=1240.0,
    lean_deg=13.0,
    around_deg=250.0,
    noise=1.2,
    shadow=0.25,
    seed=4,
)


def make_photo() -> None:
    """Render the photograph of paper pieces, read it, and keep the preview, made smaller."""
    PHOTO.write_bytes(jpeg(render(PAPER_PIECES)))
    made = [PICTURES / name for name in ("moment.toml", "moment.png")]
    names = ["--piece", "front", "--piece", "pocket", "--piece", "tab"]
    code = main(["import", str(PHOTO), *names, "--out", str(made[0]), "--preview", str(made[1])])
    if code:
        raise SystemExit(code)
    with Image.open(made[1]) as picture:
        small = picture.convert("RGB").resize((1300, round(1300 * picture.height / picture.width)))
    small.save(PICTURES / "from-paper.jpg", quality=82)
    for path in made:
        path.unlink()


if __name__ == "__main__":
    PICTURES.mkdir(parents=True, exist_ok=True)
    make_photo()
    if sys.argv[1:] == ["photo"]:
        raise SystemExit(0)
    for name, arguments in LAYS.items():
        make("lay", name, arguments)
    for name, arguments in COMPARES.items():
        make("compare", name, arguments)
