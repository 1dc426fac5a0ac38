"""The mirror and the light that a design's pictures are made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Mirror
from dossier.working import converted

if TYPE_CHECKING:
    from dossier.design.model import Design


@dataclass(frozen=True, slots=True)
class Light:
    """The mirror with its shadow, the wavelength, and what the test report says of its surface."""

    mirror: Mirror
    wavelength_nm: float
    surface_rms_nm: float

    @property
    def unit_um(self) -> float:
        """λF, the unit in which star images of all telescopes are alike, µm."""
        return self.wavelength_nm * 1e-3 * self.mirror.focal_ratio


@dataclass(frozen=True, slots=True)
class Foci:
    """The three best foci, mm from the paraxial one, positive towards the sky."""

    least_wavefront_mm: float
    highest_strehl_mm: float
    smallest_spot_mm: float


def light_of(design: Design) -> Light:
    """What the Strehl ratio of this design was worked out from."""
    said = {name: _input(design, "figure.strehl", name) for name in (
        "aperture_mm", "focal_length_mm", "conic", "obstruction_diameter_mm", "wavelength_nm", "surface_rms_nm")}
    mirror = Mirror(said["aperture_mm"], said["focal_length_mm"], said["conic"], said["obstruction_diameter_mm"])
    return Light(mirror, said["wavelength_nm"], said["surface_rms_nm"])


def foci_of(design: Design) -> Foci:
    """The three best foci as the results have them."""
    return Foci(*(design.results[name].number for name in (
        "figure.best_focus_shift", "figure.strehl_focus_shift", "spot.focus_shift")))


def diagonal_of(design: Design) -> Diagonal:
    """The diagonal as the light at the edge of the field was worked out with it."""
    return Diagonal(*(_input(design, "diagonal.edge_light", name) for name in (
        "minor_axis_mm", "intercept_mm", "offset_mm")))


def _input(design: Design, result_id: str, name: str) -> float:
    value = converted(design.results[result_id].inputs[name], name)
    if isinstance(value, tuple):
        raise TypeError(f"{name} of {result_id} is a list")
    return value
