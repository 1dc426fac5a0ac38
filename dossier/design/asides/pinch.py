"""Pushes against clips in other arrangements: how much each newton bends the mirror, how hard each may be pushed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc.mechanics import pinch, springs, threads
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.asides.cell import wavelength
from dossier.design.asides.sizes import forces, size
from dossier.spec.keys import value_at
from dossier.working import Given, NoAnswer, Result

if TYPE_CHECKING:
    from dossier.design.model import Design

# What a clip touches the glass with where nobody says.
PAD = Given("clip’s pad", 10.0, "mm", "default", said="a pad of this width where nobody says, common practice")
IN_THE_LIGHT = "In the way of the light."
_NUT_FACTOR = Given("nut factor", 0.2, "", "default", said="dry steel on steel", source="shigley-2015")
_SCREWS, _USUAL_SCREW = ("M4", "M5", "M6"), "M5"
# Positions nearer to each other than this are one: mm and degrees.
_SAME = 0.5
# Moving something is worth it where less than this share of the bend is left.
_WORTH = 0.9
Inputs = Mapping[str, Given | Result]


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Pushes and clips in one arrangement.

    ``surface`` and ``limit`` are of the thin plate, ``factor`` is how much worse this thick blank is, ``solid_limit``
    its largest push; None where no push bends anything. ``wavefront`` and ``strehl`` are of the thick blank at the
    force of the design's own pushes; None where that is not known.
    """

    key: str
    name: str
    inputs: Inputs
    surface: Result | Given
    limit: Result | None = None
    factor: Result | None = None
    solid_limit: Result | None = None
    wavefront: Result | None = None
    strehl: Result | None = None
    remark: str = ""

    @property
    def bends(self) -> bool:
        """Whether these pushes bend the glass at all."""
        return self.limit is not None


def on_plate(design: Design) -> bool:
    """Whether the pushes bear on a plate and not on the glass."""
    return bool(value_at(design.build, "cell.push.against") == "plate")


def arrangements(design: Design) -> tuple[Arrangement, ...]:
    """The design's own pushes on the glass first, then others; empty where the spec does not say enough."""
    share = design.results.get("cell.pinch_share")
    if share is None or "cell.pinch_surface" not in design.results:
        return ()
    return (*(_arrangement(design, key, name, inputs, remark)
              for key, name, inputs, remark in _varied(design, share.inputs)), _plate(design))


def table(design: Design) -> Aside | None:
    """The arrangements side by side."""
    known = arrangements(design)
    if not known:
        return None
    columns = ["Surface for each newton", "Largest push, thin plate", "Thick blank worse by", "Largest push, this "
                                                                                              "blank"]
    force = design.results.get("cell.push_force")
    if force is not None:
        columns += ["RMS wavefront now", "Strehl ratio now"]
    rows = tuple(AsideRow(each.name, (each.surface, each.limit, each.factor, each.solid_limit,
                                      *((each.wavefront, each.strehl) if force is not None else ())), each.remark)
                 for each in known)
    notes = ["The largest push takes the Strehl ratio of an otherwise perfect mirror to 0.95. Pushes count one by one: "
             "all of them push as hard. Piston, tilt and focus are taken out. Without weight: the support’s own sag "
             "adds "
             "to it.",
             "How much worse the thick blank is depends on the clips’ pads, here 10 mm wide: the smaller the pad, the "
             "more "
             "it presses into the glass."]
    if force is not None:
        notes.append("Now means the force of the pushes as planned, on this blank.")
    return Aside("Other ways to push and to hold", "Arrangement", tuple(map(AsideColumn, columns)), rows, tuple(notes))


