"""A bar to hold a ruler against: whether a printer has kept the size of what it printed."""

from __future__ import annotations

from dossier.drawings.lettering import CAPITALS
from dossier.drawings.palette import Palette
from dossier.drawings.svg import FONT, attributes, number

LENGTH_MM, LENGTH_IN = 100.0, 4
_INCH = 25.4
_LETTERING = 3.8  # capitals of this type size are 2.5 mm high
_TICK, _EDGE = 2.0, 6.0
WIDTH = LENGTH_IN * _INCH + 2 * _EDGE


def draw(palette: Palette) -> str:
    """The bar as SVG at true size: 100 mm with a tick each 10 mm above the line, 4 in with a tick each inch below."""
    base = CAPITALS * _LETTERING + 1.2 + _TICK
    height = 2 * base
    metric = "".join(f"M{number(_EDGE + 10 * step)} {number(base)}v{number(-_TICK)}" for step in range(11))
    inches = "".join(f"M{number(_EDGE + _INCH * step)} {number(base)}v{number(_TICK)}" for step in range(LENGTH_IN + 1))
    line = f"M{number(_EDGE)} {number(base)}h{number(LENGTH_IN * _INCH)}"
    look = attributes({"stroke": palette.ink, "stroke-width": "0.25", "fill": "none"})
    above, below = base - _TICK - 1.2, height
    words = (_figure(0, 0, above, palette), _figure(LENGTH_MM, "100\u202fmm", above, palette),
             _figure(0, 0, below, palette), _figure(LENGTH_IN * _INCH, f"{LENGTH_IN}\u202fin", below, palette))
    head = attributes({"xmlns": "http://www.w3.org/2000/svg", "class": "size-bar", "width": f"{number(WIDTH)}mm",
                       "height": f"{number(height + 0.4)}mm", "viewBox": f"0 0 {number(WIDTH)} {number(height + 0.4)}",
                       "font-family": FONT, "font-size": number(_LETTERING), "role": "img"})
    return (f'<svg{head}><title>A bar of 100 mm and of 4 in, to check the size of the print</title>'
            f'<path class="millimetres" d="{metric}"{look}/><path class="inches" d="{inches}"{look}/>'
            f'<path d="{line}"{attributes({"stroke": palette.ink, "stroke-width": "0.5", "fill": "none"})}/>'
            f'{"".join(words)}</svg>')


def _figure(place: float, text: object, base: float, palette: Palette) -> str:
    where = {"x": number(_EDGE + place), "y": number(base), "text-anchor": "middle", "fill": palette.ink}
    return f"<text{attributes(where)}>{text}</text>"
