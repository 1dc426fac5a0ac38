"""A workshop's sessions, against plans made by hand; and rules that every plan must keep, on random workshops."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.calc.shop.sittings import Job, Sitting, least_sessions, sittings


def times(found: tuple[Sitting, ...]) -> list[tuple[int, int, int, float, float]]:
    return [(each.session, each.job, each.kit, each.start_min, each.end_min) for each in found]


def test_one_saw_two_kits() -> None:
    """One place at the saw: the second kit waits, and is glued while nobody saws."""
    jobs = (Job(30, 1, "saw"), Job(40, 1, "", (0,)))
    found = sittings(jobs, 2, 120, 2, {"saw": 1})
    assert times(found) == [(0, 0, 0, 0, 30), (0, 0, 1, 30, 60), (0, 1, 0, 30, 70), (0, 1, 1, 60, 100)]


def test_what_does_not_fit_before_the_end_waits_for_the_next_session() -> None:
    jobs = (Job(70), Job(60, 1, "", (0,)))
    found = sittings(jobs, 1, 120, 1, {})
    assert times(found) == [(0, 0, 0, 0, 70), (1, 1, 0, 0, 60)]


def test_a_long_job_takes_equal_sittings() -> None:
    found = sittings((Job(300),), 1, 120, 1, {})
    assert times(found) == [(0, 0, 0, 0, 100), (1, 0, 0, 0, 100), (2, 0, 0, 0, 100)]


def test_two_people_for_one_job() -> None:
    """Three people: one pair holds the mirror, and the pair for the second kit has to wait for one of them."""
    found = sittings((Job(20, 2),), 2, 60, 3, {})
    assert times(found) == [(0, 0, 0, 0, 20), (0, 0, 1, 20, 40)]


def test_what_has_to_dry_waits_and_others_work_meanwhile() -> None:
    """Glued at 0:30, dry at 1:10; the second kit is glued meanwhile, and is dry ten minutes before the end."""
    jobs = (Job(30, 1, "glue", (), 40), Job(20, 1, "", (0,)))
    found = sittings(jobs, 2, 120, 2, {"glue": 1})
    assert times(found) == [(0, 0, 0, 0, 30), (0, 0, 1, 30, 60), (0, 1, 0, 70, 90), (0, 1, 1, 100, 120)]


def test_what_dries_overnight_is_gone_on_with_when_it_is_dry() -> None:
    """Dry 720 min after the end at 30: with a day between sessions in the next one, with an hour between them later."""
    jobs = (Job(30, 1, "", (), 720), Job(20, 1, "", (0,)))
    assert [(each.session, each.opens_min) for each in sittings(jobs, 1, 60, 1, {}, 1440)] == [(0, 0), (1, 1500)]
    assert [(each.session, each.opens_min) for each in sittings(jobs, 1, 60, 1, {}, 60)] == [(0, 0), (1, 750)]
    assert least_sessions(jobs, 1, 60, 1, {}) == 2


def test_day_and_night_are_not_the_same_session() -> None:
    """By daylight, in any light, by night: 30 min in all, and never in one evening."""
    jobs = (Job(10, 1, "", (), 0, "daylight"), Job(10, 1, "", (0,)), Job(10, 1, "", (1,), 0, "night"))
    assert times(sittings(jobs, 1, 120, 1, {})) == [(0, 0, 0, 0, 10), (0, 1, 0, 10, 20), (1, 2, 0, 0, 10)]
    assert least_sessions(jobs, 1, 120, 1, {}) == 2


@pytest.mark.parametrize(("jobs", "kits", "people", "places", "why"), [
    ((Job(20, 3),), 1, 2, {}, "3 people"), ((Job(20, 1, "lathe"),), 1, 2, {}, "lathe"), ((Job(0),), 1, 1, {}, "above"),
    ((Job(5),), 0, 1, {}, "at least one kit"), ((Job(5, 1, "", (0,)),), 1, 1, {}, "before it"),
])
def test_what_cannot_be(jobs: tuple[Job, ...], kits: int, people: int, places: dict[str, int], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        sittings(jobs, kits, 60, people, places)


@st.composite
def workshops(draw: st.DrawFn) -> tuple[tuple[Job, ...], int, int, dict[str, int]]:
    people = draw(st.integers(1, 5))
    places = {"saw": draw(st.integers(1, 2)), "glue": draw(st.integers(1, 2))}
    jobs = tuple(Job(draw(st.integers(5, 150)), draw(st.integers(1, people)), draw(st.sampled_from(["", *places])),
                     tuple(sorted(draw(st.sets(st.integers(0, number - 1), max_size=2)))) if number else (),
                     draw(st.sampled_from([0, 0, 20, 90])), draw(st.sampled_from(["", "", "daylight", "night"])))
                 for number in range(draw(st.integers(1, 6))))
    return jobs, draw(st.integers(1, 4)), people, places


@settings(max_examples=60, deadline=None)
@given(workshops())
def test_every_plan_keeps_the_rules(workshop: tuple[tuple[Job, ...], int, int, dict[str, int]]) -> None:
    jobs, kits, people, places = workshop
    length = 60.0
    found = sittings(jobs, kits, length, people, places, 45)
    opened = sorted({(each.session, each.opens_min) for each in found})
    assert [session for session, _ in opened] == list(range(len(opened)))
    assert all(later - earlier >= length + 45 - 1e-6 for (_, earlier), (_, later) in pairwise(opened))
    for session, _ in opened:
        assert len({jobs[each.job].light for each in found if each.session == session} - {""}) <= 1
    spent = Counter[tuple[int, int]]()
    for each in found:
        spent[each.job, each.kit] += round(1000 * (each.end_min - each.start_min))
        assert 0 <= each.start_min < each.end_min <= length + 1e-6
        mine = each.opens_min + each.start_min
        before = [other for other in found if other.kit == each.kit and other.job in jobs[each.job].needs]
        assert all(other.opens_min + other.end_min + jobs[other.job].wait_min <= mine + 1e-6 for other in before)
        at_once = [other for other in found if other.session == each.session
                   and other.start_min <= each.start_min + 1e-9 < other.end_min]
        assert sum(jobs[other.job].people for other in at_once) <= people
        assert len({other.kit for other in at_once}) == len(at_once), "one kit in two places at once"
        for bench, count in places.items():
            assert sum(jobs[other.job].bench == bench for other in at_once) <= count
    assert spent.keys() == {(number, kit) for number in range(len(jobs)) for kit in range(kits)}
    assert all(abs(time - 1000 * jobs[number].minutes) < 10 for (number, _), time in spent.items())
    assert max(each.session for each in found) + 1 >= least_sessions(jobs, kits, length, people, places)
