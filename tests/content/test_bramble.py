"""The Bramble closes: its light, its cell, its rocker and its boards fit each other, worked out here by hand."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from dossier.design import Design, work_out
from dossier.spec.load import load_build

FOLDER = Path(__file__).parents[2] / "content" / "bramble-76"
SPEC: dict[str, Any] = yaml.safe_load((FOLDER / "build.yaml").read_text(encoding="utf-8"))
PARTS = {part["ref"]: part for part in SPEC["parts"]}
HEADS = [yaml.safe_load(path.read_text(encoding="utf-8").split("---\n")[1])
         for path in sorted((FOLDER / "pages" / "steps").glob("*.md"))]
PLY, SAW = 9.0, 3.0
TUBE_INSIDE, TUBE_OUTSIDE = 50.0, 53.0
NOTCH_DEEP, SIDE_HIGH = 63.0, 330.0
GRAVITY = 9.80665


def mm(key: str) -> float:
    value: Any = SPEC
    for name in key.split("."):
        value = value[name]
    number, unit = value.split()
    assert unit == "mm"
    return float(number)


@pytest.fixture(scope="module")
def design() -> Design:
    return work_out(load_build(FOLDER))


def test_nothing_is_missed(design: Design) -> None:
    outcomes = {result.goal.outcome(result.number) for result in design.results.values() if result.goal}
    assert outcomes == {"meets", "close"}


def test_a_school_needs_no_machine_and_nothing_that_it_may_not_have() -> None:
    assert not [ref for ref, part in PARTS.items() if part["get"] == "print"]
    needed = " ".join(text for head in HEADS for key in ("tools", "consumables") for text in head[key])
    assert not re.search(r"drill press|jigsaw|router|hot|laser|printer|epoxy|spray", needed)
    assert all("children" in head["cautions"] for head in HEADS)
    assert all(sum("craft knife" in tool for tool in head["tools"]) == sum("adult" in tool for tool in head["tools"])
               for head in HEADS), "knives are the adult's"


def test_the_folded_light_ends_in_the_focal_plane(design: Design) -> None:
    """A sphere's focus for rays near the axis is half its radius away; the fold takes the intercept off it."""
    intercept = sum(mm(f"focuser.{key}") for key in ("mounting_radius", "height", "drawn_out"))
    assert design.results["focuser.station"].number == pytest.approx(700 - intercept)
    assert mm("focuser.mounting_radius") == TUBE_OUTSIDE + 3 * 3, "the board is three layers of 3 mm"


def test_the_drawtube_pushed_home_stays_out_of_the_light() -> None:
    rim = mm("focuser.mounting_radius") + mm("focuser.height")
    assert rim - mm("focuser.drawtube") == pytest.approx(TUBE_INSIDE)
    guide, collar = float(PARTS["P7"]["cut"]["pieces"][0]["length"].split()[0]), 3
    assert TUBE_INSIDE + guide + collar == pytest.approx(rim)


def test_the_cell_fills_the_tube_from_glass_to_end_board() -> None:
    """Glass at its edge, silicone 1.5, disc 6, spring; then the end board on the tube's end."""
    curve, blank, spring = 1400.0, mm("primary.blank_diameter") / 2, SPEC["cell"]["push"]["spring"]
    edge = curve - math.sqrt(curve**2 - blank**2)
    disc_under = edge - mm("primary.edge_thickness") - 1.5 - 6
    assert disc_under - float(spring["compressed_to"].split()[0]) == pytest.approx(mm("frame.lower_fixing"), abs=0.6)
    assert disc_under - (mm("frame.lower_fixing") + 16) >= 2, "the disc passes over the glue blocks"


def test_the_caps_lie_in_their_notches_as_high_as_said() -> None:
    """A cap in a right angle: its middle stands √2 radii above the corner."""
    radius = float(SPEC["mount"]["bearing"]["radius"].split()[0])
    middle = SIDE_HIGH - NOTCH_DEEP + math.sqrt(2) * radius
    assert middle + mm("mount.floor") == pytest.approx(mm("mount.pivot_height"), abs=0.5)
    assert radius / math.sqrt(2) < NOTCH_DEEP, "it touches the notch's sides and not its edges"
    assert "63 mm deep and 126 mm wide" in (FOLDER / "pages/steps/05-build-the-rocker.md").read_text(encoding="utf-8")


