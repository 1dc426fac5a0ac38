"""The plan of the mirror cell: how the mirror sags on its supports, whether it is pinched, whether it stays put."""

from __future__ import annotations

from collections.abc import Mapping

from dossier import shelf
from dossier.calc import choices, thermal
from dossier.calc.mechanics import balance, mirror_cell, pinch, plate, springs
from dossier.design.frame import BLANK_DIAMETER
from dossier.design.worksheet import NotSaid, Source, Work, Worksheet, given, material, step, worked
from dossier.spec.keys import value_at
from dossier.spec.model import Build
from dossier.working import Given, NoAnswer, Result, gathered

WAVELENGTH = given("conditions.wavelength")
THICKNESS = given("primary.edge_thickness")
# The Strehl ratio to which a pinch may take an otherwise perfect mirror: what the force limit is defined by.
STREHL_LEFT = 0.95
_TOGETHER = "cell.push.spring.count"
# Nearer than this to the night air a mirror is reckoned to have settled.
SETTLED_WITHIN_K = 0.5


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module, in order."""
    return dict((*_supports(), *_pinch(), *_springs(), *_wound(), *_side_by_side(), *_heat()))


def _glass(datum: str) -> Source:
    return material("primary.glass", datum)


PLATE = {"blank_diameter_mm": BLANK_DIAMETER, "poissons_ratio": _glass("poissons_ratio")}
HELD = {**PLATE, "support_radii_mm": worked("cell.support_radii"), "points": given("cell.points")}


def _supports() -> tuple[tuple[str, Work], ...]:
    weight, rigidity = worked("cell.blank_weight"), worked("cell.rigidity")

    def sag(result_id: str, title: str, share: str) -> tuple[str, Work]:
        return step(result_id, mirror_cell.deflection_nm, title, blank_weight_n=weight,
                    blank_diameter_mm=BLANK_DIAMETER, rigidity_n_mm=rigidity, support_share=worked(share))

    return (
        step("cell.rigidity", plate.rigidity_n_mm, youngs_modulus_gpa=_glass("youngs_modulus"),
             edge_thickness_mm=THICKNESS, poissons_ratio=_glass("poissons_ratio")),
        step("cell.blank_weight", mirror_cell.blank_weight_n, blank_diameter_mm=BLANK_DIAMETER,
             edge_thickness_mm=THICKNESS, density_kg_per_m3=_glass("density")),
        ("cell.support_radii", _radii),
        step("cell.support_rms", mirror_cell.support_rms, **HELD),
        step("cell.support_pv", mirror_cell.support_pv, **HELD),
        step("cell.support_rms_unfocused", mirror_cell.support_rms_unfocused, **HELD),
        sag("cell.deflection_rms", "RMS sag between the supports, refocused", "cell.support_rms"),
        sag("cell.deflection_pv", "Peak-to-valley sag between the supports, refocused", "cell.support_pv"),
        sag("cell.deflection_rms_unfocused", "RMS sag between the supports, focus left in",
            "cell.support_rms_unfocused"),
        ("cell.shear_factor", _shear_factor),
        step("cell.wavefront_rms", mirror_cell.wavefront_rms_wave, deflection_nm=worked("cell.deflection_rms"),
             shear_factor=worked("cell.shear_factor"), wavelength_nm=WAVELENGTH),
    )


def _radii(sheet: Worksheet) -> Result:
    rings = value_at(sheet.build, "cell.rings")
    if rings is None:
        raise NotSaid("cell.rings")
    if rings == "best":
        return mirror_cell.support_radii_mm.work(
            "cell.support_radii", blank_diameter_mm=BLANK_DIAMETER(sheet), points=sheet.given("cell.points"),
            poissons_ratio=PLATE["poissons_ratio"](sheet))
    return choices.radii_as_given_mm.work("cell.support_radii", chosen_radii_mm=sheet.given("cell.rings"))


def _shear_factor(sheet: Worksheet) -> Result:
    """For the sag that the rings are made for: see ``_keeps_focus``."""
    formula = mirror_cell.shear_factor_unfocused if _keeps_focus(sheet) else mirror_cell.shear_factor
    return formula.work("cell.shear_factor", edge_thickness_mm=THICKNESS(sheet),
                        support_radii_mm=sheet.result("cell.support_radii"), points=sheet.given("cell.points"),
                        blank_diameter_mm=BLANK_DIAMETER(sheet), poissons_ratio=PLATE["poissons_ratio"](sheet))


def _keeps_focus(sheet: Worksheet) -> bool:
    """Whether the author's rings lie nearer to those that are best with focus left in than to the best refocused ones.

    Eighteen points are always judged refocused: with focus left in, their sag nearly cancels and says little.
    """
    if value_at(sheet.build, "cell.rings") == "best" or sheet.build.cell is None or sheet.build.cell.points == 18:
        return False
    plate = {"blank_diameter_mm": BLANK_DIAMETER(sheet), "poissons_ratio": PLATE["poissons_ratio"](sheet),
             "points": sheet.given("cell.points")}
    said = sheet.result("cell.support_radii")
    refocused = mirror_cell.support_radii_mm.work("cell.support_radii", "", **plate)
    left_in = mirror_cell.support_radii_unfocused_mm.work("cell.support_radii", "", **plate)
    return _apart(said, left_in) < _apart(said, refocused)


def _apart(one: Result, other: Result) -> float:
    pairs = zip(one.numbers, other.numbers, strict=True)
    return sum((mine - yours) ** 2 for mine, yours in pairs)


def _pinch() -> tuple[tuple[str, Work], ...]:
    return (
        ("cell.push_force", _push_force),
        ("cell.pinch_share", _pinch_share),
        step("cell.pinch_surface", pinch.pinch_surface_nm_per_n, blank_diameter_mm=BLANK_DIAMETER,
             rigidity_n_mm=worked("cell.rigidity"), pinch_share=worked("cell.pinch_share")),
        ("cell.pinch_wavefront_rms", _pinched),
        step("cell.pinch_force_limit", pinch.pinch_force_limit_n, strehl=_strehl_left,
             pinch_surface_nm_per_n=worked("cell.pinch_surface"), wavelength_nm=WAVELENGTH),
    )


def _pinch_share(sheet: Worksheet) -> Result:
    """Of the glass between pushes and clips; pushes on a plate may stand where there is no glass."""
    inputs = {name: source(sheet) for name, source in {**PLATE, **_ring("push"), **_ring("clip")}.items()}
    radius, across = inputs["push_radius_mm"].value, inputs["blank_diameter_mm"].value
    if _on_plate(sheet) and isinstance(radius, float) and isinstance(across, float) and radius > across / 2:
        raise NoAnswer("the pushes bear on a plate, outside the glass")
    return pinch.pinch_share.work("cell.pinch_share", **inputs)


def _on_plate(sheet: Worksheet) -> bool:
    return bool(value_at(sheet.build, "cell.push.against") == "plate")


def _ring(what: str) -> dict[str, Source]:
    section = {"push": "cell.push", "clip": "cell.clips"}[what]
    return {f"{what}_count": given(f"{section}.count"), f"{what}_radius_mm": given(f"{section}.radius"),
            f"{what}_turned_deg": given(f"{section}.turned")}


def _strehl_left(_: Worksheet) -> Given:
    return Given("Strehl ratio left", STREHL_LEFT, "", "default")


def _pinched(sheet: Worksheet) -> Result:
    """The springs against the clips; nothing where a plate takes the pushes in the glass's stead."""
    if _on_plate(sheet):
        said = sheet.loaded.spots["cell.push.against"]
        per_newton: Given | Result = Given("cell.push.against", 0.0, "nm_per_n", "spec", said.file, said.line, "plate")
    else:
        per_newton = sheet.result("cell.pinch_surface")
    return pinch.pinch_wavefront_rms_wave.work(
        "cell.pinch_wavefront_rms", push_force_n=sheet.result("cell.push_force"), pinch_surface_nm_per_n=per_newton,
        wavelength_nm=WAVELENGTH(sheet))


