"""How slow a sphere must be, as printed, against its exact wavefront: J. Texereau, *How to Make a Telescope*, p. 19, as
quoted (worked, 560 nm); the mirror makers' mailing list, August 2001, message 672 (read, 550 nm); common practice."""

from __future__ import annotations

import pytest

from dossier.calc.optics.sphere_limits import sphere_focal_length_quarter_wave_mm, sphere_focal_length_strehl_mm
from dossier.calc.optics.wavefront import wavefront_pv_wave

INCH = 25.4


@pytest.mark.proves("sphere_focal_length_quarter_wave_mm", source="texereau-1984", known="worked")
@pytest.mark.parametrize(("inches", "focal_ratio"), [(6, 8.10), (8, 8.92)])
def test_the_cube_root_of_88_6_inches(inches: int, focal_ratio: float) -> None:
    focal_length = sphere_focal_length_quarter_wave_mm(inches * INCH, 0.0, 560.0)
    assert round(focal_length / (inches * INCH), 2) == focal_ratio


@pytest.mark.proves("sphere_focal_length_quarter_wave_mm", source="mirror-makers-list-2001", known="read")
def test_sixteen_inches() -> None:
    """f/11.3 at 550 nm."""
    assert round(sphere_focal_length_quarter_wave_mm(16 * INCH, 0.0, 550.0) / (16 * INCH), 1) == 11.3


@pytest.mark.proves("sphere_focal_length_strehl_mm", source="born-wolf-1999", known="recalled")
def test_quarter_wave_and_four_fifths_are_one_limit() -> None:
    """9.3: a quarter wave of spherical aberration leaves a Strehl ratio of 0.80."""
    by_strehl = sphere_focal_length_strehl_mm(150, 0.0, 550.0)
    assert by_strehl == pytest.approx(sphere_focal_length_quarter_wave_mm(150, 0.0, 550.0), rel=0.002)


@pytest.mark.proves("wavefront_pv_wave", source="common-practice", known="recalled")
def test_mirror_of_114_mm_at_f8_may_stay_spherical() -> None:
    """Common practice, no source. At 550 nm it keeps within a quarter wave."""
    assert wavefront_pv_wave(114, 912, 0, 0, 550.0) < 0.25
