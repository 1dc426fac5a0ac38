"""Cell, levers, diagonal, masks and targets against results and against facts that need no formula of the program."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest

from dossier.design.pictures.focusing import focusing_mask_of
from dossier.drawings.templates.model import Disc, Outline, Template, box_of_items
from tests.drawings.templates.conftest import TRIALS, centres, every_trial, templates, trial

Point = tuple[float, float]


def _discs(template: Template, name: str) -> list[Disc]:
    return [item for item in template.items if isinstance(item, Disc) and item.name == name]


def _area(outline: Sequence[Point]) -> float:
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise((*outline, outline[0])))) / 2


def _turned(point: Point, degrees: float) -> Point:
    angle = math.radians(degrees)
    return (point[0] * math.cos(angle) - point[1] * math.sin(angle),
            point[0] * math.sin(angle) + point[1] * math.cos(angle))


def _matched(found: Sequence[Point], wanted: Sequence[Point]) -> bool:
    """Whether every point of one list has one of the other within what the file's thousandths leave, once each."""
    left = list(wanted)
    for point in found:
        near = min(left, key=lambda other: math.dist(point, other), default=None)
        if near is None or math.dist(point, near) > 3e-3:
            return False
        left.remove(near)
    return not left


@every_trial
def test_every_template_has_words_and_something_to_cut_or_mark(name: str) -> None:
    assert {"diagonal", "zone-mask", "focusing-mask"} <= set(templates(name))
    for template in templates(name).values():
        assert template.use.endswith(".")
        assert template.description.endswith(".")
        assert any(item.layer in ("cut", "mark") for item in template.items)
        assert not any(item.layer == "check" for item in template.items)


@pytest.mark.parametrize(("name", "points"), [("tube-76", 3), ("poles-150", 6), ("tube-200", 9), ("truss-400", 18)])
def test_supports_stand_on_the_rings_of_the_results(name: str, points: int) -> None:
    radii = trial(name).results["cell.support_radii"].numbers
    supports = centres(name, "cell-plate", "support")
    assert len(supports) == points
    assert {round(math.hypot(*centre), 2) for centre in supports} == {round(radius, 2) for radius in radii}
    assert np.mean(supports, axis=0) == pytest.approx((0, 0), abs=1e-3)


def test_pushes_and_clips_stand_at_their_angles_seen_from_behind() -> None:
    cell = trial("tube-200").build.cell
    assert cell
    for what, ring in (("push", cell.push), ("clip", cell.clips)):
        assert ring
        found = centres("tube-200", "cell-plate", what)
        # Clockwise from the sky, so counter-clockwise here, from the focuser's side, which is up.
        wanted = [_turned((0, ring.radius), ring.turned + 120 * index) for index in range(3)]
        assert _matched(found, wanted)


@pytest.mark.parametrize(("name", "kind"), [("poles-150", "bar"), ("tube-200", "triangle")])
def test_three_levers_carry_all_points_of_the_plan_and_balance(name: str, kind: str) -> None:
    ends = centres(name, f"support-{kind}", "support")
    assert np.mean(ends, axis=0) == pytest.approx((0, 0), abs=1e-3)  # equal loads have no moment about the pivot
    supports = centres(name, "cell-plate", "support")
    pivot = min(_middles(supports, len(ends)), key=lambda middle: -middle[1])
    start = math.degrees(math.atan2(-pivot[0], pivot[1]))
    carried = [_turned((x, y + math.hypot(*pivot)), start + turn) for turn in (0, 120, 240) for x, y in ends]
    assert _matched(carried, supports)


