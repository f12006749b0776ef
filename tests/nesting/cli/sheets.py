"""A small pattern sheet for the command, and faults to put into it."""

GOOD = """\
format = 1
name = "Tote of the [bold]prompter"
units = "cm"
sizes = ["one"]

[cloths.shell]
[views.A]
pieces = ["body", "strap"]

[pieces.body]
title = "Body"
cut.shell = 2
[pieces.body.sizes.one]
outline = [[0, 0], [40, 0], [40, 50], [0, 50]]
grainline = [[20, 5], [20, 45]]

[pieces.strap]
title = "Strap"
cut.shell = 2
[pieces.strap.sizes.one]
outline = [[0, 0], [10, 0], [10, 60], [0, 60]]
grainline = [[5, 5], [5, 55]]
"""

# Each: what is wrong, what is replaced in the good sheet, and by what.
FAULTS = {
    "an empty file": (GOOD, ""),
    "no TOML": (GOOD, "pieces, please"),
    "a format of the future": ("format = 1", "format = 2"),
    "no format": ("format = 1\n", ""),
    "a unit nobody knows": ('units = "cm"', 'units = "ell"'),
    "no sizes": ('sizes = ["one"]', "sizes = []"),
    "the same size twice": ('sizes = ["one"]', 'sizes = ["one", "one"]'),
    "a size without shapes": ('sizes = ["one"]', 'sizes = ["one", "two"]'),
    "a view of a missing piece": ('["body", "strap"]', '["body", "lining"]'),
    "an unknown key": ('title = "Body"', 'titel = "Body"'),
    "a number in quotes": ("[[0, 0], [40, 0]", '[["0", 0], [40, 0]'),
    "two points for an outline": ("[40, 0], [40, 50], [0, 50]]", "[40, 0]]"),
    "an outline that crosses itself": (
        "[40, 0], [40, 50], [0, 50]]",
        "[40, 50], [40, 0], [0, 50]]",
    ),
    "an outline of no area": ("[40, 0], [40, 50], [0, 50]]", "[40, 0], [80, 0], [20, 0]]"),
    "coordinates that are not numbers": ("[40, 50]", "[nan, 50]"),
    "a grainline of no length": ("[[20, 5], [20, 45]]", "[[20, 5], [20, 5]]"),
    "a count of zero": ("cut.shell = 2", "cut.shell = 0"),
    "a count below zero": ("cut.shell = 2", "cut.shell = -2"),
    "half a piece to cut": ("cut.shell = 2", "cut.shell = 1.5"),
    "a pair of an odd count": ("cut.shell = 2", "cut.shell = { count = 3, pair = true }"),
    "a cloth not declared": ("cut.shell = 2", "cut.velvet = 2"),
    "an unknown grain": ('title = "Strap"', 'grain = "sideways"'),
    "a fold edge off the outline": (
        "grainline = [[20, 5]",
        "fold_edge = [[5, 0], [5, 50]]\ngrainline = [[20, 5]",
    ),
}

# Each: what is wrong with what was typed, as arguments after `nesting lay tote.toml --width 45in`.
OPTION_FAULTS = {
    "an unknown option": ["--widht", "45in"],
    "an unknown view": ["--view", "B"],
    "an unknown size": ["--size", "M"],
    "an unknown cloth": ["--cloth", "lining"],
    "a width without a unit": ["--width", "45"],
    "a width in an unknown unit": ["--width", "45 spans"],
    "a width below zero": ["--width=-45in"],
    "a width of zero": ["--width", "0in"],
    "an empty width": ["--width", ""],
    "a width that is far too long": ["--width", "9" * 400 + "in"],
    "a cloth too narrow": ["--width", "5cm"],
    "a selvage without a unit": ["--selvage", "1"],
    "selvages that leave nothing": ["--selvage", "30in"],
    "an unknown nap": ["--nap", "maybe"],
    "an unknown spread": ["--spread", "diagonal"],
    "a tilt below zero": ["--tilt", "-1"],
    "a tilt no cloth forgives": ["--tilt", "30"],
    "a tilt that is no number": ["--tilt", "a bit"],
    "a step of zero": ["--step", "0yd"],
    "a repeat without a unit": ["--repeat-along", "4"],
    "a repeat of nothing": ["--repeat-across", "0in"],
    "a repeat wider than the cloth": ["--repeat-across", "46in"],
    "a repeat longer than what is left": ["--repeat-along", "2yd", "--length-left", "1yd"],
    "an uneven repeat of nothing": ["--uneven"],
    "a start on no repeat": ["--cut-on-repeat"],
    "an uneven repeat across on a fold": [
        "--repeat-across",
        "4in",
        "--uneven",
        "--spread",
        "lengthwise",
    ],
    "a tilt on stripes": ["--repeat-along", "4in", "--tilt", "2"],
    "a shrinkage below zero": ["--shrink-along=-3%"],
    "a shrinkage without per cent": ["--shrink-along", "3"],
    "a shrinkage of half": ["--shrink-across", "50%"],
    "a swatch that grew": ["--shrink-along", "20cm to 21cm"],
    "a flaw of two lengths": ["--flaw", "20in,12in"],
    "a flaw without units": ["--flaw", "20,12,1,2"],
    "a flaw outside the cloth": ["--flaw", "20in,44in,1in,2in"],
    "a flaw beyond what is left": ["--flaw", "40in,4in,1in,2in", "--length-left", "1yd"],
    "an end allowance below zero": ["--end-allowance=-1in"],
    "nothing left": ["--length-left", "0yd"],
    "a step of one's own making": ["--step", "nearly"],
    "a price without a length": ["--price", "12.50"],
    "a price below zero": ["--price", "-3/yd"],
    "an unknown effort": ["--effort", "heroic"],
    "no time at all": ["--seconds", "0"],
    "time that is no number": ["--seconds", "nan"],
    "no workers": ["--workers", "0"],
    "a seed below zero": ["--seed", "-1"],
    "no garments": ["--garments", "0"],
    "garments for an army": ["--garments", "1000000"],
    "an output in a missing folder": ["--out", "missing/marker.json"],
    "a marker that is no JSON": ["--out", "marker.txt"],
    "a picture of an unknown kind": ["--draw", "marker.bmp"],
    "a picture without an ending": ["--draw", "marker"],
    "a second pattern": ["another.toml"],
}
