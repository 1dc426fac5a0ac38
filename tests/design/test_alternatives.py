"""Other choices for the parts: prices added up by hand, changed builds against the same build written out.

All parts and prices are invented.
"""

from __future__ import annotations

import pytest

from dossier.design import work_out
from dossier.design.alternatives import alternatives, cheapest
from dossier.design.asides.mirror import shortest_spheres, table
from dossier.design.pictures import strehl_budget
from dossier.spec.load import load_build
from tests.conftest import TEASEL

HEAD = """\
readers: {currency: EUR}
conditions: {wavelength: 550 nm}
goals:
  - {result: figure.strehl, at_least: 0.80}
  - {result: parts.cost, at_most: 100}
parts:
"""
MIRROR = """\
  - ref: M
    name: Mirror
    get: buy
    price: 50
    instead:
      - {name: paraboloid, price: 130, because: planets, set: {primary.conic: -1}}
      - {name: cheaper sphere, price: 40}
"""
SPHERE = {"focal_length: 1200 mm}": "focal_length: 1180 mm, conic: 0}"}


def by_name(design):
    return {each.name: each for each in alternatives(design)}


@pytest.fixture(scope="module")
def demo():
    return work_out(load_build(TEASEL))


class TestPrices:
    def test_differences_of_one_kit(self, design):
        found = by_name(design(HEAD + MIRROR, replace=SPHERE))
        assert found["paraboloid"].price_difference.number == 80
        assert found["cheaper sphere"].price_difference.number == -10

    def test_whole_packs_spares_and_kits(self, design):
        """22 and 2 spares are three packs of ten, whatever the number of kits."""
        found = by_name(design(HEAD + "  - {ref: S, name: Screws, get: buy, quantity: 22, spares: 2, pack: 10, "
                                      "price: 3, instead: [{name: brass, price: 5}]}", kits=4))
        assert found["brass"].price_difference.number == 3 * 5 - 3 * 3

    def test_what_is_at_hand_is_bought(self, design):
        found = by_name(design(HEAD + "  - {ref: E, name: Eyepiece, get: have, price: 30, quantity: 2, "
                                      "instead: [{name: a new one, price: 32}]}\n  - {ref: B, name: Box, price: 1}"))
        assert found["a new one"].price_difference.number == 64

    def test_no_price_no_difference_and_no_cheapest(self, design):
        worked = design(HEAD + "  - {ref: A, name: Mirror, price: 50, instead: [{name: gift}]}")
        assert by_name(worked)["gift"].price_difference is None
        assert cheapest(worked) is None

    def test_a_plan_with_no_price_but_the_alternative(self, design):
        worked = design(HEAD.replace("  - {result: parts.cost, at_most: 100}\n", "")
                        + "  - {ref: A, name: Board, get: print, instead: [{name: plywood, price: 1.5}]}")
        assert by_name(worked)["plywood"].price_difference.number == 1.5


