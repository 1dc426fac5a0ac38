"""A scene as SVG text. The same scene always gives the same text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from html import escape

from dossier.drawings.lettering import width_of
from dossier.drawings.palette import Palette
from dossier.drawings.scene import (
    Circle,
    Group,
    Medium,
    Pen,
    Point,
    Scene,
    Segments,
    Shape,
    Text,
    Wash,
    Words,
)

FONT = "Source Sans, sans-serif"
Link = Callable[[str], str]


@lru_cache(maxsize=16384)
def number(value: float) -> str:
    """A coordinate, to a thousandth of the drawing's unit."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def attributes(pairs: Mapping[str, str]) -> str:
    """``key="value"`` pairs, escaped, each with a space before it."""
    return "".join([f' {key}="{_escaped(value)}"' for key, value in pairs.items()])


# Most attributes of a drawing say one of a few things.
_escaped = lru_cache(maxsize=4096)(escape)


def render(scene: Scene, palette: Palette, link: Link | None = None, origin: Link | None = None, *,
           alone: bool = False) -> str:
    """The scene in these colours; ``link`` gives the address of a result's working, ``origin`` that of what the author
    said under a key, or nothing.

    ``alone`` is for a file of its own, opened where the typeface may be missing: every line of lettering then says how
    long it is, so that whatever typeface stands in keeps to the room that was reckoned with.
    """
    box, unit = scene.box, scene.medium.unit
    width, height = number(box.right - box.left), number(box.bottom - box.top)
    head = {
        "xmlns": "http://www.w3.org/2000/svg", "class": "drawing", "data-drawing": scene.name,
        # What is inside an image cannot be reached by keyboard or screen reader, so a drawing with links is a group.
        "role": "group" if link else "img",
        "aria-labelledby": f"{scene.name}-title {scene.name}-desc",
        "width": f"{width}{unit if unit == 'mm' else ''}", "height": f"{height}{unit if unit == 'mm' else ''}",
        "viewBox": f"{number(box.left)} {number(box.top)} {width} {height}",
        "font-family": FONT, "font-size": number(scene.medium.lettering),
        **{f"data-{key}": value for key, value in scene.data.items()},
    }
    writer = _Writer(scene.medium, palette, link, origin, alone)
    return "\n".join([
        f"<svg{attributes(head)}>",
        f'<title id="{scene.name}-title">{escape(scene.title)}</title>',
        f'<desc id="{scene.name}-desc">{escape(scene.description)}</desc>',
        *(writer.shape(member) for member in scene.members),
        "</svg>",
    ]) + "\n"


class _Writer:
    """Writes shapes in one medium's widths and one palette's colours."""

    def __init__(self, medium: Medium, palette: Palette, link: Link | None, origin: Link | None, alone: bool) -> None:
        self.medium, self.palette, self.link, self.origin, self.alone = medium, palette, link, origin, alone

    def shape(self, shape: Shape) -> str:
        if isinstance(shape, Group):
            title = f"<title>{escape(shape.title)}</title>" if shape.title else ""
            inner = "\n".join(self.shape(member) for member in shape.members)
            return f"<g{self.data(shape.data)}>{title}\n{inner}\n</g>"
        if isinstance(shape, Text):
            return self.text(shape)
        if isinstance(shape, Circle):
            centre = {"cx": number(shape.centre[0]), "cy": number(shape.centre[1]), "r": number(shape.radius)}
            return f"<circle{attributes(centre)}{self.look(shape.pen, shape.wash)}{self.data(shape.data)}/>"
        if isinstance(shape, Segments):
            path = "".join(_path(line) for line in shape.lines)
            return f'<path d="{path}"{self.look(shape.pen, None)}{self.data(shape.data)}/>'
        path = _path(shape.points) + ("Z" if shape.closed else "")
        return f'<path d="{path}"{self.look(shape.pen, shape.wash)}{self.data(shape.data)}/>'

    def look(self, pen: Pen | None, wash: Wash | None) -> str:
        look = {"fill": self.palette.colour(wash.role) if wash else "none"}
        if wash and wash.opacity < 1:
            look["fill-opacity"] = number(wash.opacity)
        if pen:
            width = self.medium.width(pen.line)
            look |= {"stroke": self.palette.colour(pen.role), "stroke-width": number(width)}
            if pen.line.pattern:
                look["stroke-dasharray"] = " ".join(number(step * width) for step in pen.line.pattern)
            if pen.opacity < 1:
                look["stroke-opacity"] = number(pen.opacity)
        return attributes(look)

    def text(self, text: Text) -> str:
        (x, y), turn = text.at, {}
        if text.turned:
            turn = {"transform": f"rotate(-90 {number(x)} {number(y)})"}
        place = {"x": number(x), "y": number(y), **turn, "fill": self.palette.colour(text.role)}
        if text.size != 1.0:
            place["font-size"] = number(self.medium.lettering * text.size)
        if text.anchor != "start":
            place["text-anchor"] = text.anchor
        if self.alone and text.plain:
            place["textLength"] = number(width_of(text.plain, self.medium.lettering * text.size))
            place["lengthAdjust"] = "spacingAndGlyphs"
        shown = [run for run in text.runs if run.result or run.key]
        if len(shown) != 1:
            inner = "".join(self.linked(run, f"<tspan{_named(run)}>{escape(run.text)}</tspan>") if run in shown
                            else escape(run.text) for run in text.runs)
            return f"<text{attributes(place)}>{inner}</text>"
        # One figure: the words beside it say what it is, so they are part of the link.
        return self.linked(shown[0], f"<text{attributes(place)}{_named(shown[0])}>{escape(text.plain)}</text>")

    def linked(self, run: Words, inner: str) -> str:
        """``inner`` as a link to the working of the run's result, or to where its key is said, where links are wanted.
        """
        href = self.link(run.result) if self.link and run.result else (
            self.origin(run.key) if self.origin and run.key else "")
        return f'<a href="{escape(href)}">{inner}</a>' if href else inner

    @staticmethod
    def data(pairs: Mapping[str, str]) -> str:
        return attributes({f"data-{key}": value for key, value in pairs.items()})


def _path(points: tuple[Point, ...]) -> str:
    return "M" + "L".join([f"{number(x)} {number(y)}" for x, y in points])


def _named(run: Words) -> str:
    return attributes({"data-result": run.result} if run.result else {"data-key": run.key})
