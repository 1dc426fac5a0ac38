"""Sacek, Notes on Amateur Telescope Optics, 2006, after eq. 70: the Strehl ratio at an RMS of λ/√180."""

import math

import pytest

from dossier.calc.optics.surface_allowance import surface_rms_limit_nm

NM = 550.0


@pytest.mark.proves("surface_rms_limit_nm", source="sacek-2006", known="worked")
def test_a_ratio_of_0_803_allows_a_surface_of_half_the_wavefront() -> None:
    """The wavefront of λ/√180 leaves 0.803 ± 0.002; the surface that makes it is half as uneven."""
    for strehl in (0.801, 0.805):
        assert surface_rms_limit_nm(1.0, strehl, NM) == pytest.approx(NM / math.sqrt(180) / 2, rel=0.007)
