"""The Alder closes: poles between points in space, the light between poles, boards on their sheets, the swinging box.

Geometry alone; nothing is taken from the program but the results it is compared with.
"""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from dossier.design import Design

FloatArray = npt.NDArray[np.float64]
PLY, BOARD = 12.0, 18.0
BOX_BELOW = 125.0       # lower edge of the box's sides under the mirror's face
SIDE_HEIGHT = 454.0
BRACKET = 25.0          # from ring or deck to the bolt
TONGUE = 22.0           # from a tube's end to the bolt
FLOOR_BELOW_PIVOT = 495.0


@pytest.fixture(scope="module")
def design(alder: Any, worked_out: Any) -> Design:
    return worked_out(alder)


def step(alder: Any, name: str) -> str:
    return str(next((alder.folder / "pages" / "steps").glob(f"*-{name}.md")).read_text(encoding="utf-8"))


def nodes(radius: float, first: float, station: float) -> FloatArray:
    """Four bolts about the axis, shape (4, 3)."""
    angle = np.radians(first + np.array([0, 90, 180, 270]))
    return np.stack((radius * np.cos(angle), radius * np.sin(angle), np.full(4, station)), axis=1)


def poles(alder: Any) -> tuple[FloatArray, FloatArray]:
    """Lower and upper ends of the eight poles, each of shape (8, 3). The upper bolts stand under the lower ring."""
    ring = lower_ring(alder)
    upper = nodes(alder.mm("frame.upper_circle_radius"), 0, ring - BRACKET)
    lower = nodes(alder.mm("frame.circle_radius"), 45, SIDE_HEIGHT - BOX_BELOW + PLY + BRACKET)
    return np.concatenate((lower, lower)), np.concatenate((upper, np.roll(upper, -1, axis=0)))


def lower_ring(alder: Any) -> float:
    """Under face of the lower ring: the cage is 170 mm between two rings of 12 mm, its top the front."""
    return float(alder.mm("front.station") - 170 - 2 * PLY)


def intercept(alder: Any) -> float:
    return float(sum(alder.mm(f"focuser.{key}") for key in ("mounting_radius", "height", "drawn_out")))


def beam_radius(alder: Any, station: float) -> float:
    half, field = alder.mm("primary.aperture") / 2, alder.mm("field.judged") / 2
    return float(half + station * field / alder.mm("primary.focal_length"))


def test_eight_poles_reach_from_corner_to_rim(alder: Any, design: Design) -> None:
    lower, upper = poles(alder)
    assert np.linalg.norm(upper - lower, axis=1) == pytest.approx(alder.mm("frame.length"), abs=0.05)
    assert lower[0, 2] == pytest.approx(alder.mm("frame.lower_fixing"))
    assert design.results["frame.upper_fixing"].number == pytest.approx(upper[0, 2], abs=0.05)


def test_no_pole_stands_in_the_light(alder: Any) -> None:
    lower, upper = poles(alder)
    for share in np.linspace(0, 1, 21):
        point = lower + share * (upper - lower)
        inside = np.hypot(point[:, 0], point[:, 1]).min() - alder.mm("frame.outer_diameter") / 2
        assert inside > beam_radius(alder, float(point[0, 2]))


def test_the_poles_come_out_of_two_lengths(alder: Any, design: Design) -> None:
    cut = next(part["cut"] for part in alder.parts() if part["ref"] == "P16")
    tube = alder.mm("frame.length") - 2 * TONGUE
    used = 4 * tube + 3 * float(cut["kerf"].split()[0]) + float(cut["trim"].split()[0])
    assert used <= float(cut["stock_length"].split()[0]) < used + tube
    assert design.results["cut.aluminium-tube-25x22.lengths"].number == 2


def test_the_light_ends_in_the_focal_plane(alder: Any, design: Design) -> None:
    """A paraboloid sends every ray to its focus, so the fold is all that counts."""
    station = alder.mm("primary.focal_length") - intercept(alder)
    assert design.results["focuser.station"].number == pytest.approx(station)
    assert lower_ring(alder) + PLY + 45 < station < alder.mm("front.station") - PLY - 45, "room for a foot of 90 mm"
    drawn = [alder.mm("focuser.drawn_out") + alder.mm(f"eyepieces.{index}.stop_shift") for index in range(4)]
    assert design.results["focuser.spare_in"].number == pytest.approx(min(drawn))
    assert design.results["focuser.spare_out"].number == pytest.approx(alder.mm("focuser.travel") - max(drawn))


