"""IERS Conventions (2010): 7.2921150e-5 rad/s is 15.0411″/s, the drift of a star on the celestial equator."""

import pytest

from dossier.calc.mechanics.tracking import drift_arcsec_per_s


@pytest.mark.proves("drift_arcsec_per_s", source="iers-2010", known="worked")
def test_drift_on_the_equator() -> None:
    assert round(drift_arcsec_per_s(0), 4) == 15.0411
    assert drift_arcsec_per_s(60) == pytest.approx(15.0411 / 2)
