"""Cooling, focus drift and softening in tables and words, on both sides of what they judge."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.design.asides import heat as tables
from dossier.design.pictures import heat as pictures
from dossier.views.words import heat as words

GLASS = ("{youngs_modulus: 64 GPa, poissons_ratio: 0.2, density: 2230 kg/m^3, expansion: 3.3e-6 1/K, "
         "conductivity: 1.14 W/m/K, heat_capacity: 830 J/kg/K}")
OPTICS = "primary: {aperture: 150 mm, focal_length: 1200 mm}"


def cooled(design, stored="15 degC", used="5 degC", front=5, back=5, thickness=25, more=""):
    primary = f"primary: {{aperture: 150 mm, focal_length: 1200 mm, edge_thickness: {thickness} mm, glass: {GLASS}}}"
    return design(f"conditions: {{stored_at: {stored}, used_at: {used}}}",
                  f"cooling: {{front: {front} W/m^2/K, back: {back} W/m^2/K}}", more, replace={OPTICS: primary})


def test_ways_to_cool(design):
    """Agreed values, computed independently: both faces at 5 W/m²/K, 10 K to 0.5 K, 235.3 min."""
    ways = {way.key: way.settles().number for way in tables.ways(cooled(design))}
    assert list(ways) == ["planned", "closed", "fan"]
    assert ways["planned"] == pytest.approx(235.3, abs=0.06)
    assert ways["fan"] < ways["planned"] < ways["closed"]


def test_back_closed_agrees(design):
    """38 mm at 10 W/m²/K, back closed: 390.7 min; closing it again is no other way."""
    made = cooled(design, front=10, back=0, thickness=38)
    assert [way.key for way in tables.ways(made)] == ["planned", "fan"]
    assert tables.ways(made)[0].settles().number == pytest.approx(390.7, abs=0.06)
    assert tables.ways(cooled(design, front=10, back=10, thickness=38))[1].settles().number == pytest.approx(
        390.7, abs=0.06)


def test_a_fan_is_not_told_where_there_is_one(design):
    made = cooled(design, back=25)
    assert "fan" not in {way.key for way in tables.ways(made)}
    assert "as fast as a small fan" in words.tell(made)


@pytest.mark.parametrize(("front", "back", "thickness", "told"), [
    (5, 5, 50, "worth it, and not enough by itself"), (8, 5, 25, "between missing the limit and meeting it"),
    (20, 19, 25, "hardly worth the trouble"), (8, 8, 18, "worth its cells")])
def test_what_a_fan_buys(design, front, back, thickness, told):
    assert told in words.tell(cooled(design, front=front, back=back, thickness=thickness))


def test_curves_end_where_the_times_say(design):
    made = pictures.cooling(cooled(design))
    for way in made.ways:
        assert np.interp(way.settles_h, made.hours, np.log(way.left_k)) == pytest.approx(np.log(0.5), abs=1e-3)
    assert made.left_after(0) == pytest.approx(10, abs=0.02)
    assert made.lumped_k[-1] < made.ways[0].left_k[-1]


def test_blur_meanwhile(design):
    """Racine's 0.40″ at 1 K: in the table, the warmth of Rayleigh's limit makes just that blur."""
    made = cooled(design)
    limit = made.results["optics.rayleigh_limit"].number
    row = next(row for row in tables.times(made).rows if "Rayleigh" in row.name)
    assert 0.40 * row.entries[0].number ** 1.2 == pytest.approx(limit)
    assert row.entries[1].number < made.results["thermal.settling_time"].number
    assert "blurs stars" in words.tell(made)


def test_a_colder_mirror_makes_no_claim_of_blur(design):
    made = cooled(design, stored="0 degC", used="10 degC")
    assert [row.name for row in tables.times(made).rows] == ["Half a kelvin from the air"]
    told = words.tell(made)
    assert "colder" in told
    assert "blurs" not in told


def test_stored_in_the_cold_needs_nothing(design):
    made = cooled(design, stored="5.2 degC")
    assert pictures.cooling(made) is None
    assert "need not cool" in words.tell(made)


def test_focus_drift_by_material(design):
    """Aluminium 23.6e-6 on 800 mm: 0.01888 mm/K, 0.189 mm over 10 K; steel 12e-6; the glass 3.3e-6 on 1200 mm."""
    frame = ("frame: {kind: poles, material: aluminium-6061, outer_diameter: 20 mm, inner_diameter: 17 mm, "
             "length: 800 mm, count: 3, circle_radius: 115 mm, lower_fixing: 0 mm}")
    rows = {row.name: [entry.number for entry in row.entries] for row in tables.drifts(cooled(design, more=frame)).rows}
    assert rows["As planned"] == pytest.approx([23.6e-6 * 800, 23.6e-6 * 800 * 10])
    assert rows["Structural steel"][0] == pytest.approx(12e-6 * 800)
    assert rows["The mirror’s own focal length"][0] == pytest.approx(3.3e-6 * 1200)
    assert not any(name.startswith("Aluminium") for name in rows)


@pytest.mark.parametrize(("material", "lets_go", "told"), [
    ("pla", True, "in a hot car.**"), ("nylon", True, "in a hot car.**"), ("petg", False, "keep their shape"),
    ("asa", False, "keep their shape")])
def test_printed_parts_in_a_hot_car(design, material, lets_go, told):
    """Against 70 °C: the shelf has PLA at 55, nylon at 45, PETG at 75, ASA at 100."""
    made = design(f"parts: [{{ref: K, name: Plate, get: print, print: {{material: {material}}}}}]")
    known = tables.softenings(made)
    assert [each.lets_go for each in known] == [lets_go]
    assert told in words.tell(made)
    assert "Dew" in words.tell(made)


@pytest.mark.parametrize("more", ["", "cooling: {front: 8 W/m^2/K}", "conditions: {stored_at: 20 degC}",
                                  "parts: [{ref: A, name: A, get: print}]"])
def test_nothing_is_made_up(design, more):
    made = design(more)
    assert words.tell(made) == ""
    assert pictures.cooling(made) is None
    assert tables.times(made) is tables.drifts(made) is tables.softening(made) is None
