"""The drawing of the primary by itself, with its indications after ISO 10110.

On paper the axis lies level and the sky is to the right, so that the face is the right surface; indications stand in a
table of surfaces as ISO 10110-10 has it, beside the section, so that this can be as large as the sheet is high. On a
phone the face is up, and the indications stand in one list below it. Items of which nobody says anything are dashes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dossier.design.pictures.blank_plan import BlankPlan, blank_plan
from dossier.drawings.figure import Balloon, Figure, SheetKind
from dossier.drawings.figures.blank_section import edge_detail, section_of
from dossier.drawings.figures.blank_table import COATING, Column, table_of
from dossier.drawings.figures.listing import Entry, listed
from dossier.drawings.figures.measures import (
    PLUS_MINUS,
    RADIUS,
    TIMES,
    Measures,
    Runs,
    auxiliary,
    length_as_drawn,
    phrase,
    plain,
)
from dossier.drawings.figures.placing import extent, moved
from dossier.drawings.figures.shown_parts import refs
from dossier.drawings.numerals import fixed
from dossier.drawings.scene import Box, Group, Medium, Shape, Words

if TYPE_CHECKING:
    from dossier.design.model import Design

_DASH = "–"
# Between section and table, and between blocks below one another, in type sizes.
_APART, _BELOW = 2.0, 1.6
# Beside the section a table wants at least so much room, in type sizes.
_LEAST_TABLE = 24.0
# Decimals of a limit that is rounded inwards, by the readers' units.
_DECIMALS = {"metric": 1, "inch": 3}


def make(design: Design, medium: Medium, scale: float, width: float) -> Figure | None:
    """The mirror's own drawing; None where its thickness is not said, for then there is no blank to draw."""
    plan = blank_plan(design)
    if plan.edge_mm is None or plan.centre_mm is None:
        return None
    measures, size, lying = Measures(design), medium.lettering, medium.unit == "px"
    detail = edge_detail(plan, measures, medium, scale)
    section, (inside, *near_edges) = section_of(plan, measures, medium, scale, detail is not None)
    box = extent(section, medium)
    columns, notes = tuple(_columns(plan, measures, lying=lying)), tuple(_notes(plan, measures, detail is not None))
    left, room = box.right + _APART * size, width - 2 * medium.wide - (box.right - box.left) - _APART * size
    shapes: tuple[Shape, ...] = (Group(section, {"view": "section"}, "Primary mirror"),)
    if not lying and room >= _LEAST_TABLE * size:
        shapes += tuple(_beside(columns, detail, notes, Box(left, box.top, left + room, box.bottom), medium))
        notes = ()
    else:
        shapes += tuple(_below(columns, detail, box, max(width - medium.wide, box.right - box.left), medium))
    balloons = tuple(Balloon(ref, inside, also=tuple(near_edges)) for ref in refs(design, "primary"))
    return Figure("mirror-blank", _description(plan, measures, columns), shapes,
                  extent(shapes, medium).grown(medium.wide / 2), balloons, notes)


def _beside(columns: Sequence[Column], detail: Group | None, notes: Sequence[Runs], box: Box,
            medium: Medium) -> Iterator[Group]:
    """The table, and below it the notes and the detail side by side: the section is as high as all three."""
    table = table_of(columns, (box.left, box.top), box.right - box.left, medium)
    yield Group(table, {"view": "indications", "table": "indications"})
    top, right = extent(table, medium).bottom + _BELOW * medium.lettering, box.right
    if detail:
        around = extent((detail,), medium)
        right -= around.right - around.left
        yield _at(detail, (right + box.right) / 2, top, medium)
        right -= _APART * medium.lettering
    yield Group(listed([Entry(note) for note in notes], (box.left, top), right - box.left, medium),
                {"table": "notes"})


def _below(columns: Sequence[Column], detail: Group | None, box: Box, width: float, medium: Medium) -> Iterator[Group]:
    """The detail below the section, and the table below both."""
    middle, bottom, apart = (box.left + box.right) / 2, box.bottom, _BELOW * medium.lettering
    if detail:
        placed = _at(detail, middle, bottom + apart, medium)
        bottom = extent((placed,), medium).bottom
        yield placed
    yield Group(table_of(columns, (middle - width / 2, bottom + apart), width, medium),
                {"view": "indications", "table": "indications"})


