"""Springs of common sizes that would do for this cell, by the shelf's list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc.mechanics import springs
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.asides.sizes import forces
from dossier.design.asides.sizes import size as named
from dossier.shelf.tables import SpringSize
from dossier.spec.keys import value_at
from dossier.working import Given, Result

if TYPE_CHECKING:
    from dossier.design.model import Design

CUSTOMARY_MARGIN = 1.5
# A spring compressed by less than this loses too much of its force when a screw is turned back by a millimetre.
LEAST_COMPRESSION_MM = 3.0
# Shigley's overrun: travel to spare before the coils touch, as a share of the travel in use.
_OVERRUN = 0.15
_MATERIAL = "cell.push.spring.material"


@dataclass(frozen=True, slots=True)
class Job:
    """What one spring has to do: its force, N; how often the least that keeps the cell seated that is; its wire; the
    length at which the author mounts it, mm, None where that is not said; how many stand side by side."""

    force_n: float
    margin: float
    material: str
    mounted: Given | None
    together: int


@dataclass(frozen=True, slots=True)
class Fitting:
    """A spring of the shelf that does the job: its rate, the length to mount it at, its stress, what it holds in hand
    at the author's own mounted length."""

    size: SpringSize
    rate: Result
    mounted: Result
    stress_share: Result
    margin_as_mounted: Entry


def job(design: Design) -> Job | None:
    """The job; None where the spec says too little of mass and pushes."""
    seating = design.results.get("cell.seating_force")
    if seating is None or not seating.number:
        return None
    margin = design.results.get("cell.spring_margin")
    goal = margin.goal if margin is not None else None
    wanted = goal.limit if goal is not None and goal.sense == "at_least" else CUSTOMARY_MARGIN
    named, together = value_at(design.build, _MATERIAL), value_at(design.build, "cell.push.spring.count") or 1
    compressed = value_at(design.build, "cell.push.spring.compressed_to")
    return Job(wanted * seating.number / together, wanted,
               named if isinstance(named, str) and named in shelf.springs().wires else "spring-steel",
               None if compressed is None else Given("cell.push.spring.compressed_to", compressed, "mm"), together)


def fittings(design: Design) -> tuple[Fitting, ...]:
    """The springs of the shelf that do it, the softest first."""
    wanted = job(design)
    if wanted is None:
        return ()
    known = [fitting for place, size in enumerate(shelf.springs().sizes)
             if (fitting := _fitting(design, wanted, size, f"spring.size_{place + 1}")) is not None]
    return tuple(sorted(known, key=lambda each: each.rate.number))


def table(design: Design) -> Aside | None:
    """The same as a table."""
    wanted, known = job(design), fittings(design)
    if wanted is None or not known:
        return None
    columns, mounted = ["Rate", "Mount at", "Stress ÷ what it bears"], wanted.mounted
    if mounted is not None:
        columns.append("In hand as planned")
    rows = tuple(AsideRow(_named(each.size), (
        each.rate, each.mounted, each.stress_share,
        *((each.margin_as_mounted,) if mounted is not None else ()))) for each in known)
    metal = shelf.materials()[wanted.material].name
    notes = [f"Wire × mean coil diameter, active coils, free length; {metal}. Mounted like this, each presses with "
             f"{forces(design, wanted.force_n)}, {wanted.margin:g} times what keeps the cell seated.",
             f"They do because they are compressed by at least {named(design, LEAST_COMPRESSION_MM)}, keep a share of "
             f"{_OVERRUN:g} of that travel before the coils touch, and stay below the stress at which the wire sets.",
             "Common sizes, no source: count the coils and measure the length of the spring you buy."]
    if mounted is not None:
        notes.insert(1, f"In hand as planned: the same at the length of this plan, {_length(mounted, design)}. Solid "
                        "means that the coils touch there or all but do, loose that the spring is no longer than that.")
    return Aside("Springs of common sizes that would do", "Spring", tuple(map(AsideColumn, columns)), rows,
                 tuple(notes), works=(0, 1, 2))


