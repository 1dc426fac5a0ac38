"""The printed parts, each shaded as it lies on a bed of squares, in the theme's own light and shade.

A picture's points have a brightness and a cover. On screen they are two masks: through the cover the theme's shade is
laid down, through the brightness its light upon that, so that one picture serves all appearances.
"""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO
from typing import TYPE_CHECKING

from dossier.charts.rendered import FOLDER, MEDIA, Rendered
from dossier.design.pictures import Floats
from dossier.design.pictures.mesh import MeshView, mesh_views
from dossier.drawings.dimension import line_height
from dossier.drawings.general_arrangement import Form
from dossier.drawings.lettering import CAPITALS, DESCENT, boxes
from dossier.drawings.numerals import length_unit, plain_length
from dossier.drawings.palette import SCREEN, Palette
from dossier.drawings.scene import (
    OUTLINE,
    THIN,
    Box,
    Group,
    Medium,
    Pen,
    Point,
    Scene,
    Segments,
    Shape,
    Text,
    Words,
    around,
)
from dossier.drawings.svg import attributes, number, render
from dossier.drawings.wrapping import wrapped
from dossier.notation import Readers, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

_COLUMNS = {"wide": 3, "upright": 2}
_GUTTER = 0.8
_TITLE = "The printed parts"
_CAPTION = ("Each part as it is printed, standing on the bed, seen from above. Each has a scale of its own: the thick "
            "line and every square of the bed are as wide as it says. The scale holds along the bed’s lines and "
            "straight up.")
# Levels of brightness and of cover; a palette has room for 256 of both together.
_SHADES, _COVERS = 32, 8