class TestWhatItChanges:
    def test_the_same_as_the_build_written_out(self, design):
        chosen = design(HEAD + MIRROR, replace=SPHERE)
        found = by_name(chosen)["paraboloid"]
        written = design(HEAD + MIRROR, replace={"focal_length: 1200 mm}": "focal_length: 1180 mm, conic: -1}"})
        changed = {change.id: change for change in found.changes}
        for name in ("figure.strehl", "light.mtf_50", "field.edge_wavefront_rms", "figure.longitudinal_aberration"):
            assert changed[name].before.number == chosen.results[name].number
            assert changed[name].after.number == written.results[name].number
        assert "optics.rayleigh_limit" not in changed

    def test_limits_crossed_both_ways(self, design):
        found = by_name(design(HEAD + MIRROR, replace=SPHERE))["paraboloid"]
        crossing = {change.id: change.crossing for change in found.changes if change.crossing}
        assert crossing == {"optics.focal_ratio": "lapsed", "parts.cost": "missed"}
        assert found.misses == ("parts.cost",)

    def test_a_limit_newly_met(self, design):
        found = by_name(design(HEAD + MIRROR, replace={"focal_length: 1200 mm}": "focal_length: 1000 mm, conic: 0}"}))
        crossing = {change.id: change.crossing for change in found["paraboloid"].changes if change.crossing}
        assert crossing["figure.strehl"] == "met"
        assert crossing["figure.wavefront_pv"] == "met"

    def test_no_more_told_than_four_but_every_limit_crossed(self, demo):
        for each in alternatives(demo):
            told = [change.id for change in each.told]
            crossed = [change for change in each.told if change.crossing]
            newly = {change.id for change in crossed if change.crossing == "missed"}
            before = {result.id for result in demo.misses}
            assert each.unfit or newly == {*each.misses} - before
            assert len(told) <= max(4, len(crossed))
            assert len(set(told)) == len(told)
        strehl = next(change for each in alternatives(demo) if each.keys == ("primary.conic",)
                      for change in each.told if change.id == "figure.strehl")
        assert (round(strehl.before.number, 2), round(strehl.after.number, 2)) == (0.81, 0.99)

    def test_its_own_mass_counts(self, design):
        worked = design(HEAD + "  - {ref: T, name: Tube, price: 9, mass: 1.2 kg, "
                               "instead: [{name: steel, price: 48, mass: 4.5 kg}]}")
        (change,) = (each for each in by_name(worked)["steel"].changes if each.id == "parts.mass")
        assert (change.before.number, change.after.number) == (1.2, 4.5)

    def test_what_follows_by_an_expression_follows(self, design):
        """The mirror's mass is said as the result; a thinner blank makes the whole lighter."""
        worked = design(HEAD + """\
  - {ref: M, name: Mirror, price: 50, mass: "{{ cell.mirror_mass }}", why: "weighs {{ cell.mirror_mass }}",
     instead: [{name: thin, price: 45, set: {primary.edge_thickness: 12.5 mm}}]}
""", replace={"focal_length: 1200 mm}": "focal_length: 1200 mm, glass: borosilicate, edge_thickness: 25 mm, "
                                        "blank_diameter: 150 mm}"})
        (change,) = (each for each in by_name(worked)["thin"].changes if each.id == "parts.mass")
        assert change.after.number == pytest.approx(change.before.number / 2, rel=0.03)

    def test_what_it_sets_may_be_an_expression(self, design):
        worked = design(HEAD + """\
  - {ref: D, name: Diagonal, price: 20,
     instead: [{name: wider, price: 25, set: {diagonal.minor_axis: "{{ field.judged }}"}}]}
field: {judged: 24 mm}
""")
        assert by_name(worked)["wider"].results["optics.obstruction"].number == 24 / 150


    def test_what_it_sets_may_be_a_material_of_its_own(self, design):
        worked = design(HEAD + """\
  - {ref: M, name: Mirror, price: 50, mass: "{{ cell.mirror_mass }}",
     instead: [{name: light, set: {primary.glass: {name: foamed glass, density: 1115 kg/m^3}}}]}
""", replace={"focal_length: 1200 mm}": "focal_length: 1200 mm, glass: {density: 2230 kg/m^3}, edge_thickness: 25 mm,"
                                        " blank_diameter: 150 mm}"})
        (change,) = (each for each in by_name(worked)["light"].changes if each.id == "parts.mass")
        assert change.after.number == pytest.approx(change.before.number / 2)


class TestWhatDoesNotFit:
    def test_geometry_says_why_and_the_price_stands(self, design):
        worked = design(HEAD + "  - {ref: M, name: Mirror, price: 50, instead: [{name: huge, price: 45, "
                               "set: {diagonal.minor_axis: 160 mm}}]}")
        found = by_name(worked)["huge"]
        assert "diagonal.minor_axis" in found.unfit
        assert found.price_difference.number == -5
        assert not found.results
        assert not found.changes
        assert cheapest(worked) is None

    def test_a_place_that_is_not_there(self, design):
        worked = design(HEAD + "  - {ref: M, name: Mirror, price: 50, instead: [{name: other, price: 45, "
                               "set: {'eyepieces[3].focal_length': 10 mm}}]}")
        assert "eyepieces[3].focal_length" in by_name(worked)["other"].unfit

    def test_an_unknown_material(self, design):
        worked = design(HEAD + "  - {ref: M, name: Mirror, price: 50, instead: [{name: other, price: 45, "
                               "set: {primary.glass: cheese}}]}")
        assert "cheese" in by_name(worked)["other"].unfit


