"""Damage drawings at random and read them: nothing but a refusal may come of it.

Run it from the root of the repository: ``python -m tests.bench.fuzz_drawings [COUNT]``. It prints
how many of each kind were read and refused, and how long the slowest took.
"""

import random
import sys
import time
import traceback
from collections.abc import Callable
from pathlib import Path

from pieces.drawing.drawing import Drawing
from pieces.drawing.dxf_file import format_dxf, parse_dxf
from pieces.drawing.mapping_file import parse_mapping
from pieces.drawing.pattern_facts import drawing_of
from pieces.drawing.svg_file import format_svg, parse_svg
from pieces.drawing.to_pattern import pattern_of
from pieces.errors import PiecesError
from pieces.sheet.pattern_file import read_pattern
from pieces.sheet.shape_words import EXAMPLE, pattern_of_shapes

ROOT = Path(__file__).resolve().parents[2]
MAP = 'name = "x"\n[drawing]\nunit = "cm"\nroles = { a = "notch" }\n[pieces.front]\ncut.shell = 2\n'
SCRAPS = [b"\n", b"0\n", b"1e999", b"nan", b"-1", b'"', b"<g>", b"</g>", b"M", b"z", b"\xff",
          b"\x00", b"INSERT", b"ENDSEC", b"[", b"=", b";", b"9" * 30, b"#", b"%"]  # fmt: skip


def damaged(data: bytes, rng: random.Random) -> bytes:
    """Return the bytes with one to eight places changed, cut out, doubled or put in."""
    out = bytearray(data)
    if rng.random() < 0.5:  # gently: one letter for another, so that the frame of the file holds
        for _ in range(rng.randint(1, 8)):
            out[rng.randrange(len(out))] = rng.choice(b"0123456789.-+eMLCAHVz ")
        return bytes(out)
    for _ in range(rng.randint(1, 8)):
        at, long = rng.randrange(len(out) + 1), rng.choice([0, 1, 1, 2, 5, 20, 200])
        part = bytes(out[at : at + long])
        new = rng.choice([rng.choice(SCRAPS), rng.randbytes(rng.randint(1, 4)), part * 2, b""])
        out[at : at + long] = new
    return bytes(out)


def _svg(data: bytes) -> None:
    pattern_of(parse_svg(data), name="x")


def _dxf(data: bytes) -> None:
    pattern_of(parse_dxf(data), name="x")


def _map(data: bytes) -> None:
    parse_mapping(data.decode("utf-8", "replace"))


def _shape(data: bytes) -> None:
    pattern_of_shapes([data.decode("utf-8", "replace")], name="x")


READERS: dict[str, Callable[[bytes], None]] = {
    "svg": _svg,
    "dxf": _dxf,
    "map": _map,
    "shape": _shape,
}


def run(name: str, seeds: list[bytes], count: int) -> None:
    """Read ``count`` damaged copies of the seeds and print what came of it."""
    rng = random.Random(7)
    fine = refused = faults = 0
    slowest = 0.0
    for _ in range(count):
        data = damaged(rng.choice(seeds), rng)
        before = time.monotonic()
        try:
            READERS[name](data)
            fine += 1
        except PiecesError:
            refused += 1
        except Exception:
            faults += 1
            traceback.print_exc()
        slowest = max(slowest, time.monotonic() - before)
    print(f"{name}: {count} inputs, {fine} read, {refused} refused, {faults} faults, "
          f"slowest {slowest:.2f} s", flush=True)  # fmt: skip


def main(count: int) -> None:
    """Fuzz every reader."""
    pattern = read_pattern(ROOT / "demo" / "knapsack.toml")
    whole = drawing_of(pattern, sizes=("M",))
    small = Drawing(shapes=whole.shapes[:3], facts=whole.facts)
    drawn = (ROOT / "tests" / "data" / "apron_by_inkscape.svg").read_bytes()
    run("svg", [drawn, format_svg(small).encode()], count)
    run("dxf", [format_dxf(small).encode()], count // 2)
    run("map", [MAP.encode()], count)
    run("shape", [EXAMPLE.encode()], count)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
