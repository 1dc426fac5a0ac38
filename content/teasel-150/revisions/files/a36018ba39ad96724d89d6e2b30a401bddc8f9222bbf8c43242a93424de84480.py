"""Makes the printed parts of the Teasel 150 from its build.yaml, as STL in millimetres.

    python make_meshes.py

Needs pyyaml, numpy, and trimesh with the boolean engine manifold3d. A length that the spec says is read from it; what
belongs to one part alone (a wall, a screw hole) stands here. Each part lies as it is printed, flat on z = 0.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import trimesh
import yaml
from trimesh import Trimesh
from trimesh.creation import box, cylinder, revolve

HERE = Path(__file__).resolve().parent
FACETS = 48
M4_CLEAR, M4_INSERT, M4_NUT_ACROSS = 4.5, 5.6, 7.2
M5_CLEAR, M5_NUT_ACROSS = 5.5, 8.2
M6_CLEAR, M6_HEAD = 6.6, 12.6
CORK, PLAY = 2.0, 0.5
PLY, POCKET = 12.0, 4.0
HUB_HEIGHT, CLAMP_WEB = 25.0, 3.0
THIRDS = (0.0, 120.0, 240.0)
BETWEEN = (60.0, 180.0, 300.0)


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


def turned(mesh: Trimesh, degrees: float, axis: str = "z") -> Trimesh:
    """A copy, turned about an axis through the origin, right-handed."""
    first, second = {"x": (1, 2), "y": (2, 0), "z": (0, 1)}[axis]
    turn, angle = np.eye(4), math.radians(degrees)
    turn[first, first] = turn[second, second] = math.cos(angle)
    turn[first, second], turn[second, first] = -math.sin(angle), math.sin(angle)
    made: Trimesh = mesh.copy()
    made.apply_transform(turn)
    return made


def around(mesh: Trimesh, angles: tuple[float, ...]) -> list[Trimesh]:
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


def diagonal_offset(spec: dict[str, Any]) -> float:
    """The offset at which the last rays past both ends of the diagonal meet the focal plane equally far out, mm.

    In the plane of the fold, unfolded: each end of the diagonal's face is a stop; the ray from the opposite rim of the
    mirror through it gives the field height that it still lights. The two heights are set equal by bisection.
    """
    primary, focuser = spec["primary"], spec["focuser"]
    focal_length, half = mm(primary["focal_length"]), mm(primary["aperture"]) / 2
    rim = 2 * focal_length - math.sqrt((2 * focal_length) ** 2 - half**2)
    intercept = sum(mm(focuser[key]) for key in ("mounting_radius", "height", "drawn_out"))
    reach = mm(spec["diagonal"]["minor_axis"]) / 2

    def lit(height: float, station: float) -> float:
        """Field height of the ray from the far rim (−half) past a stop at this height and station."""
        return -half + (height + half) * (focal_length - rim) / (station - rim)

    def surplus(offset: float) -> float:
        station = focal_length - intercept
        focuser_side = lit(reach - offset, station + reach - offset)
        far_side = lit(reach + offset, station - reach - offset)
        return focuser_side - far_side

    low, high = 0.0, reach / 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if surplus(middle) > 0 else (low, middle)
    return (low + high) / 2


def cell_plate(spec: dict[str, Any]) -> Trimesh:
    """Carries the mirror on three pads; posts hold its edge; springs push the plate from below at the same azimuths."""
    primary, cell = spec["primary"], spec["cell"]
    blank, edge = mm(primary["blank_diameter"]) / 2, mm(primary["edge_thickness"])
    pads, push = mm(cell["rings"][0]), mm(cell["push"]["radius"])
    plate, raised, outer = 12.0, 3.0, 90.0
    inner = blank + CORK + PLAY
    top = plate + raised + CORK + edge + 0.3
    post = block((inner, outer + 2), (-10, 10), (0, top))
    solid = joined(rod(2 * outer, 0, plate), *around(rod(16, 0, plate + raised, pads), THIRDS), *around(post, THIRDS))
    solid = trimesh.boolean.intersection([solid, rod(2 * outer, -1, top + 1)], engine="manifold")
    cone = revolve(np.array([(0, plate - 3.6), (M6_CLEAR / 2, plate - 3.6), (M6_HEAD / 2, plate - 0.6),
                             (M6_HEAD / 2, plate + 1), (0, plate + 1)]), sections=FACETS)
    cone.apply_translation((push, 0, 0))
    windows = around(rod(30, -1, plate + 1, 56), BETWEEN)
    bolts = [*around(rod(M6_CLEAR, -1, plate + 1, push), THIRDS), *around(cone, THIRDS)]
    inserts = around(rod(M4_INSERT, top - 24, top + 1, 85), THIRDS)
    return without(solid, rod(56, -1, plate + 1), *windows, *bolts, *inserts)


def mirror_clip(spec: dict[str, Any]) -> Trimesh:
    """Reaches from the post's screw over the mirror's edge, not beyond its clear aperture."""
    contact, reach = mm(spec["cell"]["clips"]["radius"]), mm(spec["primary"]["blank_diameter"]) / 2
    lap = 2 * (reach - contact)
    solid = block((reach - lap, 90), (-10, 10), (0, 3))
    slot = joined(rod(M4_CLEAR, -1, 4, 84.5), rod(M4_CLEAR, -1, 4, 85.5), block((84.5, 85.5), (-2.25, 2.25), (-1, 4)))
    made = without(solid, slot)
    made.apply_translation((-(reach - lap), 0, 0))
    return made


def spider_hub(spec: dict[str, Any]) -> Trimesh:
    """Three vanes run into it; the holder's bolt passes through it off the axis, away from the focuser.

    The focuser is at +x; a notch in the upper rim shows that side.
    """
    holder, vane = mm(spec["diagonal"]["holder_diameter"]), mm(spec["spider"]["vane_thickness"])
    height = HUB_HEIGHT
    slot = block((7, holder), (-(vane + 0.2) / 2, (vane + 0.2) / 2), (-1, height + 1))
    tilt = [rod(M4_CLEAR, -1, height + 1, 9.5), rod(M4_INSERT, -1, 9, 9.5)]
    screws = [piece for one in tilt for piece in around(one, THIRDS)]
    bolt = rod(M5_CLEAR, -1, height + 1, -diagonal_offset(spec))
    notch = block((holder / 2 - 1, holder), (-1, 1), (height - 2, height + 1))
    return without(rod(holder, 0, height), *around(slot, BETWEEN), *screws, bolt, notch)


def diagonal_holder(spec: dict[str, Any]) -> Trimesh:
    """A stalk with a face at 45° to its axis; the nut of its bolt drops in from that face before the glass is set."""
    diagonal, focuser = spec["diagonal"], spec["focuser"]
    width, thickness = mm(diagonal["holder_diameter"]), mm(diagonal["thickness"])
    station = mm(spec["primary"]["focal_length"]) - sum(
        mm(focuser[key]) for key in ("mounting_radius", "height", "drawn_out"))
    hub_below = mm(spec["front"]["station"]) - PLY - CLAMP_WEB - HUB_HEIGHT
    gap = 6.0
    top = hub_below - gap
    face = station - diagonal_offset(spec) + thickness * math.sqrt(2)
    length = top - face
    solid = rod(width, 0, length + width)
    wedge = turned(block((-width * 2, width * 2), (-width, width), (0, width * 4)), 45, "y")
    wedge.apply_translation((0, 0, length))
    return without(solid, wedge, rod(M5_CLEAR, -1, length + width), hexagon(M5_NUT_ACROSS, 12, length + width))


def vane_clamp(spec: dict[str, Any]) -> Trimesh:
    """Holds a vane in a slot by a cross screw; two long holes let it slide along the ring's radius (x)."""
    vane = mm(spec["spider"]["vane_thickness"]) + 0.2
    solid = joined(block((-10, 10), (-25, 25), (0, 6)), block((-10, 10), (-12, 12), (0, 25)))
    slot = block((-11, 11), (-vane / 2, vane / 2), (CLAMP_WEB, 26))
    screw = [turned(part, -90, "x") for part in (rod(M4_CLEAR, -30, 30), hexagon(M4_NUT_ACROSS, 8, 30))]
    for part in screw:
        part.apply_translation((0, 0, 14))
    holes = [piece for y in (-18.5, 18.5) for piece in
             (rod(M4_CLEAR, -1, 7, -2, y), rod(M4_CLEAR, -1, 7, 2, y), block((-2, 2), (y - 2.25, y + 2.25), (-1, 7)))]
    return without(solid, slot, *screw, *holes)


