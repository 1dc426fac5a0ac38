"""A workshop's plan and its bound against the fewest sessions there can be, found by trying every way to begin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.calc.shop.sittings import Job, least_sessions, sittings

LENGTH = 6  # of a session, in steps of time; between sessions everything dries and every machine comes to its end

Left = tuple[int, ...]  # sittings left of each job on each kit


@dataclass(frozen=True)
class Now:
    """A moment of a session: what is at work until when, which places machines keep, what is ready only later."""

    at: int
    left: Left
    light: str
    at_work: tuple[tuple[int, int], ...] = ()
    kept: tuple[tuple[int, str], ...] = ()
    later: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Shop:
    """Every job on every kit, side by side."""

    jobs: tuple[Job, ...]
    kits: int
    people: int
    places: dict[str, int]

    def job(self, each: int) -> Job:
        return self.jobs[each // self.kits]

    def sittings(self, each: int) -> int:
        return -(-round(self.job(each).minutes) // LENGTH)

    def lasts(self, each: int) -> int:
        return round(self.job(each).minutes) // self.sittings(each)

    def can_begin(self, now: Now, each: int) -> bool:
        job, others = self.job(each), [other for _, other in now.at_work]
        needs = [need * self.kits + each % self.kits for need in job.needs]
        mine = [other for other in others if other % self.kits == each % self.kits]
        late = {what: when for when, what in now.later}
        taken = [self.job(other).bench for other in others] + [bench for until, bench in now.kept if until > now.at]
        return (now.left[each] > 0 and each not in others and not any(now.left[need] for need in needs)
                and all(late.get(need, 0) <= now.at for need in needs)
                and now.at + self.lasts(each) <= LENGTH and not (now.light and job.light and now.light != job.light)
                and not any(self.job(other).holds & job.holds for other in mine)
                and sum(self.job(other).people for other in others) + job.people <= self.people
                and (not job.bench or taken.count(job.bench) < self.places[job.bench]))

    def next(self, now: Now) -> Iterator[Now]:
        for each in range(len(now.left)):
            if self.can_begin(now, each):
                yield Now(now.at, now.left, now.light or self.job(each).light,
                          tuple(sorted((*now.at_work, (now.at + self.lasts(each), each)))), now.kept, now.later)
        if now.at < LENGTH:
            yield self.ended(now)

    def ended(self, now: Now) -> Now:
        """A step later."""
        left, kept, later = list(now.left), list(now.kept), list(now.later)
        for until, each in now.at_work:
            if until == now.at + 1:
                left[each] -= 1
                job = self.job(each)
                if not left[each]:
                    later.append((until + round(job.machine_min + job.wait_min), each))
                    kept += [(until + round(job.machine_min), job.bench)] if job.machine_min else []
        return Now(now.at + 1, tuple(left), now.light, tuple(work for work in now.at_work if work[0] > now.at + 1),
                   tuple(sorted(kept)), tuple(sorted(later)))

    def after_a_session(self, left: Left) -> set[Left]:
        seen, ends, open_ = set[Now](), set[Left](), [Now(0, left, "")]
        while open_:
            now = open_.pop()
            if now not in seen:
                seen.add(now)
                if now.at == LENGTH:
                    ends.add(now.left)
                open_ += self.next(now)
        return ends

    def fewest(self) -> int:
        reached, count = {tuple(self.sittings(each) for each in range(len(self.jobs) * self.kits))}, 0
        while all(any(left) for left in reached):
            reached, count = {end for left in reached for end in self.after_a_session(left)}, count + 1
        return count


@st.composite
def shops(draw: st.DrawFn) -> Shop:
    people = draw(st.integers(1, 3))
    number = draw(st.integers(1, 4))
    jobs = tuple(Job(draw(st.sampled_from([1, 2, 3, 4, 5, 6, 8])), draw(st.integers(1, people)),
                     draw(st.sampled_from(["", "saw", "printer"])),
                     tuple(sorted(draw(st.sets(st.integers(0, each - 1), max_size=2)))) if each else (),
                     draw(st.sampled_from([0, 0, 2, 20])), draw(st.sampled_from(["", "", "", "daylight", "night"])),
                     draw(st.sampled_from([0, 0, 2, 20])), frozenset(draw(st.sets(st.sampled_from("ab"), max_size=1))))
                 for each in range(number))
    return Shop(jobs, draw(st.integers(1, 2 if number < 3 else 1)), people,
                {"saw": draw(st.integers(1, 2)), "printer": 1})


def test_a_case_solved_by_hand() -> None:
    """Three kits at one printer that works for days: a session each, and one more for what needs the last."""
    shop = Shop((Job(2, 1, "printer", (), 0, "", 20), Job(1, 1, "", (0,))), 3, 3, {"printer": 1})
    assert shop.fewest() == 4


@settings(max_examples=40, deadline=None)
@given(shops())
def test_the_bound_is_not_above_the_fewest_and_the_plan_not_below(shop: Shop) -> None:
    fewest = shop.fewest()
    plan = sittings(shop.jobs, shop.kits, LENGTH, shop.people, shop.places, 1)
    assert least_sessions(shop.jobs, shop.kits, LENGTH, shop.people, shop.places) <= fewest
    assert fewest <= plan[-1].session + 1
