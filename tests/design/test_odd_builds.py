"""Builds unlike the demo: what cannot be worked out is left out with a true reason, and no sentence goes wrong."""

from __future__ import annotations

from collections.abc import Callable

from dossier.design import Design
from dossier.views.words import mount as mount_words
from dossier.views.words import stray as stray_words

Make = Callable[..., Design]

TUBE = "frame: {kind: tube, outer_diameter: 180 mm, inner_diameter: 176 mm, length: 900 mm, lower_fixing: 20 mm%s}\n"


def test_two_poles_have_no_cloth_between_them(design: Make) -> None:
    made = design("frame: {kind: poles, outer_diameter: 20 mm, length: 800 mm, count: 2, circle_radius: 110 mm, "
                  "lower_fixing: 60 mm}\nfront: {opening: 180 mm, station: 1150 mm}\n"
                  "focuser: {mounting_radius: 100 mm, height: 50 mm, bore: 30 mm, drawtube: 50 mm}",
                  replace={"focuser: {mounting_radius: 100 mm, height: 50 mm}\n": ""})
    assert made.left_out["stray.taut_radius"] == "cloth drawn tight round 2 poles has no inside"
    assert "Cloth drawn tight" not in stray_words.ways(made)


def test_no_counterweight_where_nothing_stands_on_the_light_side(design: Make) -> None:
    """One part of 3 kg, 50 mm beyond the pivot: no weight at its own station balances it."""
    made = design("mount: {kind: altaz, pivot: 300 mm}\nparts: [{ref: A, name: All, mass: 3 kg, station: 350 mm}]")
    assert "balance.counterweight" not in made.results
    told = mount_words.tell(made)
    assert "Move the pivot to 350.0\u202fmm, or put a weight on the other side of it." in told
    assert "−" not in told


def test_a_mount_of_no_mass_is_what_tipping_misses(design: Make) -> None:
    """The parts have masses; it is the mount's own that nobody said."""
    made = design("mount: {kind: rocker, pivot: 300 mm, pivot_height: 500 mm, feet: 3, feet_radius: 200 mm}\n"
                  "parts: [{ref: A, name: All, mass: 3 kg, station: 350 mm}]")
    assert "the spec does not say the mass of any part that belongs to the mount itself" in mount_words.tipping(made)


def test_what_the_shelf_lacks_is_named_as_the_shelfs(design: Make) -> None:
    made = design(TUBE % ", material: abs, upper_mass: 1 kg")
    assert made.left_out["frame.sag"] == ("the spec does not say Young’s modulus of abs, for which the shelf has no "
                                          "number")
