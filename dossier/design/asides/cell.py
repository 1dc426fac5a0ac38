"""The mirror on other supports: three, six, nine and eighteen points compared, the author's rings judged, levers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc.mechanics import levers, mirror_cell, pinch
from dossier.calc.mechanics.supports import LAYOUTS, layout_of
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.asides.sizes import forces, lengths
from dossier.working import Given, Result

if TYPE_CHECKING:
    from dossier.design.model import Design

NUMBERS = {3: "three", 6: "six", 9: "nine", 18: "eighteen"}
Inputs = Mapping[str, Given | Result]


@dataclass(frozen=True, slots=True)
class Held:
    """The mirror on so many points: where they stand, and what that leaves after piston, tilt and focus.

    ``forces`` are those on one point of each ring where the loads are chosen; ``sag`` is the thin plate's RMS surface,
    ``wavefront`` that of the blank as thick as it is. ``focus_left_in`` says so of the thickness' ``factor``.
    """

    points: int
    radii: Result
    sag: Result
    factor: Result
    wavefront: Result
    strehl: Result
    forces: Result | None = None
    focus_left_in: bool = False


@dataclass(frozen=True, slots=True)
class JudgedRings:
    """The author's rings against the best of as many points, thin plate: by how much they sag more, refocused and with
    focus left in, and where the best ones stand."""

    best: Result
    best_left_in: Result
    times: float
    times_left_in: float

    @property
    def for_focus_left_in(self) -> bool:
        """Whether the rings are made for focus left in rather than for a refocused mirror."""
        return self.times_left_in < self.times


def own(design: Design) -> Held | None:
    """The mirror as the author holds it; None where the spec does not say."""
    known = design.results
    if "cell.wavefront_rms" not in known:
        return None
    factor, wavefront = known["cell.shear_factor"], known["cell.wavefront_rms"]
    return Held(int(_number(known["cell.support_rms"].inputs["points"])), known["cell.support_radii"],
                known["cell.deflection_rms"], factor, wavefront, _strehl("cell.own", wavefront),
                focus_left_in=factor.formula is mirror_cell.shear_factor_unfocused)


def compared(design: Design) -> tuple[Held, ...]:
    """Best equal loads on each number of points, then the best unequal ones; empty where the blank is not said."""
    known = design.results
    if "cell.rigidity" not in known or "cell.blank_weight" not in known:
        return ()
    return (*(_best(design, points, free=False) for points in LAYOUTS),
            *(_best(design, points, free=True) for points, layout in LAYOUTS.items() if len(layout.counts) > 1))


def fewest(design: Design, held: tuple[Held, ...]) -> Held | None:
    """The fewest points that keep the limit on the wavefront; None where none of these does."""
    return next((each for each in held if each.wavefront.number <= limit(design)), None)


def limit(design: Design) -> float:
    """The largest wavefront of the support: the author's goal, else the trade's limit, waves."""
    result = design.results.get("cell.wavefront_rms")
    if result is not None and result.goal is not None and result.goal.sense == "at_most":
        return result.goal.limit
    return next(each.number for each in shelf.limits() if each.result == "cell.wavefront_rms" and each.number)


def judged(design: Design) -> JudgedRings | None:
    """The author's own rings judged; None where they are the best ones already, or not said."""
    rms = design.results.get("cell.support_rms")
    if rms is None or design.build.cell is None or not isinstance(design.build.cell.rings, tuple):
        return None
    plate = {name: rms.inputs[name] for name in ("blank_diameter_mm", "poissons_ratio", "points")}
    best = mirror_cell.support_radii_mm.work("cell.best_radii", **plate)
    left_in = mirror_cell.support_radii_unfocused_mm.work("cell.best_radii_unfocused", **plate)
    least = mirror_cell.support_rms.work("cell.best_rms", support_radii_mm=best, **plate)
    least_left_in = mirror_cell.support_rms_unfocused.work("cell.best_rms_unfocused", support_radii_mm=left_in, **plate)
    return JudgedRings(best, left_in, rms.number / least.number,
                       design.results["cell.support_rms_unfocused"].number / least_left_in.number)


def no_better(held: Held, fewer: Held) -> bool:
    """Whether these points leave as much of the wavefront as fewer do, but for one part in twenty."""
    return held.wavefront.number >= 0.95 * fewer.wavefront.number


