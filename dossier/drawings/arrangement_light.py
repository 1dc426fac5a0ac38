"""The light's way through a general arrangement: straight lines between points that the results give.

Points are (station, height) in millimetres, in the plane of the fold. A ray comes from the sky to the mirror's rim and
goes on towards its image; the 45° plane through the fold turns it to the focal plane, where it meets the diagonal.
"""

from __future__ import annotations

from dataclasses import dataclass

from dossier.drawings.arrangement import Arrangement
from dossier.drawings.scene import THIN, Group, Pen, Point, Polyline, View, Wash

_AXIS_PEN, _EDGE_PEN = Pen(THIN, "accent"), Pen(THIN, "accent", 0.55)
_ARRIVING, _CAUGHT = Wash("accent", 0.06), Wash("accent", 0.13)
# A ray through the very end of a least diagonal must not be lost to rounding: a millionth of a millimetre.
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Ray:
    """A ray from the sky by the rim (``rim`` 1 towards the focuser, −1 away) to the image at ``field_height``.

    ``points`` are its start, the rim, the diagonal and the focal plane; a ray that passes the diagonal by goes on to
    where the drawing of light ends, and is not ``caught``.
    """

    rim: int
    field_height: float
    points: tuple[Point, ...]
    caught: bool


def folded(a: Arrangement, point: Point) -> Point:
    """A point beyond the diagonal, as the 45° plane through the fold mirrors it."""
    station, height = point
    return (a.focuser_station + height, station - a.focuser_station)


def ray(a: Arrangement, rim: int, field_height: float, start_station: float) -> Ray:
    """One ray; ``start_station`` is where the light begins to be drawn."""
    edge = (a.sagitta, rim * a.aperture / 2)
    image = (a.focal_length, field_height)
    # Light for this image point arrives as the ray through the vertex does, mirrored in the axis.
    start = (start_station, edge[1] - field_height / a.focal_length * (start_station - a.sagitta))
    slope = (image[1] - edge[1]) / (image[0] - edge[0])
    hit_station = (a.focuser_station + edge[1] - slope * edge[0]) / (1 - slope)
    hit = (hit_station, hit_station - a.focuser_station)
    if abs(hit[1] + a.offset) <= a.minor_axis / 2 + _SLACK:
        return Ray(rim, field_height, (start, edge, hit, folded(a, image)), True)
    passing = (start_station, edge[1] + slope * (start_station - edge[0]))
    return Ray(rim, field_height, (start, edge, passing), False)


def beam(a: Arrangement, field_height: float) -> tuple[Point, ...]:
    """Outline of the light that the diagonal catches for one image point, from the mirror to the focal plane."""
    image = (a.focal_length, field_height)
    sides = []
    for rim in (1, -1):
        edge = ray(a, rim, field_height, a.focal_length)
        if edge.caught:
            sides.append(edge.points[1:3])
            continue
        # The diagonal's end decides: the ray that passes it comes from inside the rim.
        height = -a.offset + rim * a.minor_axis / 2
        end = (a.focuser_station + height, height)
        slope = (image[1] - end[1]) / (image[0] - end[0])
        sides.append(((a.sagitta, end[1] + slope * (a.sagitta - end[0])), end))
    (upper, upper_hit), (lower, lower_hit) = sides
    return (upper, upper_hit, folded(a, image), lower_hit, lower)


def light(a: Arrangement, view: View, start_station: float, arrow: float, *, edges: bool = True) -> Group:
    """The cone of the axis, tinted, and with ``edges`` those of both edges of the judged field, their rays drawn.

    ``arrow`` is the length of the arrowheads on the light that comes in, in the drawing's unit.
    """
    heights = [0.0]
    if a.judged_field and edges:
        heights = [a.judged_field / 2, -a.judged_field / 2, 0.0]
    rays = [ray(a, rim, height, start_station) for height in heights for rim in (1, -1)]
    upper, lower = (each.points for each in rays[-2:])
    washes = (Polyline(view.points((upper[0], upper[1], lower[1], lower[0])), None, _ARRIVING, closed=True),
              Polyline(view.points(beam(a, 0.0)), None, _CAUGHT, closed=True, data={"part": "beam"}))
    heads = [_head(view, each, arrow / view.scale) for each in rays[-2:]]
    return Group((*washes, *(_drawn(each, view) for each in rays), *heads), {"part": "light"})


def _head(view: View, each: Ray, length: float) -> Polyline:
    """An arrowhead on the first leg of an axial ray, a little after its start."""
    station, height = each.points[0][0] - length, each.points[0][1]
    corners = [(station - length, height), (station, height + length / 6), (station, height - length / 6)]
    return Polyline(view.points(corners), None, Wash("accent"), closed=True)


def _drawn(each: Ray, view: View) -> Polyline:
    side = "upper" if each.rim > 0 else "lower"
    place = "axis" if not each.field_height else "outer" if each.field_height > 0 else "inner"
    pen = _EDGE_PEN if each.field_height else _AXIS_PEN
    data = {"ray": f"{place}-{side}", "caught": "yes" if each.caught else "no"}
    return Polyline(view.points(each.points), pen, data=data)
