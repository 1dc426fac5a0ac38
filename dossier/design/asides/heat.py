"""Heat in tables: how long the mirror takes to cool, how the focus drifts, what softens in a hot car."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc import thermal
from dossier.calc.mechanics import frame, truss, wander
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.asides.threads import HOT_CAR_DEGC
from dossier.working import Given, Result, converted

if TYPE_CHECKING:
    from dossier.design.model import Design

# Glass that a small fan blows on gives off so much. Common practice, no source.
FAN = Given("heat transfer with a fan", 20.0, "w_per_m2_k", "default", said="air moved by a small fan, common practice")
_CLOSED = Given("heat transfer of a closed back", 0.0, "w_per_m2_k", "default", said="no air reaches it")
_SETTLED = "thermal.settling_time"
_FRAMES = ("aluminium-6061", "steel", "stainless-steel", "spruce", "birch-ply", "carbon")


@dataclass(frozen=True, slots=True)
class Way:
    """One way to let the mirror cool: its key, its name, and the inputs of its settling time."""

    key: str
    name: str
    inputs: dict[str, Given | Result]

    def settles(self, within: Given | Result | None = None) -> Result:
        """When its mean is this near the night air; within the usual half kelvin where nothing is said."""
        inputs = self.inputs if within is None else {**self.inputs, "within_k": within}
        return thermal.settling_time_min.work(f"cooling.{self.key}", **inputs)

    @property
    def glass(self) -> tuple[float, ...]:
        """The numbers that ``thermal.slab`` wants."""
        names = ("edge_thickness_mm", "density_kg_per_m3", "heat_capacity_j_per_kg_k", "conductivity_w_per_m_k",
                 "front_transfer_w_per_m2_k", "back_transfer_w_per_m2_k")
        return tuple(_one(self.inputs[name], name) for name in names)


def _one(entry: Given | Result, unit: str) -> float:
    """A single number in the unit with which this name ends."""
    value = converted(entry, f"it_{unit}")
    return value[0] if isinstance(value, tuple) else value


def ways(design: Design) -> tuple[Way, ...]:
    """As planned, with the back closed, with a fan behind it; those that differ. Empty where no time was worked out."""
    planned = design.results.get(_SETTLED)
    if planned is None:
        return ()
    own = dict(planned.inputs)
    front, back = (_one(own[f"{face}_transfer_w_per_m2_k"], "w_per_m2_k") for face in ("front", "back"))
    found = [Way("planned", "As planned", own)]
    if front > 0 and back > 0:
        found.append(Way("closed", "Back closed", {**own, "back_transfer_w_per_m2_k": _CLOSED}))
    if back < _one(FAN, "w_per_m2_k"):
        found.append(Way("fan", "Fan on the back", {**own, "back_transfer_w_per_m2_k": FAN}))
    return tuple(found)


def warmer_k(design: Design) -> float:
    """How much warmer the mirror is than the night air when it is carried out, K; negative where it is colder."""
    inputs = design.results[_SETTLED].inputs
    return _one(inputs["stored_at_degc"], "stored_at_degc") - _one(inputs["used_at_degc"], "used_at_degc")


def blur_of(warmth_k: float, design: Design) -> tuple[float, float | None]:
    """What a mirror this warm blurs by itself, and together with the seeing that the author gives, arcsec."""
    own = thermal.mirror_seeing_arcsec(warmth_k)
    sky = design.build.conditions.seeing
    return own, None if sky is None else thermal.total_seeing_arcsec(own, sky)


def times(design: Design) -> Aside | None:
    """How long until the mirror's warmth no longer matters, each way it may cool."""
    known = ways(design)
    if not known:
        return None
    rows = tuple(AsideRow(name, (within, *(way.settles(within) for way in known))) for name, within in _ends(design))
    columns = (AsideColumn("Off the air by"), *(AsideColumn(way.name) for way in known))
    return Aside("How long until the mirror no longer matters", "Until", columns, rows, tuple(_notes(known)))


def _notes(known: tuple[Way, ...]) -> Iterator[str]:
    yield "By exact conduction through the glass, of its mean temperature. The rim and the air about it are left out."
    if any(way.key == "fan" for way in known):
        yield ("The fan is reckoned with 20 W/m²/K on the back, what a small one does by common practice. Hang it on "
               "rubber bands, and switch it off to look if stars tremble.")


def _ends(design: Design) -> Iterator[tuple[str, Given | Result]]:
    """From the most to the least that may be left: the seeing, what the telescope resolves, half a kelvin."""
    from dossier.design import worksheet

    settled = design.results[_SETTLED].inputs["within_k"]
    ends: list[tuple[str, Given | Result]] = [("Half a kelvin from the air", settled)]
    if warmer_k(design) > 0:
        ends.append(("Its blur is down to Rayleigh’s limit", _resolved(design)))
        if design.build.conditions.seeing is not None:
            ends.append(("Its blur is down to the seeing", thermal.warmth_for_blur_k.work(
                "cooling.seeing", blur_arcsec=worksheet(design.loaded).given("conditions.seeing"))))
    return iter(sorted(ends, key=lambda end: -_one(end[1], "k")))


def cleared(design: Design) -> Result:
    """When a mirror that starts warm, as planned, blurs no more than Rayleigh's limit."""
    return ways(design)[0].settles(_resolved(design))


