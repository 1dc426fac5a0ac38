"""Every build loads, its steps hang together; the demos are of the size of real plans and warn where they must."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
import yaml

from dossier.design import Design, work_out
from dossier.spec.load import load_build

NUMBERED = re.compile(r"(\d\d)-([a-z][a-z-]*)\.md")


@pytest.fixture(scope="session")
def design(said: Any, worked_out: Any) -> Design:
    return worked_out(said)


def heads(said: Any) -> list[tuple[str, dict[str, Any]]]:
    """Each step's name without its number, and its front matter, in order."""
    files = sorted((said.folder / "pages" / "steps").glob("*.md"))
    found = []
    for number, path in enumerate(files, start=1):
        named = NUMBERED.fullmatch(path.name)
        assert named, path.name
        assert int(named[1]) == number, f"{path.name} is step {number}"
        found.append((named[2], yaml.safe_load(path.read_text(encoding="utf-8").split("---\n")[1])))
    return found


def test_the_build_is_worked_out(design: Design) -> None:
    assert design.results
    assert all(math.isfinite(result.number) for result in design.results.values()
               if not isinstance(result.value, tuple))


# Springs are bought by their rate, so nothing is known of their wire; nobody has measured the joints' play.
# Of card nobody publishes a stiffness, and a build to begin from need not say how it cools.
SPRING_WIRE = {"cell.spring_index", "cell.curvature_factor", "cell.wire_stress", "cell.wire_strength",
               "cell.stress_share", "cell.solid_length", "cell.travel_in_hand", "cell.buckling_length",
               "cell.spring_preload", "cell.adjuster_rate"}
# No part says how far off the axis it lies; the rocker to begin from has no sizes yet.
ROCKER = {"rocker.friction", "rocker.hold_share", "rocker.holds_above", "rocker.push", "mount.feet_reach",
          "mount.tipping_margin", "mount.push_height", "mount.tipping_push", "mount.swing_clearance"}
NO_WEIGHT = {"balance.counter_arm", "balance.counterweight"}
NOT_SAID = {
    "teasel-150": {*SPRING_WIRE, "frame.play_tilt", "thread.p44.strength_share"},
    # The club measured how stiff its card is, not how it swells; its telescope balances where it is hung.
    "bramble-76": {"frame.focus_drift", *NO_WEIGHT},
    "alder-250": {"thread.p53.strength_share"},
    "starter": {*SPRING_WIRE, *ROCKER, *NO_WEIGHT, "balance.across", "collimation.strehl",
                "frame.upper_mass", "frame.stiffness", "frame.sag", "frame.tilt", "frame.frequency",
                "frame.collimation_share", "frame.focus_drift", "thermal.time_constant", "thermal.settling_time",
                "thermal.settling_time_hottest", "thermal.settling_time_lumped"},
}


def test_the_spec_says_enough_for_everything_but_a_bench_test(design: Design, said: Any) -> None:
    assert {name for name in design.left_out if not name.startswith("bench.")} == NOT_SAID[said.folder.name]


def test_every_part_is_used_in_a_step(said: Any) -> None:
    used = {ref for _, head in heads(said) for ref in head.get("parts", [])}
    assert [part["ref"] for part in said.parts() if part["ref"] not in used] == []


def test_every_step_uses_parts_that_there_are(said: Any) -> None:
    refs = {part["ref"] for part in said.parts()}
    assert {ref for _, head in heads(said) for ref in head.get("parts", [])} <= refs


def test_every_step_needs_only_what_came_before(said: Any) -> None:
    done: set[str] = set()
    for name, head in heads(said):
        assert set(head.get("needs", [])) <= done, name
        done.add(name)


def test_every_step_has_a_check_and_a_time(said: Any) -> None:
    for name, head in heads(said):
        assert head["checks"], name
        assert head["time"].endswith(" min"), name


def test_every_part_says_why(said: Any) -> None:
    assert [part["ref"] for part in said.parts() if len(part.get("why", "")) < 20] == []


def test_what_is_bought_has_a_price_a_date_and_a_supplier(said: Any) -> None:
    bought = [part for part in said.parts() if part["get"] == "buy"]
    assert all("price" in part and "priced_on" in part and "supplier" in part for part in bought)


def test_the_teasel_shows_all_three_outcomes(teasel: Any, worked_out: Any) -> None:
    outcomes = {result.goal.outcome(result.number) for result in worked_out(teasel).results.values() if result.goal}
    assert outcomes == {"meets", "close", "misses"}


def test_the_alder_meets_all_that_is_asked_of_it(alder: Any, worked_out: Any) -> None:
    assert worked_out(alder).misses == ()


@pytest.mark.parametrize("name", ["teasel", "alder"])
def test_a_club_s_demo_is_of_the_size_of_a_real_plan(request: pytest.FixtureRequest, name: str) -> None:
    build = request.getfixturevalue(name)
    assert len(build.parts()) >= 45
    assert 12 <= len(heads(build)) <= 20


def test_every_demo_sets_goals_and_has_the_sheets_of_a_plan(demo: Any) -> None:
    assert 6 <= len(demo.at("goals")) <= 10
    assert all(goal.get("because") for goal in demo.at("goals"))
    pages = {path.stem for path in (demo.folder / "pages").glob("*.md")}
    assert pages >= {"overview", "optics", "structure", "parts", "steps", "safety", "downloads", "collimation",
                     "first-light"}


WARNED_OF = {
    "teasel-150": {"fire", "sun", "epoxy", "metal-dust", "wood-dust", "printing-fumes", "tip-over"},
    "bramble-76": {"fire", "sun", "hand-tools", "power-tools", "wood-dust", "tip-over", "night-site", "children"},
    "alder-250": {"fire", "sun", "epoxy", "metal-dust", "wood-dust", "printing-fumes", "tip-over", "heavy-lifting",
                  "lithium", "laser", "solvents", "power-tools", "night-site"},
}


def test_a_demo_warns_where_its_steps_need_it(demo: Any) -> None:
    assert WARNED_OF[demo.folder.name] <= {topic for _, head in heads(demo) for topic in head.get("cautions", [])}


def test_measured_examples_lie_over_their_plans(demo: Any) -> None:
    found = sorted((demo.folder / "measured").glob("*.yaml"))
    assert found
    for path in found:
        design = work_out(load_build(demo.folder, measured=path))
        assert "bench.conic" in design.results
        assert design.results["bench.wavefront_pv"].number < 0.25