def _middles(supports: Sequence[Point], size: int) -> list[Point]:
    """The centre of mass of each support with its nearest neighbours on the plan, so many to a lever."""
    if size == 2:
        ring = sorted(supports, key=lambda point: math.atan2(point[1], point[0]))
        return [((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in pairwise((*ring, ring[0]))]
    inner = sorted(supports, key=lambda point: math.hypot(*point))[:len(supports) // 3]
    groups = [[*sorted(set(supports) - set(inner), key=lambda other: math.dist(point, other))[:2], point]
              for point in inner]
    return [(sum(x for x, _ in group) / 3, sum(y for _, y in group) / 3) for group in groups]


def test_bars_of_eighteen_points_carry_the_triangles_pivots() -> None:
    made = templates("truss-400")
    pivots = _middles(centres("truss-400", "cell-plate", "support"), 3)
    assert len(pivots) == 6
    one, other = centres("truss-400", "support-bar", "support")
    ring = sorted(pivots, key=lambda point: math.atan2(point[1], point[0]))
    assert math.dist(one, other) == pytest.approx(math.dist(ring[0], ring[1]), abs=2e-3)
    assert [each.name for each in made["support-bar"].items if isinstance(each, Outline) and each.closed] == ["bar"]


@every_trial
def test_the_ellipse_is_a_circle_seen_along_the_tube(name: str) -> None:
    design, template = trial(name), templates(name)["diagonal"]
    face = next(item for item in template.items if isinstance(item, Outline) and item.name == "face")
    for x, y in face.points:
        assert math.hypot(x, y * math.cos(math.pi / 4)) == pytest.approx(design.build.diagonal.minor_axis / 2, abs=0.01)
    offset = design.results["diagonal.offset"].number
    marks = _discs(template, "optical axis on the face")
    assert bool(marks) == (offset > 0.05)
    for mark in marks:
        assert mark.centre[1] * math.cos(math.pi / 4) == pytest.approx(offset, abs=1e-6)
    (holder,) = _discs(template, "holder")
    for mark in _discs(template, "optical axis on the back"):
        assert (mark.centre[0] - holder.centre[0], mark.centre[1] - holder.centre[1]) == pytest.approx((0, offset))


@every_trial
def test_zones_have_the_same_area_and_the_diagonal_hides_none(name: str) -> None:
    design, template = trial(name), templates(name)["zone-mask"]
    zones: dict[str, list[float]] = {}
    for item in template.items:
        if isinstance(item, Outline) and item.name.startswith("zone"):
            radii = [math.hypot(x, y) for x, y in item.points]
            zones.setdefault(item.name, []).extend((min(radii), max(radii)))
    edges = sorted(max(radii) for radii in zones.values())
    shadow = design.results["diagonal.obstruction_diameter"].number / 2
    areas = [outer**2 - inner**2 for inner, outer in pairwise((shadow, *edges))]
    assert areas == pytest.approx([areas[0]] * len(areas), rel=1e-6)
    assert edges[-1] == pytest.approx(design.build.primary.aperture / 2)


@every_trial
def test_slots_are_a_grating_of_the_stated_pitch(name: str) -> None:
    """The open and the covered along a line across the level slots, as a Fourier series: the first order stands at one
    over the pitch, and it is the strongest, since slots and bars are alike."""
    design, template = trial(name), templates(name)["focusing-mask"]
    sizes, aperture = focusing_mask_of(design), design.build.primary.aperture
    shadow = design.results["diagonal.obstruction_diameter"].number
    slots = [item for item in template.items if isinstance(item, Outline) and item.name.startswith("slot")]
    x = shadow / 2 + 0.05 * aperture
    level = [box_of_items([slot]) for slot in slots if slot.name == "slot, level"]
    crossed = [box for box in level if box.left < x < box.right]
    y = np.linspace(-aperture / 2, aperture / 2, 8192, endpoint=False)
    open_there = np.zeros_like(y)
    for box in crossed:
        open_there[(y > box.top) & (y < box.bottom)] = 1
    light = np.abs(np.fft.rfft(open_there - open_there.mean(), 16 * len(y)))
    frequency = np.fft.rfftfreq(16 * len(y), y[1] - y[0])
    assert 1 / frequency[light.argmax()] == pytest.approx(sizes.pitch.number, rel=0.01)
    wavelength = design.build.conditions.wavelength
    assert math.degrees(wavelength * 1e-6 * frequency[light.argmax()]) * 3600 == pytest.approx(
        sizes.first_order.number, rel=0.01)
    for slot in slots:
        radii = [math.hypot(*point) for point in slot.points]
        assert max(radii) <= aperture / 2 + 1e-6
        assert min(radii) >= shadow / 2 - 1e-6


@pytest.mark.parametrize("name", ["tube-76", "truss-400"])
def test_a_third_to_a_half_of_the_light_passes_the_slots(name: str) -> None:
    design, template = trial(name), templates(name)["focusing-mask"]
    slots = [item for item in template.items if isinstance(item, Outline) and item.name.startswith("slot")]
    aperture, shadow = design.build.primary.aperture, design.results["diagonal.obstruction_diameter"].number
    passed = sum(_area(slot.points) for slot in slots) / (math.pi / 4 * (aperture**2 - shadow**2))
    assert 0.33 < passed < 0.5
    tilts = {slot.name for slot in slots}
    assert len(tilts) == 3


@pytest.mark.parametrize("name", [name for name in TRIALS if name != "bare-130"])
def test_the_target_fits_the_drawtube_and_shows_what_a_return_may_stand_off(name: str) -> None:
    design, template = trial(name), templates(name)["collimation-target"]
    allowed = design.results["collimation.return_shift"].number
    (disc,) = _discs(template, "disc")
    assert disc.radius == design.build.focuser.bore / 2
    (hole,) = _discs(template, "hole")
    rings = _discs(template, "tolerance")
    assert [ring.radius for ring in rings] == ([allowed] if hole.radius + 0.4 < allowed < disc.radius - 0.4 else [])


@pytest.mark.parametrize("name", [name for name in TRIALS if name != "bare-130"])
def test_the_centre_ring_lies_in_the_shadow_and_the_disc_is_as_wide_as_the_blank(name: str) -> None:
    design, template = trial(name), templates(name)["primary-centre"]
    assert _discs(template, "disc")[0].radius == pytest.approx(design.build.primary.blank_diameter / 2)
    ring = _discs(template, "ring, outside")[0].radius
    assert ring <= 0.6 * design.results["diagonal.obstruction_diameter"].number / 2