def focuser_board(spec: dict[str, Any]) -> Trimesh:
    """A plate between the rings with a flange outwards at each. The focuser's face is z = 8; x runs to the sky."""
    station = mm(spec["primary"]["focal_length"]) - sum(
        mm(spec["focuser"][key]) for key in ("mounting_radius", "height", "drawn_out"))
    upper = mm(spec["front"]["station"]) - PLY
    lower = mm(spec["frame"]["lower_fixing"]) + mm(spec["frame"]["length"]) - POCKET + PLY
    below, above, face = lower - station, upper - station, 8.0
    plate = block((below, above), (-45, 45), (0, face))
    flanges = [block(ends, (-45, 45), (0, face + 16)) for ends in ((below, below + 6), (above - 6, above))]
    gussets = [block((below, above), (y - 2.5, y + 2.5), (0, face + 6)) for y in (-42.5, 42.5)]
    holes = [rod(M4_CLEAR, -1, face + 1, x, y) for x in (-24, 24) for y in (-24, 24)]
    through = []
    for y in (-35.0, 35.0):
        hole = turned(rod(M4_CLEAR, below - 1, above + 1), 90, "y")
        hole.apply_translation((0, y, face + 8))
        through.append(hole)
    return without(joined(plate, *flanges, *gussets), rod(38, -1, face + 1), *holes, *through)


def foot(_: dict[str, Any]) -> Trimesh:
    """A truncated cone with a sunk hole for a 3.5 mm wood screw; the wide end stands on the ground."""
    solid = revolve(np.array([(0, 0), (25, 0), (20, 24), (0, 24)]), sections=FACETS)
    return without(solid, rod(4, -1, 25), rod(9, -1, 4))


PARTS = {
    "cell-plate": cell_plate, "mirror-clip": mirror_clip, "spider-hub": spider_hub,
    "diagonal-holder": diagonal_holder, "vane-clamp": vane_clamp, "focuser-board": focuser_board, "foot": foot,
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