def _push_force(sheet: Worksheet) -> Result:
    """A force the author states, as of a screw turned too far; otherwise what the springs' compression gives."""
    if sheet.says("cell.push.force"):
        return choices.force_as_given_n.work("cell.push_force", chosen_n=sheet.given("cell.push.force"))
    if sheet.says(_TOGETHER):
        return springs.preload_together_n.work(
            "cell.push_force", spring_preload_n=sheet.result("cell.spring_preload"),
            spring_count=sheet.given(_TOGETHER))
    return _preload(sheet, "cell.push_force")


def _one_of_several(sheet: Worksheet) -> Result:
    if not sheet.says(_TOGETHER):
        raise NotSaid(_TOGETHER)
    return _preload(sheet, "cell.spring_preload")


def _preload(sheet: Worksheet, result_id: str) -> Result:
    """Force of a single spring."""
    return springs.spring_preload_n.work(
        result_id, spring_rate_n_per_mm=sheet.result("cell.spring_rate"),
        free_length_mm=sheet.given("cell.push.spring.free_length"),
        compressed_length_mm=sheet.given("cell.push.spring.compressed_to"))


def _single_force(sheet: Worksheet) -> Result:
    return sheet.result("cell.spring_preload" if sheet.says(_TOGETHER) else "cell.push_force")