def supports(design: Design) -> Aside | None:
    """Every number of points beside what the author has."""
    planned, others = own(design), compared(design)
    if not others:
        return None
    columns = (AsideColumn("Radii"), AsideColumn("RMS sag"), AsideColumn("Thickness adds"),
               AsideColumn("RMS wavefront"), AsideColumn("Strehl ratio left"))
    rows = [] if planned is None else [_row("As planned: " + _named(planned), planned, "")]
    rows += [_row(_named(each).capitalize(), each, _remark(each, others)) for each in others]
    notes = ["Piston, tilt and focus are taken out, as an observer does, over the whole disc; zenith-pointing. RMS sag "
             "is of the thin plate; the wavefront is twice that, times what the thickness adds."]
    if planned is not None and planned.focus_left_in:
        notes.append("What the thickness adds is counted with focus left in for the supports as planned, because their "
                     "rings are made for that, and refocused in all other rows.")
    return Aside("Three, six, nine or eighteen points", "Supports", columns, tuple(rows), tuple(notes))


def lever_sizes(design: Design) -> Aside | None:
    """Bars and triangles for the points as planned, or, where those do not do, for the fewest that do."""
    planned, others = own(design), compared(design)
    if planned is not None and (planned.points > 3 or planned.wavefront.number <= limit(design)):
        chosen = planned
    else:
        enough = fewest(design, others)
        if planned is None or enough is None:
            return None
        chosen = enough
    if chosen.points == 3:
        return None
    free = next((each for each in others if each.points == chosen.points and each.forces is not None), None)
    columns = ["Equal loads"] + (["Best loads"] if free else [])
    sets = [_dimensions(chosen)] + ([_dimensions(free)] if free else [])
    rows = tuple(AsideRow(name, tuple(each[name] for each in sets)) for name in sets[0])
    radii = "planned" if chosen is planned else "best"
    notes = [_LEVERS[chosen.points], f"Equal loads stand on the {radii} rings" + (
        f"; the best loads need rings of their own, {lengths(design, *free.radii.numbers)}, and press with "
        f"{forces(design, *free.forces.numbers)} on each point, inner ring first." if free and free.forces else ".")]
    notes.append("Let every joint rock freely: a stiff one shares nothing out.")
    return Aside(f"Levers for {NUMBERS[chosen.points]} points", "Dimension", tuple(map(AsideColumn, columns)), rows,
                 tuple(notes))


_LEVERS = {
    6: "Three bars, each with a support at both ends and a pivot in the middle.",
    9: "Three triangles, each with one support on the inner ring and two on the outer one.",
    18: "Six triangles, each with one support on the inner ring and two on the outer one; three bars, each with the "
        "pivots of two triangles at its ends and its own in the middle.",
}


def _best(design: Design, points: int, *, free: bool) -> Held:
    """The best supports of so many points, with equal or with the best loads."""
    known, name = design.results, f"cell.{points}_{'free' if free else 'equal'}"
    rigidity, weight = known["cell.rigidity"], known["cell.blank_weight"]
    blank, thickness = weight.inputs["blank_diameter_mm"], weight.inputs["edge_thickness_mm"]
    count = Given("cell.points", float(points), "", "default", said=NUMBERS[points])
    plate: Inputs = {"poissons_ratio": rigidity.inputs["poissons_ratio"], "points": count}
    forces: Result | None = None
    if free:
        radii = mirror_cell.free_support_radii_mm.work(f"{name}.radii", blank_diameter_mm=blank, **plate)
        share = mirror_cell.free_support_rms.work(f"{name}.rms", **plate)
        factor = mirror_cell.free_shear_factor.work(
            f"{name}.factor", blank_diameter_mm=blank, edge_thickness_mm=thickness, **plate)
        forces = mirror_cell.free_point_forces_n.work(f"{name}.forces", blank_weight_n=weight, **plate)
    else:
        radii = mirror_cell.support_radii_mm.work(f"{name}.radii", blank_diameter_mm=blank, **plate)
        held = {"blank_diameter_mm": blank, "support_radii_mm": radii, **plate}
        share = mirror_cell.support_rms.work(f"{name}.rms", **held)
        factor = mirror_cell.shear_factor.work(f"{name}.factor", edge_thickness_mm=thickness, **held)
    sag = mirror_cell.deflection_nm.work(f"{name}.sag", "RMS sag, refocused", blank_weight_n=weight,
                                         blank_diameter_mm=blank, rigidity_n_mm=rigidity, support_share=share)
    wavefront = mirror_cell.wavefront_rms_wave.work(f"{name}.wavefront", deflection_nm=sag, shear_factor=factor,
                                                    wavelength_nm=wavelength(design))
    return Held(points, radii, sag, factor, wavefront, _strehl(name, wavefront), forces)


