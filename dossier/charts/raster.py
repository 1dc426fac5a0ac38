"""Grey pictures as PNG, and their place in an SVG.

On screen the picture is a mask through which a light of the theme's colour shines on black: white by day, red at
night, by the custom property ``--starlight``. On paper it is the picture itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from html import escape
from io import BytesIO

from dossier.design.pictures import Floats
from dossier.drawings.palette import SCREEN, Palette
from dossier.drawings.scene import Box, Text
from dossier.drawings.svg import attributes, number

SKY, STARLIGHT = "#000000", "#ffffff"
WORD = "simulation"


@dataclass(frozen=True, slots=True)
class Plate:
    """A grey picture in its place: a black ground, the picture at ``box``, words and scale bars in its light."""

    name: str
    png: bytes
    ground: Box
    box: Box
    words: tuple[Text, ...]
    bars: tuple[Box, ...] = ()


def png(brightness: Floats) -> bytes:
    """Brightness 0…1, rows down from the top, as an eight-bit grey PNG."""
    height, width = brightness.shape
    return _encoded((brightness.clip(0, 1) * 255).round().astype("uint8").tobytes(), width, height)


@lru_cache(maxsize=128)
def _encoded(grey: bytes, width: int, height: int) -> bytes:
    """The same pixels as a file; a picture in two forms is encoded once."""
    from PIL import Image

    file = BytesIO()
    Image.frombytes("L", (width, height), grey).save(file, "PNG", compress_level=4)
    return file.getvalue()


def with_plates(svg: str, plates: Iterable[Plate], palette: Palette, folder: str, key: str) -> str:
    """A drawing with these pictures beneath all that is drawn. ``key`` begins the IDs of their masks."""
    head, mark, rest = svg.partition("</desc>\n")
    return head + mark + "".join(_plate(plate, palette, folder, key) for plate in plates) + rest


def _plate(plate: Plate, palette: Palette, folder: str, key: str) -> str:
    light = f"var(--starlight, {STARLIGHT})" if palette is SCREEN else STARLIGHT
    image = f'<image{attributes({"href": folder + plate.name, **_place(plate.box)})} preserveAspectRatio="none"/>'
    if palette is SCREEN:
        mask = f"{key}-{plate.name.removesuffix('.png')}"
        shown = (f'<mask id="{mask}" maskUnits="userSpaceOnUse"{attributes(_place(plate.box))}>{image}</mask>\n'
                 f'<rect{attributes({**_place(plate.box), "fill": light, "mask": f"url(#{mask})"})}/>')
    else:
        shown = image
    bars = "".join(f'<rect{attributes({**_place(bar), "fill": light})}/>\n' for bar in plate.bars)
    words = "".join(f"<text{attributes(_text(text, light))}>{escape(text.plain)}</text>\n" for text in plate.words)
    ground = attributes({**_place(plate.ground), "fill": SKY})
    return f'<g class="simulation">\n<rect{ground}/>\n{shown}\n{bars}{words}</g>\n'


def _place(box: Box) -> dict[str, str]:
    return {"x": number(box.left), "y": number(box.top), "width": number(box.right - box.left),
            "height": number(box.bottom - box.top)}


def _text(text: Text, light: str) -> dict[str, str]:
    place = {"x": number(text.at[0]), "y": number(text.at[1]), "fill": light}
    return place if text.anchor == "start" else {**place, "text-anchor": text.anchor}