def _resolved(design: Design) -> Result:
    return thermal.warmth_for_blur_k.work("cooling.resolved", blur_arcsec=design.results["optics.rayleigh_limit"])


def drifts(design: Design) -> Aside | None:
    """How the focus drifts with the frame's material, and with the mirror's own glass."""
    own = design.results.get("frame.focus_drift")
    if own is None:
        return None
    rows = [_drift("As planned", "planned", own, design)]
    rows += [_drift(_short(key), key, _of_material(own, key), design) for key in _FRAMES
             if design.build.frame is not None and key != design.build.frame.material]
    glass = _of_glass(design)
    if glass is not None:
        rows.append(_drift("The mirror’s own focal length", "glass", glass, design))
    columns = ("Drift for each kelvin", "From store to night air")
    told = 1 if _cooling(design) is None else 2
    return Aside("Focus drift by the frame’s material", "Frame of", tuple(map(AsideColumn, columns[:told])),
                 tuple(AsideRow(row.name, row.entries[:told], row.remark) for row in rows),
                 ("As they cool, the frame draws the focuser towards the mirror, and the mirror’s own focus comes "
                  "nearer: of a frame’s drift only what it differs by from the last row is seen.",))


def _drift(name: str, key: str, drift: Result, design: Design) -> AsideRow:
    cooling = _cooling(design)
    night: Entry = wander.evening_drift_mm.work(f"drift.{key}.night", focus_drift_mm_per_k=drift, cooling_k=cooling) \
        if cooling is not None else None
    return AsideRow(name, (drift, night))


def _cooling(design: Design) -> Given | None:
    conditions = design.build.conditions
    if conditions.stored_at is None or conditions.used_at is None:
        return None
    return Given("stored_at less used_at", conditions.stored_at - conditions.used_at, "k", "default",
                 said="from store to night air")


def _of_material(own: Result, key: str) -> Result:
    inputs = {**own.inputs, "expansion_per_k": _expansion(key)}
    formula = truss.truss_focus_drift_mm_per_k if own.formula is truss.truss_focus_drift_mm_per_k \
        else frame.focus_drift_mm_per_k
    return formula.work(f"drift.{key}", **inputs)


def _of_glass(design: Design) -> Result | None:
    from dossier.design import worksheet
    from dossier.design.worksheet import NotSaid

    sheet = worksheet(design.loaded)
    try:
        expansion = sheet.material("primary.glass", "expansion")
    except NotSaid:
        return None
    return frame.mirror_focus_drift_mm_per_k.work("drift.glass", expansion_per_k=expansion,
                                                  focal_length_mm=sheet.given("primary.focal_length"))


def _short(key: str) -> str:
    name = shelf.materials()[key].name.split(",")[0]
    return name[:1].upper() + name[1:]


def _expansion(key: str) -> Given:
    datum = shelf.materials()[key].expansion
    if datum is None:
        raise KeyError(f"no expansion of {key} on the shelf")
    return Given(f"{key}, expansion", datum.value, "per_k", "shelf", source=datum.source)


@dataclass(frozen=True, slots=True)
class Softening:
    """A printed material of this build: its name, the parts of it, and where it softens, if the shelf knows."""

    name: str
    parts: tuple[str, ...]
    at: Given | None

    @property
    def lets_go(self) -> bool:
        """Whether it softens at what a closed car in the sun may reach."""
        return self.at is not None and _one(self.at, "degc") <= HOT_CAR_DEGC


def softenings(design: Design) -> tuple[Softening, ...]:
    """The materials of the printed parts, the softest first."""
    used: dict[str, list[str]] = {}
    for part in design.build.parts:
        if part.print is not None and part.print.material is not None:
            used.setdefault(part.print.material, []).append(part.ref)
    found = [Softening(shelf.materials()[key].name, tuple(refs), _softens(key)) for key, refs in used.items()]
    return tuple(sorted(found, key=lambda each: float("inf") if each.at is None else _one(each.at, "degc")))


def _softens(key: str) -> Given | None:
    datum = shelf.materials()[key].softens_at
    return None if datum is None else Given(f"{key}, softens at", datum.value, "degc", "shelf", source=datum.source)


def softening(design: Design) -> Aside | None:
    """Which printed parts soften in a hot car."""
    known = softenings(design)
    rows = tuple(AsideRow(each.name[:1].upper() + each.name[1:],
                          (", ".join(each.parts), each.at), _verdict(each)) for each in known)
    return Aside("Printed parts in a hot car", "Material", (AsideColumn("Parts", text=True), AsideColumn("Softens at")),
                 rows, (f"A closed car in the sun is taken to reach {HOT_CAR_DEGC:.0f} °C, by common practice. Dark "
                        "parts in the sun itself grow hotter.",)) if rows else None


def _verdict(each: Softening) -> str:
    if each.at is None:
        return "Nothing on the shelf says where it softens: keep it out of hot cars."
    above = _one(each.at, "degc") - HOT_CAR_DEGC
    if above <= 0:
        return "It softens in a hot car. Never leave these parts in one, least of all under load."
    if above < 15:
        return "It keeps its shape there by a few degrees only: take the load off it and cover it."
    return "It keeps its shape there."
