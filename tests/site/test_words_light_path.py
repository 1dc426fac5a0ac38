"""What is said of lit field, field edge, stray light and collimation: true on both sides of each limit, for any build.

All builds are invented.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from dossier.calc.optics import illumination
from dossier.calc.optics.fold import Diagonal
from dossier.calc.optics.mirror import Mirror
from dossier.design import Design, work_out
from dossier.design.asides import field_edges, stray
from dossier.spec.load import load_build
from dossier.views.asides import aside_table
from dossier.views.spoken import Spoken
from dossier.views.words import words_for
from tests.charts.conftest import SPECS
from tests.conftest import TEASEL

SAID = ("diagonal", "field", "stray", "collimation")
PIECES = [{"name": "Wide", "focal_length": "25 mm", "apparent_field": "50 deg", "field_stop": "22 mm"},
          {"name": "High", "focal_length": "6 mm", "apparent_field": "60 deg"}]
SPEC: dict[str, Any] = {
    "format": 1, "about": {"name": "Trial"}, "primary": {"aperture": "150 mm", "focal_length": "1200 mm"},
    "diagonal": {"minor_axis": "35 mm"}, "eyepieces": PIECES,
    "focuser": {"mounting_radius": "102 mm", "height": "52 mm", "travel": "30 mm", "bore": "31.75 mm",
                "drawtube": "60 mm"},
    "front": {"opening": "180 mm", "station": "1100 mm"},
    "frame": {"kind": "poles", "material": "aluminium-6061", "outer_diameter": "20 mm", "inner_diameter": "17 mm",
              "length": "640 mm", "count": 3, "circle_radius": "108 mm", "lower_fixing": "329 mm"},
    "cell": {"points": 3, "push": {"count": 3, "radius": "66 mm", "pitch": "1 mm"}},
}
TUBE = {"kind": "tube", "material": "aluminium-6061", "outer_diameter": "190 mm", "inner_diameter": "184 mm",
        "length": "1200 mm"}
Work = Callable[..., Design]


@pytest.fixture(scope="module")
def demo() -> Design:
    return work_out(load_build(TEASEL))


@pytest.fixture
def work(tmp_path: Path) -> Work:
    """``work(frame=…, focuser={…})``: the trial build with sections changed; None leaves one out, a list its keys."""
    def run(**sections: Any) -> Design:
        spec = copy.deepcopy(SPEC)
        for name, section in sections.items():
            if section is None:
                spec.pop(name, None)
            elif isinstance(section, list) and isinstance(spec.get(name), dict):
                spec[name] = {key: value for key, value in spec[name].items() if key not in section}
            elif isinstance(section, dict) and name in spec and "kind" not in section:
                spec[name] |= section
            else:
                spec[name] = section
        (tmp_path / "build.yaml").write_text(yaml.safe_dump(spec), "utf-8")
        return work_out(load_build(tmp_path))
    return run


def told(design: Design, question: str) -> str:
    spoken = Spoken(design)
    text = spoken.plain(spoken.marked(words_for(design, question), "", 1)).replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert not spoken.problems
    assert "{{" not in text
    assert "nan" not in text
    return text


class TestLitField:
    def test_every_eyepiece_lit(self, work: Work) -> None:
        text = told(work(), "diagonal")
        assert "Every eyepiece’s field is lit to its edge to at least 0.700" in text
        assert "The High has all of it" in text

    def test_one_too_dark_and_what_would_cure_it(self, work: Work) -> None:
        design = work(diagonal={"minor_axis": "25 mm"})
        share = design.results["eyepiece.wide.edge_light"].number
        assert share < 0.70 < design.results["eyepiece.high.edge_light"].number
        text = told(design, "diagonal")
        assert "Too dark at the edge: Wide" in text
        assert "a diagonal wider than 25" in text
        assert "High, 0" not in text.partition("Too dark")[2].partition("**")[0]

    def test_the_authors_limit_on_the_judged_field_counts_for_eyepieces(self, work: Work) -> None:
        goals = [{"result": "diagonal.edge_light", "at_least": 0.95}]
        assert "where 0.950 is asked" in told(work(goals=goals), "diagonal")
        own = [{"result": "eyepiece.wide.edge_light", "at_least": 0.5}]
        assert "Every eyepiece’s field is lit to its edge to at least 0.500" in told(
            work(goals=own, diagonal={"minor_axis": "26 mm"}), "diagonal")

    def test_a_diagonal_smaller_than_the_cone(self, work: Work) -> None:
        assert "Not even the middle" in told(work(diagonal={"minor_axis": "19 mm"}), "diagonal")

    def test_without_eyepieces_the_judged_field_is_told(self, work: Work) -> None:
        assert "At the edge of the judged field" in told(work(eyepieces=None), "diagonal")

    def test_light_at_a_stop_is_the_least_round_it(self, demo: Design) -> None:
        """All round the edge of the 25 mm eyepiece's stop, a degree apart."""
        turned = np.radians(np.arange(360.0))
        flat = Diagonal(31, 168, demo.results["diagonal.offset"].number)
        shares = illumination.light_share(flat, Mirror(150, 1200, 0), 10.6 * np.cos(turned), 10.6 * np.sin(turned))
        assert demo.results["eyepiece.25-mm-plossl.edge_light"].number == pytest.approx(shares.min(), rel=1e-5)
        assert demo.results["eyepiece.10-mm-plossl.edge_light"].number == 1

    def test_a_field_without_a_stop_is_as_wide_as_its_true_field(self, work: Work) -> None:
        """6 mm and 60° on 1200 mm: 0.3° of sky, 6.283 mm."""
        assert work().results["eyepiece.high.field_width"].number == pytest.approx(6.283, abs=2e-3)


