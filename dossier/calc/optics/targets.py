"""How large the bodies of the solar system look. Lengths in metres, angles in arcseconds."""

from __future__ import annotations

import math

from dossier.working import formula


@formula(title="Apparent diameter", source="meeus-1998", where="ch. 55",
         rule="2 * 206264.806 * asin(body_diameter_m / (2 * distance_m))",
         note="Of a sphere, from its centre's distance; a planet's equator where it is flattened.")
def disc_diameter_arcsec(body_diameter_m: float, distance_m: float) -> float:
    """Angle on the sky that a body of this diameter covers at this distance, arcsec."""
    return 2 * 206264.806 * math.asin(body_diameter_m / (2 * distance_m))
