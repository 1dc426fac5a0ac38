"""D. Darling, *Encyclopedia of Science*, exit pupil: an 8-inch (20 cm) mirror at 38 times, 5.3 mm."""

import pytest

from dossier.calc.optics.eyepieces import exit_pupil_mm


@pytest.mark.proves("exit_pupil_mm", source="darling-exit-pupil", known="read")
@pytest.mark.parametrize("aperture_mm", [200, 8 * 25.4])
def test_exit_pupil(aperture_mm: float) -> None:
    assert round(exit_pupil_mm(aperture_mm, 38), 1) == 5.3
