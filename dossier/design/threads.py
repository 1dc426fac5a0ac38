"""The plan of the threads that the parts list declares: what must shear, how hard it is pulled, how much is in hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.design.worksheet import NotSaid, Work, Worksheet
from dossier.spec.defaults import slug
from dossier.spec.model import Build
from dossier.working import Given, Result

if TYPE_CHECKING:
    from dossier.spec.model_parts import Part

AREA, STRESS, SHARE = "Area that holds", "Stress under the load", "Share of the strength"


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module: ``thread.<slug of ref>.area``, ``.stress`` and ``.strength_share``."""
    return {f"thread.{name}.{what}": work for name, index, part in held(build)
            for what, work in _rows(f"thread.{name}", f"parts[{index}].holds", part).items()}


def held(build: Build) -> Iterator[tuple[str, int, Part]]:
    """The parts that declare a thread: the name in the results' IDs, the place in the list, the part."""
    names: set[str] = set()
    for index, part in enumerate(build.parts):
        if part.holds is not None:
            name = slug(part.ref)
            name = f"{name}-{index + 1}" if name in names else name
            names.add(name)
            yield name, index, part


def _rows(own: str, key: str, part: Part) -> Mapping[str, Work]:
    from dossier.calc.mechanics import threads

    def area(sheet: Worksheet) -> Result:
        return area_of(sheet, part, key, f"{own}.area")

    def stress(sheet: Worksheet) -> Result:
        return threads.thread_stress_mpa.work(
            f"{own}.stress", STRESS, thread_load_n=sheet.given(f"{key}.load"),
            strip_area_mm2=sheet.result(f"{own}.area"))

    def share(sheet: Worksheet) -> Result:
        return threads.strength_share.work(
            f"{own}.strength_share", SHARE, thread_stress_mpa=sheet.result(f"{own}.stress"),
            shear_strength_mpa=sheet.given(f"{key}.strength"))

    return {"area": area, "stress": stress, "strength_share": share}


def area_of(sheet: Worksheet, part: Part, key: str, result_id: str) -> Result:
    """What must give way before the screw comes out: of a thread the least area, of an insert the hole's wall, of a
    nut what it presses on."""
    from dossier.calc.mechanics import threads

    if part.holds is None:
        raise NotSaid(key)
    thread = part.holds.thread
    if part.holds.how == "nut":
        return threads.nut_area_mm2.work(result_id, AREA, across_flats_mm=hole(thread, "across_flats"),
                                         clearance_mm=hole(thread, "clearance_medium"))
    engagement = sheet.given(f"{key}.engagement")
    if part.holds.how == "insert":
        return threads.insert_area_mm2.work(result_id, AREA, insert_hole_mm=sheet.given(f"{key}.hole"),
                                            engagement_mm=engagement)
    return least_area(thread, engagement, result_id, AREA)


def least_area(thread: str, engagement: Given, result_id: str, title: str = "") -> Result:
    """The least area of a tapped hole's thread, 6g in 6H, over this engagement."""
    from dossier.calc.mechanics import threads

    limits = threads.thread_limits(shelf.threads().threads[thread].diameter)
    return threads.hole_strip_area_mm2.work(
        result_id, title,
        screw_major_mm=Given(f"{thread} 6g, least outside diameter", limits.screw_major, "mm", "shelf",
                             source="iso-965-1"),
        hole_pitch_diameter_mm=Given(f"{thread} 6H, largest pitch diameter", limits.hole_pitch, "mm", "shelf",
                                     source="iso-965-1"),
        thread_pitch_mm=hole(thread, "pitch"), engagement_mm=engagement)


def hole(thread: str, column: str) -> Given:
    """A size that the shelf gives for a thread, with its source."""
    table = shelf.threads()
    words = {"clearance_medium": "clearance hole, medium", "across_flats": "nut across flats"}
    title = words.get(column, column.replace("_", " "))
    return Given(f"{thread}, {title}", getattr(table.threads[thread], column), "mm", "shelf",
                 source=table.sources[column])
