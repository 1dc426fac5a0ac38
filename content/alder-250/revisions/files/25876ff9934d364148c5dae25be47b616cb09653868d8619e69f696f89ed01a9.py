"""Makes the printed parts of the Alder 250 from its build.yaml, as STL in millimetres.

    python make_meshes.py

Needs pyyaml, numpy, and trimesh with the boolean engine manifold3d. A length that the spec says is read from it; what
belongs to one part alone (a wall, a screw hole) stands here. Each part lies as it is printed, flat on z = 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
import trimesh
import yaml
from trimesh import Trimesh
from trimesh.creation import box, cylinder, revolve

HERE = Path(__file__).resolve().parent
FACETS = 48
M5_CLEAR, M5_INSERT, M5_NUT_ACROSS = 5.5, 6.4, 8.2
M6_CLEAR, M6_NUT_ACROSS = 6.6, 10.2
PLY = 12.0
CORK, PLAY = 2.0, 0.5
FELT, TRIANGLE, DOME = 3.0, 4.0, 12.0   # what lies between the glass and the cell plate
HUB_HEIGHT, CLAMP_WEB = 28.0, 4.0
BRACKET = 25.0                           # from a ring or the deck to the bolt of its node
RINGS_APART = 170.0
PAD = 15.0
THIRDS = (0.0, 120.0, 240.0)
QUARTERS = (45.0, 135.0, 225.0, 315.0)


def mm(said: str) -> float:
    """A length of the spec, which this build gives in millimetres throughout."""
    number, unit = said.split()
    if unit != "mm":
        raise ValueError(f"{said} is not in mm")
    return float(number)


def rod(diameter: float, bottom: float, top: float, x: float = 0.0, y: float = 0.0) -> Trimesh:
    """An upright cylinder."""
    made: Trimesh = cylinder(radius=diameter / 2, height=top - bottom, sections=FACETS)
    made.apply_translation((x, y, (bottom + top) / 2))
    return made


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Trimesh:
    """A box from its faces."""
    made: Trimesh = box(extents=(x[1] - x[0], y[1] - y[0], z[1] - z[0]))
    made.apply_translation(((x[0] + x[1]) / 2, (y[0] + y[1]) / 2, (z[0] + z[1]) / 2))
    return made


def hexagon(across: float, bottom: float, top: float) -> Trimesh:
    """An upright hexagonal prism on the axis, for a nut."""
    made: Trimesh = cylinder(radius=across / math.sqrt(3), height=top - bottom, sections=6)
    made.apply_translation((0, 0, (bottom + top) / 2))
    return made


def slot(diameter: float, length: float, bottom: float, top: float, x: float, y: float = 0.0) -> Trimesh:
    """A long hole along x, ``length`` between the middles of its ends."""
    ends = (x - length / 2, x + length / 2)
    middle = block(ends, (y - diameter / 2, y + diameter / 2), (bottom, top))
    return joined(middle, *(rod(diameter, bottom, top, end, y) for end in ends))


def turned(mesh: Trimesh, degrees: float, axis: str = "z") -> Trimesh:
    """A copy, turned about an axis through the origin, right-handed."""
    first, second = {"x": (1, 2), "y": (2, 0), "z": (0, 1)}[axis]
    turn, angle = np.eye(4), math.radians(degrees)
    turn[first, first] = turn[second, second] = math.cos(angle)
    turn[first, second], turn[second, first] = -math.sin(angle), math.sin(angle)
    made: Trimesh = mesh.copy()
    made.apply_transform(turn)
    return made


def around(mesh: Trimesh, angles: Iterable[float]) -> list[Trimesh]:
    """Copies at these angles about the axis."""
    return [turned(mesh, angle) for angle in angles]


def joined(*solids: Trimesh) -> Trimesh:
    """One solid out of several."""
    made: Trimesh = trimesh.boolean.union(list(solids), engine="manifold")
    return made


def without(solid: Trimesh, *cuts: Trimesh) -> Trimesh:
    """A solid less all cuts."""
    made: Trimesh = trimesh.boolean.difference([solid, *cuts], engine="manifold")
    return made


def intercept(spec: dict[str, Any]) -> float:
    """Axis to focal plane."""
    return sum(mm(spec["focuser"][key]) for key in ("mounting_radius", "height", "drawn_out"))


def diagonal_offset(spec: dict[str, Any]) -> float:
    """The offset at which the last rays past both ends of the diagonal meet the focal plane equally far out, mm.

    In the plane of the fold, unfolded: each end of the diagonal's face is a stop; the ray from the opposite rim of the
    mirror through it gives the field height that it still lights. The two heights are set equal by bisection.
    """
    primary = spec["primary"]
    focal_length, half = mm(primary["focal_length"]), mm(primary["aperture"]) / 2
    rim = half**2 / (4 * focal_length)
    reach, station = mm(spec["diagonal"]["minor_axis"]) / 2, focal_length - intercept(spec)

    def lit(height: float, stop: float) -> float:
        """Field height of the ray from the far rim (−half) past a stop at this height and station."""
        return -half + (height + half) * (focal_length - rim) / (stop - rim)

    low, high = 0.0, reach / 2
    for _ in range(60):
        middle = (low + high) / 2
        surplus = lit(reach - middle, station + reach - middle) - lit(reach + middle, station - reach - middle)
        low, high = (middle, high) if surplus > 0 else (low, middle)
    return (low + high) / 2


def truss_top(spec: dict[str, Any]) -> float:
    """Station of the upper nodes: a pole's length, less what it reaches sideways from corner to rim."""
    frame = spec["frame"]
    lower, upper = mm(frame["circle_radius"]), mm(frame["upper_circle_radius"])
    across = lower**2 + upper**2 - 2 * lower * upper * math.cos(2 * math.pi / frame["count"])
    return mm(frame["lower_fixing"]) + math.sqrt(mm(frame["length"]) ** 2 - across)


