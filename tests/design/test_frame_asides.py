"""The frame in other materials, and what moves it: against formulas put together by hand, both sides of limits."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np
import pytest

from dossier.calc.mechanics.frame import poles_sag_mm
from dossier.charts.frame import exaggeration
from dossier.design import Design
from dossier.design.asides.frame import choices, materials
from dossier.design.asides.pushes import Moved, evening, moves, pushes
from dossier.design.pictures.frame import bent_frame
from dossier.views.asides import aside_table
from dossier.views.words.frame import tell

Make = Callable[..., Design]

POLES = """
frame: {kind: poles, material: aluminium-6061, outer_diameter: 20 mm, inner_diameter: 17 mm, length: 640 mm, count: 3,
        circle_radius: 108 mm, lower_fixing: 329 mm, upper_mass: 1.4 kg%s}
front: {station: 1119 mm}
"""
TRUSS = """
frame: {kind: truss, material: aluminium-6061, outer_diameter: 25 mm, inner_diameter: 22 mm, length: 1150 mm, count: 8,
        circle_radius: 160 mm, lower_fixing: 50 mm, upper_mass: 2.5 kg%s}
front: {station: 1300 mm}
"""
TUBE = """
frame: {kind: tube, material: aluminium-6061, outer_diameter: 190 mm, inner_diameter: 184 mm, length: 1150 mm,
        upper_mass: 1.4 kg}
front: {station: 1119 mm}
"""


def moved(design: Design) -> Mapping[str, Moved]:
    return {each.key: each for each in moves(design)}


def test_chosen_row_is_the_design_itself(design: Make) -> None:
    made = design(POLES % "")
    own = choices(made)[0]
    assert own.results["frame.sag"] is made.results["frame.sag"]
    assert materials(made).rows[0].entries[2] is made.results["frame.sag"]


def test_carbon_of_the_same_section(design: Make) -> None:
    """Modulus 127 GPa and density 1500 kg/m³ of the shelf, section and weight by hand."""
    made = design(POLES % "")
    carbon = next(each for each in choices(made) if each.material == "carbon")
    area, second = np.pi / 4 * (20**2 - 17**2), np.pi / 64 * (20**4 - 17**4)
    sag = poles_sag_mm(127, second, area, 1500e-9 * area * 640, 640, 3, 108, 1.4)
    assert carbon.results["frame.sag"].number == pytest.approx(sag)
    assert carbon.results["frame.focus_drift"].number == pytest.approx(-0.2e-6 * 640)
    assert carbon.results["frame.sag"].id not in made.results


def test_wood_as_it_is_to_be_had(design: Make) -> None:
    """Spruce as a solid rod, plywood as a square bar, no stiffness of card; sections by hand."""
    known = {each.material: each for each in choices(design(POLES % ""))}
    assert known["spruce"].results["frame.member_mass"].number == pytest.approx(450e-9 * np.pi * 100 * 640)
    assert known["birch-ply"].results["frame.member_mass"].number == pytest.approx(680e-9 * 400 * 640)
    sag = poles_sag_mm(10, 20**4 / 12, 400, 680e-9 * 400 * 640, 640, 3, 108, 1.4)
    assert known["birch-ply"].results["frame.sag"].number == pytest.approx(sag)
    assert "frame.sag" not in known["card-tube"].results
    assert "creeps" in known["card-tube"].remark
    assert "damp" in known["card-tube"].remark


def test_plywood_tube_is_a_box(design: Make) -> None:
    """9 mm boards about 184 mm of room."""
    box = next(each for each in choices(design(TUBE)) if each.material == "birch-ply")
    assert box.results["frame.member_mass"].number == pytest.approx(680e-9 * (202**2 - 184**2) * 1150)


def test_goals_judge_every_row(design: Make) -> None:
    """Between the sag of aluminium, 0.08 of the coma-free radius, and that of spruce, 0.23."""
    made = design(POLES % "", "goals: [{result: frame.collimation_share, at_most: 0.15}]\n")
    misses = {each.material: bool(each.misses) for each in choices(made) if "frame.sag" in each.results}
    assert misses == {"aluminium-6061": False, "steel": False, "carbon": False, "spruce": True, "birch-ply": True}
    assert "meets its limits" in tell(made)
    assert "Structural steel and pultruded carbon tube in the same section would sag less" in tell(made)
    strict = design(POLES % "", "goals: [{result: frame.collimation_share, at_most: 0.06}]\n")
    assert "misses a limit" in tell(strict)
    assert "Structural steel and pultruded carbon tube in the same section would meet it" in tell(strict)
    assert "more than the limit of 0.06" in tell(strict)
    hopeless = design(POLES % "", "goals: [{result: frame.collimation_share, at_most: 0.001}]\n")
    assert "None of the others in the table would meet it" in tell(hopeless)


def test_authors_alternative_has_its_price(design: Make) -> None:
    made = design(POLES % "", """
