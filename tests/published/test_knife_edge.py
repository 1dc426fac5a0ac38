"""Knife-edge readings and zones in print: *Sky & Telescope*, November 1992, p. 574; A. J. Thompson, *Making Your Own
Telescope*; the mirror makers' mailing list, June 2001, message 229."""

from __future__ import annotations

from itertools import pairwise

import pytest

from dossier.calc.optics.bench_tests import knife_reading_mm, knife_readings_mm
from dossier.calc.optics.zone_mask import mask_edges_mm, zone_centre_mm, zone_radii_mm

INCH = 25.4


@pytest.mark.proves("knife_reading_mm", source="sky-telescope-1992", known="read")
def test_source_moving_with_the_knife() -> None:
    """A paraboloid, zone at 6.25 inches, vertex radius 165 inches: 0.118371 inches."""
    reading = knife_reading_mm(14 * INCH, 82.5 * INCH, -1.0, 6.25 * INCH, 1.0)
    assert round(reading / INCH, 6) == 0.118371


@pytest.mark.proves("knife_reading_mm", source="sky-telescope-1992", known="read")
def test_its_exact_form_is_half_of_what_a_fixed_source_reads() -> None:
    """The same mirror: the exact form quoted is 0.118455 inches, half of what a source standing still reads.

    That is r²/2R + r⁴/4R³; the quotation cuts the second term, 0.0000849, to 0.000084.
    """
    reading = knife_reading_mm(14 * INCH, 82.5 * INCH, -1.0, 6.25 * INCH, 0.0)
    assert reading / 2 / INCH - 0.0000009 == pytest.approx(0.118455, abs=5e-7)


@pytest.mark.proves("knife_reading_mm", source="thompson-1947", known="read")
def test_source_standing_still() -> None:
    """6-inch mirror, vertex radius 96 inches: its rim less its 2.8-inch zone, 0.012 inches ("about 0.01")."""
    zone, rim = knife_readings_mm(6 * INCH, 48 * INCH, -1.0, (2.8 * INCH, 3 * INCH), 0.0)
    assert round((rim - zone) / INCH, 3) == 0.012


@pytest.mark.proves("zone_centre_mm", source="mirror-makers-list-2001", known="read")
@pytest.mark.parametrize(("aperture", "zones"), [(150, 5), (250, 7), (400, 10)])
def test_centres_of_the_zones_of_a_mask(aperture: float, zones: int) -> None:
    """Within half a percent of where the light of each window is centred, for all but the innermost, widest window."""
    edges = mask_edges_mm(aperture, aperture / 4, zones)
    for (inner, outer), centre in list(zip(pairwise(edges), zone_radii_mm(edges), strict=True))[1:]:
        mean_radius = 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)
        assert zone_centre_mm(inner, outer) == centre == pytest.approx(mean_radius, rel=0.005)