def lower_ring_top(spec: dict[str, Any]) -> float:
    """Station of the face on which the cage's posts stand."""
    return truss_top(spec) + BRACKET + PLY


def edge_post(spec: dict[str, Any]) -> Trimesh:
    """Stands on the cell plate beside the glass, cork between them; an insert in its top takes the clip's screw.

    x runs outwards from the glass; the face to the glass follows its rim.
    """
    reach = mm(spec["primary"]["blank_diameter"]) / 2 + CORK + PLAY
    height = DOME + TRIANGLE + FELT + mm(spec["primary"]["edge_thickness"]) + 0.5
    solid = joined(block((reach - 4, 145), (-14, 14), (0, height)), block((reach - 4, 145), (-26, 26), (0, 8)))
    inside = cylinder(radius=reach, height=3 * height, sections=8 * FACETS)
    screws = [rod(M5_CLEAR, -1, 9, 138, y) for y in (-20, 20)]
    made = without(solid, inside, *screws, rod(M5_INSERT, height - 14, height + 1, 138))
    made.apply_translation((-reach, 0, 0))
    return made


def mirror_clip(spec: dict[str, Any]) -> Trimesh:
    """Reaches from the post's screw over the mirror's edge, not beyond its clear aperture."""
    reach = mm(spec["primary"]["blank_diameter"]) / 2
    lap = 2 * (reach - mm(spec["cell"]["clips"]["radius"]))
    made = without(block((reach - lap, 145), (-12, 12), (0, 4)), slot(M5_CLEAR, 1.5, -1, 5, 138))
    made.apply_translation((-(reach - lap), 0, 0))
    return made


def triangle_jig(spec: dict[str, Any]) -> Trimesh:
    """Laid on a triangle, it guides the drill for three pads (2 mm) and the pivot's dimple (4 mm).

    The pivot belongs where the three pads balance, so that all three carry alike.
    """
    inner, outer = (mm(radius) for radius in spec["cell"]["rings"])
    aside = math.radians(30)
    pads = [(inner, 0.0), *((outer * math.cos(aside), sign * outer * math.sin(aside)) for sign in (1, -1))]
    middle = (sum(x for x, _ in pads) / 3, 0.0)
    width = PAD + 7
    arms = [rod(width, 0, 8)]
    for x, y in pads:
        far, angle = math.hypot(x - middle[0], y), math.degrees(math.atan2(y, x - middle[0]))
        arms += [turned(block((0, far), (-width / 2, width / 2), (0, 8)), angle), rod(width, 0, 8, x - middle[0], y)]
    holes = [rod(2.2, -1, 9, x - middle[0], y) for x, y in pads]
    return without(joined(*arms), *holes, rod(4.2, -1, 9))


def spider_hub(spec: dict[str, Any]) -> Trimesh:
    """Four vanes run into it; the holder's bolt passes through it off the axis, away from the focuser.

    The focuser is at +x; a notch in the upper rim shows that side.
    """
    holder, vane = mm(spec["diagonal"]["holder_diameter"]), mm(spec["spider"]["vane_thickness"])
    height = HUB_HEIGHT
    vanes = around(block((14, holder), (-(vane + 0.2) / 2, (vane + 0.2) / 2), (-1, height + 1)), QUARTERS)
    tilt = [rod(M5_CLEAR, -1, height + 1, 18), rod(M5_INSERT, -1, 10, 18)]
    screws = [piece for one in tilt for piece in around(one, THIRDS)]
    bolt = rod(M6_CLEAR, -1, height + 1, -diagonal_offset(spec))
    notch = block((holder / 2 - 1.5, holder), (-1.5, 1.5), (height - 3, height + 1))
    return without(rod(holder, 0, height), *vanes, *screws, bolt, notch)