def test_the_tail_swings_clear_of_floor_and_front(design: Design) -> None:
    pivot = mm("mount.pivot")
    bolts = math.hypot(pivot - mm("mount.tail"), mm("mount.tail_radius"))
    board = math.hypot(pivot - mm("frame.lower_fixing") + PLY, 60)
    above_floor = mm("mount.pivot_height") - mm("mount.floor")
    assert max(bolts, board) < above_floor - 10
    assert design.results["mount.swing_clearance"].number == pytest.approx(above_floor - bolts)
    assert 180 / 2 - PLY > 62 + 5, "the upright cradle clears the rocker's front"


def test_it_balances_at_the_cradle(design: Design) -> None:
    """Moments added up by hand; the tube as a pipe of card, the mirror as a disc less a shallow cap."""
    pipe = 700e-9 * math.pi * (TUBE_OUTSIDE**2 - TUBE_INSIDE**2) * mm("frame.length")
    mirror = 2500e-9 * (math.pi * 39**2 * mm("primary.edge_thickness") - math.pi * 38**2 * 0.516 / 2)
    live = {"{{ focuser.station }}": 584.0, "{{ spec.spider.station }}": mm("spider.station"),
            "{{ spec.mount.pivot }}": mm("mount.pivot"), "{{ frame.member_mass }}": pipe,
            "{{ cell.mirror_mass }}": mirror}
    total = moment = 0.0
    for part in PARTS.values():
        if "mass" in part and "station" in part:
            mass, place = (live[text] if text in live else float(text.split()[0])
                           for text in (part["mass"], part["station"]))
            total += mass * part["quantity"]
            moment += mass * part["quantity"] * place
    assert design.results["balance.station"].number == pytest.approx(moment / total, abs=0.3)
    assert moment / total == pytest.approx(mm("mount.pivot"), abs=2)


def test_four_feet_stand_on_the_board_and_far_enough_out(design: Design) -> None:
    """Of four feet on a square the tipping line is half a side from the middle. What tips it is its weight on that arm,
    against the push on its height; a little is lost as the centre of mass stands out."""
    radius = mm("mount.feet_radius")
    assert radius < 340 / math.sqrt(2), "the feet stand on the ground board"
    height = mm("mount.pivot_height") + 584 - mm("mount.pivot")
    most = design.results["parts.mass"].number * GRAVITY * radius / math.sqrt(2) / height
    assert 0.95 * most < design.results["mount.tipping_push"].number < most
    assert design.results["mount.tipping_push"].number > 3 * design.results["rocker.push"].number


def test_two_tubes_come_out_of_one_length() -> None:
    cut = {key: float(PARTS["P14"]["cut"][key].split()[0]) for key in ("stock_length", "kerf", "trim")}
    assert 2 * mm("frame.length") + cut["kerf"] + cut["trim"] <= cut["stock_length"]


def test_the_plywood_lies_on_its_board() -> None:
    """Two rows, each as high as its highest piece, 3 mm of saw between; and they are all pieces of the list."""
    rows = [[(340, 340), (180, 330), (180, 330), (132, 220), (150, 180), (124, 140)],
            [(124, 140), (106, 140), (106, 140), (120, 120)]]
    assert max(sum(piece[0] for piece in row) + SAW * (len(row) - 1) for row in rows) <= 1220
    assert sum(max(piece[1] for piece in row) for row in rows) + SAW <= 610
    listed: list[tuple[int, ...]] = []
    for part in PARTS.values():
        size = re.search(r"9 mm plywood, (\d+) × (\d+) mm", part["name"])
        listed += [tuple(sorted(map(int, size.groups())))] * part["quantity"] if size else []
    assert sorted(listed) == sorted(tuple(sorted(piece)) for row in rows for piece in row)


def test_the_stiffness_follows_from_the_bent_tube() -> None:
    """A cantilever under a load at its end sinks by F L³/(3 E I) (Hearn, Mechanics of Materials 1, ch. 5, recalled)."""
    second_moment = math.pi / 4 * (TUBE_OUTSIDE**4 - TUBE_INSIDE**4)
    modulus_gpa = 2.00 * GRAVITY * 700**3 / (3 * 0.90 * second_moment) / 1000
    said = float(SPEC["frame"]["material"]["youngs_modulus"].split()[0])
    assert said == pytest.approx(modulus_gpa, abs=0.05)


def test_a_telescope_stays_within_what_the_parents_pay(design: Design) -> None:
    # Each stock gives what one kit wants of it out of one length.
    cost = sum((1 if "kerf" in part.get("cut", {}) else math.ceil(part["quantity"] / part.get("pack", 1)))
               * part["price"] for part in PARTS.values() if "price" in part)
    assert design.results["parts.cost"].number == pytest.approx(cost)
    assert 120 < cost <= 140