def printed_parts(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """Every printed part whose mesh can be read."""
    views = mesh_views(design)
    if not views:
        return None
    medium, width = MEDIA[form]
    columns = _COLUMNS[form]
    gutter = _GUTTER * medium.lettering
    side = (width - (columns - 1) * gutter) / columns
    shapes: list[Shape] = []
    places: list[tuple[MeshView, Box]] = []
    top = 0.0
    for start in range(0, len(views), columns):
        row = views[start:start + columns]
        headings = [_heading(view, design, side, medium) for view in row]
        high = top + max(map(len, headings)) * line_height(medium)
        deep = max(view.height for view in row) * side
        for at, (view, heading) in enumerate(zip(row, headings, strict=True)):
            left, over = at * (side + gutter), (deep - side) / 2
            shapes += _lettering(heading, left, top, medium)
            place = Box(left, high + over, left + side, high + over + side)
            shapes += _bed(view, place, high + deep, design.build.readers, medium)
            places.append((view, place))
        top = high + deep + 2.2 * line_height(medium)
    extent = around((Box(0.0, 0.0, width, top - 0.8 * line_height(medium)), *boxes(shapes, medium)))
    alt = f"{_TITLE}, shaded. {' '.join(_told(view, design) for view in views)}"
    scene = Scene(f"printed-parts-{form}", _TITLE, alt, medium, extent.grown(medium.wide), tuple(shapes),
                  {"form": form})
    drawn = render(scene, palette).removesuffix("</svg>\n")
    plates = "".join(_plate(view, place, palette, scene.name) for view, place in places)
    return Rendered(f"{drawn}{plates}</svg>\n", _CAPTION, alt,
                    {_file(view): png(view.shade, view.cover) for view in views})


def png(shade: Floats, cover: Floats) -> bytes:
    """Brightness and cover, 0 to 1, rows down from the top, as a PNG of 256 greys in as many strengths of cover."""
    shades = (shade.clip(0, 1) * (_SHADES - 1)).round().astype("uint8")
    covers = (cover.clip(0, 1) * (_COVERS - 1)).round().astype("uint8")
    shades[covers == 0] = 0
    height, width = shade.shape
    return _encoded((shades * _COVERS + covers).tobytes(), width, height)


@lru_cache(maxsize=64)
def _encoded(points: bytes, width: int, height: int) -> bytes:
    """The same points as a file; a picture in two forms is encoded once."""
    from PIL import Image

    picture = Image.frombytes("P", (width, height), points)
    greys = [round(255 * shade / (_SHADES - 1)) for shade in range(_SHADES) for _ in range(_COVERS)]
    picture.putpalette([part for grey in greys for part in (grey, grey, grey)])
    strengths = bytes(round(255 * cover / (_COVERS - 1)) for _ in range(_SHADES) for cover in range(_COVERS))
    file = BytesIO()
    picture.save(file, "PNG", transparency=strengths, compress_level=9)
    return file.getvalue()


def _heading(view: MeshView, design: Design, width: float, medium: Medium) -> list[str]:
    words = (view.title, size_words(view.solid.size_mm, design.build.readers))
    return [line for each in words for line in wrapped(each, width, medium.lettering)]


def size_words(size_mm: tuple[float, float, float], readers: Readers) -> str:
    """Width, depth and height in the readers' unit: 130 × 90 × 24 mm."""
    factor, unit = length_unit(readers)
    decimals = 2 if readers.units == "inch" else 1
    return f"{' × '.join(f'{round(length * factor, decimals):g}' for length in size_mm)}\u202f{unit}"


def _lettering(lines: list[str], left: float, top: float, medium: Medium) -> list[Shape]:
    return [Text((left, top + at * line_height(medium) + CAPITALS * medium.lettering), (Words(line),))
            for at, line in enumerate(lines)]


def _bed(view: MeshView, place: Box, low: float, readers: Readers, medium: Medium) -> list[Shape]:
    """The bed's squares with one side of one drawn thick, and in the strip below them how wide they are."""
    square, (west, east), (south, north) = view.square_mm, view.across, view.along

    def at(across: float, along: float) -> Point:
        right, down = view.at(across * square, along * square)
        return place.left + right * (place.right - place.left), place.top + down * (place.bottom - place.top)

    lines = [(at(each, south), at(each, north)) for each in range(west, east + 1)]
    lines += [(at(west, each), at(east, each)) for each in range(south, north + 1)]
    bar = (at(west, south), at(west + 1, south))
    words = Text((place.left, low + line_height(medium) - DESCENT * medium.lettering),
                 (Words(f"bed’s squares: {plain_length(square, readers)}"),))
    return [Group((Segments(tuple(lines), Pen(THIN, "faint", 0.55)), Segments((bar,), Pen(OUTLINE), {"part": "scale"})),
                  {"bed": view.name, "square-mm": f"{square:g}"}), words]


def _told(view: MeshView, design: Design) -> str:
    mass = design.results.get(f"print.{view.name}.mass")
    weighs = f", {show_result(mass, design.build.readers).plain}" if mass else ""
    return f"{view.title}: {size_words(view.solid.size_mm, design.build.readers)}{weighs}."


def _file(view: MeshView) -> str:
    return f"part-{view.name}.png"


def _plate(view: MeshView, place: Box, palette: Palette, key: str) -> str:
    box = {"x": number(place.left), "y": number(place.top), "width": number(place.right - place.left),
           "height": number(place.bottom - place.top)}
    image = f'<image{attributes({"href": FOLDER + _file(view), **box})} preserveAspectRatio="none"/>'
    if palette is not SCREEN:
        return f'<g class="shaded">{image}</g>\n'
    name = f"{key}-{view.name}"
    masks = (f'<mask id="{name}-cover" maskUnits="userSpaceOnUse" mask-type="alpha"{attributes(box)}>{image}</mask>\n'
             f'<mask id="{name}-light" maskUnits="userSpaceOnUse"{attributes(box)}>{image}</mask>\n')
    laid = "".join(f'<rect{attributes({**box, "fill": colour, "mask": f"url(#{name}-{mask})"})}/>\n'
                   for mask, colour in (("cover", "var(--shade, var(--ink))"), ("light", "var(--lit, var(--ground))")))
    return f'<g class="shaded">\n{masks}{laid}</g>\n'
