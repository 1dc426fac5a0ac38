"""Builds unlike the demo: what cannot be worked out is left out with a true reason, and no sentence goes wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from dossier.charts import cell as cell_charts
from dossier.design import Design, work_out
from dossier.design.asides import cell, frame, measured, pinch
from dossier.design.pictures import sight_views
from dossier.design.pictures.budget import strehl_budget
from dossier.drawings import sight
from dossier.drawings.palette import SCREEN
from dossier.notation import show, show_result
from dossier.spec.load import load_build
from dossier.views.goals import within
from dossier.views.results import verdict
from dossier.views.words import frame as frame_words
from dossier.views.words import heat as heat_words
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


def test_limits_of_two_eyepieces_are_told_apart(design: Make) -> None:
    """Exit pupils of 0.25 and 0.375 mm, where 0.5 mm is the usual limit."""
    made = design("eyepieces: [{name: 2 mm, focal_length: 2 mm}, {name: 3 mm, focal_length: 3 mm}]")
    missed = [result for name, result in made.results.items() if name.endswith("exit_pupil")]
    assert verdict(missed, made) == "Both limits are missed: exit pupil, 2 mm; exit pupil, 3 mm."


def test_names_keep_their_capital() -> None:
    assert within("Strehl ratio") == "Strehl ratio"
    assert within("Wavefront on the axis, RMS") == "wavefront on the axis, RMS"
    assert within("RMS of the surface") == "RMS of the surface"


def test_a_polish_without_error_is_said(design: Make) -> None:
    """0 nm is what the plan says, not something it leaves unsaid."""
    said = design(replace={"focal_length: 1200 mm": "focal_length: 1200 mm, surface_rms: 0 nm"})
    assert "the polish" not in strehl_budget(said).unsaid
    assert "the polish" in strehl_budget(design()).unsaid


def test_a_stiff_tube_has_no_digits_of_nothing(design: Make) -> None:
    """A carbon tube as stiff as a gun's loses a hundred millionth of the Strehl ratio, which is no number to read."""
    made = design(TUBE % ", material: carbon, upper_mass: 1 kg" + "front: {opening: 176 mm, station: 1000 mm}")
    assert "costs next to nothing of the Strehl ratio at most: nobody sees it" in frame_words.tell(made)


def test_a_mirror_colder_than_the_air(design: Make) -> None:
    """It warms, it dews over, and a cold place to keep it would make both worse."""
    glass = {"focal_length: 1200 mm": "focal_length: 1200 mm, edge_thickness: 40 mm, glass: borosilicate"}
    cold = design("conditions: {stored_at: 0 degC, used_at: 20 degC}\ncooling: {front: 5 W/m^2/K, back: 5 W/m^2/K}\n"
                  + TUBE % ", material: steel, upper_mass: 1 kg", replace=glass)
    told = heat_words.tell(cold)
    assert "20.0\u202fK colder than the air" in told
    assert "leave its lid on" in told
    assert "Keep the telescope outdoors" in told
    assert "As it warms to the night air" in frame_words.tell(cold)


def test_readers_of_inches_read_no_millimetres_of_length(design: Make) -> None:
    """Nine points with pushes on the glass: rings, levers and moved clips in inches; eyepieces stay in millimetres."""
    made = design("readers: {units: inch}\nconditions: {eye_pupil: 7 mm}\n"
                  "eyepieces: [{name: 20 mm, focal_length: 20 mm}]\n"
                  "cell: {points: 9, rings: best, push: {count: 3, radius: 50 mm, turned: 0 deg, against: glass, "
                  "force: 5 N}, clips: {count: 3, radius: 72 mm, turned: 60 deg}}",
                  replace={"focal_length: 1200 mm": "focal_length: 1200 mm, blank_diameter: 154 mm, "
                                                    "edge_thickness: 20 mm, glass: borosilicate"})
    levers, moved = cell.lever_sizes(made), pinch.table(made)
    assert levers is not None
    assert moved is not None
    assert "\u202fmm" not in " ".join(levers.notes)
    assert "\u202fin" in levers.notes[1]
    assert "lbf" in levers.notes[1]
    names = [row.name for row in moved.rows if "moved to" in row.name]
    assert names
    assert all(name.endswith("\u202fin") for name in names)
    assert show_result(made.results["eyepiece.20-mm.exit_pupil"], made.build.readers).plain == "2.5\u202fmm"