def test_nothing_cuts_the_incoming_light(alder: Any) -> None:
    opening = alder.mm("front.opening") / 2
    assert opening > beam_radius(alder, alder.mm("front.station"))
    assert beam_radius(alder, SIDE_HEIGHT - BOX_BELOW + PLY) < 270 / 2, "the deck's opening"
    end = alder.mm("focuser.mounting_radius") + alder.mm("focuser.height") - alder.mm("focuser.drawtube")
    assert end > opening, "racked fully in, the drawtube stays outside the opening"
    assert alder.mm("cell.clips.radius") > alder.mm("primary.aperture") / 2
    assert alder.mm("diagonal.holder_diameter") <= alder.mm("diagonal.minor_axis")


def test_the_cell_fills_the_space_over_the_floor(alder: Any) -> None:
    """From the mirror's face down: glass at the edge, felt, triangle, dome, plate, spring; then floor and fan."""
    blank, focal_length = alder.mm("primary.blank_diameter") / 2, alder.mm("primary.focal_length")
    back = blank**2 / (4 * focal_length) - alder.mm("primary.edge_thickness")
    plate = back - 3 - 4 - 12 - BOARD
    floor = plate - alder.mm("cell.push.spring.compressed_to")
    assert floor + BOX_BELOW == pytest.approx(46, abs=0.5)
    assert "target: 46 mm" in step(alder, "glue-the-box")
    assert floor - BOARD - 25 > -BOX_BELOW, "the fan is inside the box"
    assert plate + BOARD - 70 > -BOX_BELOW, "the bolts end inside the box"
    batten = next(part["cut"]["pieces"][0]["length"] for part in alder.parts() if part["ref"] == "P29")
    assert SIDE_HEIGHT - BOX_BELOW - floor == pytest.approx(float(batten.split()[0]), abs=0.5)


def test_the_triangles_balance_on_their_pivots(alder: Any, design: Design) -> None:
    """Three equal loads on a triangle balance in the middle of its three pads."""
    inner, outer = (float(radius.split()[0]) for radius in alder.at("cell.rings"))
    middle = (inner + 2 * outer * math.cos(math.radians(30))) / 3
    assert middle == pytest.approx(67.9, abs=0.05)
    assert design.results["cell.wavefront_rms"].number < 0.018


def test_the_box_swings_clear_of_the_rocker(alder: Any, design: Design) -> None:
    pivot, half = alder.mm("mount.pivot") + BOX_BELOW, 324 / 2
    swing = math.hypot(pivot, half)
    assert alder.mm("mount.pivot_height") - alder.mm("mount.floor") == pytest.approx(FLOOR_BELOW_PIVOT)
    assert design.results["mount.swing_clearance"].number == pytest.approx(FLOOR_BELOW_PIVOT - swing, abs=0.01)
    assert FLOOR_BELOW_PIVOT - swing > 5
    front = (380 / 2 - BOARD, 280 - FLOOR_BELOW_PIVOT)
    for degrees in range(91):
        altitude = math.radians(degrees)
        along = front[0] * math.cos(altitude) + front[1] * math.sin(altitude)
        aside = abs(front[1] * math.cos(altitude) - front[0] * math.sin(altitude))
        inside = -pivot < along < SIDE_HEIGHT + PLY - pivot and aside < half
        assert not inside, f"the box meets the rocker's front at {degrees}°"


def test_the_discs_stay_on_their_pads(alder: Any) -> None:
    """Upright, the pads bear on the disc about its tail; level, about its side: a whole disc has rim everywhere."""
    radius, angle = alder.mm("mount.bearing.radius"), math.radians(35)
    notch_edge = 390 - (FLOOR_BELOW_PIVOT - radius - 5)
    pad_height = radius + 5 - (radius + 5) * math.cos(angle)
    assert pad_height < notch_edge, "the sides are high enough to carry the pads"
    assert (radius + 5) * math.sin(angle) < 380 / 2


