"""What is left of the Strehl ratio when the mirror's support has taken its share. Wavefronts in waves, RMS."""

from __future__ import annotations

import math

from dossier.working import formula


@formula(title="Strehl ratio, the mirror’s support counted", source="sacek-2006", where="after eq. 70",
         rule="strehl * exp(-(2 * pi * support_wavefront_rms_wave)**2) * exp(-(2 * pi * pinch_wavefront_rms_wave)**2)",
         holds={"strehl": (0.5, 1), "support_wavefront_rms_wave": (0, 0.08), "pinch_wavefront_rms_wave": (0, 0.08)},
         note="Small errors that have nothing to do with one another multiply. Figure and polish stand in the first "
              "factor; seeing, heat and collimation come on top.",
         unproved="Nobody prints such a product; each factor is proved by itself, and the product is tried against "
                  "wavefronts that are added and integrated.")
def strehl_budget(strehl: float, support_wavefront_rms_wave: float, pinch_wavefront_rms_wave: float) -> float:
    """Strehl ratio that figure and polish, the support's sag and the pinch leave together."""
    for value in (strehl, support_wavefront_rms_wave, pinch_wavefront_rms_wave):
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"a Strehl ratio and what takes from it must be zero or more, not {value:g}")
    taken = (2 * math.pi * support_wavefront_rms_wave) ** 2 + (2 * math.pi * pinch_wavefront_rms_wave) ** 2
    return strehl * math.exp(-taken)
