"""The testing page in words: what a star and the knife should show of each kind of mirror, and what readings mean."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from dossier.calc.optics.bench_tests import knife_readings_mm
from dossier.design import Design, work_out
from dossier.design.asides import testing as asides
from dossier.spec.load import load_build
from dossier.views.asides import aside_table
from dossier.views.spoken import Spoken
from dossier.views.words import bench, testing

ZONES = (30.0, 47.0, 60.0, 70.0)
Make = Callable[..., Design]


def said(teller: Callable[[Design], str], design: Design) -> str:
    """The words with their numbers put in, on one line, with plain spaces."""
    spoken = Spoken(design)
    text = spoken.plain(spoken.marked(teller(design), "", 1))
    assert not spoken.problems
    return re.sub(r"[\s\N{NARROW NO-BREAK SPACE}]+", " ", text).replace("**", "")


@pytest.fixture
def make(tmp_path: Path) -> Make:
    """A 150 mm f/8 mirror of a conic, with readings of ``found`` where that is given, wrong by ``off`` each."""

    def made(conic: float = -1.0, found: float | None = None, off: tuple[float, ...] = (0, 0, 0, 0), *,
             source: str = "moving", readers: str = "metric", zones: tuple[float, ...] = ZONES,
             **primary: str) -> Design:
        spec: dict[str, Any] = {
            "format": 1, "about": {"name": "Trial"}, "readers": {"units": readers},
            "primary": {"aperture": "150 mm", "focal_length": "1200 mm", "conic": conic, **primary},
            "diagonal": {"minor_axis": "31 mm"}, "focuser": {"mounting_radius": "100 mm", "height": "50 mm"}}
        (tmp_path / "build.yaml").write_text(yaml.safe_dump(spec), "utf-8")
        if found is None:
            return work_out(load_build(tmp_path))
        exact = knife_readings_mm(150, 1200, found, zones, float(source == "moving"))
        read = {"bench": {"source": source, "zones": [f"{zone} mm" for zone in zones],
                          "readings": [f"{each + error!r} mm" for each, error in zip(exact, off, strict=False)]}}
        (tmp_path / "found.yaml").write_text(yaml.safe_dump(read), "utf-8")
        return work_out(load_build(tmp_path, tmp_path / "found.yaml"))

    return made


@pytest.mark.parametrize(("conic", "says"), [
    (0.0, "undercorrected: its rim focuses short of its middle"), (-1.0, "so near the paraboloid that both sides"),
    (-1.8, "overcorrected: its rim focuses beyond its middle"), (-1.05, "so near the paraboloid that both sides"),
])
def test_star_of_each_kind_of_mirror(make: Make, conic: float, says: str) -> None:
    told = said(testing.star_test, make(conic))
    assert says in told
    assert "common practice, no source" in told
    assert "Nothing of this is ever done on the Sun" in told


def test_way_of_the_eyepiece(make: Make) -> None:
    """Five waves at f/8 and 550 nm: 1.408 mm, as agreed with two diffraction codes."""
    design = make()
    assert "rack 1.41 mm inwards and 1.41 mm outwards" in said(testing.star_test, design)
    assert asides.star_shift(design, 5.0).number == pytest.approx(1.408, abs=5e-4)
    assert [row.name for row in asides.star_shifts(design).rows] == ["1 wave", "5 waves", "10 waves"]


def test_knife_of_a_sphere_reads_nothing_and_of_a_paraboloid_something(make: Make) -> None:
    assert "every zone turns grey at the same place, at zero difference" in said(testing.zones, make(0.0))
    told = said(testing.zones, make(-1.0))
    moved = re.search(r"the knife moves ([\d.]+) mm away from the mirror with the source beside it, and ([\d.]+) mm",
                      told)
    assert moved is not None
    assert float(moved[2]) == pytest.approx(2 * float(moved[1]), abs=0.002)
    assert "towards the mirror with the source" in said(testing.zones, make(0.5))
    assert "2400 mm from its face" in told
    assert "4 lines per millimetre with the grating 10 mm inside, 3 mm inside and 10 mm outside" in told


def test_table_of_zones(make: Make) -> None:
    """Moving source, paraboloid: r²/2R; still: twice that and r⁴/2R³ (Sky & Telescope, November 1992)."""
    for conic, columns in ((0.0, 7), (-1.0, 5), (-0.6, 7)):
        aside = asides.zones(make(conic))
        assert len(aside.columns) == columns
        for row in aside.rows:
            centre, moving, fixed = (asides.number(row.entries[at]) for at in (2, -2, -1))
            assert moving == pytest.approx(centre**2 / 4800, abs=1e-9)
            assert fixed == pytest.approx(centre**2 / 2400 + centre**4 / (2 * 2400**3), rel=1e-5)
            if conic == 0:
                assert (row.entries[3].number, row.entries[4].number) == (0, 0)
        assert any("A sphere reads alike" in note for note in aside.notes) == (conic == 0)
    found = asides.zones(make(0.0, -0.3))
    assert [column.title for column in found.columns[3::2]] == [
        "as planned, source moving", "as found, source moving", "paraboloid, source moving"]
    assert aside_table(found, make(0.0, -0.3)).table.rows


def test_file_to_fill_in_is_one_that_the_program_reads(make: Make, tmp_path: Path) -> None:
    template = re.search(r"```yaml\n(.*?)```", testing.zones(make(-1.0)), re.DOTALL)
    assert template is not None
    (tmp_path / "found.yaml").write_text(template[1], "utf-8")
    assert load_build(tmp_path, tmp_path / "found.yaml").build.bench is not None


def test_nothing_is_said_of_a_bench_without_readings(make: Make) -> None:
    assert bench.tell(make()) == ""
    assert asides.readings(make()) is None


NOISE = (0.004, -0.004, 0.004, -0.004)


@pytest.mark.parametrize(("planned", "found", "off", "says"), [
    (-1.0, -0.97, NOISE, ("where the plan has −1, a paraboloid", "quarter wave (Rayleigh) it meets,",
                          "Leave the mirror")),
    (-1.0, 0.6, NOISE, ("It is undercorrected, by", "it misses, a Strehl ratio of 0.80 (Maréchal) it misses",
                        "the middle must be deepened")),
    (-1.0, -3.0, NOISE, ("It is overcorrected, by", "the middle is too deep against the rim")),
    (0.0, 0.05, NOISE, ("away from the paraboloid", "the plan asks too much of a sphere")),
    (0.0, -0.3, NOISE, ("towards the paraboloid", "Leave the mirror as it is")),
    (-1.0, -0.1, (0.06, -0.06, 0.06, -0.06), ("by less than the uncertainty", "Read it again before anything else")),
    (-1.0, -1.0, (0.0, 1.1, -1.1, 0.25), ("So wide a spread tells little", "of the conic",)),
    (-1.0, 1.0, NOISE, ("Were the readings positive away from the mirror?",)),
    (-1.0, -2.0, NOISE, ("Did the source move with the knife?",)),
])
def test_readings_in_words(make: Make, planned: float, found: float, off: tuple[float, ...],
                           says: tuple[str, ...]) -> None:
    told = said(bench.tell, make(planned, found, off))
    for words in says:
        assert words in told


def test_a_slip_with_a_source_that_moved(make: Make) -> None:
    assert "Did the source stand still?" in said(bench.tell, make(-1.0, -0.5, NOISE, source="fixed"))
    assert "Did the source" not in said(bench.tell, make(-1.0, -0.5, NOISE))


def test_zones_can_fail_a_mirror_whose_conic_is_right(make: Make) -> None:
    """Readings that swing evenly about a paraboloid's leave its conic and spoil its surface."""
    design = make(-1.0, -1.0, (0.0, 1.1, -1.1, 0.25))
    told = said(bench.tell, design)
    assert design.results["bench.wavefront_pv"].number < 0.25 < design.results["bench.profile_pv"].number
    assert "it misses" in told
    assert "Leave the mirror" not in told


