"""Plane geometry: the 45° cut through the cone of an axial star, derived with a pencil.

200 mm mirror of 1200 mm focal length taken as flat (s = 1/12), diagonal 280 mm from focus.
"""

import pytest

from dossier.calc.optics.diagonal import cone_cut_minor_axis_mm, cone_cut_offset_mm, least_minor_axis_mm


@pytest.mark.proves("cone_cut_offset_mm", "cone_cut_minor_axis_mm", "least_minor_axis_mm",
                    source="geometry", known="worked")
def test_cut_through_the_axial_cone() -> None:
    assert round(cone_cut_offset_mm(200, 1200, 280), 3) == 1.958
    assert round(cone_cut_minor_axis_mm(200, 1200, 280), 2) == 46.83
    assert round(least_minor_axis_mm(200, 1200, 280), 2) == 46.99