def diagonal_holder(spec: dict[str, Any]) -> Trimesh:
    """A stalk with a face at 45° to its axis; the nut of its bolt drops in from that face before the glass is set."""
    diagonal = spec["diagonal"]
    width = mm(diagonal["holder_diameter"])
    glass = mm(spec["primary"]["focal_length"]) - intercept(spec) - diagonal_offset(spec)
    face = glass + mm(diagonal["thickness"]) * math.sqrt(2)
    hub_below = mm(spec["front"]["station"]) - PLY - CLAMP_WEB - HUB_HEIGHT
    length = hub_below - 6 - face
    wedge = turned(block((-width * 2, width * 2), (-width, width), (0, width * 4)), 45, "y")
    wedge.apply_translation((0, 0, length))
    solid = rod(width, 0, length + width)
    return without(solid, wedge, rod(M6_CLEAR, -1, length + width), hexagon(M6_NUT_ACROSS, 16, length + width))


def vane_clamp(spec: dict[str, Any]) -> Trimesh:
    """Holds a vane in a slot by a cross screw; two long holes let it slide along the ring's radius (x)."""
    vane = mm(spec["spider"]["vane_thickness"]) + 0.2
    solid = joined(block((-11, 11), (-30, 30), (0, 8)), block((-11, 11), (-14, 14), (0, 28)))
    gap = block((-12, 12), (-vane / 2, vane / 2), (CLAMP_WEB, 29))
    screw = [turned(part, -90, "x") for part in (rod(M5_CLEAR, -40, 40), hexagon(M5_NUT_ACROSS, 10, 40))]
    for part in screw:
        part.apply_translation((0, 0, 16))
    return without(solid, gap, *screw, *(slot(M5_CLEAR, 4, -1, 9, 0, y) for y in (-22, 22)))


def focuser_board(spec: dict[str, Any]) -> Trimesh:
    """A plate between the rings with a flange outwards at each. The focuser's face is z = 8; x runs to the sky."""
    station = mm(spec["primary"]["focal_length"]) - intercept(spec)
    below = lower_ring_top(spec) - station
    above, face = below + RINGS_APART, 8.0
    plate = block((below, above), (-60, 60), (0, face))
    flanges = [block(ends, (-60, 60), (0, face + 20)) for ends in ((below, below + 7), (above - 7, above))]
    gussets = [block((below, above), (y - 3, y + 3), (0, face + 9)) for y in (-57, 57)]
    holes = [rod(M5_CLEAR, -1, face + 1, x, y) for x in (-33, 33) for y in (-33, 33)]
    through = []
    for y in (-46.0, 46.0):
        hole = turned(rod(M5_CLEAR, below - 1, above + 1), 90, "y")
        hole.apply_translation((0, y, face + 11))
        through.append(hole)
    bore = mm(spec["focuser"]["hole"])
    return without(joined(plate, *flanges, *gussets), rod(bore, -1, face + 1), *holes, *through)


def foot(_: dict[str, Any]) -> Trimesh:
    """A truncated cone with a sunk hole for a 4 mm wood screw; the wide end stands on the ground."""
    solid = revolve(np.array([(0, 0), (30, 0), (24, 25), (0, 25)]), sections=FACETS)
    return without(solid, rod(4.6, -1, 26), rod(10, -1, 5))


PARTS = {
    "focuser-board": focuser_board, "spider-hub": spider_hub, "diagonal-holder": diagonal_holder,
    "vane-clamp": vane_clamp, "edge-post": edge_post, "mirror-clip": mirror_clip, "triangle-jig": triangle_jig,
    "foot": foot,
}


def main() -> None:
    """Write every part beside this script and say what it measures."""
    spec = yaml.safe_load((HERE.parent / "build.yaml").read_text(encoding="utf-8"))
    for name, make in PARTS.items():
        mesh = make(spec)
        if not mesh.is_watertight:
            raise ValueError(f"{name} is not watertight")
        mesh.export(HERE / f"{name}.stl")
        size = " × ".join(f"{length:.1f}" for length in mesh.extents)
        print(f"{name}: {size} mm, {mesh.volume / 1000:.1f} cm³, {len(mesh.faces)} facets")


if __name__ == "__main__":
    main()
