"""The faintest star, by the forms that are in print: they differ by a magnitude and more, so each is named.

Lengths in millimetres, magnitudes by eye. ``first_order`` holds the form 2 + 5 log D.
"""

from __future__ import annotations

import math

from dossier.working import formula


@formula(title="Limiting magnitude, form 9.1 + 5 log D in inches", source="limiting-magnitude-inches",
         rule="9.1 + 5 * log10(aperture_mm / inch_mm)", constants={"inch_mm": 25.4},
         note="For an eye that reaches 6.5 with a pupil of 7.5 mm: the light gathered by one against the other.",
         unproved="The source prints the form and no worked number.")
def limiting_magnitude_inches_mag(aperture_mm: float) -> float:
    """Faintest star by the aperture in inches, mag."""
    return 9.1 + 5 * math.log10(aperture_mm / 25.4)


@formula(title="Limiting magnitude, form 5.5 + 2.5 log D + 2.5 log M", source="great-soviet-encyclopedia-1979",
         rule="5.5 + 2.5 * log10(aperture_mm / centimetre_mm) + 2.5 * log10(magnification)",
         constants={"centimetre_mm": 10.0},
         note="After Maksutov: power darkens the sky, so that fainter stars show. The aperture counts in centimetres.",
         unproved="The source prints the form and no worked number.")
def limiting_magnitude_at_power_mag(aperture_mm: float, magnification: float) -> float:
    """Faintest star by aperture and magnification, mag."""
    return 5.5 + 2.5 * math.log10(aperture_mm / 10.0) + 2.5 * math.log10(magnification)


@formula(title="Limiting magnitude, form 4.5 + 4.4 log D", source="north-1997",
         rule="4.5 + 4.4 * log10(aperture_mm / one_mm)", constants={"one_mm": 1.0},
         note="Fitted to what observers report.",
         unproved="The form is recalled; its author's table has not been read.")
def limiting_magnitude_observers_mag(aperture_mm: float) -> float:
    """Faintest star by a form fitted to reports, mag."""
    return 4.5 + 4.4 * math.log10(aperture_mm / 1.0)


@formula(title="Limiting magnitude, by the pupil", source="geometry",
         rule="naked_eye_limit_mag + 5 * log10(aperture_mm / eye_pupil_mm) + 2.5 * log10(throughput)",
         note="The eye's own limit at this sky, and the light that the telescope gathers and passes against the "
              "pupil's. High power darkens the sky and reaches fainter still.",
         unproved="It is the definition of the magnitude scale, applied to two areas.")
def limiting_magnitude_by_pupil_mag(
    aperture_mm: float, eye_pupil_mm: float, throughput: float, naked_eye_limit_mag: float,
) -> float:
    """Faintest star by gathered light alone, from the observer's own naked-eye limit, mag."""
    return naked_eye_limit_mag + 5 * math.log10(aperture_mm / eye_pupil_mm) + 2.5 * math.log10(throughput)