def test_it_balances_near_the_pivot(alder: Any, design: Design) -> None:
    depth = 125**2 / (4 * alder.mm("primary.focal_length"))
    mirror = 2230e-9 * (math.pi * 127**2 * alder.mm("primary.edge_thickness") - math.pi * 125**2 * depth / 2)
    total = moment = 0.0
    for part in alder.parts():
        if "mass" not in part or "station" not in part:
            continue
        if "print" in part:
            each = design.results[f"print.{part['ref'].lower()}.mass"].number
        else:
            each = mirror if "{{" in part["mass"] else float(part["mass"].removesuffix(" kg"))
        total += each * part["quantity"]
        moment += each * part["quantity"] * float(part["station"].removesuffix(" mm"))
    assert design.results["balance.station"].number == pytest.approx(moment / total, abs=0.2)
    bare = (moment - 0.38 * 1030) / (total - 0.38)
    assert bare < alder.mm("mount.pivot") < moment / total, "between no eyepiece and the heaviest"


def test_the_plywood_lies_on_its_sheets(alder: Any) -> None:
    """Laid out in rows, with 3 mm for each saw cut; step 2 lists the same boards."""
    thin = [[(324, 454), (324, 454), (300, 454), (300, 454)], [(370, 370), (370, 370), (324, 324), (290, 290)]]
    thick = [[(520, 520), (380, 390), (380, 390)], [(366, 380), (340, 340), (340, 340), (330, 280)],
             [(300, 300), (290, 290)]]
    for rows in (thin, thick):
        assert max(sum(piece[0] for piece in row) + 3 * (len(row) - 1) for row in rows) <= 1525
        assert sum(max(piece[1] for piece in row) for row in rows) + 3 * (len(rows) - 1) <= 1525
    listed = set(re.findall(r"\d{3} × \d{3}", step(alder, "cut-the-plywood")))
    assert listed == {f"{a} × {b}" for row in (*thin, *thick) for a, b in row} - {
        "520 × 520", "340 × 340", "290 × 290"}


def test_it_costs_what_its_packs_cost(alder: Any, design: Design) -> None:
    spool = alder.at("printer.spool_price")
    # Of eight poles four come out of a length of tube; each other stock gives a kit's pieces out of one length.
    lengths = {part["ref"]: 2 if part["ref"] == "P16" else 1 for part in alder.parts() if "kerf" in part.get("cut", {})}
    priced = [(lengths.get(part["ref"], math.ceil(part["quantity"] / part.get("pack", 1))), part["price"])
              for part in alder.parts() if part["get"] != "have" and "price" in part]
    cost = sum(packs * (spool if isinstance(price, str) else price) for packs, price in priced)
    assert design.results["parts.cost"].number == pytest.approx(cost)
    assert cost <= 1800


def test_the_jig_sets_pads_and_pivot(alder: Any) -> None:
    """Holes read back from the mesh: three of 2.2 mm for the pads and one of 4.2 mm where they balance, its origin."""
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    data = (alder.folder / "parts" / "triangle-jig.stl").read_bytes()
    mesh = np.frombuffer(data, record, offset=84)
    points = np.unique(mesh["corners"].reshape(-1, 3).astype(float), axis=0)
    points = points[points[:, 2] < 1e-6]
    inner, outer = (float(radius.split()[0]) for radius in alder.at("cell.rings"))
    middle = (inner + 2 * outer * math.cos(math.radians(30))) / 3
    pads = [(inner - middle, 0.0), (outer * math.cos(math.radians(30)) - middle, outer / 2),
            (outer * math.cos(math.radians(30)) - middle, -outer / 2)]
    for (x, y), hole in ((pads[0], 1.1), (pads[1], 1.1), (pads[2], 1.1), ((0.0, 0.0), 2.1)):
        away = np.hypot(points[:, 0] - x, points[:, 1] - y)
        assert away.min() == pytest.approx(hole, abs=0.01)


def test_the_board_fills_the_cage(alder: Any) -> None:
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    mesh = np.frombuffer((alder.folder / "parts" / "focuser-board.stl").read_bytes(), record, offset=84)
    along = mesh["corners"][:, :, 0]
    station = alder.mm("primary.focal_length") - intercept(alder)
    assert along.min() == pytest.approx(lower_ring(alder) + PLY - station, abs=0.05)
    assert along.max() == pytest.approx(alder.mm("front.station") - PLY - station, abs=0.05)


def test_three_revisions_mend_what_the_first_had_wrong(design: Design) -> None:
    assert [each.letter for each in design.issued] == ["A", "B", "C"]
    assert design.revision == "C"
    assert {note.id: note.closed_by for note in design.build.notes} == {
        "N1": "B", "N2": "B", "N3": "C", "N4": None, "N5": None}
