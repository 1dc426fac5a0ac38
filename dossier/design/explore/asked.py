"""What is asked: by a command in words, or by the spec's own studies. Everything that is wrong is told at once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from dossier.design.alternatives import Asked, asked_of
from dossier.design.explore.ground import Ground, NoBuild, ground_under, results_on
from dossier.design.explore.points import Axis, Study, key_axis, part_axis, size_of, worked_out
from dossier.design.model import Design
from dossier.design.shown import unknown_shown
from dossier.errors import Problem, Unusable, did_you_mean
from dossier.spec.consistency import MOST_VARIED, choice_fault
from dossier.spec.ranges import Range, read_range

# A thousand points of a build with all its limits take some seconds.
MOST_POINTS = 5000


def study_asked(ground: Ground, vary: Iterable[str], choose: Iterable[str], show: Sequence[str], *,
                alone: bool = False) -> Study:
    """The study that a command asks for: ``KEY=FROM:TO:STEP`` or ``KEY=A,B,C`` for each key, references of parts whose
    other choices are tried, and the IDs of the results shown; those with a limit where none is named.

    Raises Unusable with every problem.
    """
    problems: list[Problem] = []
    ranges = [found for said in vary if (found := _range(said, problems)) is not None]
    places = [place for ref in choose if (place := _place(ground, ref, problems)) is not None]
    problems += _twice("--vary", [each.key for each in ranges])
    problems += _twice("--choose", [ground.loaded.build.parts[at].ref for at in places])
    problems += [Problem("--show", 0, name, f"no result has this name{did_you_mean(name, ground.plan)}")
                 for name in show if name not in ground.plan]
    if len(ranges) > MOST_VARIED:
        problems.append(Problem("--vary", 0, "", f"is given {len(ranges)} keys; one or two can be told in a table"))
    if problems:
        raise Unusable(problems)
    axes = _axes(ground, ranges, places)
    if (count := size_of(axes, alone)) > MOST_POINTS:
        raise Unusable([Problem("--vary", 0, "", f"makes {count} points, of which at most {MOST_POINTS} are worked "
                                                 "out; take a longer step")])
    try:
        return worked_out(ground, axes, tuple(dict.fromkeys(show)) or judged_in(ground), alone=alone)
    except NoBuild as why:
        raise Unusable([ground.loaded.problem("", f"as planned: {why}")]) from None


def studies_of(design: Design) -> tuple[Study, ...]:
    """The studies of the spec, worked out from the plan. Raises Unusable where one has too many points."""
    return _studies(asked_of(design.planned or design))


@lru_cache(maxsize=2)
def _studies(asked: Asked) -> tuple[Study, ...]:
    return studies_in(ground_under(asked.design))


def studies_in(ground: Ground) -> tuple[Study, ...]:
    """The studies of a spec. Raises Unusable where one has too many points, or shows what there is not."""
    loaded = ground.loaded
    if problems := list(unknown_shown(loaded, ground.plan)):
        raise Unusable(problems)
    try:
        return tuple(_of_spec(ground, place) for place in range(len(loaded.build.explore)))
    except NoBuild as why:
        raise Unusable([loaded.problem("", f"as planned: {why}")]) from None


def _of_spec(ground: Ground, number: int) -> Study:
    said, build = ground.loaded.build.explore[number], ground.loaded.build
    refs = [part.ref for part in build.parts]
    axes = _axes(ground, [read_range(key, value) for key, value in said.vary.items()],
                 [refs.index(ref) for ref in said.choose])
    alone = bool(said.one_at_a_time) and not said.vary
    if (count := size_of(axes, alone)) > MOST_POINTS:
        raise Unusable([ground.loaded.problem(f"explore[{number}]", f"has {count} points, of which at most "
                                                                    f"{MOST_POINTS} are worked out")])
    return worked_out(ground, axes, said.show or judged_in(ground), name=said.name, because=said.because or "",
                      alone=alone)


def judged_in(ground: Ground) -> tuple[str, ...]:
    """The results that the author has set a limit on; where he has set none, those with a usual limit."""
    own = tuple(dict.fromkeys(goal.result for goal in ground.loaded.build.goals))
    if own:
        return own
    results, _ = results_on(ground.sheet({}), ground.plan)
    return tuple(name for name, result in results.items() if result.goal)


def _axes(ground: Ground, ranges: Iterable[Range], places: Iterable[int]) -> tuple[Axis, ...]:
    return (*(part_axis(ground, place) for place in places), *(key_axis(ground, said) for said in ranges))


def _range(said: str, problems: list[Problem]) -> Range | None:
    key, equals, values = said.partition("=")
    key = key.strip()
    if not equals:
        problems.append(Problem("--vary", 0, "", "wants KEY=FROM:TO:STEP, such as primary.focal_length="
                                                 f"900mm:1500mm:50mm (got {said})"))
        return None
    try:
        return read_range(key, values.strip())
    except ValueError as error:
        problems.append(Problem("--vary", 0, key, str(error)))
    return None


def _place(ground: Ground, ref: str, problems: list[Problem]) -> int | None:
    if fault := choice_fault(ground.loaded.build, ref):
        problems.append(Problem("--choose", 0, ref, fault))
        return None
    return next(place for place, part in enumerate(ground.loaded.build.parts) if part.ref == ref)


def _twice(option: str, names: Sequence[str]) -> list[Problem]:
    return [Problem(option, 0, name, "is asked for twice") for name in dict.fromkeys(names) if names.count(name) > 1]
