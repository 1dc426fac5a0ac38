"""What moves the upper end of the frame, and what the image then does: weight, play, wind, a hand at the focuser."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from dossier.calc.mechanics import frame, truss, vibration, wander
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.worksheet import NotSaid, Worksheet
from dossier.working import Given, Result

if TYPE_CHECKING:
    from dossier.design.model import Design

_G = 9.80665
HAND = Given("a hand’s push", 5.0, "n", "default", said="a push at the focuser, common practice")
_BREEZE = Given("wind", 4.0, "m_per_s", "default", said="a gentle breeze where nobody says")
_DRAG = Given("drag coefficient", 1.2, "", "default", said="a bluff body", source="hoerner-1965")
_AIR = Given("density of the air", 1.25, "kg_per_m3", "default", said="at about 10 °C")
_DAMPING = Given("damping ratio", 0.02, "", "default", said="bolted frames, common practice, 0.01 to 0.03")
# Of an even push along it the end of a cantilever feels three eighths, a ring on poles a half.
_CARRIED = {"tube": 0.375, "poles": 0.5, "truss": 0.5}


@dataclass(frozen=True, slots=True)
class Moved:
    """One cause: the shift of the upper end, of the field's middle off the mirror's axis, and what these come to.

    ``rest`` is the time until a star stands still again; None where the cause lasts. ``amount`` is how much of the
    cause there is, written where the name has ``{amount}``.
    """

    key: str
    name: str
    shift: Result
    image: Result
    share: Result | None
    lost: Result
    star: Result
    rest: Result | None = None
    amount: Given | None = None


def moves(design: Design) -> tuple[Moved, ...]:
    """Every cause that the spec says enough of, weight first."""
    from dossier.design import worksheet

    return tuple(_moves(design, worksheet(design.loaded)))


def pushes(design: Design) -> Aside | None:
    """The causes as a table."""
    known = moves(design)
    if not known:
        return None
    filled = [(title, entries) for title, entries in (
        ("Upper end moves", [each.shift for each in known]),
        ("Coma-free radii that the field’s middle moves", [each.share for each in known]),
        ("Strehl ratio lost", [each.lost for each in known]), ("A star moves by", [each.star for each in known]),
        ("At rest after", [each.rest for each in known])) if any(entries)]
    rows = tuple(AsideRow(each.name, tuple(entries[at] for _, entries in filled), amount=each.amount)
                 for at, each in enumerate(known))
    notes = ["What the field’s middle moves by, and the loss, count in the turn of the upper end. Mirror cell and "
             "mount give way as well and are not counted."]
    if any(each.key == "wind" for each in known):
        met = ("the whole side of the tube" if design.build.frame and design.build.frame.kind == "tube"
               else "a closed silhouette from the lower fixing to the sky end, as with a shroud")
        notes.append(f"The wind meets {met}. Twice the wind pushes four times as hard.")
    if any(each.rest is not None for each in known):
        notes.append("At rest means that a star moves by less than the telescope resolves. The damping ratio is taken "
                     "as 0.02; bolted frames have 0.01 to 0.03, and the time goes with its inverse.")
    return Aside("What moves the upper end, and what the image does", "Cause",
                 tuple(AsideColumn(title) for title, _ in filled), rows, tuple(notes))


def _moves(design: Design, sheet: Worksheet) -> Iterator[Moved]:
    results, build = design.results, design.build
    if build.frame is None:
        return
    if "frame.sag" in results and "frame.tilt" in results:
        yield _moved(design, sheet, "weight", "Its own weight, zenith to horizon", results["frame.sag"],
                     results["frame.tilt"])
    yield from _play(design, sheet)
    if "frame.stiffness" not in results or "frame.tilt" not in results:
        return
    try:
        wind = _wind(sheet)
        speed = wind.inputs["wind_m_per_s"]
        yield replace(_pushed(design, sheet, "wind", "Wind of {amount}", wind),
                      amount=speed if isinstance(speed, Given) else None)
    except NotSaid:
        pass
    yield replace(_pushed(design, sheet, "hand", "A hand’s push of {amount} at the focuser", HAND), amount=HAND)


def _play(design: Design, sheet: Worksheet) -> Iterator[Moved]:
    kind = design.build.frame.kind if design.build.frame else ""
    if kind == "tube" or not sheet.says("frame.joint_play") or sheet.given("frame.joint_play").value == 0:
        return
    play = sheet.given("frame.joint_play")
    name = "Play in the joints"
    none = Given("shift of the ring", 0.0, "mm", "default", said="it turns about its middle")
    if kind == "truss" and "frame.chord" in design.results:
        shift = truss.truss_play_shift_mm.work("frame-moves.play.shift", joint_play_mm=play,
                                               pole_length_mm=design.results["frame.pole_length"],
                                               truss_chord_mm=design.results["frame.chord"])
        yield _moved(design, sheet, "play", name, shift, _no_turn())
    elif "frame.play_tilt" in design.results:
        turned = wander.image_shift_mm.work("frame-moves.play.shift", "Shift from the turn", frame_shift_mm=none,
                                            frame_tilt_arcmin=design.results["frame.play_tilt"],
                                            **_above(sheet))
        yield _moved(design, sheet, "play", name, turned, _no_turn())


def _no_turn() -> Given:
    return Given("turn of the upper end", 0.0, "arcmin", "default", said="counted already, or none")


def _above(sheet: Worksheet) -> dict[str, Given | Result]:
    """The focal length and where the upper end stands; with the two alike where the spec does not say."""
    focal = sheet.given("primary.focal_length")
    try:
        if "frame.upper_fixing" in sheet.plan:
            return {"focal_length_mm": focal, "upper_end_mm": sheet.result("frame.upper_fixing")}
        return {"focal_length_mm": focal, "upper_end_mm": sheet.given("front.station")}
    except NotSaid:
        unknown = Given("upper end", focal.value, "mm", "default", said="not said: its turn is left out")
        return {"focal_length_mm": focal, "upper_end_mm": unknown}


def _moved(design: Design, sheet: Worksheet, key: str, name: str, shift: Result, tilt: Given | Result) -> Moved:
    own, results = f"frame-moves.{key}", design.results
    image = wander.image_shift_mm.work(f"{own}.image", frame_shift_mm=shift, frame_tilt_arcmin=tilt, **_above(sheet))
    lost = wander.shift_strehl_lost.work(
        f"{own}.lost", aperture_mm=sheet.given("primary.aperture"), focal_length_mm=sheet.given("primary.focal_length"),
        conic=sheet.given("primary.conic"), obstruction_diameter_mm=results["diagonal.obstruction_diameter"],
        wavelength_nm=sheet.given("conditions.wavelength"), image_shift_mm=image)
    star = wander.star_shift_arcsec.work(f"{own}.star", image_shift_mm=image,
                                         image_scale_arcsec_per_mm=results["optics.image_scale"])
    coma = results.get("field.coma_free_radius")
    share = coma and wander.shift_share.work(f"{own}.share", image_shift_mm=image, coma_free_radius_mm=coma)
    rest = _rest(design, own, image) if key == "hand" else None
    return Moved(key, name, shift, image, share, lost, star, rest)


def _pushed(design: Design, sheet: Worksheet, key: str, name: str, push: Given | Result) -> Moved:
    """The shift by the frame's stiffness, and the turn by the same rule as under its own weight."""
    tilt = design.results["frame.tilt"]
    shift = frame.push_shift_mm.work(f"frame-moves.{key}.shift", push_n=push,
                                     frame_stiffness_n_per_mm=design.results["frame.stiffness"])
    number = push.value if not isinstance(push.value, tuple) else 0.0
    stand_in: dict[str, Given | Result] = {
        "pole_mass_kg": Given("weight of the poles", 0.0, "kg", "default", said="not part of the push"),
        "tube_mass_kg": Given("weight of the tube", 0.0, "kg", "default", said="not part of the push"),
        "upper_mass_kg": Given("a mass as heavy as the push", number / _G, "kg", "default", said="push over g"),
        "frame_sag_mm": shift}
    inputs = {which: stand_in.get(which, entry) for which, entry in tilt.inputs.items()}
    turned = tilt.formula.work(f"frame-moves.{key}.turn", "Turn under the push", **inputs)
    return _moved(design, sheet, key, name, shift, turned)