def test_whose_surface_error_is_used(make: Make) -> None:
    bad = (0.0, 0.25, -0.25, 0.0)
    assert "stands for the surface’s RMS error on every sheet" in said(bench.tell, make(-1.0, -1.0, bad))
    assert "The plan’s 60.0 nm of surface error stays" in said(bench.tell, make(-1.0, -1.0, bad, surface_rms="60 nm"))


def test_three_zones_are_few(make: Make) -> None:
    three = make(-1.0, -0.98, (0.004, -0.004, 0.004), zones=(30.0, 52.0, 69.0))
    assert "Three zones leave one reading" in said(bench.tell, three)
    assert "Three zones" not in said(bench.tell, make(-1.0, -0.98, NOISE))


def test_readings_zone_by_zone(make: Make) -> None:
    """Reading less zero less what the conic reads is what is left, and all that is left adds up to nothing."""
    design = make(-1.0, -0.8, (0.02, -0.01, 0.03, -0.01))
    aside = asides.readings(design)
    assert aside is not None
    left = [asides.number(row.entries[3]) for row in aside.rows]
    assert sum(left) == pytest.approx(0, abs=1e-9)
    zero = design.results["bench.scale_zero"].number
    for row, rest in zip(aside.rows, left, strict=True):
        assert row.entries[1].value == pytest.approx(zero + asides.number(row.entries[2]) + rest)


def test_readers_in_inches(make: Make) -> None:
    told = said(testing.zones, make(-1.0, readers="inch"))
    assert "94.5 in from its face" in told
    assert " mm inside" not in told