class TestFieldEdge:
    def test_coma_and_openings_on_both_sides(self, work: Work) -> None:
        good = told(work(primary={"focal_length": "1800 mm"}, field={"judged": "10 mm"}, front={"station": "1700 mm"},
                         focuser={"drawtube": "40 mm"}, frame=None), "field")
        assert "coma spoils none of it" in good
        assert "The front is wide enough" in good
        assert "shades none of it" in good
        bad = told(work(front={"opening": "160 mm"}, focuser={"drawtube": "130 mm", "bore": "25 mm"}), "field")
        assert "stars grow tails" in bad
        assert "The front is too narrow" in bad
        assert "shades its edge" in bad

    def test_curvature_that_an_eye_need_not_mind_and_one_that_it_must(self, work: Work) -> None:
        assert "The eye need do nothing about it" in told(work(), "field")
        short = [{"name": "Short", "focal_length": "4 mm", "apparent_field": "100 deg", "field_stop": "7 mm"}]
        fast = work(primary={"focal_length": "600 mm"}, front={"station": "520 mm"}, eyepieces=short, frame=None)
        assert abs(field_edges.field_edges(fast)[0].refocus.number) > 0.25
        assert "an old eye cannot" in told(fast, "field")

    def test_the_edges_agree_with_the_judged_field(self, demo: Design) -> None:
        edge = field_edges.field_edges(demo)[0]
        for found, name in ((edge.spot, "field.edge_rms_radius"), (edge.curvature, "field.edge_curvature")):
            assert found.number == pytest.approx(demo.results[name].number)