def _wind(sheet: Worksheet) -> Result:
    kind = sheet.build.frame.kind if sheet.build.frame else ""
    if kind == "tube":
        width, height = sheet.given("frame.outer_diameter"), sheet.result("frame.tube_length")
        cage = Given("height beyond the tube", 0.0, "mm", "default", said="the tube ends at the sky")
    else:
        height = sheet.result("frame.height" if kind == "truss" else "frame.pole_length")
        radius, upper = sheet.given("frame.circle_radius").value, sheet.result("frame.upper_fixing").number
        front = sheet.given("front.station").value
        if isinstance(radius, tuple) or isinstance(front, tuple):
            raise NotSaid("frame.circle_radius")
        width = Given("width across the poles", 2 * radius, "mm", "default", said="twice the circle’s radius")
        cage = Given("upper end beyond the frame", max(0.0, front - upper), "mm", "default",
                     said="upper fixing to the sky end")
    area = wander.silhouette_mm2.work(
        "frame-moves.wind.area", silhouette_width_mm=width, cage_height_mm=cage, frame_height_mm=height,
        carried_share=Given("share that the upper end feels", _CARRIED[kind], "", "default", said="an even push"))
    speed = sheet.given("conditions.wind") if sheet.says("conditions.wind") else _BREEZE
    return frame.wind_push_n.work("frame-moves.wind.push", drag_coefficient=_DRAG, air_density_kg_per_m3=_AIR,
                                  wind_m_per_s=speed, wind_area_mm2=area)


def _rest(design: Design, own: str, image: Result) -> Result | None:
    calm = wander.calm_mm.work(f"{own}.calm", rayleigh_limit_arcsec=design.results["optics.rayleigh_limit"],
                               image_scale_arcsec_per_mm=design.results["optics.image_scale"])
    if "frame.frequency" not in design.results or image.number <= calm.number:
        return None
    return vibration.ring_down_s.work(f"{own}.rest", knock_mm=image, calm_mm=calm, damping_ratio=_DAMPING,
                                      frequency_hz=design.results["frame.frequency"])


def evening(design: Design) -> tuple[Result, Result] | None:
    """How far the focus drifts as the frame cools to the night air, and the depth of focus; None where not said."""
    from dossier.design import worksheet

    conditions, drift = design.build.conditions, design.results.get("frame.focus_drift")
    if drift is None or conditions.stored_at is None or conditions.used_at is None:
        return None
    cooling = Given("stored_at less used_at", conditions.stored_at - conditions.used_at, "k", "default",
                    said="from store to night air")
    drifted = wander.evening_drift_mm.work("frame-moves.evening", focus_drift_mm_per_k=drift, cooling_k=cooling)
    depth = wander.depth_of_focus_mm.work(
        "frame-moves.depth", wavelength_nm=worksheet(design.loaded).given("conditions.wavelength"),
        focal_ratio=design.results["optics.focal_ratio"])
    return drifted, depth
