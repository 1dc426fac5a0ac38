"""The surface of a tested mirror and the words under the bench's pictures, read back and held against the results."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.charts import PICTURES
from dossier.drawings.palette import PAPER

ZONES = (30.0, 47.0, 60.0, 70.0)


def test_curve_is_the_surface_of_the_results(picture, design_of):
    """Twice its height in wavelengths, from highest to lowest, is the wavefront that the results give."""
    results, read = design_of("tested").results, picture("bench-profile", "tested")
    measured = read.curve("measured")
    span_nm = np.ptp(measured[:, 1])
    assert 2 * span_nm / 550 == pytest.approx(results["bench.profile_pv"].number, rel=0.01)
    assert measured[:, 0].min() == pytest.approx(0, abs=0.1)
    assert measured[:, 0].max() == pytest.approx(75, abs=0.1)
    conic_span_nm = np.ptp(read.curve("conic")[:, 1])
    assert 2 * conic_span_nm / 550 == pytest.approx(results["bench.wavefront_pv"].number, rel=0.01)


def test_zones_stand_on_the_curve(picture):
    read = picture("bench-profile", "tested")
    for number, zone in enumerate(ZONES, start=1):
        x, y = read.mark(f"zone-{number}")
        assert x == pytest.approx(zone, abs=2 * read.grain("x"))
        assert y == pytest.approx(read.at("measured", x), abs=1)


def test_pictures_of_a_tested_mirror_say_what_was_found_and_what_was_planned(design_of):
    alt = {key: PICTURES[key].make(design_of("tested"), PAPER, "wide").alt for key in (
        "ronchi", "knife-edge", "bench-profile")}
    for key in ("ronchi", "knife-edge"):
        assert "as found, beside a paraboloid as planned" in alt[key]
    assert "zone 1 at 30\u202fmm" in alt["bench-profile"]


def test_without_readings_there_is_no_surface(design_of):
    assert PICTURES["bench-profile"].make(design_of("bare"), PAPER, "wide") is None
