"""The decision on the mirror in words, on both sides of each limit, and what the parts page says of other choices.

All builds, parts and prices are invented. Expected lengths are those of the exact wavefront, found here by bisection.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from dossier.calc.optics.wavefront import strehl, wavefront_pv_wave
from dossier.design import Design, work_out
from dossier.spec.load import load_build
from dossier.views.alternatives import choices, side_by_side
from dossier.views.spoken import Spoken
from dossier.views.words.mirror import decision
from tests.conftest import TEASEL

SPEC = """\
format: 1
about: {{name: Trial}}
readers: {{currency: EUR}}
primary: {{aperture: 150 mm, {primary}}}
diagonal: {{minor_axis: 35 mm}}
focuser: {{mounting_radius: 100 mm, height: 50 mm}}
{more}
"""
OFFERED = """\
parts:
  - {ref: M, name: Mirror, get: buy, price: 50, instead: [{name: other, price: 134, set: {primary.conic: %s}}]}
goals: [{result: parts.cost, at_most: 100}]
"""
Say = Callable[..., str]


def told(design: Design) -> str:
    spoken = Spoken(design)
    text = spoken.plain(spoken.marked(decision(design), "", 1)).replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert not spoken.problems
    return text


@pytest.fixture(scope="module")
def demo() -> Design:
    return work_out(load_build(TEASEL))


@pytest.fixture
def say(tmp_path: Path) -> Say:
    def run(primary: str, more: str = "") -> str:
        (tmp_path / "build.yaml").write_text(SPEC.format(primary=primary, more=more), "utf-8")
        return told(work_out(load_build(tmp_path)))
    return run


def least_length(good_enough: Callable[[float], bool]) -> float:
    low, high = 600.0, 2400.0
    while high - low > 1e-3:
        middle = (low + high) / 2
        low, high = (low, middle) if good_enough(middle) else (middle, high)
    return high


BY_WAVE = least_length(lambda f: wavefront_pv_wave(150, f, 0, 35, 550) <= 0.25)
BY_STREHL = least_length(lambda f: strehl(150, f, 0, 35, 550, 0) >= 0.80)


class TestSpheres:
    @pytest.mark.parametrize(("length", "wave", "ratio"), [
        (1800.0, "meets", "meets"), (BY_WAVE + 0.5, "meets", "meets"), (BY_STREHL - 0.5, "misses", "misses"),
        (750.0, "misses", "misses")])
    def test_both_limits(self, say: Say, length: float, wave: str, ratio: str) -> None:
        text = say(f"focal_length: {length} mm, conic: 0")
        assert text.startswith("This sphere of 150 mm at f/")
        assert re.findall(r"\*\*(\w+)\*\*", text) == [wave, ratio]

    def test_by_how_much(self, say: Say) -> None:
        near = say("focal_length: 1300 mm, conic: 0")
        valley = wavefront_pv_wave(150, 1300, 0, 35, 550)
        assert f"{100 * (1 - valley / 0.25):.0f} % below it" in near
        far = say("focal_length: 750 mm, conic: 0")
        assert f"{wavefront_pv_wave(150, 750, 0, 35, 550) / 0.25:.1f} times the limit" in far

    def test_the_shortest_focal_lengths(self, say: Say) -> None:
        text = say("focal_length: 1300 mm, conic: 0")
        assert f"from a focal length of {BY_WAVE:.1f} mm by a quarter wave and {BY_STREHL:.1f} mm" in text
        assert f"This one is {1300 - BY_WAVE:.1f} mm ({100 * (1300 / BY_WAVE - 1):.0f} %) longer than the first" in text
        short = say("focal_length: 1000 mm, conic: 0")
        assert f"{BY_WAVE - 1000:.1f} mm ({100 * (1 - 1000 / BY_WAVE):.0f} %) shorter than the first" in short

    def test_polish_takes_it_below(self, say: Say) -> None:
        text = say(f"focal_length: {BY_STREHL + 5} mm, conic: 0, surface_rms: 8 nm")
        assert "the polish takes it below" in text
        assert "the polish takes it below" not in say(f"focal_length: {BY_STREHL + 5} mm, conic: 0")

    def test_the_two_rules_disagree_only_near_the_limit(self, say: Say) -> None:
        """The hand rule asks for f/8.11 of the whole mirror, 1216 mm; the ring that is left open for less."""
        assert "Two rules disagree" in say("focal_length: 1200 mm, conic: 0")
        for length in (1217, 1800, BY_WAVE - 1, 750):
            assert "Two rules disagree" not in say(f"focal_length: {length} mm, conic: 0")
        assert "Two rules disagree" not in say("focal_length: 1200 mm")


class TestParaboloid:
    def test_what_it_would_give_is_one_times_its_losses(self, say: Say) -> None:
        assert "its Strehl ratio would be 1.000." in say("focal_length: 1200 mm, conic: 0")
        # 10 nm of surface is 20 nm of wavefront: exp(−(2π 20/550)²).
        assert "would be 0.949 with the same polish" in say("focal_length: 1200 mm, conic: 0, surface_rms: 10 nm")

    def test_what_it_would_cost(self, say: Say) -> None:
        text = say("focal_length: 1200 mm, conic: 0", OFFERED % -1)
        assert "[M](parts.html#part-M): for one kit 84.00 EUR more, Strehl ratio 0.82 → 1.00." in text
        assert "It takes the cost of one kit past its limit." in text

    def test_no_price_is_made_up(self, say: Say) -> None:
        assert "What one costs the plan does not say." in say("focal_length: 1200 mm, conic: 0")
        assert "What one costs the plan does not say." in say("focal_length: 1200 mm, conic: 0", OFFERED % "-0.8")

    def test_a_paraboloid_itself(self, say: Say) -> None:
        long, short = say("focal_length: 1200 mm"), say("focal_length: 750 mm")
        for text in (long, short):
            assert re.findall(r"\*\*(\w+)\*\*", text) == ["meets", "meets"]
            assert "with all of it to spare" in text
            assert "its curve takes nothing." in text
        assert "At 1200 mm a sphere would do by both limits." in long
        assert f"would not do by either: that is {BY_WAVE - 750:.1f} mm" in short
        assert "what its own ratio lacks is polish" in say("focal_length: 1200 mm, surface_rms: 10 nm")

    def test_the_sphere_it_could_have_been(self, say: Say) -> None:
        assert "offers a sphere in place of [M]" in say("focal_length: 1200 mm", OFFERED % 0)

    @pytest.mark.parametrize(("conic", "named"), [(-1.4, "hyperboloid"), (-0.5, "ellipsoid"), (0.5, "oblate")])
    def test_what_is_neither(self, say: Say, conic: float, named: str) -> None:
        text = say(f"focal_length: 1200 mm, conic: {conic}")
        assert text.startswith("This ")
        assert named in text.partition(" of 150 mm")[0]
        assert f"this conic leaves {abs(1 + conic):g} times a sphere’s" in text


def test_a_measured_mirror_is_called_by_its_conic(tmp_path: Path) -> None:
    """Knife-edge readings of a sphere from a moving source: none; the fit is near zero, and never quite."""
    (tmp_path / "build.yaml").write_text(SPEC.format(primary="focal_length: 1200 mm", more=""), "utf-8")
    (tmp_path / "found.yaml").write_text(
        "bench:\n  source: moving\n  zones: [20 mm, 40 mm, 55 mm, 70 mm]\n"
        "  readings: [0 mm, 0.01 mm, 0 mm, 0.01 mm]\n", "utf-8")
    design = work_out(load_build(tmp_path, tmp_path / "found.yaml"))
    text = told(design)
    assert re.match(r"This mirror, measured as a conic of [−0-9.]+, of 150 mm at f/8 \*\*meets\*\*", text)
    assert f"{design.results['figure.wavefront_pv'].number:.3f} wave" in text


class TestBudget:
    CELL = "cell: {points: 3, rings: [30 mm], push: {count: 3, radius: 60 mm, against: plate, force: 5 N}}"
    BLANK = "edge_thickness: 25 mm, glass: borosilicate"

    def test_nothing_is_counted_that_nobody_said(self, say: Say) -> None:
        text = say("focal_length: 1200 mm, conic: 0")
        assert "does not say it: the polish, the mirror’s support, the pushes’ pinch and the diagonal’s own" in text
        assert "All together" not in text
        assert "The air" not in text

    def test_the_support_counts(self, say: Say) -> None:
        enough = say(f"focal_length: 1300 mm, conic: 0, surface_rms: 5 nm, {self.BLANK}", self.CELL)
        assert "is left, still enough for 0.80." in enough
        thin = "edge_thickness: 9 mm, glass: borosilicate"
        spent = say(f"focal_length: {BY_STREHL + 0.5} mm, conic: 0, {thin}", self.CELL)
        assert re.search(r"All together 0\.79\d? is left, no longer enough for 0\.80, though the mirror alone", spent)
        assert "is left, not enough for 0.80." in say(f"focal_length: 1000 mm, conic: 0, {self.BLANK}", self.CELL)

    def test_the_air(self, say: Say) -> None:
        """Airy disc of 150 mm at 550 nm: 2 × 0.9224″."""
        text = say("focal_length: 1200 mm", "conditions: {seeing: 4 arcsec}")
        assert "with a seeing of 4″ a star is, at half its brightness, 2.2 times as wide" in text
        assert "the air decides what is seen" in text
        assert "limits can show" in say("focal_length: 1200 mm", "conditions: {seeing: 1 arcsec}")


class TestOtherChoices:
    def test_the_paraboloid(self, demo: Design) -> None:
        table = choices(demo)
        assert table is not None
        remark = next(row.remark for row in table.rows if row.name == "P1: paraboloid of the same size")
        plain = remark.replace("\N{NARROW NO-BREAK SPACE}", " ")
        assert plain.startswith("Instead of Primary mirror, 150 mm f/8, spherical, aluminised: 84.00 EUR more;")
        assert "Strehl ratio 0.81 → 0.99" in plain
        cost = "cost of one kit 343.20 → 427.20 EUR (at most 350.00 EUR, misses by 22 %)"
        assert f"Newly beyond its limit: {cost}." in plain
        assert "No longer limited, though missed now: focal ratio." in plain

    def test_no_sentence_without_a_change(self, demo: Design) -> None:
        table = choices(demo)
        assert table is not None
        for row in table.rows:
            assert row.remark.endswith(".")
            for old, new in re.findall(r"([\d.−]+) → ([\d.−]+)", row.remark):
                assert old != new

    def test_chosen_and_cheapest(self, demo: Design) -> None:
        table = side_by_side(demo)
        assert table is not None
        rows = {row.name: [str(entry).replace("\N{NARROW NO-BREAK SPACE}", " ") for entry in row.entries]
                for row in table.rows}
        assert rows["Cost of one kit"][0] == "343.20 EUR"
        chosen, other = map(int, rows["Limits missed"])
        assert chosen == len(demo.misses)
        newly = [name for name, (before, after) in rows.items() if "misses" in after and "misses" not in before]
        cured = [name for name, (before, after) in rows.items() if "misses" in before and "misses" not in after]
        assert other - chosen == len(newly) - len(cured)
        assert any("P6" in note for note in table.notes)

    def test_what_does_not_fit_says_why(self, tmp_path: Path) -> None:
        (tmp_path / "build.yaml").write_text(SPEC.format(primary="focal_length: 1200 mm", more="""\
parts:
  - {ref: D, name: Diagonal, price: 20,
     instead: [{name: "huge *one* <b>", price: 5, set: {diagonal.minor_axis: 160 mm}}]}
"""), "utf-8")
        table = choices(work_out(load_build(tmp_path)))
        assert table is not None
        (row,) = table.rows
        assert row.remark.startswith("Instead of Diagonal: it does not fit as the plan has it, diagonal.minor_axis: ")
        assert row.entries[-1] == "–"