def _at(detail: Group, middle: float, top: float, medium: Medium) -> Group:
    """The detail with its upper edge's middle there."""
    box = extent((detail,), medium)
    return Group(moved(detail.members, middle - (box.left + box.right) / 2, top - box.top), detail.data, detail.title)


def _columns(plan: BlankPlan, measures: Measures, *, lying: bool) -> Iterator[Column]:
    yield Column("Lower surface, the back" if lying else "Left surface, the back", (
        phrase(RADIUS, "∞"), *(phrase(f"{item}/\u202f{_DASH}") for item in (3, 4, 5))))
    yield Column("Material", (phrase(Words(plan.glass, key="primary.glass") if plan.glass else "glass not said"),
                              *(phrase(f"{item}/\u202f{_DASH}") for item in (0, 1, 2))))
    yield Column("Upper surface, the face" if lying else "Right surface, the face", tuple(_face(plan, measures)))


def _face(plan: BlankPlan, measures: Measures) -> Iterator[Runs]:
    radius = [*phrase(RADIUS, measures.result("optics.vertex_radius"))]
    if plan.radius_tolerance_mm is not None:
        radius += phrase(PLUS_MINUS, measures.length(plan.radius_tolerance_mm, "primary.focal_length_tolerance"))
    yield (*radius, Words(" CC"))
    if plan.radius_tolerance_mm is None and plan.radii_in_focus_mm is not None:
        yield phrase(RADIUS, "from ", *_window(plan.radii_in_focus_mm, measures), ", by the focuser’s travel")
    yield phrase("K\u202f", Words(_conic(plan.conic), key="primary.conic"))
    yield phrase("⌀e\u202f", measures.length(plan.aperture_mm, "primary.aperture"))
    yield phrase("depth at ⌀e ", *auxiliary(measures.result("optics.sagitta")))
    if plan.chamfer_mm is not None:
        yield phrase("protective chamfer ", measures.length(plan.chamfer_mm, "primary.chamfer"))
    if plan.reflectivity is not None:
        yield phrase(COATING, " reflectivity ", Words(f"{plan.reflectivity:g}", key="primary.reflectivity"))
    yield _form(plan)
    yield phrase(f"4/\u202f{_DASH}")
    if plan.imperfections:
        said = re.sub(r"(?<=\d) *[x×] *(?=[\d.])", TIMES, plan.imperfections)
        yield phrase("5/\u202f", Words(said, key="primary.imperfections"))
    else:
        yield phrase(f"5/\u202f{_DASH}")


def _window(radii_mm: tuple[float, float], measures: Measures) -> tuple[Words | str, ...]:
    """The least and the largest radius, each rounded to the safe side."""
    least, most = (length_as_drawn(each, measures.design.build.readers) for each in _inwards(radii_mm, measures))
    return Words(least, result="focuser.spare_in"), " to ", Words(most, result="focuser.spare_out")


def _inwards(limits_mm: tuple[float, float], measures: Measures) -> tuple[str, str]:
    """Two limits in the readers' unit, rounded towards each other."""
    decimals = _DECIMALS[measures.design.build.readers.units]
    step = 10.0**decimals / (25.4 if measures.design.build.readers.units == "inch" else 1.0)
    low, high = math.ceil(limits_mm[0] * step - 1e-6), math.floor(limits_mm[1] * step + 1e-6)
    return fixed(low / 10**decimals, decimals), fixed(high / 10**decimals, decimals)


def _conic(conic: float) -> str:
    return fixed(conic, 3).rstrip("0").rstrip(".") if conic else "0"


def _form(plan: BlankPlan) -> Runs:
    """The form tolerance: no sagitta error, since the radius stands by itself; irregularity as an RMS."""
    if plan.surface_rms_nm is None:
        return phrase(f"3/\u202f{_DASH}")
    return phrase(f"3/\u202f{_DASH}; RMSi <\u202f", Words(_allowed(plan.surface_rms_nm), result="figure.strehl"),
                  f"\u202fnm; λ\u202f=\u202f{plan.wavelength_nm:g}\u202fnm")


