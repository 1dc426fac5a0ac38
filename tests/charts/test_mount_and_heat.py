"""The map of field rotation and the cooling curves, read back from their SVG against the sky and the glass."""

from __future__ import annotations

import math
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import yaml

from dossier.calc.mechanics.tracking import field_rotation_arcsec_per_s
from dossier.charts import PICTURES
from dossier.design import work_out
from dossier.drawings.palette import PAPER
from dossier.spec.load import load_build
from tests.charts.conftest import BARE, SVG, Read

FORMS = ("wide", "upright")


def made(folder: Path, **more: object):
    (folder / "build.yaml").write_text(yaml.safe_dump({**BARE, **more}), "utf-8")
    return work_out(load_build(folder))


def read(design, key: str, form: str = "wide") -> Read:
    return Read(PICTURES[key].make(design, PAPER, form))


def sky(folder: Path, latitude: float, **conditions: str):
    return made(folder, mount={"kind": "altaz"}, conditions={"latitude": f"{latitude} deg", **conditions})


def glass(folder: Path, stored: float = 20, back: float = 5, **more: object):
    return made(folder, conditions={"stored_at": f"{stored} degC", "used_at": "5 degC", "seeing": "2 arcsec"},
                cooling={"front": "8 W/m^2/K", "back": f"{back} W/m^2/K"},
                primary={**BARE["primary"], "edge_thickness": "25 mm", "glass": "borosilicate", **more})


def star_at(latitude: float, azimuth: float, altitude: float) -> tuple[float, float]:
    """Declination and hour angle of a direction, by turning its vector about the east–west line."""
    a, h, p = map(math.radians, (azimuth, altitude, latitude))
    north, east, up = math.cos(h) * math.cos(a), math.cos(h) * math.sin(a), math.sin(h)
    to_pole, to_equator = north * math.cos(p) + up * math.sin(p), up * math.cos(p) - north * math.sin(p)
    return math.degrees(math.asin(to_pole)), math.degrees(math.atan2(-east, to_equator))


@pytest.mark.parametrize("latitude", [53, 20, -33])
def test_lines_of_equal_rate_are_where_the_field_turns_so(tmp_path, latitude):
    picture = read(sky(tmp_path, latitude), "field-rotation")
    curves = {p.get("data-curve") for p in picture.root.iter(f"{SVG}path")} - {None, "equator"}
    assert len(curves) >= 3
    for name in curves:
        rate = float(name.split()[1])
        for azimuth, altitude in picture.curve(name)[10:-10:17]:
            if 1 < altitude < 80:
                found = field_rotation_arcsec_per_s(latitude, *star_at(latitude, azimuth, altitude))
                assert abs(found) == pytest.approx(rate, rel=0.04), (name, azimuth, altitude)


@pytest.mark.parametrize("latitude", [53, -33])
def test_equator_is_declination_nought(tmp_path, latitude):
    curve = read(sky(tmp_path, latitude), "field-rotation").curve("equator")
    for azimuth, altitude in curve[::20]:
        assert star_at(latitude, azimuth, altitude)[0] == pytest.approx(0, abs=0.3)
    assert curve[:, 1].max() == pytest.approx(90 - abs(latitude), abs=0.2)


def test_exposures_beside_the_lines(tmp_path):
    """A trail of 3″ at 0.2865° (6 mm of 1200): at 10″/s the field turns 4.848e-5 rad, 0.05″ there, in a second."""
    picture = read(sky(tmp_path, 53, seeing="3 arcsec"), "field-rotation")
    assert "10″/s, 60\u202fs" in {text.plain for text in picture.texts}


def test_no_map_without_latitude_or_level_axis(tmp_path):
    level = {"kind": "altaz"}
    for more in ({}, {"mount": level}, {"mount": {"kind": "equatorial"}, "conditions": {"latitude": "50 deg"}},
                 {"mount": level, "conditions": {"latitude": "-90 deg"}}):
        assert PICTURES["field-rotation"].make(made(tmp_path, **more), PAPER, "wide") is None


def test_cooling_is_the_results(tmp_path):
    design = glass(tmp_path)
    picture = read(design, "cooling")
    hours, level = picture.mark("planned")
    assert hours == pytest.approx(design.results["thermal.settling_time"].number / 60, abs=0.02)
    assert 10**level == pytest.approx(0.5, rel=0.01)
    assert 10 ** picture.limit("above") == pytest.approx(0.5, rel=0.01)
    lumped = picture.curve("lumped")
    constant = design.results["thermal.time_constant"].number / 60
    assert 10 ** lumped[:, 1] == pytest.approx(15 * np.exp(-lumped[:, 0] / constant), rel=0.02)
    assert picture.at("fan", 1.0) < picture.at("planned", 1.0) < picture.at("closed", 1.0)


def test_blur_scale_is_the_published_rule(tmp_path):
    """0.40″ ΔT^1.2 (Racine et al. 1991, read): the tick of 1″ stands at 2.146 K, and none beyond 10 K."""
    picture = read(glass(tmp_path), "cooling")
    right = [text for text in picture.texts if text.box[0] > picture.frame[2] * 0.95 and text.plain[0].isdigit()]
    placed = {float(text.plain): 10 ** picture.data((0, (text.box[1] + 0.66 * picture.size / 2)))[1] for text in right}
    assert placed[1.0] == pytest.approx(2.146, rel=0.02)
    assert all(0.40 * kelvin**1.2 == pytest.approx(blur, rel=0.03) for blur, kelvin in placed.items())
    assert max(placed.values()) <= 10.1


def test_no_blur_of_a_cold_mirror_and_no_curve_of_a_settled_one(tmp_path):
    assert "blur" not in read(glass(tmp_path, stored=-5), "cooling").rendered.caption
    assert PICTURES["cooling"].make(glass(tmp_path, stored=5.3), PAPER, "wide") is None
    assert PICTURES["cooling"].make(made(tmp_path), PAPER, "wide") is None


@pytest.mark.parametrize("form", FORMS)
def test_lettering_keeps_apart(tmp_path, form):
    pictures = [("field-rotation", sky(tmp_path, latitude)) for latitude in (0, 15, 48, 66, 80, -12, -45)]
    pictures += [("cooling", glass(tmp_path, *how)) for how in ((20, 5), (6, 0), (35, 25), (-20, 8), (12, 1))]
    for key, design in pictures:
        shown = read(design, key, form)
        left, top, right, bottom = shown.frame
        for text in shown.texts:
            assert left - 0.05 <= text.box[0] < text.box[2] <= right + 0.05, (key, text)
            assert top - 0.05 <= text.box[1] < text.box[3] <= bottom + 0.05, (key, text)
        for one, other in combinations(shown.texts, 2):
            apart = (one.box[2] <= other.box[0] or other.box[2] <= one.box[0]
                     or one.box[3] <= other.box[1] or other.box[3] <= one.box[1])
            assert apart, (key, one.plain, other.plain)
