"""What a general arrangement needs to know of a design: lengths in millimetres, and the figures as readers see them.

Everything comes from the spec and from results; nothing is worked out here but the choice of what to show. What a
design does not say is None or empty, and is then not drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.drawings.figures.measures import length_as_drawn
from dossier.notation import show, show_result
from dossier.notation.digits import MINUS

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model import Build
    from dossier.spec.model_about import Readers
    from dossier.spec.model_structure import Clips, Push
    from dossier.working import Result


@dataclass(frozen=True, slots=True)
class Frame:
    """Tube, poles or truss. Radii are from the axis to the members' centres; stations are of their ends."""

    kind: str
    outer_diameter: float
    inner_diameter: float | None
    count: int
    lower_radius: float
    upper_radius: float
    lower_station: float
    upper_station: float


@dataclass(frozen=True, slots=True)
class Ring:
    """Things evenly spaced on a circle about the axis; the first is turned so far from the focuser's side."""

    count: int
    radius: float
    turned_deg: float


@dataclass(frozen=True, slots=True)
class Eyepiece:
    """The eyepiece drawn: the one with the widest field. ``stop_shift`` is towards the diagonal."""

    name: str
    field_stop: float | None
    stop_shift: float


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A telescope's general arrangement as numbers.

    ``figures`` has, for each result or key that a drawing may print, its figure without a unit, in the reader's unit
    (``length_unit``). Stations run from the primary's vertex towards the sky; ``focuser_station`` is where the axis is
    folded, ``intercept`` from there to the focal plane. The diagonal's face stands in the 45° plane through the fold.
    ``spring_length`` is None where the pushes bear on a plate, whose place is not known. Poles, upper nodes of a truss
    and vanes are turned so far from the focuser's side; None where nobody says. The vanes' own station, their section
    ("strip" or "rod"), the hub they are fixed to and the holder's length are None likewise. ``focuser_hole`` is the
    hole in tube or board that the drawtube passes.
    """

    name: str
    figures: Mapping[str, str]
    length_unit: str
    aperture: float
    focal_length: float
    sagitta: float
    blank_diameter: float
    edge_thickness: float | None
    minor_axis: float
    diagonal_thickness: float | None
    holder_diameter: float | None
    offset: float
    diagonal_station: float
    focuser_station: float
    intercept: float
    mounting_radius: float
    focuser_height: float
    bore: float | None
    drawtube: float | None
    judged_field: float | None
    vanes: int
    front_opening: float | None
    front_station: float | None
    balance_station: float | None
    frame: Frame | None
    pushes: Ring | None
    spring_length: float | None
    clips: Ring | None
    eyepiece: Eyepiece | None
    members_turned_deg: float | None = None
    vanes_turned_deg: float | None = None
    vane_station: float | None = None
    hub_diameter: float | None = None
    vane_thickness: float | None = None
    vane_depth: float | None = None
    vane_section: str | None = None
    holder_length: float | None = None
    focuser_hole: float | None = None


# What a general arrangement may print: results, and lengths that the author said.
RESULTS = ("optics.focal_ratio", "optics.intercept", "diagonal.offset", "diagonal.station", "focuser.station",
            "frame.upper_fixing", "frame.pole_length", "frame.tube_length", "balance.station", "field.judged")
_LENGTHS = ("primary.aperture", "primary.focal_length", "diagonal.minor_axis", "focuser.mounting_radius",
            "frame.lower_fixing", "frame.outer_diameter", "frame.inner_diameter", "front.opening", "front.station")


def arrangement_from(design: Design) -> Arrangement:
    """Gather a general arrangement from a design. KeyError where a result that every design has is missing."""
    build = design.build
    primary, diagonal, focuser, front = build.primary, build.diagonal, build.focuser, build.front
    spider = build.spider

    def result(name: str) -> float:
        return design.results[name].number

    def perhaps(name: str) -> float | None:
        return result(name) if name in design.results else None

    return Arrangement(
        name=build.about.name,
        figures=_figures(design),
        length_unit="inches" if build.readers.units == "inch" else "millimetres",
        aperture=primary.aperture,
        focal_length=primary.focal_length,
        sagitta=result("optics.sagitta"),
        blank_diameter=primary.blank_diameter or primary.aperture,
        edge_thickness=primary.edge_thickness,
        minor_axis=diagonal.minor_axis,
        diagonal_thickness=diagonal.thickness,
        holder_diameter=diagonal.holder_diameter,
        offset=result("diagonal.offset"),
        diagonal_station=result("diagonal.station"),
        focuser_station=result("focuser.station"),
        intercept=result("optics.intercept"),
        mounting_radius=focuser.mounting_radius,
        focuser_height=focuser.height,
        bore=focuser.bore,
        drawtube=focuser.drawtube,
        judged_field=perhaps("field.judged"),
        vanes=(spider.vanes or 0) if spider else 0,
        front_opening=front.opening if front else None,
        front_station=front.station if front else None,
        balance_station=perhaps("balance.station"),
        frame=_frame(build, perhaps("frame.upper_fixing")),
        pushes=_ring(build.cell.push) if build.cell else None,
        spring_length=_spring_length(build),
        clips=_ring(build.cell.clips) if build.cell else None,
        eyepiece=_eyepiece(build),
        members_turned_deg=build.frame.turned if build.frame else None,
        vanes_turned_deg=spider.turned if spider else None,
        vane_station=spider.station if spider else None,
        hub_diameter=spider.hub if spider else None,
        vane_thickness=spider.vane_thickness if spider else None,
        vane_depth=spider.vane_depth if spider else None,
        vane_section=spider.vane_section if spider else None,
        holder_length=diagonal.holder_length,
        focuser_hole=focuser.hole,
    )


def _frame(build: Build, upper_fixing: float | None) -> Frame | None:
    """The frame where its place is known: a tube from either end, poles and truss from their lower fixing."""
    frame, front = build.frame, build.front
    if frame is None or frame.outer_diameter is None or frame.length is None:
        return None
    lower, upper = frame.lower_fixing, upper_fixing
    if frame.kind == "tube":
        if lower is not None:
            upper = lower + frame.length
        elif front is not None and front.station is not None:
            lower, upper = front.station - frame.length, front.station
    if lower is None or upper is None:
        return None
    if frame.kind == "tube":
        return Frame("tube", frame.outer_diameter, frame.inner_diameter, 1, 0.0, 0.0, lower, upper)
    if frame.circle_radius is None or frame.count is None:
        return None
    return Frame(frame.kind, frame.outer_diameter, frame.inner_diameter, frame.count, frame.circle_radius,
                 frame.upper_circle_radius or frame.circle_radius, lower, upper)


def _ring(section: Push | Clips | None) -> Ring | None:
    if section is None or section.count is None or section.radius is None:
        return None
    return Ring(section.count, section.radius, section.turned or 0.0)


def _spring_length(build: Build) -> float | None:
    push = build.cell.push if build.cell else None
    return push.spring.compressed_to if push and push.spring and push.against != "plate" else None


def _eyepiece(build: Build) -> Eyepiece | None:
    """The eyepiece that shows most: the widest field stop, else the longest focal length."""
    if not build.eyepieces:
        return None
    widest = max(build.eyepieces, key=lambda each: (each.field_stop or 0.0, each.focal_length or 0.0))
    return Eyepiece(widest.name, widest.field_stop, widest.stop_shift or 0.0)


def _figures(design: Design) -> dict[str, str]:
    """Every figure that may be printed, as its readers see it elsewhere."""
    readers = design.build.readers
    figures = {name: _as_worked(design.results[name], readers) for name in RESULTS if name in design.results}
    for key in _LENGTHS:
        section, _, name = key.partition(".")
        value = getattr(getattr(design.build, section), name, None)
        if value is not None:
            figures[key] = _as_said(value, key, readers)
    return figures


def _as_worked(result: Result, readers: Readers) -> str:
    """A result; a length as every other sheet writes it."""
    shown = show_result(result, readers).number
    return length_as_drawn(shown, readers) if result.unit == "mm" else shown


def _as_said(length_mm: float, key: str, readers: Readers) -> str:
    """A length that the author said: no zeros that he did not say; in inches as results are."""
    if readers.units == "inch":
        return show(length_mm, "mm", result_id=key, readers=readers).number
    return f"{length_mm:.2f}".rstrip("0").rstrip(".").replace("-", MINUS)
