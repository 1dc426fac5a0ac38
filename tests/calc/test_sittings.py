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


def test_jobs_on_one_kit_go_on_at_once_unless_they_hold_one_thing() -> None:
    """Two boards at two benches; drilling and sanding one board follow one another. Two people, 40 minutes."""
    jobs = (Job(20, 1, "saw", (), 0, "", 0, frozenset({"a"})), Job(20, 1, "drill", (), 0, "", 0, frozenset({"b"})),
            Job(20, 1, "sand", (), 0, "", 0, frozenset({"b"})))
    found = sittings(jobs, 1, 60, 2, {"saw": 1, "drill": 1, "sand": 1})
    assert times(found) == [(0, 0, 0, 0, 20), (0, 1, 0, 0, 20), (0, 2, 0, 20, 40)]


def test_a_machine_keeps_its_place_and_its_job_but_no_hands() -> None:
    """One person, one printer: set up by 0:10, at work until 0:40. Meanwhile something else is begun on both kits, the
    second of which keeps the hands until 1:00; the second print then works until 1:40."""
    jobs = (Job(10, 1, "printer", (), 0, "", 30), Job(20, 1, "", (0,)), Job(25, 1))
    found = sittings(jobs, 2, 120, 1, {"printer": 1})
    assert times(found) == [(0, 0, 0, 0, 10), (0, 2, 0, 10, 35), (0, 2, 1, 35, 60), (0, 0, 1, 60, 70),
                            (0, 1, 0, 70, 90), (0, 1, 1, 100, 120)]


def test_kits_queue_for_a_machine_that_works_between_sessions() -> None:
    """44 h at one printer, sessions of 3 h with 12 h between: 15 h from one opening to the next, so that the second
    kit's print is begun 46 h after the first opening, when the printer is free, and not in the fourth session at 45 h;
    the fifth is opened for what needs the second print."""
    jobs = (Job(120, 1, "printer", (), 0, "", 44 * 60), Job(60, 1, "", (0,)))
    found = sittings(jobs, 2, 180, 4, {"printer": 1}, 720)
    opened = [(each.job, each.kit, each.session, (each.opens_min + each.start_min) / 60) for each in found]
    assert opened == [(0, 0, 0, 0), (0, 1, 1, 46), (1, 0, 1, 46), (1, 1, 2, 92)]
    assert least_sessions(jobs, 2, 180, 4, {"printer": 1}) == 3


def test_two_printers_halve_the_queue() -> None:
    jobs = (Job(120, 1, "printer", (), 0, "", 44 * 60),)
    found = sittings(jobs, 5, 180, 4, {"printer": 2}, 720)
    assert Counter(each.session for each in found) == {0: 2, 1: 2, 2: 1}
    assert least_sessions(jobs, 5, 180, 4, {"printer": 2}) == 3


def test_the_plan_of_fewest_sessions_is_taken() -> None:
    """Taking the earliest step first, both short jobs go before the long chain, which then needs a third session."""
    jobs = (Job(30), Job(30), Job(30, 1, "", (), 0, "", 0), Job(50, 1, "", (2,)), Job(10, 1, "", (3,)))
    found = sittings(jobs, 1, 60, 2, {})
    assert max(each.session for each in found) + 1 == least_sessions(jobs, 1, 60, 2, {}) == 2


@pytest.mark.parametrize(("jobs", "kits", "people", "places", "why"), [
    ((Job(5, 1, "", (), 0, "", -1),), 1, 1, {}, "zero or above"),
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
                     draw(st.sampled_from([0, 0, 20, 90])), draw(st.sampled_from(["", "", "daylight", "night"])),
                     draw(st.sampled_from([0, 0, 0, 15, 50, 200])), frozenset(draw(st.sets(st.sampled_from("ab")))))
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
    lasts = {(each.job, each.kit): each for each in found}
    spent = Counter[tuple[int, int]]()
    for each in found:
        spent[each.job, each.kit] += round(1000 * (each.end_min - each.start_min))
        assert 0 <= each.start_min < each.end_min <= length + 1e-6
        mine = each.opens_min + each.start_min
        before = [other for other in found if other.kit == each.kit and other.job in jobs[each.job].needs]
        assert all(other.opens_min + other.end_min + jobs[other.job].machine_min * (other is lasts[other.job, each.kit])
                   + jobs[other.job].wait_min <= mine + 1e-6 for other in before)
        at_once = [other for other in found if other.session == each.session
                   and other.start_min <= each.start_min + 1e-9 < other.end_min]
        assert sum(jobs[other.job].people for other in at_once) <= people
        assert len({(other.job, other.kit) for other in at_once}) == len(at_once), "one job twice at once"
        for kit in range(kits):
            held = Counter(thing for other in at_once if other.kit == kit for thing in jobs[other.job].holds)
            assert max(held.values(), default=0) <= 1, "one thing in two hands at once"
        working = [other for (job, kit), other in lasts.items()
                   if other.opens_min + other.end_min - 1e-6 <= mine < other.opens_min + other.end_min
                   + jobs[job].machine_min - 1e-6]
        for bench, count in places.items():
            assert sum(jobs[other.job].bench == bench for other in (*at_once, *working)) <= count
    assert spent.keys() == {(number, kit) for number in range(len(jobs)) for kit in range(kits)}
    assert all(abs(time - 1000 * jobs[number].minutes) < 10 for (number, _), time in spent.items())
    assert max(each.session for each in found) + 1 >= least_sessions(jobs, kits, length, people, places)
