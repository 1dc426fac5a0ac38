"""The Teasel closes: rays traced here by hand reach the focal plane, and boards, poles and parts fit each other.

Geometry alone; nothing is taken from the program but the results it is compared with.
"""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest

from dossier.design import Design

PLY, POCKET = 12.0, 4.0
BOX_BELOW = 100.0   # lower edge of the box's sides under the mirror's face
SIDE_HEIGHT = 421.0


@pytest.fixture(scope="module")
def design(teasel: Any, worked_out: Any) -> Design:
    return worked_out(teasel)


def focus_of(height: float, radius: float) -> float:
    """Where a ray parallel to the axis, this far from it, crosses the axis after a sphere of this radius."""
    depth = radius - math.sqrt(radius**2 - height**2)
    slope = math.tan(2 * math.asin(height / radius))
    return depth + height / slope


def intercept(teasel: Any) -> float:
    return float(sum(teasel.mm(f"focuser.{key}") for key in ("mounting_radius", "height", "drawn_out")))


def beam_radius(teasel: Any, station: float) -> float:
    """Half width of the incoming light of the whole judged field at this station."""
    half, field = teasel.mm("primary.aperture") / 2, teasel.mm("field.judged") / 2
    return float(half + station * field / teasel.mm("primary.focal_length"))


def lower_ring(teasel: Any) -> tuple[float, float]:
    under = teasel.mm("frame.lower_fixing") + teasel.mm("frame.length") - POCKET
    return under, under + PLY


def test_the_folded_light_ends_in_the_focal_plane(teasel: Any, design: Design) -> None:
    focus = focus_of(0.01, 2 * teasel.mm("primary.focal_length"))
    station = focus - intercept(teasel)
    assert station == pytest.approx(1032, abs=0.01)
    assert design.results["focuser.station"].number == pytest.approx(station, abs=0.01)
    assert design.results["optics.intercept"].number == pytest.approx(168)


def test_the_focuser_stands_between_the_rings(teasel: Any) -> None:
    station = teasel.mm("primary.focal_length") - intercept(teasel)
    _, floor = lower_ring(teasel)
    ceiling = teasel.mm("front.station") - PLY
    assert ceiling - floor == pytest.approx(130)
    assert station - 30 - 6 > floor, "a focuser foot of 60 mm clears the lower flange"
    assert station + 30 + 6 < ceiling


def test_the_poles_reach_from_pocket_to_pocket(teasel: Any, design: Design) -> None:
    deck_top = SIDE_HEIGHT - BOX_BELOW + PLY
    assert teasel.mm("frame.lower_fixing") == pytest.approx(deck_top - POCKET)
    assert design.results["frame.upper_fixing"].number == pytest.approx(lower_ring(teasel)[0] + POCKET)


def test_the_pole_length_follows_from_focus_box_and_cage(teasel: Any, design: Design) -> None:
    """Focuser's axis 55 mm above the lower ring's face, as the board is printed; down to the pocket in the deck."""
    focus = focus_of(0.01, 2 * teasel.mm("primary.focal_length"))
    upper_pocket = focus - intercept(teasel) - 55 - PLY + POCKET
    lower_pocket = SIDE_HEIGHT - BOX_BELOW + PLY - POCKET
    assert design.results["frame.pole_length"].number == pytest.approx(upper_pocket - lower_pocket, abs=0.01)


def test_every_eyepiece_reaches_focus_with_travel_in_hand(teasel: Any, design: Design) -> None:
    focus = focus_of(0.01, 2 * teasel.mm("primary.focal_length"))
    board = teasel.mm("primary.focal_length") - intercept(teasel)
    shoulder_in = teasel.mm("focuser.mounting_radius") + teasel.mm("focuser.height")
    drawn = [focus - board + teasel.mm(f"eyepieces.{index}.stop_shift") - shoulder_in for index in range(3)]
    assert drawn == pytest.approx([16, 14, 10.6], abs=0.01)
    spare_out = [teasel.mm("focuser.travel") - out for out in drawn]
    assert min(drawn) >= 10
    assert min(spare_out) >= 10
    assert design.results["focuser.spare_in"].number == pytest.approx(min(drawn), abs=0.01)
    assert design.results["focuser.spare_out"].number == pytest.approx(min(spare_out), abs=0.01)


