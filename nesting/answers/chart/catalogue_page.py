"""The index page of a catalogue: one HTML file without script that needs no network."""

from collections.abc import Sequence
from html import escape
from string import Template

from nesting.answers.chart.catalogue import CatalogueEntry, laid_words
from pieces.measures.format import format_both

_PAGE = Template("""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Catalogue of yardage charts</title>
<style>
:root { color-scheme: light; }
body { margin: 1.5rem auto; max-width: 76rem; padding: 0 1rem; color: #2a2522;
  background: #fffdf8; font: 1rem/1.5 system-ui, sans-serif; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; color: #5d554c; padding-bottom: 0.5rem; }
th, td { text-align: left; padding: 0.4rem 0.7rem; border-bottom: 1px solid #cfc4b2;
  vertical-align: top; }
thead th { border-bottom: 2px solid #5d554c; white-space: nowrap; }
td.ask { font-weight: 700; }
td.number { text-align: right; }
.wrong { color: #9b1c1c; font-weight: 600; }
small { color: #5d554c; }
a { color: #8f3300; }
</style>
</head>
<body>
<h1>Catalogue of yardage charts</h1>
<p>$told Every cell is in <a href="$csv">$csv_name</a>.</p>
<div class="wide"><table>
<caption>Least and most to ask for, over all views, sizes and widths of a pattern.</caption>
<thead><tr><th scope="col">Pattern</th><th scope="col">Cloth</th><th scope="col">Views</th>
<th scope="col">Sizes</th><th scope="col">Least</th><th scope="col">Most</th>
<th scope="col">Cells</th></tr></thead>
<tbody>
$rows
</tbody>
</table></div>
</body>
</html>
""")
_COLUMNS_BESIDE_PATTERN = 6


def catalogue_page(entries: Sequence[CatalogueEntry], csv_name: str) -> str:
    """Return the page, every word made safe for HTML.

    Parameters
    ----------
    entries
        What became of each sheet, in the order in which they shall stand.
    csv_name
        Name of the file with all cells, which is to lie beside the page.
    """
    unread = sum(bool(entry.reason) for entry in entries)
    told = f"{len(entries) - unread} of {len(entries)} pattern sheets charted; "
    return _PAGE.substitute(
        told=escape(f"{told}{laid_words(entries)}."),
        csv=escape(csv_name.replace("%", "%25").replace("#", "%23").replace("?", "%3F")),
        csv_name=escape(csv_name),
        rows="\n".join(_unread(one) if one.reason else _charted(one) for one in entries),
    )


def _unread(entry: CatalogueEntry) -> str:
    reason = escape(entry.reason)
    return (
        f'<tr><th scope="row">{escape(entry.sheet)}</th>'
        f'<td class="wrong" colspan="{_COLUMNS_BESIDE_PATTERN}">No chart: {reason}</td></tr>'
    )


def _charted(entry: CatalogueEntry) -> str:
    least_most = ("\N{EM DASH}",) * 2
    if entry.shop_lengths_mm is not None:
        least, most = entry.shop_lengths_mm
        least_most = (format_both(least, entry.units), format_both(most, entry.units))
    cells = str(entry.cells)
    if entry.refused:
        cells += f"<br><small>{entry.refused} too narrow or not so spread</small>"
    if entry.has_errors:
        cells += '<br><span class="wrong">not all ready to cut</span>'
    asked = "".join(f'<td class="ask">{escape(words)}</td>' for words in least_most)
    return (
        f'<tr><th scope="row">{escape(entry.pattern)}<br><small>{escape(entry.sheet)}</small></th>'
        f"<td>{escape(entry.cloth)}</td><td>{escape(', '.join(entry.views))}</td>"
        f'<td>{escape(", ".join(entry.sizes))}</td>{asked}<td class="number">{cells}</td></tr>'
    )