def _adjuster_rate(sheet: Worksheet) -> Result:
    return sheet.result("cell.adjuster_rate" if sheet.says(_TOGETHER) else "cell.spring_rate")


def _side_by_side() -> tuple[tuple[str, Work], ...]:
    """What one spring gives and what all those of one adjuster do."""
    return (
        ("cell.spring_preload", _one_of_several),
        step("cell.adjuster_rate", springs.rate_together_n_per_mm, spring_rate_n_per_mm=worked("cell.spring_rate"),
             spring_count=given(_TOGETHER)),
    )


def _springs() -> tuple[tuple[str, Work], ...]:
    count, mass, rate = given("cell.push.count"), worked("cell.moving_mass"), _adjuster_rate
    return (
        ("cell.spring_rate", _spring_rate),
        ("cell.moving_mass", _moving_mass),
        step("cell.seating_force", springs.seating_force_n, moving_mass_kg=mass, push_count=count,
             push_radius_mm=given("cell.push.radius"), overhang_mm=_overhang),
        step("cell.spring_margin", springs.spring_margin, push_force_n=worked("cell.push_force"),
             seating_force_n=worked("cell.seating_force")),
        step("cell.needed_compression", springs.needed_compression_mm, wanted_margin=_wanted_margin,
             seating_force_n=worked("cell.seating_force"), spring_rate_n_per_mm=rate),
        step("cell.floating_shift", springs.floating_shift_mm, moving_mass_kg=mass, push_count=count,
             spring_rate_n_per_mm=rate),
        step("cell.floating_frequency", springs.floating_frequency_hz, push_count=count, spring_rate_n_per_mm=rate,
             moving_mass_kg=mass),
    )


def _wound() -> tuple[tuple[str, Work], ...]:
    """What follows from the wire that the springs are wound from."""
    coil, wire, coils = (given(f"cell.push.spring.{key}") for key in ("mean_diameter", "wire", "active_coils"))
    return (
        step("cell.spring_index", springs.spring_index, coil_diameter_mm=coil, wire_mm=wire),
        step("cell.curvature_factor", springs.curvature_factor, spring_index=worked("cell.spring_index")),
        step("cell.wire_stress", springs.wire_stress_mpa, curvature_factor=worked("cell.curvature_factor"),
             push_force_n=_single_force, coil_diameter_mm=coil, wire_mm=wire),
        step("cell.wire_strength", springs.wire_strength_mpa, wire_constant_mpa=_wire("strength", "mpa"),
             wire_mm=wire, wire_exponent=_wire("exponent", "")),
        step("cell.stress_share", springs.stress_share, wire_stress_mpa=worked("cell.wire_stress"),
             torsion_share=_wire("torsion_share", ""), wire_strength_mpa=worked("cell.wire_strength")),
        step("cell.solid_length", springs.solid_length_mm, wire_mm=wire, active_coils=coils),
        step("cell.travel_in_hand", springs.travel_in_hand, free_length_mm=given("cell.push.spring.free_length"),
             solid_length_mm=worked("cell.solid_length"),
             compressed_length_mm=given("cell.push.spring.compressed_to")),
        step("cell.buckling_length", springs.buckling_length_mm, coil_diameter_mm=coil),
    )


