"""M. Born and E. Wolf, *Principles of Optics*, 7th edition, 8.5.2 and 7.6.3; J. W. Goodman, *Fourier Optics*, 6.3."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics.diffraction import airy_energy, encircled_energy, mtf_25, mtf_50, mtf_75, star_profile
from dossier.calc.optics.mirror import Mirror
from dossier.calc.optics.pairs import double_star_dip_in_seeing
from dossier.calc.optics.scenes import double_star_dip

NM = 550.0


@pytest.mark.proves("airy_energy", source="born-wolf-1999", known="recalled")
def test_light_inside_the_first_dark_ring() -> None:
    """A clear aperture: 0.838."""
    assert round(airy_energy(150, 1200, -1, 0, NM), 3) == 0.838


def test_light_inside_dark_rings() -> None:
    """A clear aperture, rings at 0.610, 1.116 and 1.619 λ/a: 0.838, 0.910, 0.938. Recalled."""
    mirror = Mirror(150, 1200)
    rings = np.array([1.2197, 2.2331, 3.2383])
    assert star_profile(mirror, 0.0, NM, rings) == pytest.approx(np.zeros(3), abs=1e-8)
    assert np.round(encircled_energy(mirror, 0.0, NM, rings), 3).tolist() == [0.838, 0.910, 0.938]


@pytest.mark.proves("mtf_25", "mtf_50", "mtf_75", source="goodman-2005", known="recalled")
def test_transfer_of_a_clear_circle() -> None:
    """0.685, 0.391 and 0.144 at a quarter, half and three quarters of the cut-off."""
    clear = (150, 1200, -1, 0, NM)
    assert [round(mtf(*clear), 3) for mtf in (mtf_25, mtf_50, mtf_75)] == [0.685, 0.391, 0.144]


@pytest.mark.proves("double_star_dip", source="born-wolf-1999", known="recalled")
def test_dip_between_two_stars_at_rayleighs_limit() -> None:
    """7.6.3: between two equal stars behind a clear circle the light falls to 0.735 of the peaks."""
    limit_arcsec = 206264.806 * 1.21967 * 550e-6 / 150
    assert 1 - double_star_dip(150, 1200, -1, 0, NM, limit_arcsec, 0.0) == pytest.approx(0.735, abs=0.001)


@pytest.mark.proves("double_star_dip_in_seeing", source="born-wolf-1999", known="recalled")
def test_the_same_dip_by_frequencies_in_still_air() -> None:
    limit_arcsec = 206264.806 * 1.21967 * 550e-6 / 150
    dip = double_star_dip_in_seeing(150, 1200, -1, 0, NM, limit_arcsec, 0.0, 0.0)
    assert 1 - dip == pytest.approx(0.735, abs=0.001)