def test_the_diagonal_catches_the_whole_cone(teasel: Any, design: Design) -> None:
    """Rays from points round the rim to the focus, cut by the 45° plane z = station + x; x points to the focuser."""
    focal_length, half = teasel.mm("primary.focal_length"), teasel.mm("primary.aperture") / 2
    rim = 2 * focal_length - math.sqrt((2 * focal_length) ** 2 - half**2)
    station, offset = focal_length - intercept(teasel), design.results["diagonal.offset"].number
    angle = np.linspace(0, 2 * math.pi, 360)
    start = np.stack((half * np.cos(angle), half * np.sin(angle), np.full_like(angle, rim)))
    way = np.array([[0.0], [0.0], [focal_length]]) - start
    step = (station + start[0] - start[2]) / (way[2] - way[0])
    hit = start + step * way
    along, across = (hit[0] + offset) * math.sqrt(2), hit[1]
    reach = teasel.mm("diagonal.minor_axis") / 2
    assert float(((along / (reach * math.sqrt(2))) ** 2 + (across / reach) ** 2).max()) < 1


def test_nothing_cuts_the_incoming_light(teasel: Any) -> None:
    poles = teasel.mm("frame.circle_radius") - teasel.mm("frame.outer_diameter") / 2
    opening = teasel.mm("front.opening") / 2
    deck_top = SIDE_HEIGHT - BOX_BELOW + PLY
    assert poles > beam_radius(teasel, teasel.mm("frame.lower_fixing") + teasel.mm("frame.length"))
    assert opening > beam_radius(teasel, teasel.mm("front.station"))
    assert beam_radius(teasel, deck_top) < 170 / 2
    drawtube_end = sum(teasel.mm(f"focuser.{key}") for key in ("mounting_radius", "height")) - teasel.mm(
        "focuser.drawtube")
    assert drawtube_end > opening, "racked fully in, the drawtube stays outside the opening"
    assert teasel.mm("diagonal.holder_diameter") <= teasel.mm("diagonal.minor_axis")


def test_a_shroud_drawn_straight_between_three_poles_would_cut_the_light(teasel: Any) -> None:
    between = teasel.mm("frame.circle_radius") * math.cos(math.pi / 3) + teasel.mm("frame.outer_diameter") / 2
    assert between < teasel.mm("primary.aperture") / 2


def test_the_cell_fills_the_space_over_the_floor(teasel: Any) -> None:
    """From the mirror's face down: glass at the edge, cork, pad, plate, spring; then the floor."""
    blank, curve = teasel.mm("primary.blank_diameter") / 2, 2 * teasel.mm("primary.focal_length")
    edge = curve - math.sqrt(curve**2 - blank**2)
    cork, pad, plate = 2, 3, 12
    floor = edge - teasel.mm("primary.edge_thickness") - cork - pad - plate - teasel.mm(
        "cell.push.spring.compressed_to")
    assert floor + BOX_BELOW == pytest.approx(45, abs=0.5)
    bolt_end = edge - teasel.mm("primary.edge_thickness") - cork - pad - 60
    assert bolt_end > -BOX_BELOW, "the bolts end inside the box"


def test_the_box_swings_clear_of_the_rocker(teasel: Any) -> None:
    pivot, half = teasel.mm("mount.pivot") + BOX_BELOW, 262 / 2
    floor_below_pivot = 450
    assert math.hypot(pivot, half) < floor_below_pivot - 3
    front_edge = (300 / 2 - PLY, 300 - floor_below_pivot)
    for degrees in range(91):
        altitude = math.radians(degrees)
        along = front_edge[0] * math.cos(altitude) + front_edge[1] * math.sin(altitude)
        aside = abs(front_edge[1] * math.cos(altitude) - front_edge[0] * math.sin(altitude))
        inside = -pivot < along < SIDE_HEIGHT + PLY - pivot and aside < half
        assert not inside, f"the box meets the rocker's front at {degrees}°"


