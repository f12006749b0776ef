"""Chart of density over time: how soon the search comes how near to the published records.

Run from the checkout: ``python tests/bench/density_chart.py [--seconds 60] [--seeds 3] OUT.png``.
Two workers, kernels compiled before the clock starts. Prints the rows of ``strips.py`` as well. Not
run by pytest.
"""

import argparse
import sys
from pathlib import Path

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.ticker import NullFormatter

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nesting.engine import warm_up
from tests import datasets
from tests.bench.strips import HEADING, RECORDS, packings_of, row

NAMES = ("shirts", "trousers", "swim")
LEFT_S = 0.1
TICKS_S = (0.1, 0.3, 1.0, 3.0, 10.0, 30.0, 60.0, 180.0, 600.0)
COLOURS = {"shirts": "#0072B2", "trousers": "#009E73", "swim": "#D55E00"}


def chart(seconds: float, seeds: int) -> Figure:
    """Return the chart: a step line for each seed, the published average dashed."""
    figure = Figure(figsize=(8.0, 4.8), dpi=130, layout="constrained")
    FigureCanvasAgg(figure)
    axes = figure.add_subplot()
    for name in NAMES:
        strip = datasets.published_strip(name)
        packings = packings_of(strip, seconds, range(1, seeds + 1))
        print(row(name, strip, seconds, packings), flush=True)
        for packing in packings:
            times = [step.seconds for step in packing.history] + [seconds]
            found = [100 * step.density for step in packing.history]
            axes.step(
                times, [*found, found[-1]], where="post", color=COLOURS[name], lw=1.6, alpha=0.8
            )
        average = RECORDS[name][0]
        axes.axhline(average, color=COLOURS[name], lw=1.0, ls=(0, (5, 3)))
        axes.annotate(
            f"{name}: published average {average:.2f} %",
            (LEFT_S, average),
            xytext=(4, 3),
            textcoords="offset points",
            ha="left",
            color=COLOURS[name],
        )
    axes.set_xscale("log")
    axes.set_xlim(LEFT_S, seconds)
    ticks = [tick for tick in TICKS_S if tick <= seconds]
    axes.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
    axes.xaxis.set_minor_formatter(NullFormatter())
    axes.set_xlabel("seconds since the search began, two workers")
    axes.set_ylabel("density, %")
    axes.grid(visible=True, color="#E4DED4", lw=0.6)
    axes.spines[["top", "right"]].set_visible(False)
    return figure


def main() -> None:
    """Read the options, run the searches and write the picture."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seeds", type=int, default=3)
    options = parser.parse_args()
    warm_up()
    print(HEADING)
    chart(options.seconds, options.seeds).savefig(options.out)


if __name__ == "__main__":
    main()
