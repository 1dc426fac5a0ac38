"""Balance and mount of a small invented telescope, worked out by hand, on both sides of each limit."""

from __future__ import annotations

import math

import pytest

from dossier.design.asides import mount as tables
from dossier.design.asides import turning
from dossier.views.words import mount as words

G = 9.80665
# 9 kg that swing: 6 kg at 0, 2 kg at 900, 0.6 kg of eyepiece and 0.4 kg of finder at 1000: 2800 kg mm, 311.1 mm.
PARTS = """\
parts:
  - {ref: A, name: Mirror and box, get: have, mass: 6 kg, station: 0 mm}
  - {ref: B, name: Cage, get: have, mass: 2 kg, station: 900 mm}
  - {ref: C, name: "Eyepiece, 20 mm", get: have, mass: 0.6 kg, station: 1000 mm%s}
  - {ref: D, name: Finder, get: have, mass: 0.4 kg, station: 1000 mm}
  - {ref: E, name: "Eyepiece, 30 mm", get: have, mass: 0.9 kg, carried: false}
  - {ref: F, name: Eyepiece case, get: have, mass: 1 kg, carried: false}
  - {ref: G, name: Rocker, group: mount, get: have, mass: 4.1 kg}
"""
EYEPIECES = "eyepieces: [{name: 6 mm, focal_length: 6 mm, field_stop: 6 mm}]\n"


def build(mount: str, across: str = "") -> str:
    return f"mount: {{{mount}}}\n{EYEPIECES}{PARTS % across}"


ROCKER = "kind: rocker, pivot: 300 mm, bearing: {radius: 100 mm, friction: 0.1, pad_angle: 0 deg}"


def test_front_heavy_is_cured_at_the_mirrors_end(design):
    results = design(build(ROCKER)).results
    arm = 2800 / 9 - 300
    assert results["balance.pivot_arm"].number == pytest.approx(arm)
    # 9 kg, 11.1 mm beyond the pivot, against a weight at the lowest station, 300 mm behind it.
    assert results["balance.counterweight"].number == pytest.approx(9 * arm / 300)


def test_back_heavy_is_cured_in_front(design):
    results = design(build("kind: rocker, pivot: 350 mm")).results
    assert results["balance.counterweight"].number == pytest.approx(9 * (350 - 2800 / 9) / 650)
    assert "the mirror’s end is heavy" in words.tell(design(build("kind: rocker, pivot: 350 mm")))


def test_no_counterweight_is_listed_where_none_is_needed(design):
    """Pivot 0.1 mm from where it balances: a weight of 3 g would be the answer to nothing."""
    made = design(build("kind: rocker, pivot: 311 mm"))
    assert "nothing needs a weight" in words.tell(made)
    assert "balance.counterweight" not in made.results
    assert "no weight is needed" in made.left_out["balance.counterweight"]


def test_an_eyepiece_of_unknown_mass_is_told_to_builder_and_author(design):
    silent = design(build(ROCKER).replace("mass: 0.9 kg, carried: false", "carried: true"))
    notes = " ".join(tables.exchanged(silent).notes)
    assert "The plan gives no mass for E, so that nothing is told of it. Weigh your own" in notes
    assert "carried: false" in notes
    assert "mass" not in " ".join(tables.exchanged(design(build(ROCKER))).notes)


@pytest.mark.parametrize(("pivot", "held"), [(300, False), (308, True)])
def test_friction_against_imbalance(design, pivot, held):
    """Friction 0.1 on 100 mm holds a centre of mass up to 10 mm from the pivot."""
    made = design(build(ROCKER.replace("300", str(pivot))))
    share = made.results["rocker.hold_share"]
    assert share.number == pytest.approx((2800 / 9 - pivot) / 10)
    assert (share.goal.outcome(share.number) != "misses") == held
    assert ("Friction holds it at every altitude" in words.tell(made)) == held
    assert [each.held for each in tables.swings(made)] == [held, True, True, True]


def test_pushes_at_the_focuser(design):
    """The focuser stands at 1200 − 150 = 1050 mm: friction of 9 kg × 0.1 × 100 mm on an arm of 750 mm."""
    made = design(build(ROCKER))
    assert made.results["rocker.push"].number == pytest.approx(0.09 * G / 0.750)
    level = tables.swings(made)[0]
    imbalance = 9 * G * (2800 / 9 - 300) / 1000
    assert level.raising.number == pytest.approx((0.09 * G + imbalance) / 0.750)
    assert level.lowering.number == pytest.approx((0.09 * G - imbalance) / 0.750)
    assert level.lowering.number < 0


def test_what_hangs_off_the_axis(design):
    """0.6 kg at 150 mm: 10 mm off the axis for all 9 kg. Straight up, it draws the upright tube backwards."""
    made = design(build(ROCKER, ", across: 150 mm"))
    assert made.results["balance.across"].number == pytest.approx(10)
    overhead = tables.swings(made)[3]
    assert overhead.level.number == pytest.approx(0, abs=1e-9)
    assert overhead.up.number == pytest.approx(-9 * G * 0.010)
    assert "balance.across" not in design(build(ROCKER)).results


def test_each_eyepiece_and_finder_on_and_off(design):
    made = {each.name: each for each in tables.loadings(design(build(ROCKER)))}
    stations = {name: each.station.number for name, each in made.items()}
    assert stations == pytest.approx({
        "As listed, with C and D": 2800 / 9, "E alone in the focuser: Eyepiece, 30 mm": (2200 + 0.9 * 1050) / 9.3,
        "No eyepiece": 2200 / 8.4, "Without D: Finder": 2400 / 8.6, "Neither eyepiece nor finder": 1800 / 8})
    assert made["No eyepiece"].moment.number == pytest.approx(8.4 * G * (2200 / 8.4 - 300) / 1000)