def test_it_balances_at_the_pivot(teasel: Any, design: Design) -> None:
    """Moments added up by hand; the mirror's mass from its disc less a shallow cap, π r² h / 2. What a printed part
    weighs is tested where it is worked out."""
    depth = 75**2 / (4 * teasel.mm("primary.focal_length"))
    mirror = 2230e-9 * (math.pi * 77**2 * teasel.mm("primary.edge_thickness") - math.pi * 75**2 * depth / 2)
    total = moment = 0.0
    for part in teasel.parts():
        if "mass" not in part or "station" not in part:
            continue
        if "print" in part:
            each = design.results[f"print.{part['ref'].lower()}.mass"].number
        else:
            each = mirror if "{{" in part["mass"] else float(part["mass"].removesuffix(" kg"))
        total += each * part["quantity"]
        moment += each * part["quantity"] * float(part["station"].removesuffix(" mm"))
    assert design.results["balance.station"].number == pytest.approx(moment / total, abs=0.2)
    assert moment / total == pytest.approx(teasel.mm("mount.pivot"), abs=5)


def test_the_poles_come_out_of_one_length(teasel: Any) -> None:
    cut = next(part["cut"] for part in teasel.parts() if part["ref"] == "P14")
    used = 3 * teasel.mm("frame.length") + 2 * float(cut["kerf"].split()[0]) + float(cut["trim"].split()[0])
    assert used <= float(cut["stock_length"].split()[0])


def test_the_plywood_lies_on_its_boards() -> None:
    """Rows of rectangles as step 2 lists them, 3 mm of saw between; each row as high as its highest piece."""
    thin = [[(262, 421), (262, 421), (244, 421), (244, 421), (168, 168)]]
    thick = [
        [(400, 400), (300, 390), (300, 390), (200, 200)],
        [(268, 300), (300, 292), (262, 262), (250, 250)],
        [(250, 250), (244, 244), (200, 200), (200, 200), (200, 200)],
    ]
    for rows, (width, height) in ((thin, (1220, 610)), (thick, (1220, 1220))):
        assert max(sum(piece[0] for piece in row) + 3 * (len(row) - 1) for row in rows) <= width
        assert sum(max(piece[1] for piece in row) for row in rows) + 3 * (len(rows) - 1) <= height


def test_step_2_lists_those_boards(teasel: Any) -> None:
    text = (teasel.folder / "pages" / "steps" / "02-cut-the-plywood.md").read_text(encoding="utf-8")
    sizes = set(re.findall(r"\d{3} × \d{3}", text))
    assert sizes == {"262 × 421", "244 × 421", "300 × 390", "300 × 292", "268 × 300", "262 × 262", "244 × 244"}


def test_a_kit_stays_within_the_grant(teasel: Any, design: Design) -> None:
    spool = teasel.at("printer.spool_price")
    priced = [(part, part.get("price", 0.0)) for part in teasel.parts() if part["get"] != "have"]
    # Each stock gives what one kit wants of it out of one length.
    packs = [(1 if "kerf" in part.get("cut", {}) else math.ceil(part["quantity"] / part.get("pack", 1)),
              spool if isinstance(price, str) else price) for part, price in priced]
    cost = sum(number * price for number, price in packs)
    assert design.results["parts.cost"].number == pytest.approx(cost)
    assert 315 < cost <= 350


def test_every_build_ends_beyond_its_focuser_and_lets_the_light_in(said: Any, worked_out: Any) -> None:
    station = focus_of(0.01, 2 * said.mm("primary.focal_length")) - intercept(said)
    # A truss's upper end follows from how far its poles slant, which its own test works out.
    upper = (worked_out(said).results["frame.upper_fixing"].number if said.at("frame.kind") == "truss" else
             said.mm("frame.lower_fixing") + said.mm("frame.length"))
    stop = max(said.mm(f"eyepieces.{index}.field_stop") for index in range(len(said.at("eyepieces"))))
    front = said.mm("front.station")
    light = said.mm("primary.aperture") + front * stop / said.mm("primary.focal_length")
    assert upper <= front
    assert station < front
    assert light < said.mm("front.opening")
