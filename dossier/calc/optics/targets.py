"""How large the Moon's craters and the planets look, and what of them a telescope has room for.

Angles in arcseconds, distances in metres, kilometres or astronomical units, as each name says. A resolution is the
finest angle that something lets through: Rayleigh's limit of the aperture, or the seeing of the air.
"""

from __future__ import annotations

import math

from dossier.working import formula

_DIVISION = "It is one angle divided by another."


@formula(title="Apparent diameter", source="meeus-1998", where="ch. 55",
         rule="2 * 206264.806 * asin(body_diameter_m / (2 * distance_m))",
         note="Of a sphere, from its centre's distance; a planet's equator where it is flattened.")
def disc_diameter_arcsec(body_diameter_m: float, distance_m: float) -> float:
    """Angle on the sky that a body of this diameter covers at this distance, arcsec."""
    return 2 * 206264.806 * math.asin(body_diameter_m / (2 * distance_m))


@formula(title="Apparent diameter of a planet", source="meeus-1998", where="ch. 55",
         rule="2 * semidiameter_arcsec * one_au / distance_au", constants={"one_au": 1.0},
         note="The semidiameter is the planet's at one astronomical unit, at its equator where it is flattened.")
def planet_diameter_arcsec(semidiameter_arcsec: float, distance_au: float) -> float:
    """Angle on the sky that a planet covers, from its semidiameter at 1 au, arcsec."""
    return 2 * semidiameter_arcsec / distance_au


@formula(title="Least crater", source="geometry", rule="moon_distance_km * resolution_arcsec / 206264.806",
         note="A crater in the middle of the Moon's disc that is as wide as the resolution. A long dark line shows "
              "when it is several times narrower.",
         unproved="An arc from its angle and radius; checked against a library's angles.")
def least_crater_km(moon_distance_km: float, resolution_arcsec: float) -> float:
    """Diameter of a crater that covers this angle, km."""
    return moon_distance_km * resolution_arcsec / 206264.806


@formula(title="Elements of the image across it", source="geometry", rule="angle_arcsec / resolution_arcsec",
         note="How many things as small as the resolution lie side by side across it.", unproved=_DIVISION)
def elements_across(angle_arcsec: float, resolution_arcsec: float) -> float:
    """How often the resolution goes into this angle."""
    return angle_arcsec / resolution_arcsec


@formula(title="How large it looks", source="thompson-2005", where="ch. 4", rule="magnification * angle_arcsec / 60",
         note="The angle that the eye at the eyepiece is shown.",
         unproved="It is the definition of magnification, in other units.")
def looks_arcmin(magnification: float, angle_arcsec: float) -> float:
    """Angle at which something on the sky is seen in the eyepiece, arcmin."""
    return magnification * angle_arcsec / 60
