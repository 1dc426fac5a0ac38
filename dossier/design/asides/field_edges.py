"""The edge of each eyepiece's field: how large a star is there, how large the eye sees it, what it would refocus."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dossier.calc.optics import offaxis, spots
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design
from dossier.spec.defaults import slug
from dossier.working import Given, Result

_COLUMNS = (AsideColumn("Width of the field"), AsideColumn("RMS radius of a star"), AsideColumn("As the eye sees it"),
            AsideColumn("Curvature of field"), AsideColumn("To refocus"))
_NOTES = ("At the edge of the field stop, at the focus that is best in the middle, of the mirror alone: the eyepiece’s "
          "own faults come on top. “As the eye sees it” is the angle of twice the RMS radius.",)


@dataclass(frozen=True, slots=True)
class FieldEdge:
    """The edge of one eyepiece's field. ``width`` is its field stop or, where that is not known, what its field spans.

    ``refocus`` is in dioptres, from the middle to the edge.
    """

    name: str
    width: Given | Result
    spot: Result
    seen: Result
    curvature: Result
    refocus: Result

    @property
    def radius_mm(self) -> float:
        """Half of its width."""
        return math.nan if isinstance(self.width.value, tuple) else self.width.value / 2


def field_edges(design: Design) -> tuple[FieldEdge, ...]:
    """Of every eyepiece the edge of whose field could be worked out, in the author's order."""
    return tuple(_edge(design, piece.name) for piece in design.build.eyepieces or ()
                 if f"eyepiece.{slug(piece.name)}.edge_light" in design.results)


def table(design: Design) -> Aside | None:
    """The edges as a table; None without eyepieces."""
    rows = tuple(AsideRow(edge.name, (edge.width, edge.spot, edge.seen, edge.curvature, edge.refocus))
                 for edge in field_edges(design))
    return Aside("At the edge of each eyepiece’s field", "Eyepiece", _COLUMNS, rows, _NOTES) if rows else None


def _edge(design: Design, name: str) -> FieldEdge:
    row = f"eyepiece.{slug(name)}"
    said = design.results["field.edge_rms_radius"].inputs
    width = design.results[f"{row}.edge_light"].inputs["judged_field_mm"]
    mirror = {each: said[each] for each in ("aperture_mm", "focal_length_mm", "conic")}
    spot = spots.edge_rms_radius_um.work(
        f"{row}.edge_rms_radius", "RMS radius of a star at its field’s edge", **mirror,
        obstruction_diameter_mm=said["obstruction_diameter_mm"], judged_field_mm=width)
    curvature = offaxis.edge_curvature_um.work(f"{row}.edge_curvature", "Curvature of field at its field’s edge",
                                               **mirror, judged_field_mm=width)
    eyepiece = design.results[f"{row}.magnification"].inputs["eyepiece_focal_length_mm"]
    seen = offaxis.spot_seen_arcmin.work(f"{row}.spot_seen", edge_rms_radius_um=spot,
                                         eyepiece_focal_length_mm=eyepiece)
    refocus = offaxis.refocus_dioptre.work(f"{row}.refocus", edge_curvature_um=curvature,
                                           eyepiece_focal_length_mm=eyepiece)
    return FieldEdge(name, width, spot, seen, curvature, refocus)