class TestCheapest:
    PARTS = HEAD + """\
  - {ref: A, name: Mirror, price: 50, instead: [{name: lower, price: 40, set: {primary.conic: 0}},
     {name: lowest, price: 35}, {name: dearer, price: 60}]}
  - {ref: B, name: Focuser, price: 30, instead: [{name: printed, price: 6, set: {focuser.height: 56 mm}}]}
  - {ref: C, name: Board, price: 10, instead: [{name: other board, price: 12}]}
"""

    def test_together_in_one_build(self, design):
        found = cheapest(design(self.PARTS))
        assert [each.name for each in found.taken] == ["lowest", "printed"]
        assert found.results["parts.cost"].number == 35 + 6 + 10
        assert found.results["optics.intercept"].number == pytest.approx(
            design(self.PARTS).results["optics.intercept"].number + 6)

    def test_two_that_set_one_key_are_not_combined(self, design):
        worked = design(HEAD + """\
  - {ref: A, name: Mirror, price: 50, instead: [{name: small, price: 40, set: {diagonal.minor_axis: 30 mm}}]}
  - {ref: B, name: Diagonal, price: 30, instead: [{name: tiny, price: 6, set: {diagonal.minor_axis: 28 mm}}]}
""")
        found = cheapest(worked)
        assert [each.name for each in found.taken] == ["tiny"]
        (clash,) = found.clashes
        assert (clash.left.name, clash.taken.name, clash.key) == ("small", "tiny", "diagonal.minor_axis")
        assert found.results["parts.cost"].number == 56

    def test_a_key_within_another(self, design):
        worked = design(HEAD + """\
  - {ref: A, name: Mirror, price: 50, instead: [{name: one, price: 40, set: {primary.glass: soda-lime}}]}
  - {ref: B, name: Blank, price: 30, instead: [{name: two, price: 6, set: {primary.glass.density: 2400 kg/m^3}}]}
""")
        assert [clash.left.name for clash in cheapest(worked).clashes] == ["one"]

    def test_each_right_and_wrong_together(self, design):
        worked = design(HEAD + """\
  - {ref: A, name: Mirror, price: 50, instead: [{name: small, price: 40, set: {primary.aperture: 60 mm}}]}
  - {ref: B, name: Diagonal, price: 30, instead: [{name: wide, price: 6, set: {diagonal.minor_axis: 80 mm}}]}
""")
        assert not any(each.unfit for each in alternatives(worked))
        found = cheapest(worked)
        assert found.unfit
        assert not found.results

    def test_limits_missed_are_those_of_the_build_written_out(self, demo):
        found = cheapest(demo)
        assert found.results["parts.cost"].number == pytest.approx(
            demo.results["parts.cost"].number + sum(each.price_difference.number for each in found.taken))
        missed = {name for name, result in found.results.items()
                  if result.goal and result.goal.outcome(result.number) == "misses"}
        # The classical formula tells the exact one's shortfall over again.
        assert {"diagonal.full_field", "diagonal.full_field_classical"} <= missed
        assert set(found.misses) == missed - {"diagonal.full_field_classical"}

    def test_of_equal_savings_the_one_that_misses_less(self, design):
        """All three cost the same; by their obstruction the first misses no limit on it, the second by most."""
        text = HEAD.replace("parts.cost, at_most: 100", "optics.obstruction, at_most: 0.25") + """\
  - ref: A
    name: Diagonal
    price: 50
    instead:
      - {name: widest, price: 40, set: {diagonal.minor_axis: 60 mm}}
      - {name: wide, price: 40, set: {diagonal.minor_axis: 45 mm}}
      - {name: right, price: 40, set: {diagonal.minor_axis: 36 mm}}
"""
        assert [each.name for each in cheapest(design(text)).taken] == ["right"]
        without = text.replace("      - {name: right, price: 40, set: {diagonal.minor_axis: 36 mm}}\n", "")
        assert [each.name for each in cheapest(design(without)).taken] == ["wide"]


def test_no_parts_no_alternatives(design):
    worked = design()
    assert alternatives(worked) == ()
    assert cheapest(worked) is None


def test_asked_twice_is_worked_out_once(demo):
    assert alternatives(demo) is alternatives(demo)


class TestMirror:
    def test_the_budget_is_the_product_of_its_lines(self, demo):
        assert demo.results["figure.strehl_budget"].number == pytest.approx(strehl_budget(demo).left, rel=1e-12)

    def test_no_cell_no_budget(self, design):
        worked = design()
        assert "figure.strehl_budget" not in worked.results
        assert worked.left_out["figure.strehl_budget"] == (
            "the spec does not say enough of the cell to know what support or pinch cost")

    def test_support_alone_is_counted(self, design):
        worked = design("cell: {points: 3, rings: [30 mm]}", replace={
            "focal_length: 1200 mm}": "focal_length: 1200 mm, edge_thickness: 12 mm, glass: borosilicate}"})
        assert "cell.pinch_wavefront_rms" not in worked.results
        assert 0.5 < worked.results["figure.strehl_budget"].number < worked.results["figure.strehl"].number

    def test_a_sphere_of_the_shortest_length_stands_on_the_limit(self, design):
        wave, strehl = shortest_spheres(design(replace=SPHERE))
        at_wave, at_strehl = (
            design(replace={"focal_length: 1200 mm}": f"focal_length: {length.number!r} mm, conic: 0}}"})
            for length in (wave, strehl))
        assert at_wave.results["figure.wavefront_pv"].number == pytest.approx(0.25, rel=1e-6)
        assert at_strehl.results["figure.strehl"].number == pytest.approx(0.80, rel=1e-6)

    def test_the_whole_mirror_wants_a_longer_sphere(self, design):
        ring, whole, own = table(design()).rows
        assert all(a.number < b.number for a, b in zip(ring.entries, whole.entries, strict=True))
        assert own.entries[0].value == 1200