readers: {currency: EUR}
parts:
- ref: P1
  name: Poles
  quantity: 3
  pack: 3
  price: 15
  instead:
  - {name: carbon tube, price: 57, because: stiffer, set: {frame.material: carbon}}
  - {name: poles for a shorter mirror, set: {frame.length: 600 mm}}
""")
    carbon = [each for each in choices(made) if each.material == "carbon"]
    assert [each.name for each in carbon] == ["Carbon tube (for P1)"]
    assert not any("shorter mirror" in each.name for each in choices(made)), "another telescope is no other material"
    assert "Carbon tube (offered for P1) and structural steel in the same section would sag less" in tell(made)
    assert carbon[0].price is not None
    assert carbon[0].price.number == pytest.approx(42)


def test_a_hand_and_the_wind(design: Make) -> None:
    made = design(POLES % "")
    known = moved(made)
    stiffness = made.results["frame.stiffness"].number
    assert known["hand"].shift.number == pytest.approx(5 / stiffness)
    # The ring turns as far as poles below shorten: by 6B/L² over 4B/L + S R²/2L for each mm, 231 mm below the focus.
    bend, stretch = 68900 * 3 * np.pi / 64 * (20**4 - 17**4), 68900 * 3 * np.pi / 4 * (20**2 - 17**2)
    turn = (6 * bend / 640**2) / (4 * bend / 640 + stretch * 108**2 / (2 * 640))
    assert known["hand"].star.number == pytest.approx(5 / stiffness * (1 + 231 * turn) * 206264.8 / 1200, rel=1e-5)
    assert known["hand"].rest is not None
    double = moved(design(POLES % "", "conditions: {wind: 8 m/s}\n"))
    assert double["wind"].shift.number == pytest.approx(4 * known["wind"].shift.number)
    assert double["wind"].amount is not None
    assert double["wind"].amount.value == 8
    assert "wind" not in moved(design((POLES % "").replace("front: {station: 1119 mm}", "")))


@pytest.mark.parametrize(("units", "push"), [("metric", "5\u202fN"), ("inch", "1.12\u202flbf")])
def test_a_push_is_told_in_the_readers_units(design: Make, units: str, push: str) -> None:
    made = design(POLES % "", f"readers: {{units: {units}}}\n")
    names = [row.heading for row in aside_table(pushes(made), made).table.rows]
    assert f"A hand’s push of {push} at the focuser" in names
    assert "Wind of 4\u202fm/s" in names


def test_the_push_turns_a_tube_as_its_weight_does(design: Make) -> None:
    """A cantilever pushed at its end by F turns by 3/2 of shift over length (Shigley, table A-9, recalled); the front
    stands 81 mm short of the focus."""
    hand = moved(design(TUBE))["hand"]
    assert hand.image.number == pytest.approx(hand.shift.number * (1 + 1.5 * 81 / 1150))


def test_play(design: Make) -> None:
    """Poles: the ring turns by half the play over the circle's radius, 231 mm below the unfolded focus. Truss: 0.1 mm
    along a pole of 1150 mm whose feet stand 122.46 mm apart across the axis."""
    poles, truss = (moved(design(text % ", joint_play: 0.1 mm"))["play"] for text in (POLES, TRUSS))
    assert poles.image.number == pytest.approx(231 * 0.05 / 108, rel=1e-6)
    chord = 2 * 160 * np.sin(np.pi / 8)
    assert truss.shift.number == pytest.approx(0.1 * 1150 / chord)
    said = tell(design(TRUSS % ", joint_play: 0.1 mm"))
    assert "more than the sag: tighten the joints" in said
    assert "less than the sag" in tell(design(POLES % ", joint_play: 0.1 mm"))
    assert "joints are taken as fast" in tell(design(TRUSS % ""))
    assert "joints" not in tell(design(TUBE))


def test_a_column_with_nothing_in_it_is_left_out(design: Make) -> None:
    """A frame so stiff that no push swings a star farther than the telescope resolves."""
    loose, stiff = (pushes(design((POLES % "").replace("20 mm, inner_diameter: 17 mm", bar)))
                    for bar in ("20 mm, inner_diameter: 17 mm", "60 mm, inner_diameter: 50 mm"))
    assert [column.title for column in loose.columns][-1] == "At rest after"
    assert "At rest after" not in [column.title for column in stiff.columns]
    assert all(len(row.entries) == len(stiff.columns) for row in stiff.rows)


def test_evening(design: Make) -> None:
    """15 K of aluminium 640 mm long; ±2λF² at f/8."""
    made = design(POLES % "", "conditions: {stored_at: 20 degC, used_at: 5 degC}\n")
    drift, depth = evening(made)
    assert drift.number == pytest.approx(15 * 23.6e-6 * 640)
    assert depth.number == pytest.approx(0.0704)
    assert "3 times in the evening" in tell(made)
    steady = design((POLES % "").replace("aluminium-6061", "carbon"),
                    "conditions: {stored_at: 20 degC, used_at: 5 degC}\n")
    assert "nothing to refocus" in tell(steady)
    assert evening(design(POLES % "")) is None


@pytest.mark.parametrize(("mass", "said"), [("1.4 kg", "nobody sees it"), ("6 kg", "a planet at high power shows it"),
                                            ("20 kg", "Collimate at the altitude")])
def test_what_sag_costs_in_words(design: Make, mass: str, said: str) -> None:
    """The loss grows with the square of the mass above: some 0.001, 0.02 and 0.2."""
    assert said in tell(design((POLES % "").replace("1.4 kg", mass)))


def test_slow_frames_are_told_so(design: Make) -> None:
    assert "fast enough" in tell(design(POLES % ""))
    assert "too slow" in tell(design((POLES % "").replace("1.4 kg", "20 kg")))


@pytest.mark.parametrize("frame", ["", "frame: {kind: poles, count: 3, circle_radius: 110 mm}\n",
                                   "frame: {kind: tube, material: card-tube}\n",
                                   "frame: {kind: truss, count: 8, circle_radius: 110 mm}\n",
                                   "frame: {kind: tube, material: card-tube, outer_diameter: 190 mm,"
                                   " inner_diameter: 180 mm, length: 900 mm}\n"])
def test_little_said_is_little_told(design: Make, frame: str) -> None:
    made = design(frame)
    assert pushes(made) is None
    assert bent_frame(made) is None
    assert "{{" not in tell(made)
    assert ("not known" in tell(made)) == bool(frame)


def test_own_material_by_its_properties(design: Make) -> None:
    made = design((POLES % "").replace(
        "aluminium-6061", "{name: my tube, youngs_modulus: 40 GPa, density: 1700 kg/m^3, expansion: 5e-6 1/K}"))
    rows = materials(made).rows
    assert rows[0].name == "As chosen: my tube"
    assert len(rows) == 7


def test_whoever_has_measured_his_card_is_told_of_no_other(design: Make) -> None:
    own = (POLES % "").replace("aluminium-6061",
                               "{name: wound card we bent, youngs_modulus: 2 GPa, density: 700 kg/m^3}")
    assert [row.name for row in materials(design(own)).rows if "ard" in row.name] == ["As chosen: wound card we bent"]


@pytest.mark.parametrize("text", [POLES % "", TUBE, TRUSS % ""])
def test_bent_line_ends_where_sag_and_tilt_say(design: Make, text: str) -> None:
    made = design(text)
    bent = bent_frame(made)
    assert bent.down[-1] == pytest.approx(made.results["frame.sag"].number)
    assert bent.down[0] == 0
    if bent.kind != "truss":
        # A beam under an even load is a curve of the fourth degree.
        curve = np.polynomial.Polynomial.fit(bent.along, bent.down, 4)
        assert curve.deriv()(bent.height) * 10800 / np.pi == pytest.approx(made.results["frame.tilt"].number, rel=1e-6)
        assert curve.deriv()(0) == pytest.approx(0, abs=1e-12)
    assert 0.04 * bent.height < exaggeration(bent) * bent.sag <= 0.12 * bent.height


def test_bent_line_of_a_tube_by_integration(design: Make) -> None:
    """EI w'' = M, the moment of the end's mass and of the tube beyond, integrated twice from the held end."""
    made = design(TUBE)
    bent, g = bent_frame(made), 9.80665
    area, second = np.pi / 4 * (190**2 - 184**2), np.pi / 64 * (190**4 - 184**4)
    x = np.linspace(0, 1150, 20001)
    weight, step = 2700e-9 * area * g, x[1]
    moment = 1.4 * g * (1150 - x) + weight * (1150 - x) ** 2 / 2
    slope = np.concatenate(([0], np.cumsum((moment[1:] + moment[:-1]) / 2 * step))) / (68900 * second)
    shape = np.concatenate(([0], np.cumsum((slope[1:] + slope[:-1]) / 2 * step)))
    assert bent.down == pytest.approx(np.interp(bent.along, x, shape), abs=1e-7)
