"""The plan of what the frame does under load: sag, tilt, swaying, drift of focus."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.calc import choices
from dossier.calc.mechanics import balance, frame, sections, truss, vibration
from dossier.design.frame import UNSAID, UPPER_RADIUS, has_fittings
from dossier.design.worksheet import NotSaid, Source, Work, Worksheet, given, material, step, worked
from dossier.spec.model import Build
from dossier.working import Result, gathered

MODULUS = material("frame.material", "youngs_modulus")
EXPANSION = material("frame.material", "expansion")
UPPER_MASS = worked("frame.upper_mass")
AREA, SECOND_MOMENT, MEMBER_MASS = (worked(f"frame.member_{what}") for what in ("area", "second_moment", "mass"))


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module; which formulas serve depends on the kind of frame."""
    kinds = {"tube": _tube, "poles": _poles, "truss": _truss}
    kind = build.frame.kind if build.frame else UNSAID
    length = "tube_length" if kind == "tube" else "sawn_length" if has_fittings(build) else "pole_length"
    return dict((*_members(kind, worked(f"frame.{length}")), *kinds[kind](), *_share()))


def _members(kind: str, length: Source) -> tuple[tuple[str, Work], ...]:
    what = "the tube" if kind == "tube" else "one pole"
    wall = {"outer_diameter_mm": given("frame.outer_diameter"), "inner_diameter_mm": given("frame.inner_diameter")}
    return (
        step("frame.member_area", sections.tube_area_mm2, f"Section of {what}", **wall),
        step("frame.member_second_moment", sections.tube_second_moment_mm4, f"Second moment of {what}", **wall),
        step("frame.member_mass", sections.member_mass_kg, f"Mass of {what}", member_area_mm2=AREA,
             density_kg_per_m3=material("frame.material", "density"), member_length_mm=length),
        ("frame.upper_mass", _upper_mass),
    )


def _upper_mass(sheet: Worksheet) -> Result:
    """As said, else the parts whose station lies beyond the upper fixing."""
    title = "Mass at the upper end"
    if sheet.says("frame.upper_mass"):
        return choices.mass_as_given_kg.work("frame.upper_mass", title, chosen_kg=sheet.given("frame.upper_mass"))
    if "frame.upper_fixing" not in sheet.plan:  # of a tube: no part lies beyond it, and what it carries is not known
        raise NotSaid("frame.upper_mass")
    fixing = sheet.result("frame.upper_fixing").number
    keys = [f"parts[{index}]" for index in range(len(sheet.build.parts or ()))
            if all(sheet.says(f"parts[{index}].{datum}") for datum in ("mass", "station"))]
    beyond = [key for key in keys if _station(sheet, key) > fixing]
    if not beyond:
        raise NotSaid("frame.upper_mass, nor any part with mass and station beyond the upper fixing")
    return balance.total_mass_kg.work(
        "frame.upper_mass", title,
        quantities=gathered("pieces", [sheet.given(f"{key}.quantity") for key in beyond], ""),
        masses_kg=gathered("masses beyond the upper fixing", [sheet.given(f"{key}.mass") for key in beyond], "kg"))


def _station(sheet: Worksheet, key: str) -> float:
    value = sheet.given(f"{key}.station").value
    return max(value) if isinstance(value, tuple) else value


def _tube() -> tuple[tuple[str, Work], ...]:
    bending = {"youngs_modulus_gpa": MODULUS, "tube_second_moment_mm4": SECOND_MOMENT,
               "tube_length_mm": worked("frame.tube_length")}
    loaded = {**bending, "tube_mass_kg": MEMBER_MASS, "upper_mass_kg": UPPER_MASS}
    return (
        step("frame.stiffness", frame.tube_stiffness_n_per_mm, **bending),
        step("frame.sag", frame.tube_sag_mm, **loaded),
        step("frame.tilt", frame.tube_tilt_arcmin, **loaded),
        step("frame.frequency", vibration.tube_frequency_hz, **loaded),
        step("frame.focus_drift", frame.focus_drift_mm_per_k, expansion_per_k=EXPANSION,
             frame_height_mm=worked("frame.tube_length")),
    )


def _poles() -> tuple[tuple[str, Work], ...]:
    bending = {"youngs_modulus_gpa": MODULUS, "pole_second_moment_mm4": SECOND_MOMENT, "pole_area_mm2": AREA,
               "pole_length_mm": worked("frame.pole_length"), "pole_count": given("frame.count"),
               "circle_radius_mm": given("frame.circle_radius")}
    loaded = {**bending, "pole_mass_kg": MEMBER_MASS, "upper_mass_kg": UPPER_MASS}
    return (
        step("frame.stiffness", frame.poles_stiffness_n_per_mm, **bending),
        step("frame.sag", frame.poles_sag_mm, **loaded),
        step("frame.tilt", frame.poles_tilt_arcmin, **loaded),
        step("frame.frequency", vibration.poles_frequency_hz, **loaded),
        step("frame.focus_drift", frame.focus_drift_mm_per_k, expansion_per_k=EXPANSION,
             frame_height_mm=worked("frame.pole_length")),
        step("frame.play_tilt", frame.play_tilt_arcmin, joint_play_mm=given("frame.joint_play"),
             circle_radius_mm=given("frame.circle_radius")),
    )


def _truss() -> tuple[tuple[str, Work], ...]:
    poles = {"pole_count": given("frame.count"), "pole_mass_kg": MEMBER_MASS, "upper_mass_kg": UPPER_MASS,
             "frame_stiffness_n_per_mm": worked("frame.stiffness")}
    return (
        step("frame.stiffness", truss.truss_stiffness_n_per_mm, youngs_modulus_gpa=MODULUS, pole_area_mm2=AREA,
             pole_count=given("frame.count"), lower_radius_mm=given("frame.circle_radius"),
             pole_length_mm=worked("frame.pole_length")),
        step("frame.sag", truss.truss_sag_mm, **poles),
        step("frame.tilt", truss.truss_tilt_arcmin, frame_sag_mm=worked("frame.sag"), upper_radius_mm=UPPER_RADIUS,
             lower_radius_mm=given("frame.circle_radius"), pole_count=given("frame.count"),
             frame_height_mm=worked("frame.height")),
        step("frame.frequency", truss.truss_frequency_hz, **poles),
        step("frame.focus_drift", truss.truss_focus_drift_mm_per_k, expansion_per_k=EXPANSION,
             pole_length_mm=worked("frame.pole_length"), frame_height_mm=worked("frame.height")),
    )


def _share() -> tuple[tuple[str, Work], ...]:
    return (
        step("frame.collimation_share", frame.collimation_share, frame_sag_mm=worked("frame.sag"),
             coma_free_radius_mm=worked("field.coma_free_radius")),
    )
