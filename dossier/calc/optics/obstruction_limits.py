"""How large a central shadow a mirror of a given Strehl ratio can bear before the eye calls it below the custom's 0.80.

Pure ratios. The shadow is a share of the diameter.
"""

from __future__ import annotations

import math

from dossier.working import formula

_WHERE = "7.1.2, eq. 62 and its table"


@formula(title="Largest shadow, coarse and middling detail", source="sacek-2006", where=_WHERE,
         rule="shadow_share = max(0, 0.5 - 0.4 / strehl); sqrt(shadow_share)", holds={"strehl": (0.8, 1)},
         note="Keeps the contrast of detail below half the cut-off where a clear aperture of Strehl ratio 0.80 has it.")
def largest_obstruction(strehl: float) -> float:
    """Largest central obstruction by the unadjusted form, a share of the diameter."""
    return math.sqrt(max(0.0, 0.5 - 0.4 / strehl))


@formula(title="Largest shadow, with the smaller star image counted in its favour", source="sacek-2006", where=_WHERE,
         rule="shadow_share = max(0, 0.6 - 0.48 / strehl); sqrt(shadow_share)", holds={"strehl": (0.8, 1)},
         note="The same for detail below half the cut-off; a shadow makes the middle of a star's image smaller.")
def largest_obstruction_adjusted(strehl: float) -> float:
    """Largest central obstruction by the adjusted form, a share of the diameter."""
    return math.sqrt(max(0.0, 0.6 - 0.48 / strehl))


@formula(title="Largest shadow, all detail alike", source="sacek-2006", where=_WHERE,
         rule="shadow_share = max(0, 1 - 0.8 / strehl); sqrt(shadow_share)", holds={"strehl": (0.8, 1)},
         note="Averaged over all frequencies, where fine detail gains what coarse detail loses.")
def largest_obstruction_all_detail(strehl: float) -> float:
    """Largest central obstruction over the whole range of frequencies, a share of the diameter."""
    return math.sqrt(max(0.0, 1 - 0.8 / strehl))
