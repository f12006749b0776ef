"""Let a fuzzer steer damaged files into every reader: nothing but a refusal may come of it.

Run it from the root of the repository: ``python -m tests.bench.fuzz_readers [READER [COUNT]]``. The
fuzzer is atheris (libFuzzer for Python), which is not among the dependencies: ``pip install
atheris`` first. Without a reader each has its turn in a process of its own. ``fuzz_drawings`` does
without the fuzzer, and damages whole files at random.
"""

import io
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
COUNTS = {"svg": 20_000, "dxf": 5_000, "map": 20_000, "shape": 20_000, "photo": 2_000}

try:
    import atheris
except ImportError:
    atheris = None

if atheris is not None:
    with atheris.instrument_imports(include=["pieces", "PIL"]):
        from pieces.drawing.dxf_file import format_dxf
        from pieces.drawing.svg_file import format_svg
        from pieces.errors import PiecesError
        from pieces.photo.marks import find_marks
        from pieces.photo.reading import parse_photo
        from pieces.photo.sheets import LARGEST_PAGE_MM, centred_box
        from pieces.sheet.shape_words import EXAMPLE
        from tests.bench.fuzz_drawings import MAP, READERS


def _photo(data: bytes) -> None:
    find_marks(parse_photo(data), centred_box(*LARGEST_PAGE_MM))


def seeds(reader: str) -> list[bytes]:
    """Return files for the fuzzer to begin with."""
    from pieces.drawing.drawing import Drawing
    from pieces.drawing.pattern_facts import drawing_of
    from pieces.sheet.pattern_file import read_pattern

    whole = drawing_of(read_pattern(ROOT / "demo" / "knapsack.toml"), sizes=("M",))
    small = Drawing(shapes=whole.shapes[2:4], facts=whole.facts)
    match reader:
        case "svg":
            drawn = (ROOT / "tests" / "data" / "apron_by_inkscape.svg").read_bytes()
            return [drawn, format_svg(small).encode()]
        case "dxf":
            return [format_dxf(small).encode()]
        case "map":
            return [MAP.encode()]
        case "shape":
            return [EXAMPLE.encode(), b"s: circle-skirt; waist 26in; length 2ft; part half"]
    return _pictures()


def _pictures() -> list[bytes]:
    from PIL import Image

    grey = Image.linear_gradient("L").resize((640, 620)).convert("RGB")
    exif = Image.Exif()
    exif[0x0112] = 6
    files = []
    for kind, more in (("JPEG", {"exif": exif}), ("PNG", {}), ("JPEG", {"progressive": True})):
        stream = io.BytesIO()
        grey.save(stream, kind, **more)
        files.append(stream.getvalue())
    return files


def fuzz(reader: str, count: int) -> None:
    """Steer ``count`` inputs into one reader, print what came of it, and leave the process."""
    read = _photo if reader == "photo" else READERS[reader]
    told = {"read": 0, "refused": 0, "slowest": 0.0}

    def one_input(data: bytes) -> None:
        before = time.monotonic()
        try:
            read(data)
            told["read"] += 1
        except PiecesError:
            told["refused"] += 1
        told["slowest"] = max(told["slowest"], time.monotonic() - before)
        done = told["read"] + told["refused"]
        if done % 500 == 0 or done >= count:
            Path(folder, "told.json").write_text(json.dumps(told))

    folder = tempfile.mkdtemp(prefix=f"fuzz-{reader}-")
    corpus = Path(folder, "corpus")
    corpus.mkdir()
    for number, seed in enumerate(seeds(reader)):
        (corpus / f"seed{number}").write_bytes(seed)
    print(f"{reader}: the inputs are kept in {folder}", flush=True)
    longest = 2 * max(len(seed) for seed in seeds(reader))
    options = [f"-runs={count}", f"-max_len={longest}", "-seed=7", "-timeout=60", "-verbosity=0",
               "-rss_limit_mb=4096", f"-artifact_prefix={folder}/"]  # fmt: skip
    atheris.Setup([sys.argv[0], *options, str(corpus)], one_input)
    atheris.Fuzz()


def main(typed: list[str]) -> int:
    """Fuzz one reader here, or each in a process of its own; return 1 if one has a fault."""
    if atheris is None:
        print("atheris is not installed; pip install atheris, then run this again")
        return 0
    if typed:
        fuzz(typed[0], int(typed[1]) if typed[1:] else COUNTS[typed[0]])
        return 0
    faults = 0
    for reader, count in COUNTS.items():
        command = [sys.executable, "-m", "tests.bench.fuzz_readers", reader, str(count)]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        folder = done.stdout.partition("kept in ")[2].strip()
        told = Path(folder, "told.json").read_text() if folder else "nothing"
        print(f"{reader}: exit {done.returncode}, {told}, {folder}", flush=True)
        faults += done.returncode != 0
        if done.returncode:
            print(done.stderr[-3000:], flush=True)
    return 1 if faults else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
