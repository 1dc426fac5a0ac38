"""Common practice, no source: what makers do. A rule of the trade must come out of the arithmetic too."""

import pytest

from dossier.calc.optics.sphere import sphere_limit_focal_ratio, wavefront_pv_third_order_wave


@pytest.mark.proves("sphere_limit_focal_ratio", "wavefront_pv_third_order_wave", source="common-practice",
                    known="recalled")
def test_mirror_of_114_mm_at_f8_may_stay_spherical() -> None:
    """At 550 nm it keeps within a quarter wave."""
    assert sphere_limit_focal_ratio(114, 0.55) < 8
    assert wavefront_pv_third_order_wave(114, 8, 0, 0.55) < 0.25