def screws(design: Design) -> Aside | None:
    """What a turn of a screw does through the spring, and how little torque does harm without one."""
    known = arrangements(design)
    worst = next((each.solid_limit for each in known if each.solid_limit is not None), None)
    if worst is None:
        return None
    rate = adjuster_rate(design)
    columns = (["One turn adds, through the spring"] if rate else []) + ["Torque that reaches it, on the glass"]
    names = sorted({*_SCREWS, own_screw(design)}, key=lambda name: shelf.threads().threads[name].pitch)
    rows = tuple(AsideRow(name, (*((screw_turn(name, rate),) if rate else ()), screw_torque(name, worst)))
                 for name in names)
    notes = (f"It is the largest push of this blank against these clips, {forces(design, worst.number)}. Two fingers "
             "on a small knob turn with a tenth of a newton metre and more (common practice). A screw that bears on "
             "the glass does not feel tight before the harm is done; a spring gives way first.",)
    return Aside("A screw with a spring and without", "Screw", tuple(map(AsideColumn, columns)), rows, notes)


def adjuster_rate(design: Design) -> Result | None:
    """Force for each millimetre at one adjuster, all its springs together."""
    return design.results.get("cell.adjuster_rate") or design.results.get("cell.spring_rate")


def own_screw(design: Design) -> str:
    """The coarse thread of the pitch that the spec says of the adjusters; M5 where it says none or no coarse one."""
    pitch = value_at(design.build, "cell.push.pitch")
    return next((name for name, thread in shelf.threads().threads.items() if thread.pitch == pitch), _USUAL_SCREW)


def screw_turn(name: str, rate: Result) -> Result:
    """Force that a turn of a screw of this thread adds through springs of this rate."""
    shelved = shelf.threads()
    pitch = Given(f"{name} pitch", shelved.threads[name].pitch, "mm", "shelf", source=shelved.sources["pitch"])
    return springs.force_per_turn_n.work(f"cell.{name}.turn", spring_rate_n_per_mm=rate, thread_pitch_mm=pitch)


def screw_torque(name: str, push: Result) -> Result:
    """Torque with which a screw of this thread, its end on the bare glass, pushes this hard."""
    shelved = shelf.threads()
    width = Given(f"{name} diameter", shelved.threads[name].diameter, "mm", "shelf", source=shelved.sources["diameter"])
    return threads.tightening_torque_n_m.work(f"cell.{name}.torque", "Torque that reaches the largest push",
                                              nut_factor=_NUT_FACTOR, thread_load_n=push, thread_diameter_mm=width)


def _varied(design: Design, inputs: Inputs) -> Iterator[tuple[str, str, Inputs, str]]:
    number = {name: _number(entry) for name, entry in inputs.items()}
    own = "As planned" if not on_plate(design) else "As planned, were it the glass that is pushed"
    yield "own", own, inputs, ""
    pitch = 360 / number["clip_count"]
    apart = (number["clip_turned_deg"] - number["push_turned_deg"]) % pitch
    alike = number["push_count"] == number["clip_count"]
    facing = min(apart, pitch - apart) < _SAME
    beside = abs(number["clip_radius_mm"] - number["push_radius_mm"]) < _SAME
    if alike and not facing:
        yield "onto", "Clips turned onto the pushes", {**inputs, "clip_turned_deg": _turned(number, 0.0)}, ""
    if alike and abs(apart - pitch / 2) > _SAME:
        yield ("between", "Clips turned half way between the pushes",
               {**inputs, "clip_turned_deg": _turned(number, pitch / 2)}, "")
    if alike and facing and beside:
        return
    yield from _moved(design, inputs)
    if alike and not facing:
        behind = {**inputs, "clip_turned_deg": _turned(number, 0.0), "push_radius_mm": inputs["clip_radius_mm"]}
        yield "behind", "Pushes right behind the clips", behind, "What one presses the other holds: nothing bends."


