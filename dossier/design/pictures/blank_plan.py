"""The primary as its maker is told it: its glass, its curve, and how far both may differ from the plan.

Lengths in mm, surfaces in nm. What nobody says and no result decides is None.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc.optics.surface_allowance import surface_rms_limit_nm, vertex_radius_mm
from dossier.calc.optics.wavefront import surface_loss
from dossier.working import Given, NoAnswer, Result, converted

if TYPE_CHECKING:
    from dossier.design.model import Design


@dataclass(frozen=True, slots=True)
class BlankPlan:
    """The mirror's own drawing.

    ``surface_rms_nm`` is the RMS error of the surface, best focus taken out, that takes the Strehl ratio from
    ``smooth_strehl``, that of the bare conic, to ``wanted_strehl``; None where the conic alone misses it.
    ``radii_in_focus_mm`` are the least and the largest vertex radius with which every eyepiece still finds its focus.
    """

    radius_mm: float
    radius_tolerance_mm: float | None
    conic: float
    aperture_mm: float
    sagitta_mm: float
    blank_mm: float
    edge_mm: float | None
    centre_mm: float | None
    chamfer_mm: float | None
    glass: str
    reflectivity: float | None
    imperfections: str
    wavelength_nm: float
    smooth_strehl: float | None
    wanted_strehl: float | None
    surface_rms_nm: float | None
    radii_in_focus_mm: tuple[float, float] | None


def blank_plan(design: Design) -> BlankPlan:
    """Everything that is known of the primary by itself."""
    primary, known = design.build.primary, design.results
    centre, tolerance = known.get("cell.centre_thickness"), primary.focal_length_tolerance
    smooth, wanted = _strehls(known.get("figure.strehl"))
    wavelength = design.build.conditions.wavelength if design.build.conditions else 550.0
    return BlankPlan(
        radius_mm=known["optics.vertex_radius"].number,
        radius_tolerance_mm=None if tolerance is None else vertex_radius_mm(tolerance),
        conic=primary.conic,
        aperture_mm=primary.aperture,
        sagitta_mm=known["optics.sagitta"].number,
        blank_mm=primary.blank_diameter or primary.aperture,
        edge_mm=primary.edge_thickness,
        centre_mm=None if centre is None else centre.number,
        chamfer_mm=primary.chamfer,
        glass=_glass(design),
        reflectivity=primary.reflectivity,
        imperfections=primary.imperfections or "",
        wavelength_nm=wavelength,
        smooth_strehl=smooth,
        wanted_strehl=wanted,
        surface_rms_nm=_allowance(smooth, wanted, wavelength),
        radii_in_focus_mm=_in_focus(design),
    )


def _glass(design: Design) -> str:
    """The name of the glass, as the shelf has it; empty where it is not named."""
    glass = design.build.primary.glass
    if not isinstance(glass, str):
        return ""
    return shelf.materials()[glass].name if glass in shelf.materials() else glass


def _strehls(strehl: Result | None) -> tuple[float | None, float | None]:
    """Of the bare conic, and at least wanted."""
    if strehl is None or strehl.goal is None or strehl.goal.sense != "at_least":
        return None, None
    surface, wavelength = (_number(strehl.inputs[name], name) for name in ("surface_rms_nm", "wavelength_nm"))
    return strehl.number / surface_loss(surface, wavelength), strehl.goal.limit


def _number(entry: Given | Result, name: str) -> float:
    value = converted(entry, name)
    if isinstance(value, tuple):
        raise TypeError(f"{name} is a list")
    return value


def _allowance(smooth: float | None, wanted: float | None, wavelength: float) -> float | None:
    if smooth is None or wanted is None or not math.isfinite(wanted):
        return None
    try:
        return surface_rms_limit_nm(smooth, wanted, wavelength)
    except NoAnswer:
        return None


def _in_focus(design: Design) -> tuple[float, float] | None:
    """A shorter mirror has the focuser racked further in, a longer one further out."""
    spare_in, spare_out = (design.results.get(f"focuser.spare_{way}") for way in ("in", "out"))
    if spare_in is None or spare_out is None or spare_in.number < 0 or spare_out.number < 0:
        return None
    focal_length = design.build.primary.focal_length
    return vertex_radius_mm(focal_length - spare_in.number), vertex_radius_mm(focal_length + spare_out.number)
