"""What is said of the field: how far it is sharp, what coma and curvature do to its edge, what opening it needs."""

from __future__ import annotations

from dossier.design import Design
from dossier.design.asides.field_edges import field_edges
from dossier.notation import show

# Spectacles are made in steps of this many dioptres; a lesser change is seldom noticed. Common practice, no source.
_STEP_DIOPTRE = 0.25
_NEEDED = {"field.coma_free_radius", "field.judged", "field.edge_rms_radius", "field.edge_curvature",
           "field.edge_astigmatism", "optics.airy_diameter", "spot.axis_rms_radius"}


def edge(design: Design) -> str:
    """How good the edge of the judged field is, by coma, spot, curvature and openings."""
    if not design.results.keys() >= _NEEDED:
        return ""
    return "\n\n".join(filter(None, (_sharp(design), _curved(design), _open(design))))


def _sharp(design: Design) -> str:
    results, readers = design.results, design.build.readers
    radius, judged = results["field.coma_free_radius"].number, results["field.judged"].number / 2
    airy, spot = results["optics.airy_diameter"].number / 2, results["field.edge_rms_radius"].number
    reach = show(judged, "mm", readers=readers).plain
    coma = ("Coma leaves stars sharp out to {{ field.coma_free_radius }} from the middle" + (
        f", and the judged field ends at {reach}: **coma spoils none of it**." if judged <= radius else
        f"; the judged field goes on to {reach}. Between the two stars grow tails."))
    times = spot / airy
    size = ("no larger than the Airy disc, so that diffraction decides there as in the middle." if times <= 1 else
            f"{show(times, '').plain} times the radius of the Airy disc; in the middle it is "
            "{{ spot.axis_rms_radius }}.")
    whole = [each.name for each in field_edges(design) if each.radius_mm <= radius]
    free = f" The whole field of the {' and the '.join(whole)} is free of it." if whole and judged > radius else ""
    return (f"{coma}{free} At the edge a star’s spot has an RMS radius of {{{{ field.edge_rms_radius }}}}, {size}")


def _curved(design: Design) -> str:
    """What the eye can do about curvature, told by the eyepiece that has most of it."""
    edges = field_edges(design)
    begin = ("The field is not flat: at its edge stars come to focus {{ field.edge_curvature }} from the plane of the "
             "middle, and astigmatism sets their two foci {{ field.edge_astigmatism }} apart (below zero: nearer the "
             "mirror).")
    if not edges:
        return begin
    worst = max(edges, key=lambda each: abs(each.refocus.number))
    asked = show(abs(worst.refocus.number), "dioptre").plain
    if abs(worst.refocus.number) < _STEP_DIOPTRE:
        return (f"{begin} **The eye need do nothing about it**: through the {worst.name}, which has most of it, middle "
                f"and edge differ by {asked}, and spectacles are made in steps of {_STEP_DIOPTRE:g}.")
    return (f"{begin} Through the {worst.name}, which has most of it, middle and edge differ by {asked}. **A young eye "
            "takes that up if the edge is focused first and the middle left to the eye; an old eye cannot**, and is "
            "served best by a focus half-way between.")


def _open(design: Design) -> str:
    results = design.results
    told = []
    opening = design.build.front.opening if design.build.front else None
    if opening is not None and (least := results.get("front.least_opening")):
        told.append("The front is wide enough for it: {{ spec.front.opening }}, where {{ front.least_opening }} is "
                    "needed." if least.number <= opening else
                    "**The front is too narrow for it**: {{ spec.front.opening }}, where {{ front.least_opening }} is "
                    "needed.")
    if (bore := results.get("focuser.bore_field")) and "focuser.least_bore" in results:
        clear = bore.number >= results["field.judged"].number
        told.append("The drawtube’s end shades none of it." if clear else
                    "**The drawtube’s end shades its edge**: its bore is {{ spec.focuser.bore }}, and "
                    "{{ focuser.least_bore }} is needed, or a shorter drawtube.")
    return " ".join(told)
