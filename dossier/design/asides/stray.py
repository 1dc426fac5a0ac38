"""Rings that hide the inside of a tube, and what a narrower end of the drawtube would change."""

from __future__ import annotations

from dossier.calc.optics import openings, straylight
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.model import Design
from dossier.working import Given, Result

_RING_COLUMNS = (AsideColumn("Station"), AsideColumn("Opening"))
_RING_NOTES = (
    "Each ring hides the wall behind it down to the next one from every point of the judged field, and its opening "
    "lets the whole beam of that field through. The eye then meets the rings square on, and there black paint works "
    "best. Wider openings take no less light and hide less; narrower ones cut into the field’s edge.",
)
# More rings than this are not worth making; a lining does it then.
_MOST_RINGS = 12
_STOP_COLUMNS = (AsideColumn("Bore at its end"), AsideColumn("Shield, each way"), AsideColumn("Beyond the front"),
                 AsideColumn("Dark ring, across"))
_STOP_NOTES = ("The least bore is the narrowest that takes no light from the judged field. A washer of that opening, "
               "blackened, at the drawtube’s inner end is the cheapest baffle of all.",)


def rings(design: Design) -> Aside | None:
    """Baffles for a tube from the highest place that the field sees of its wall down to the mirror.

    None for an open frame, where no wall is seen, or where the tube is too near to the beam to leave them any width.
    """
    made = tuple(_rings(design)) if "stray.wall_top" in design.results else ()
    if not made:
        return None
    rows = tuple(AsideRow(f"Ring {number}", pair) for number, pair in enumerate(made, start=1))
    return Aside("Rings that hide the inside of the tube", "From the top", _RING_COLUMNS, rows, _RING_NOTES)


def _rings(design: Design) -> list[tuple[Result, Result]]:
    results = design.results
    top, wall, judged = (results[name] for name in ("stray.wall_top", "stray.frame_radius", "field.judged"))
    said, sagitta = results["stray.mirror_ring"].inputs, results["optics.sagitta"]
    found: list[tuple[Result, Result]] = []
    station = top
    while station.number > sagitta.number:
        opening = openings.least_opening_mm.work(
            f"stray.ring_{len(found) + 1}_opening", "Opening of the ring", aperture_mm=said["aperture_mm"],
            focal_length_mm=said["focal_length_mm"], sagitta_mm=sagitta, front_station_mm=station,
            judged_field_mm=judged)
        if len(found) == _MOST_RINGS or opening.number >= 2 * wall.number:
            return []
        found.append((station, opening))
        station = straylight.next_ring_station_mm.work(
            f"stray.ring_{len(found) + 1}_station", focal_length_mm=said["focal_length_mm"], frame_radius_mm=wall,
            judged_field_mm=judged, ring_station_mm=station, ring_opening_mm=opening)
    return found


def stopped_down(design: Design) -> Aside | None:
    """The drawtube's end as it is and at the least bore; None where it is no wider than that."""
    results = design.results
    if "stray.shield_half_length" not in results or "focuser.least_bore" not in results:
        return None
    bore, least = results["stray.shield_half_length"].inputs["bore_mm"], results["focuser.least_bore"]
    if isinstance(bore.value, tuple) or not bore.value > least.number:
        return None
    rows = (AsideRow("As it is", _stopped(design, bore, "as_is")),
            AsideRow("Stopped down to the least bore", _stopped(design, least, "least")))
    return Aside("What a stop at the drawtube’s end would change", "Drawtube", _STOP_COLUMNS, rows, _STOP_NOTES)


def _stopped(design: Design, bore: Given | Result, name: str) -> tuple[Entry, ...]:
    results = design.results
    half = straylight.shield_half_length_mm.work(f"stray.shield_{name}", **{
        **results["stray.shield_half_length"].inputs, "bore_mm": bore})
    front = results.get("frame.front_beyond_focuser")
    beyond = front and straylight.shield_beyond_front_mm.work(
        f"stray.beyond_{name}", shield_half_length_mm=half, front_beyond_focuser_mm=front)
    ring = straylight.mirror_ring_mm.work(f"stray.ring_{name}", **{
        **results["stray.mirror_ring"].inputs, "bore_mm": bore})
    return bore, half, beyond, ring
