"""Astronomical Observatory of Belgrade, wiki, *Telescopes*: aperture 1.4 m, focal length 11.2 m, F 8, 18.42″/mm."""

import pytest

from dossier.calc.optics.first_order import focal_ratio, image_scale_arcsec_per_mm


@pytest.mark.proves("focal_ratio", "image_scale_arcsec_per_mm", source="belgrade-wiki", known="read")
def test_focal_ratio_and_plate_scale() -> None:
    assert focal_ratio(11200, 1400) == pytest.approx(8)
    assert round(image_scale_arcsec_per_mm(11200), 2) == 18.42
