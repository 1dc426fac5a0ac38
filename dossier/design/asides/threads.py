"""The threads that the parts list declares: what to drill, what they bear by either convention, how far to tighten."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc.mechanics import threads
from dossier.design import worksheet
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.threads import held, hole, least_area
from dossier.design.worksheet import Worksheet
from dossier.working import Given, Result

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import Holds, Part

# Where a closed car in the sun is taken to reach this, what softens below it lets go.
HOT_CAR_DEGC = 70.0
NEAR_K = 15.0
NUT_FACTOR = Given("nut factor", 0.2, "", "default", said="dry steel on steel, common practice")
_HOW = {"tapped": "thread cut", "insert": "insert set", "nut": "captive nut"}


def fasteners(design: Design) -> Aside | None:
    """What each declared fastener needs drilled, bears and may be tightened to; None where none is declared."""
    sheet = worksheet(design.loaded)
    rows = tuple(_row(design, sheet, name, index, part, part.holds) for name, index, part in held(design.build)
                 if part.holds is not None)
    if not rows:
        return None
    columns = ("Hole to drill", "Engagement in diameters", "Area by the quick rule", "Lets go at",
               "Torque that reaches half of it")
    told = [at for at in range(len(columns)) if any(row.entries[at] is not None for row in rows)]
    return Aside("What each fastener bears", "Fastener", tuple(AsideColumn(columns[at]) for at in told),
                 tuple(replace(row, entries=tuple(row.entries[at] for at in told)) for row in rows), _notes(rows))


def _notes(rows: tuple[AsideRow, ...]) -> tuple[str, ...]:
    told = []
    if any(row.entries[2] is not None for row in rows):
        told.append("Of a thread, the area that holds is the least one: the smallest screw (6g) in the widest hole "
                    "(6H). The quick rule, 0.875 πd for each length of engagement, is a third and more larger. Never "
                    "mix the two.")
    if any(row.entries[4] is not None for row in rows):
        told.append("The torque takes a nut factor of 0.20, that of dry steel on steel; grease or plastic change it by "
                    "a third. A thread that squeaks, gives or turns freely has passed it.")
    return tuple(told)


def _row(design: Design, sheet: Worksheet, name: str, index: int, part: Part, holds: Holds) -> AsideRow:
    own = f"thread-table.{name}"
    diameter = hole(holds.thread, "diameter")
    engagement = _said(sheet, index, "engagement") if holds.how != "nut" else None
    ratio = engagement and threads.engagement_ratio.work(f"{own}.ratio", engagement_mm=engagement,
                                                         thread_diameter_mm=diameter)
    quick = engagement and holds.how == "tapped" and threads.nominal_strip_area_mm2.work(
        f"{own}.quick", thread_diameter_mm=diameter, engagement_mm=engagement)
    force = _force(design, sheet, name, index, own)
    torque = force and threads.half_strip_torque_n_m.work(
        f"{own}.torque", nut_factor=NUT_FACTOR, strip_force_n=force, thread_diameter_mm=diameter)
    entries: tuple[Entry, ...] = (_drill(sheet, index, holds), ratio or None, quick or None, force, torque)
    where = f" in {material_name(holds)}" if holds.in_ else ""
    return AsideRow(f"{part.ref}, {holds.thread}, {_HOW[holds.how]}{where}", entries,
                    " ".join(remarks(design, name, holds)))


def _force(design: Design, sheet: Worksheet, name: str, index: int, own: str) -> Result | None:
    area, strength = design.results.get(f"thread.{name}.area"), _said(sheet, index, "strength")
    if area is None or strength is None:
        return None
    return threads.strip_force_n.work(f"{own}.force", shear_strength_mpa=strength, strip_area_mm2=area)


def _drill(sheet: Worksheet, index: int, holds: Holds) -> Entry:
    if holds.how == "insert":
        return _said(sheet, index, "hole")
    return hole(holds.thread, "tapping_drill" if holds.how == "tapped" else "clearance_medium")


def _said(sheet: Worksheet, index: int, what: str) -> Given | None:
    """What the author says of this fastener, with its line."""
    key = f"parts[{index}].holds.{what}"
    return sheet.given(key) if sheet.says(key) else None


def material_name(holds: Holds) -> str:
    """What the fastener sits in, in words; empty where the spec does not say."""
    return shelf.materials()[holds.in_].name.split(",")[0] if holds.in_ else ""


def remarks(design: Design, name: str, holds: Holds) -> Iterator[str]:
    """The verdict on one fastener and the cautions of its material."""
    yield from _verdict(design, name, holds)
    material = shelf.materials()[holds.in_] if holds.in_ else None
    if material is None:
        return
    if material.kind == "plastic":
        yield ("Plastic creeps under a lasting pull: this is what it bears for a moment. Slacken what is not in use, "
               "or let a bolt go right through to a washer.")
        if material.softens_at is not None and material.softens_at.value < HOT_CAR_DEGC:
            yield (f"It softens at {material.softens_at.value:.0f} °C: a closed car in the sun grows hotter, and it "
                   "lets go.")
        elif material.softens_at is not None and material.softens_at.value < HOT_CAR_DEGC + NEAR_K:
            yield (f"It softens at {material.softens_at.value:.0f} °C, hardly more than the {HOT_CAR_DEGC:.0f} °C of a "
                   "closed car in the sun.")
    if material.kind in ("wood", "board"):
        yield ("Wood gives as it dries: tighten again after a month. A thread in end grain bears less than one across "
               "it.")


def _verdict(design: Design, name: str, holds: Holds) -> Iterator[str]:
    share, stress = (design.results.get(f"thread.{name}.{what}") for what in ("strength_share", "stress"))
    if share is not None and share.goal is not None:
        outcome = share.goal.outcome(share.number)
        yield {"meets": "Holds, with plenty in hand.", "close": "Holds, with little in hand.",
               "misses": "Does not hold with enough in hand."}[outcome]
        if outcome == "misses" and holds.how != "nut":
            yield "Engage more thread, use a thicker screw, or let a nut and a washer take the pull on the far side."
    elif stress is not None:
        yield "No verdict: no strength is given. Pull a test piece until it lets go, and write down the force."
    else:
        yield "No verdict: the spec does not say enough."


def sizes(design: Design) -> Aside | None:
    """Holes and areas of each thread that is in use; None where none is declared."""
    used = {part.holds.thread for _, _, part in held(design.build) if part.holds is not None}
    rows = tuple(_size(name) for name in shelf.threads().threads if name in used)
    columns = ("Tapping drill", "Clearance hole, medium", "Nut across flats", "Least area, 1 mm engaged",
               "Quick rule, 1 mm engaged")
    return Aside("Holes and areas of the threads in use", "Thread", tuple(map(AsideColumn, columns)), rows,
                 ("Holes for inserts follow their maker, who gives a drill for each: they are not standardised.",),
                 works=(3, 4)) if rows else None


def _size(name: str) -> AsideRow:
    one = Given("engagement of 1 mm", 1.0, "mm", "default", said="for each millimetre of engagement")
    least = least_area(name, one, f"thread-size.{name}.least")
    quick = threads.nominal_strip_area_mm2.work(f"thread-size.{name}.quick", engagement_mm=one,
                                                thread_diameter_mm=hole(name, "diameter"))
    drills = (hole(name, column) for column in ("tapping_drill", "clearance_medium", "across_flats"))
    return AsideRow(name, (*drills, replace(least, title=least.formula.title), quick))