def wavelength(design: Design) -> Given:
    """The wavelength of the results, as the author says it or by default."""
    from dossier.design import worksheet

    return worksheet(design.loaded).given("conditions.wavelength")


def _strehl(name: str, wavefront: Result) -> Result:
    return pinch.pinch_strehl.work(f"{name}.strehl", "Strehl ratio that the support leaves", wavefront_wave=wavefront)


def _row(name: str, held: Held, remark: str) -> AsideRow:
    return AsideRow(name, (held.radii, held.sag, held.factor, held.wavefront, held.strehl), remark)


def _named(held: Held) -> str:
    return f"{NUMBERS[held.points]} points" + (", best loads" if held.forces is not None else "")


def _remark(held: Held, others: tuple[Held, ...]) -> str:
    if held.points != 9 or held.forces is not None:
        return ""
    six = next(each for each in others if each.points == 6)
    return "No better than six, once one refocuses." if no_better(held, six) else ""


def _dimensions(held: Held) -> dict[str, Entry]:
    """Every length that a builder marks out, by its name."""
    rings = [Given(f"support radius, {which} ring", radius, "mm", "default", said="from the support radii")
             for which, radius in zip(("inner", "outer") if len(held.radii.numbers) > 1 else ("only",),
                                      held.radii.numbers, strict=True)]
    counts = [Given("points on the ring", float(count), "", "default", said="by the layout")
              for count in layout_of(held.points).counts]
    name = f"cell.{held.points}_{'free' if held.forces else 'equal'}"
    if held.points == 6:
        return {"Bar, between its ends": levers.neighbour_spacing_mm.work(f"{name}.bar", ring_radius_mm=rings[0],
                                                                          ring_count=counts[0]),
                "Axis to the bar’s pivot": levers.bar_pivot_mm.work(f"{name}.bar_pivot", ring_radius_mm=rings[0],
                                                                    ring_count=counts[0])}
    depth = levers.triangle_depth_mm.work(f"{name}.depth", inner_radius_mm=rings[0], outer_radius_mm=rings[1],
                                          ring_count=counts[1])
    share = levers.inner_point_share.work(f"{name}.share", **_forces(held))
    pivot = levers.triangle_pivot_mm.work(f"{name}.pivot", inner_radius_mm=rings[0], inner_point_share=share,
                                          triangle_depth_mm=depth)
    found: dict[str, Entry] = {
        "Triangle, between its outer points": levers.neighbour_spacing_mm.work(
            f"{name}.side", ring_radius_mm=rings[1], ring_count=counts[1]),
        "Triangle, outer side to inner point": depth,
        "Triangle, outer side to pivot": levers.triangle_pivot_offset_mm.work(
            f"{name}.offset", inner_point_share=share, triangle_depth_mm=depth),
        "Axis to the triangle’s pivot": pivot,
    }
    if held.points == 18:
        six = Given("pivots on the ring", 6.0, "", "default", said="by the layout")
        found["Bar, between its ends"] = levers.neighbour_spacing_mm.work(f"{name}.bar", ring_radius_mm=pivot,
                                                                          ring_count=six)
        found["Axis to the bar’s pivot"] = levers.bar_pivot_mm.work(f"{name}.bar_pivot", ring_radius_mm=pivot,
                                                                    ring_count=six)
    return found


def _forces(held: Held) -> dict[str, Given]:
    inner, outer = held.forces.numbers if held.forces else (1.0, 1.0)
    said = "from the best loads" if held.forces else "each point carries the same"
    return {"inner_force_n": Given("force on an inner point", inner, "n", "default", said=said),
            "outer_force_n": Given("force on an outer point", outer, "n", "default", said=said)}


def _number(entry: Given | Result) -> float:
    if isinstance(entry.value, tuple):
        raise TypeError(f"{entry.title} is a list")
    return entry.value
