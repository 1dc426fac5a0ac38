"""The mirror makers' mailing list, archives of August 2001, December 2005 and July 2006."""

import pytest

from dossier.calc.optics.diagonal import full_field_classical_mm
from dossier.calc.optics.first_order import sagitta_mm
from dossier.calc.optics.sphere import sphere_limit_focal_ratio

INCH = 25.4


@pytest.mark.proves("sphere_limit_focal_ratio", source="mirror-makers-list-2001", known="read")
def test_least_focal_ratio_of_a_sphere() -> None:
    """August 2001, message 672: at 550 nm about 1.526 times the cube root of the millimetres; f/11.3 for 16 inches."""
    assert round(sphere_limit_focal_ratio(16 * INCH, 0.55), 1) == 11.3
    assert round(sphere_limit_focal_ratio(1.0, 0.55), 3) == 1.526


@pytest.mark.proves("full_field_classical_mm", source="mirror-makers-list-2005", known="read")
def test_fully_lit_field() -> None:
    """December 2005, message 129: 8-inch f/6, diagonal 1.6 inches, 8 inches from focus: 0.32 inches."""
    field_mm = full_field_classical_mm(1.6 * INCH, 48 * INCH, 8 * INCH, 8 * INCH)
    assert round(field_mm / INCH, 2) == 0.32


@pytest.mark.proves("sagitta_mm", source="mirror-makers-list-2006", known="read")
def test_depth_of_a_sphere() -> None:
    """July 2006, message 213: 13-inch mirror of 78 inches focal length, "0.135 inch and a bit"."""
    depth_in = sagitta_mm(13 * INCH, 78 * INCH, 0) / INCH
    assert 0.135 <= depth_in < 0.136