class TestStrayLight:
    def test_an_open_frame(self, work: Work) -> None:
        text = told(work(), "stray")
        assert text.count(": yes**") == 4
        assert "108.5 mm" not in text
        assert "would cut the light" in text

    def test_many_poles_keep_cloth_clear(self, work: Work) -> None:
        design = work(frame={**SPEC["frame"], "count": 8})
        assert "clear of the light" in told(design, "stray")

    def test_a_tube_hides_what_an_open_frame_shows(self, work: Work) -> None:
        text = told(work(frame=TUBE), "stray")
        assert "Past the diagonal: no sky" in text
        assert "Through the tube: no." in text
        assert "shroud" not in text

    def test_a_front_far_enough_out(self, work: Work) -> None:
        design = work(front={"opening": "190 mm", "station": "1180 mm"})
        assert design.results["stray.shield_beyond_front"].number == 0
        assert "Over the edge of the sky end: no." in told(design, "stray")

    def test_a_stop_in_the_drawtube_where_one_is_possible(self, work: Work) -> None:
        small = work(eyepieces=None, field={"judged": "6 mm"}, focuser={"bore": "50.8 mm"},
                     front={"opening": "180 mm", "station": "1130 mm"})
        results = small.results
        assert results["stray.widest_dark_bore"].number > results["focuser.least_bore"].number
        assert "Or stop the drawtube’s end down to" in told(small, "stray")
        assert "no way out" in told(work(), "stray")

    def test_nothing_seen_beside_the_glass(self, work: Work) -> None:
        """A small diagonal in a small field shows the mirror's middle alone."""
        design = work(eyepieces=None, field={"judged": "1 mm"}, diagonal={"minor_axis": "21 mm"},
                      primary={"blank_diameter": "156 mm"})
        assert design.results["stray.mirror_ring"].number < 156
        text = told(design, "stray")
        assert "Past the rim of the primary: no." in text
        assert "Through the open frame: no." in text

    def test_without_drawtube_or_front_nothing_is_made_up(self, work: Work) -> None:
        assert "sky end" not in told(work(front=None), "stray")
        assert "frame" not in told(work(frame=None), "stray")
        assert told(work(focuser=["bore", "drawtube"]), "stray") == ""

    def test_rings_of_a_tube(self, work: Work) -> None:
        design = work(frame=TUBE)
        rows = stray.rings(design)
        assert rows is not None
        stations = [row.entries[0].number for row in rows.rows]
        openings = [row.entries[1].number for row in rows.rows]
        assert stations[0] == design.results["stray.wall_top"].number
        assert stations == sorted(stations, reverse=True)
        assert openings == sorted(openings, reverse=True)
        assert min(openings) > 150
        assert max(openings) < 184
        assert stray.rings(work(frame={**TUBE, "outer_diameter": "160 mm", "inner_diameter": "154 mm"})) is None
        assert stray.rings(work()) is None

    def test_stopping_the_drawtube_down(self, work: Work) -> None:
        table = stray.stopped_down(work())
        assert table is not None
        wide, narrow = (row.entries for row in table.rows)
        assert narrow[0].number < 31.75
        assert narrow[1].number < wide[1].number
        assert stray.stopped_down(work(focuser={"bore": "25 mm"})) is None


class TestCollimation:
    def test_told_in_all_four_ways(self, demo: Design) -> None:
        text = told(demo, "collimation")
        for said in ("8.75′", "3.1 mm", "6.1 mm", "0.252"):
            assert said in text

    @pytest.mark.parametrize(("push", "reason"), [
        ({"count": 3, "radius": "66 mm"}, "cell.push.pitch"), ({"count": 4, "radius": "66 mm", "pitch": "1 mm"},
                                                               "three adjusters")])
    def test_turns_are_left_out_where_they_cannot_be_known(self, work: Work, push: dict[str, Any], reason: str) -> None:
        design = work(cell={"points": 3, "push": push})
        assert reason in design.left_out["collimation.screw_turns"]
        assert "Turns of one" not in told(design, "collimation")

    @pytest.mark.parametrize(("focal_length", "advice"), [
        ("1200 mm", "Turn by an eighth"), ("750 mm", "An eighth of a turn is too coarse")])
    def test_no_turn_is_advised_that_uses_up_the_tolerance(self, work: Work, focal_length: str, advice: str) -> None:
        """Fast mirrors bear little: at f/5 the whole tolerance is less than an eighth of a turn."""
        design = work(primary={"focal_length": focal_length, "conic": -1}, frame=None, front=None,
                      cell={"points": 3, "push": {"count": 3, "radius": "66 mm", "pitch": "1 mm"}})
        turns = design.results["collimation.screw_turns"].number
        assert advice in told(design, "collimation")
        assert (turns < 0.125) == (focal_length == "750 mm")

    def test_a_mirror_that_no_tilt_can_hurt(self, work: Work) -> None:
        design = work(primary={"focal_length": "400 mm", "conic": 0}, diagonal={"minor_axis": "64 mm"},
                      front={"station": "360 mm", "opening": "190 mm"}, frame=None)
        assert "collimation.tilt_tolerance" in design.left_out
        assert told(design, "collimation").startswith("No tolerance can be given: ")

    def test_goal_on_a_tolerance(self, work: Work) -> None:
        design = work(goals=[{"result": "collimation.screw_turns", "at_least": 0.2}])
        assert design.results["collimation.screw_turns"].goal is not None


@pytest.mark.parametrize("name", SPECS)
def test_every_telescope_can_be_spoken_of(work: Work, tmp_path: Path, name: str) -> None:
    (tmp_path / "build.yaml").write_text(yaml.safe_dump(SPECS[name]), "utf-8")
    design = work_out(load_build(tmp_path))
    for question in SAID:
        told(design, question)
    for make in (field_edges.table, stray.rings, stray.stopped_down):
        made = make(design)
        if made is not None:
            aside_table(made, design)