def on_feet(radius: float, kind: str = "rocker") -> str:
    return ROCKER.replace("rocker", kind) + f", pivot_height: 500 mm, feet: 4, feet_radius: {radius} mm"


@pytest.mark.parametrize(("radius", "stands"), [(200, True), (8, False)])
def test_tipping(design, radius, stands):
    """Feet in a square reach r ÷ √2; 9 of 15 kg (case, eyepiece and rocker stand) stand out 11.1 mm: 6.7 mm of all."""
    made = design(build(on_feet(radius)))
    out = 9 * (2800 / 9 - 300) / 15
    results = made.results
    assert results["mount.base_mass"].number == pytest.approx(6)
    assert results["mount.centre_stands_out"].number == pytest.approx(out)
    assert results["mount.tipping_margin"].number == pytest.approx(radius / math.sqrt(2) - out)
    assert results["mount.tipping_push"].number == pytest.approx(15 * G * (radius / math.sqrt(2) - out) / 1250)
    goal = results["mount.centre_stands_out"].goal
    assert (goal.outcome(out) != "misses") == stands
    assert ("It stands at every pointing" in words.tipping(made)) == stands
    assert ("It falls over by itself" in words.tipping(made)) != stands
    assert "children" in words.tipping(made)


def test_one_arm_has_to_be_said(design):
    """An altaz mount may carry its tube beside its axis; nothing is said of tipping until that is."""
    silent = design(build(on_feet(200, "altaz")))
    assert "mount.centre_stands_out" not in silent.results
    assert "not known" in words.tipping(silent)
    said = design(build(on_feet(200, "altaz") + ", offset: 100 mm"))
    assert said.results["mount.centre_stands_out"].number == pytest.approx(9 * (100 + 2800 / 9 - 300) / 15)


@pytest.mark.parametrize(("capacity", "told"), [
    (20, "enough in hand for both"), (15, "will do for looking"), (10, "shake at every touch"), (8, "stronger mount")])
def test_load_against_the_usual_advice(design, capacity, told):
    assert told in words.tell(design(build(f"kind: altaz, capacity: {capacity} kg")))


def test_time_in_the_eyepiece(design):
    """0.5° (a field stop of 10.472 mm at 1200 mm) takes 119.67 s on the equator; twice that at 60°."""
    made = design("mount: {kind: altaz}\neyepieces: [{name: A, focal_length: 20 mm, field_stop: 10.472 mm}]")
    row = turning.crossing(made).rows[0]
    seconds = [entry.number for entry in row.entries]
    assert seconds == pytest.approx([119.67, 119.67 / math.cos(math.radians(45)), 119.67 / math.cos(math.radians(70))],
                                    rel=1e-4)
    assert "119" in words.tracking(made) or "120" in words.tracking(made)


@pytest.mark.parametrize(("mount", "told"), [
    ("kind: altaz, tracking: true", "This mount follows it"), ("kind: altaz", "This mount does not follow"),
    ("kind: equatorial, tracking: true", "field does not turn")])
def test_what_tracking_buys(design, mount, told):
    assert told in words.tracking(design(build(mount)))


def test_field_rotation_wants_latitude_and_level_axis(design):
    latitude = "conditions: {latitude: 50 deg, seeing: 2 arcsec}\n"
    assert turning.turning(design(build("kind: altaz"))) is None
    assert turning.turning(design(latitude + build("kind: equatorial"))) is None
    rows = {row.name: row for row in turning.turning(design(latitude + build("kind: altaz"))).rows}
    # Latitude 50°, declination 20°, on the meridian: 19.336″/s, agreed by two other libraries.
    assert rows["20°"].entries[0].number == pytest.approx(19.336, abs=5e-4)
    assert rows["20°"].entries[1].number == pytest.approx(
        2 / (19.336 * math.pi / 648000 * math.degrees(math.atan(3 / 1200)) * 3600), rel=1e-4)


def test_southern_sky_is_the_mirror_image(design):
    north, south = (turning.turning(design(f"conditions: {{latitude: {at} deg}}\n" + build("kind: altaz")))
                    for at in (40, -40))
    assert [row.name for row in south.rows] == ["20°", "0°", "−20°", "−40°", "−60°", "−80°"]
    for one, other in zip(north.rows, south.rows, strict=True):
        assert [entry and abs(entry.number) for entry in one.entries] == pytest.approx(
            [entry and abs(entry.number) for entry in other.entries])
    assert "zenith" in north.rows[3].remark


@pytest.mark.parametrize("more", [
    "", "mount: {kind: rocker}", "mount: {pivot: 0 mm}", "mount: {tracking: true}", PARTS % "",
    "mount: {kind: rocker, pivot: 1050 mm, bearing: {radius: 1 mm, friction: 0, pad_angle: 0 deg}}\n" + PARTS % "",
    "conditions: {latitude: 90 deg}\nmount: {kind: altaz}"])
def test_nothing_is_made_up(design, more):
    made = design(more)
    for tell in (words.tell, words.tipping, words.tracking):
        tell(made)
    for table in (tables.altitudes, tables.exchanged, turning.crossing, turning.turning):
        table(made)
    assert "rocker.push" not in made.results
