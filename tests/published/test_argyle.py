"""R. W. Argyle (editor), *Observing and Measuring Visual Double Stars*: tangential coma 11.25 θ′/F²."""

import pytest

from dossier.calc.optics.field import coma_tangential_arcsec, field_angle_arcmin


@pytest.mark.proves("coma_tangential_arcsec", source="argyle-2012", known="worked")
def test_tangential_coma() -> None:
    assert round(coma_tangential_arcsec(1.0, 6.0), 4) == 0.3125


@pytest.mark.proves("field_angle_arcmin", source="argyle-2012", known="worked")
def test_coma_at_a_height_in_the_focal_plane() -> None:
    """One arcminute of a 1200 mm telescope is 0.34907 mm from the middle: small-angle geometry."""
    assert field_angle_arcmin(2 * 0.34907, 1200) == pytest.approx(1.0, abs=2e-5)