def _allowed(rms_nm: float) -> str:
    """Two figures, rounded down: a tolerance may not be rounded up."""
    if rms_nm <= 0:
        return "0"
    step = 10.0 ** (math.floor(math.log10(rms_nm)) - 1)
    return f"{math.floor(rms_nm / step + 1e-9) * step:.{max(0, -round(math.log10(step)))}f}"


def _notes(plan: BlankPlan, measures: Measures, detailed: bool) -> Iterator[Runs]:
    yield phrase(f"Indications after ISO 10110. CC: concave. {_DASH}: no requirement, nor one of ISO 10110-11. In "
                 "brackets: follows from the rest."
                 + (" In A, the chain line is level with the vertex." if detailed else ""))
    if plan.conic:
        yield phrase("K: conic constant after ISO 10110-12, z\u202f=\u202fh²/(R(1\u202f+\u202f"
                     "√(1\u202f−\u202f(1\u202f+\u202fK)h²/R²))).")
    if plan.surface_rms_nm is not None and plan.smooth_strehl is not None:
        curve = "the conic of R and K" if plan.conic else "the sphere of R"
        yield phrase(f"RMSi after ISO 10110-5:2015: how far the surface is from {curve}, RMS over ⌀e, less the sphere "
                     f"that fits this departure best. It keeps the Strehl ratio at {_ratio(plan.wanted_strehl)} or "
                     f"more: the curve alone leaves {_ratio(plan.smooth_strehl)}.")
    elif plan.wanted_strehl is not None:
        yield phrase(f"3/ is open: the curve alone leaves a Strehl ratio of {_ratio(plan.smooth_strehl)}, less than "
                     f"the {_ratio(plan.wanted_strehl)} that is wanted, and no polish makes up for it.")
    if plan.radii_in_focus_mm is not None:
        yield phrase("With R from ", *_window(plan.radii_in_focus_mm, measures), " every eyepiece still finds its "
                     "focus.", *_left(plan, plan.radii_in_focus_mm, measures))
    if plan.reflectivity is not None:
        yield phrase("(λ): coated; reflectivity as the plan counts it.")


def _left(plan: BlankPlan, window_mm: tuple[float, float], measures: Measures) -> Iterator[Words | str]:
    """What to say where the radius may be outside of what the focuser reaches."""
    if plan.radius_tolerance_mm is None:
        return
    least, most = plan.radius_mm - plan.radius_tolerance_mm, plan.radius_mm + plan.radius_tolerance_mm
    ends = [measures.length(end, "primary.focal_length_tolerance")
            for end, out in ((least, least < window_mm[0] - 1e-6), (most, most > window_mm[1] + 1e-6)) if out]
    if ends:
        yield " The tolerance of R goes beyond that, to "
        yield ends[0]
        yield from (" and to ", ends[1]) if len(ends) > 1 else ()
        yield ": ask for a mirror within it, or change the focuser’s height."


def _ratio(value: float | None) -> str:
    return "" if value is None else fixed(value, 3)


def _description(plan: BlankPlan, measures: Measures, columns: Sequence[Column]) -> str:
    said = [f"Primary mirror in section, to scale, lengths in {measures.unit}: ⌀ "
            f"{measures.length(plan.blank_mm, 'primary.blank_diameter').text}, clear aperture ⌀ "
            f"{measures.length(plan.aperture_mm, 'primary.aperture').text}, edge "
            f"{measures.length(plan.edge_mm or 0.0, 'primary.edge_thickness').text} thick, middle "
            f"{measures.result('cell.centre_thickness').text} thick"]
    said += [f"{column.head}: {'; '.join(plain(row) for row in column.rows)}" for column in columns]
    return ". ".join(said).replace("\u202f", " ").replace("\u00a0", " ") + "."


SHEET = SheetKind(
    "mirror-blank", "Primary mirror", "Part drawing",
    "The primary by itself, in section: glass, curve and clear aperture, and how far its surface may differ from the "
    "plan’s, written as ISO 10110 has it.",
    make)

