"""Lengths and forces as the words of a table say them: in the units of its readers."""

from __future__ import annotations

from dossier.design.model import Design

INCH_MM, POUND_FORCE_N = 25.4, 4.4482216152605


def size(design: Design, aperture_mm: float) -> str:
    """A size that is named, such as an aperture or a radius, mm."""
    if _inch(design):
        return f"{aperture_mm / INCH_MM:.3g}\u202fin"
    return f"{aperture_mm:g}\u202fmm"


def lengths(design: Design, *lengths_mm: float) -> str:
    """Lengths to work to, joined by ``and``, mm."""
    inch = _inch(design)
    numbers = (f"{each / INCH_MM:.3f}" if inch else f"{each:.1f}" for each in lengths_mm)
    return f"{' and '.join(numbers)}\u202f{'in' if inch else 'mm'}"


def forces(design: Design, *forces_n: float) -> str:
    """Forces, joined by ``and``, N."""
    inch = _inch(design)
    numbers = (f"{each / POUND_FORCE_N:.2f}" if inch else f"{each:.1f}" for each in forces_n)
    return f"{' and '.join(numbers)}\u202f{'lbf' if inch else 'N'}"


def _inch(design: Design) -> bool:
    return design.build.readers.units == "inch"