def _wire(datum: str, unit: str) -> Source:
    """What the shelf knows of the strength of the wire that the spec names."""

    def source(sheet: Worksheet) -> Given:
        key = "cell.push.spring.material"
        named, diameter = value_at(sheet.build, key), sheet.given("cell.push.spring.wire").value
        table = shelf.springs()
        wire = table.wires.get(named) if isinstance(named, str) else None
        if wire is None or not isinstance(diameter, float) or not wire.least <= diameter <= wire.most:
            raise NotSaid("how strong wire of this kind and diameter is")
        return Given(f"{named}, {datum.replace('_', ' ')}", getattr(wire, datum), unit, "shelf",
                     source=table.sources["wires"])

    return source


def _spring_rate(sheet: Worksheet) -> Result:
    spring = "cell.push.spring"
    if sheet.says(f"{spring}.rate"):
        return choices.rate_as_given_n_per_mm.work("cell.spring_rate", chosen_n_per_mm=sheet.given(f"{spring}.rate"))
    return springs.spring_rate_n_per_mm.work(
        "cell.spring_rate", shear_modulus_gpa=sheet.material(f"{spring}.material", "shear_modulus"),
        wire_mm=sheet.given(f"{spring}.wire"), coil_diameter_mm=sheet.given(f"{spring}.mean_diameter"),
        active_coils=sheet.given(f"{spring}.active_coils"))


def _moving_mass(sheet: Worksheet) -> Result:
    """Mirror and what moves with it: as said, else the parts that are said to, else the mirror alone."""
    title = "Mass that the springs carry"
    parts = [f"parts[{index}]" for index, part in enumerate(sheet.build.parts) if part.on_springs]
    if parts and not sheet.says("cell.moving_mass"):
        return balance.total_mass_kg.work(
            "cell.moving_mass", title,
            quantities=gathered("pieces", [sheet.given(f"{key}.quantity") for key in parts], ""),
            masses_kg=gathered("masses on the springs", [sheet.given(f"{key}.mass") for key in parts], "kg"))
    chosen = (sheet.given("cell.moving_mass") if sheet.says("cell.moving_mass")
              else sheet.result("cell.mirror_mass"))
    return choices.mass_as_given_kg.work("cell.moving_mass", title, chosen_kg=chosen)


def _overhang(sheet: Worksheet) -> Given:
    key = "cell.push.overhang"
    return sheet.given(key) if sheet.says(key) else Given(key, 0.0, "mm", "default", said="in the springs' plane")


def _wanted_margin(_: Worksheet) -> Given:
    return Given("springs in hand", 1.5, "", "default")


def _heat() -> tuple[tuple[str, Work], ...]:
    glass = {"density_kg_per_m3": _glass("density"), "heat_capacity_j_per_kg_k": _glass("heat_capacity"),
             "edge_thickness_mm": THICKNESS, "front_transfer_w_per_m2_k": given("cooling.front"),
             "back_transfer_w_per_m2_k": given("cooling.back")}
    night = {"stored_at_degc": given("conditions.stored_at"), "used_at_degc": given("conditions.used_at"),
             "within_k": lambda _: Given("settled within", SETTLED_WITHIN_K, "k", "default")}
    return (
        step("thermal.time_constant", thermal.time_constant_min, **glass),
        step("thermal.settling_time", thermal.settling_time_min, **glass, **night,
             conductivity_w_per_m_k=_glass("conductivity")),
        step("thermal.settling_time_hottest", thermal.settling_time_hottest_min, **glass, **night,
             conductivity_w_per_m_k=_glass("conductivity")),
        step("thermal.settling_time_lumped", thermal.settling_time_lumped_min,
             time_constant_min=worked("thermal.time_constant"), **night),
    )
