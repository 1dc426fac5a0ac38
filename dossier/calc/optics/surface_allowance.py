"""What a mirror's maker is held to: the radius of its curve, and how uneven its surface may be."""

from __future__ import annotations

import math

from dossier.calc.bounds import positive
from dossier.working import NoAnswer, formula


@formula(title="Radius of curvature at the vertex", source="definition", rule="2 * focal_length_mm",
         unproved="The focal length of a mirror is half its vertex radius by definition.")
def vertex_radius_mm(focal_length_mm: float) -> float:
    """Radius of curvature at the mirror's vertex, mm."""
    return 2 * focal_length_mm


@formula(title="How uneven the surface may be, RMS", source="sacek-2006", where="after eq. 70",
         rule="wavelength_nm / (4 * pi) * sqrt(log(smooth_strehl / wanted_strehl))",
         note="About the nominal curve, best focus taken out. A reflection doubles the surface's error; the Strehl "
              "ratio falls by exp(−(4πs/λ)²).")
def surface_rms_limit_nm(smooth_strehl: float, wanted_strehl: float, wavelength_nm: float) -> float:
    """RMS error of the surface (nm) that takes a Strehl ratio from that of the bare conic to the one wanted.

    Raises NoAnswer where the conic alone is below what is wanted: no polish makes up for it.
    """
    positive(smooth_strehl=smooth_strehl, wanted_strehl=wanted_strehl, wavelength=wavelength_nm)
    if smooth_strehl < wanted_strehl:
        raise NoAnswer("the curve alone leaves less than the Strehl ratio that is wanted")
    return wavelength_nm / (4 * math.pi) * math.sqrt(math.log(smooth_strehl / wanted_strehl))