def _moved(design: Design, inputs: Inputs) -> Iterator[tuple[str, str, Inputs, str]]:
    """Clips, then pushes, at the radius of the least bend, where that is worth the move."""
    now = design.results["cell.pinch_share"].number
    for key, which, best in (("clips", "clip_radius_mm", pinch.best_clip_radius_mm),
                             ("pushes", "push_radius_mm", pinch.best_push_radius_mm)):
        others = {name: entry for name, entry in inputs.items() if name != which}
        moved = best.work(f"cell.best_{which.removesuffix('_mm')}", **others)
        inputs_then = {**inputs, which: moved}
        if pinch.pinch_share(**{name: _number(entry) for name, entry in inputs_then.items()}) > _WORTH * now:
            continue
        in_the_light = key == "clips" and moved.number < design.build.primary.aperture / 2
        place = size(design, round(moved.number))
        yield key, f"{key.capitalize()} moved to {place}", inputs_then, IN_THE_LIGHT if in_the_light else ""


def _turned(number: Mapping[str, float], by: float) -> Given:
    return Given("clips turned", number["push_turned_deg"] + by, "deg", "default", said="another arrangement")


def _arrangement(design: Design, key: str, name: str, inputs: Inputs, remark: str) -> Arrangement:
    known, place = design.results, f"cell.pinch_{key}"
    if key == "own":
        surface = known["cell.pinch_surface"]
    else:
        share = pinch.pinch_share.work(f"{place}.share", **inputs)
        surface = pinch.pinch_surface_nm_per_n.work(f"{place}.surface", pinch_share=share, **{
            name: known["cell.pinch_surface"].inputs[name] for name in ("blank_diameter_mm", "rigidity_n_mm")})
    waves = wavelength(design)
    try:
        limit = known.get("cell.pinch_force_limit") if key == "own" else None
        limit = limit or pinch.pinch_force_limit_n.work(f"{place}.limit", strehl=_left(design), wavelength_nm=waves,
                                                        pinch_surface_nm_per_n=surface)
        factor = _solid_factor(f"{place}.factor", design, inputs)
    except NoAnswer:
        return Arrangement(key, name, inputs, surface, remark=remark)
    made = Arrangement(key, name, inputs, surface, limit, factor, pinch.solid_force_limit_n.work(
        f"{place}.solid_limit", pinch_force_limit_n=limit, pinch_solid_factor=factor), remark=remark)
    force = known.get("cell.push_force")
    if force is None:
        return made
    thin = pinch.pinch_wavefront_rms_wave.work(f"{place}.thin", push_force_n=force, pinch_surface_nm_per_n=surface,
                                               wavelength_nm=waves)
    solid = pinch.solid_pinch_rms_wave.work(f"{place}.wavefront", pinch_wavefront_rms_wave=thin,
                                            pinch_solid_factor=factor)
    return replace(made, wavefront=solid, strehl=pinch.pinch_strehl.work(f"{place}.strehl", wavefront_wave=solid))


def _plate(design: Design) -> Arrangement:
    said = "as planned" if on_plate(design) else "another arrangement"
    return Arrangement("plate", "Pushing on a plate" + (", as planned" if on_plate(design) else ""), {},
                       Given("bend of the glass", 0.0, "nm_per_n", "default", said=said),
                       remark="The plate bends, the glass lies on its supports: any force will do.")


def _left(design: Design) -> Given | Result:
    from dossier.design.cell import STREHL_LEFT

    return Given("Strehl ratio left", STREHL_LEFT, "", "default")


def _solid_factor(name: str, design: Design, inputs: Inputs) -> Result:
    thickness = design.results["cell.rigidity"].inputs["edge_thickness_mm"]
    worked = {**inputs, "edge_thickness_mm": thickness, "clip_pad_mm": PAD}
    # Picture, table and words ask for the same; working it out takes a while.
    value = _factor(tuple(sorted((key, _number(entry)) for key, entry in worked.items())))
    return Result(name, value, "", pinch.pinch_solid_factor, worked, pinch.pinch_solid_factor.title)


@lru_cache(maxsize=64)
def _factor(inputs: tuple[tuple[str, float], ...]) -> float:
    return pinch.pinch_solid_factor(**dict(inputs))


def _number(entry: Given | Result) -> float:
    if isinstance(entry.value, tuple):
        raise TypeError(f"{entry.title} is a list")
    return entry.value