def test_bench_readings_have_names(build: Callable[..., Path]) -> None:
    folder = build("eyepieces: [{name: 20 mm, focal_length: 20 mm}, {name: 8 mm, focal_length: 8 mm}]", files={
        "measured.yaml": "primary: {focal_length: 1210 mm}\nbench: {source: moving, zones: [30 mm, 45 mm, 60 mm], "
                         "readings: [0.1 mm, 0.3 mm, 0.7 mm]}\n"})
    made = replace(work_out(load_build(folder, folder / "measured.yaml")), planned=work_out(load_build(folder)))
    found, follows = measured.values(made), measured.results(made)
    assert found is not None
    assert follows is not None
    assert "Bench, zone 3: reading" in [row.name for row in found.rows]
    names = [row.name for row in follows.rows]
    assert {"Exit pupil, 20 mm", "Exit pupil, 8 mm"} <= set(names)
    assert len(names) == len(set(names))


def test_names_of_materials_and_keys_keep_their_letters(design: Make) -> None:
    made = design(TUBE % ", material: steel, upper_mass: 1 kg")
    table = frame.materials(made)
    assert table is not None
    assert "Aluminium 6061-T6, same section" in [row.name for row in table.rows]
    assert measured.named(made, "primary.surface_rms") == "Primary: surface RMS"


def test_the_smallest_losses_are_powers_of_ten() -> None:
    assert show(2.21e-6, "", result_id="frame-moves.wind.lost").plain == "2.2 × 10⁻⁶"
    assert show(0.0193, "", result_id="frame-moves.weight.lost").plain == "0.019"
    assert show(1953.92, "n_per_mm", result_id="frame-table.steel.stiffness").plain == "1954\u202fN/mm"


def test_pushes_are_in_pounds_to_readers_of_inches(design: Make) -> None:
    """12 kg on feet that reach 100 mm, pushed 1.2 m up: 12 × 9.80665 × 100 / 1200 = 9.8 N, the weight of 1 kg."""
    made = design("readers: {units: inch}\n"
                  "mount: {kind: rocker, pivot: 300 mm, pivot_height: 450 mm, feet: 3, feet_radius: 200 mm}\n"
                  "parts: [{ref: A, name: Tube, mass: 10 kg, station: 300 mm}, "
                  "{ref: B, name: Rocker, group: mount, mass: 2 kg}]")
    told = mount_words.tipping(made)
    assert "\u202flb, in the worst direction" in told
    assert "kg" not in told
    assert "\u202fN" not in told


def test_the_pinch_chart_speaks_of_pounds_to_readers_of_inches(design: Make) -> None:
    """The curve's axis, its marks and its words are in one unit, that of the page."""
    made = design("readers: {units: inch}\n"
                  "cell: {points: 3, rings: best, push: {count: 3, radius: 50 mm, turned: 0 deg, against: glass, "
                  "force: 5 N}, clips: {count: 3, radius: 72 mm, turned: 60 deg}}",
                  replace={"focal_length: 1200 mm": "focal_length: 1200 mm, blank_diameter: 154 mm, "
                                                    "edge_thickness: 20 mm, glass: borosilicate"})
    drawn = cell_charts.pinch_strehl(made, SCREEN, "wide")
    assert drawn is not None
    assert "force of each push, lbf" in drawn.svg
    assert "this plan, 1.12\u202flbf" in drawn.svg
    assert "\u202fN" not in drawn.svg + drawn.alt


def test_a_diagonal_without_offset_is_not_said_to_have_one(design: Make) -> None:
    """Its reflection then stands in the middle, and perspective alone puts its edge off it."""
    plain = design(replace={"focuser: {mounting_radius: 100 mm, height: 50 mm}": (
        "focuser: {mounting_radius: 100 mm, height: 50 mm, bore: 30 mm, drawtube: 50 mm}"),
        "minor_axis: 35 mm": "minor_axis: 35 mm, offset: none"})
    views = sight_views(plain)
    assert views is not None
    outlines = views.views[0].outlines
    middle = {name: float(outlines[name][0].max() + outlines[name][0].min()) / 2 for name in ("shadow", "diagonal")}
    assert abs(middle["shadow"]) < 1e-6 < middle["diagonal"]
    assert "has no offset" in sight.caption(plain)
    assert "everything but the diagonal’s edge" in sight.description(plain)


def test_half_a_cell_is_not_called_none(design: Make) -> None:
    made = design("cell: {points: 3}")
    assert made.left_out["figure.strehl_budget"] == ("the spec does not say enough of the cell to know what support or "
                                                     "pinch cost")