def _length(entry: Given, design: Design) -> str:
    return "" if isinstance(entry.value, tuple) else named(design, entry.value)


def _fitting(design: Design, wanted: Job, size: SpringSize, name: str) -> Fitting | None:
    wire = shelf.springs().wires[wanted.material]
    modulus = shelf.materials()[wanted.material].shear_modulus
    if modulus is None or not wire.least <= size.wire <= wire.most:
        return None
    given = {"shear_modulus_gpa": Given(f"{wanted.material}, shear modulus", modulus.value, "gpa", "shelf",
                                        source=modulus.source),
             "wire_mm": _listed("wire", size.wire, "mm"),
             "active_coils": _listed("active coils", size.active_coils, ""),
             "coil_diameter_mm": _listed("mean coil diameter", size.mean_diameter, "mm")}
    does = springs.fit(springs.Coil(size.wire, size.mean_diameter, size.active_coils, size.free_length, modulus.value),
                       wanted.force_n)
    used = size.free_length - does.compressed_length_mm
    strength = springs.wire_strength_mpa.work(
        f"{name}.strength", wire_constant_mpa=_wire("strength", wire.strength, "mpa"), wire_mm=given["wire_mm"],
        wire_exponent=_wire("exponent", wire.exponent, ""))
    borne = wire.torsion_share * strength.number
    if used < LEAST_COMPRESSION_MM or not does.does(_OVERRUN * used, borne):
        return None
    rate = springs.spring_rate_n_per_mm.work(f"{name}.rate", **given)
    stress = Given("stress in the wire", does.stress_mpa, "mpa", "default", said="at the force that is wanted")
    share = springs.stress_share.work(f"{name}.stress_share", wire_stress_mpa=stress, wire_strength_mpa=strength,
                                      torsion_share=_wire("torsion share", wire.torsion_share, ""))
    mounted = springs.mounted_length_mm.work(
        f"{name}.mounted", free_length_mm=_listed("free length", size.free_length, "mm"), spring_rate_n_per_mm=rate,
        wanted_force_n=Given("force that is wanted", wanted.force_n, "n", "default",
                             said=f"{wanted.margin:g} times what keeps the cell seated"))
    return Fitting(size, rate, mounted, share, _as_mounted(design, wanted, size, rate, name))


def _as_mounted(design: Design, wanted: Job, size: SpringSize, rate: Result, name: str) -> Entry:
    """What the spring holds in hand at the author's own length; words where it is loose there, or all but solid."""
    if wanted.mounted is None or not isinstance(wanted.mounted.value, float):
        return None
    solid = springs.solid_length_mm(size.wire, size.active_coils)
    if wanted.mounted.value >= size.free_length:
        return "loose"
    if wanted.mounted.value - solid < _OVERRUN * (size.free_length - wanted.mounted.value):
        return "solid"
    force = springs.spring_preload_n.work(
        f"{name}.preload", spring_rate_n_per_mm=rate, compressed_length_mm=wanted.mounted,
        free_length_mm=_listed("free length", size.free_length, "mm"))
    if wanted.together > 1:
        force = springs.preload_together_n.work(f"{name}.together", spring_preload_n=force, spring_count=Given(
            "cell.push.spring.count", float(wanted.together)))
    return springs.spring_margin.work(f"{name}.margin", push_force_n=force,
                                      seating_force_n=design.results["cell.seating_force"])


def _listed(what: str, value: float, unit: str) -> Given:
    return Given(what, value, unit, "shelf", source=shelf.springs().sources["sizes"])


def _wire(what: str, value: float, unit: str) -> Given:
    return Given(f"spring wire, {what}", value, unit, "shelf", source=shelf.springs().sources["wires"])


def _named(size: SpringSize) -> str:
    return f"{size.wire:g} × {size.mean_diameter:g} mm, {size.active_coils:g} coils, {size.free_length:g} mm long"
