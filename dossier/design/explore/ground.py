"""The ground that neighbours of a build stand on: the build as its author wrote it, its expressions still in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from dossier.design.goals import with_goals
from dossier.design.materials import unknown_materials
from dossier.design.model import Design
from dossier.design.plan import plan_for
from dossier.design.resolve import Names, live_sheet
from dossier.design.worksheet import Loop, NotSaid, Work, Worksheet
from dossier.errors import Problem, Unusable
from dossier.expressions import NameProblem
from dossier.spec.changed import with_numbers
from dossier.spec.deferred import OPENS
from dossier.spec.keys import value_at
from dossier.spec.load import Loaded, with_values
from dossier.working import Given, NoAnswer, Result

# What nobody plans and every builder has a little of.
NOTHING_PLANNED = frozenset({"primary.tilt"})


class NoBuild(Exception):
    """There is no such build; the message says why."""


@dataclass(frozen=True)
class Ground:
    """A build as written, and the plan of its results. The plan follows from words and lists, never from a quantity.

    ``known`` are results that no number put in can change; see ``settled``.
    """

    loaded: Loaded
    plan: Mapping[str, Work]
    kits: int = 1
    known: Mapping[str, Result] = field(default_factory=dict)

    @cached_property
    def names(self) -> Names:
        """What its expressions may name, which no number changes."""
        return Names(self.loaded, self.plan)

    def sheet(self, numbers: Mapping[str, float], kind: type[Worksheet] = Worksheet) -> Worksheet:
        """A fresh sheet for the same build with these numbers. NoBuild where it cannot stand."""
        try:
            changed = with_numbers(self.loaded, numbers) if numbers else self.loaded
        except Unusable as error:
            raise NoBuild(told(error.problems)) from None
        sheet = live_sheet(changed, self.plan, self.kits, kind, self.names)
        sheet.know(self.known)
        return sheet

    def settled(self, numbers: Mapping[str, float], wanted: Iterable[str]) -> Settled:
        """The same ground for many builds that differ in these keys alone: what ``wanted`` needs on the way and none of
        the keys can change is worked out here, once. NoBuild where the build with these numbers is none."""
        sheet = self.sheet(numbers, Recording)
        assert isinstance(sheet, Recording)
        keys, reached = frozenset(numbers), set()
        results: dict[str, Result] = {}
        for name in wanted:
            with sheet.recording() as asked:
                found, _ = results_on(sheet, [name])
            results |= found
            if asked & keys:
                reached.add(name)
        numbers_known = {key: value for key, (value, asked) in sheet.worked_keys.items() if not asked & keys}
        fixed = with_numbers(self.loaded, numbers_known) if numbers_known else self.loaded
        known = {name: result for name, result in sheet.done().items() if not sheet.asked_by[name] & keys}
        return Settled(replace(self, loaded=fixed, known=known), results, frozenset(reached))

    def otherwise(self, values: Mapping[str, Any]) -> Ground:
        """The same build with other words, lists or numbers, by key, each as its author would write it.

        NoBuild where they make none.
        """
        if not values:
            return self
        try:
            changed = with_values(self.loaded, values)
        except Unusable as error:
            raise NoBuild(told(error.problems)) from None
        if problems := list(unknown_materials(changed)):
            raise NoBuild(told(problems))
        return ground_of(changed, self.kits)


@dataclass(frozen=True)
class Settled:
    """A ground with all that is known, the wanted ``results`` of the build it was settled at, and which of them, or of
    their limits, the keys reach."""

    ground: Ground
    results: Mapping[str, Result]
    reached: frozenset[str]


class Recording(Worksheet):
    """A sheet that keeps by which keys each result was worked out, directly or by way of others."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.asked_by: dict[str, frozenset[str]] = {}
        self.worked_keys: dict[str, tuple[float, frozenset[str]]] = {}
        self._asking: list[set[str]] = []

    @contextmanager
    def recording(self) -> Iterator[set[str]]:
        """The keys that are asked for meanwhile, by whatever is worked out or was before."""
        asked: set[str] = set()
        self._asking.append(asked)
        try:
            yield asked
        finally:
            self._asking.pop()
            if self._asking:
                self._asking[-1] |= asked

    def result(self, result_id: str) -> Result:
        with self.recording() as asked:
            asked |= self.asked_by.get(result_id, frozenset())
            try:
                return super().result(result_id)
            finally:
                self.asked_by[result_id] = frozenset(asked)

    def given(self, key: str) -> Given:
        if self._asking:
            self._asking[-1].add(key)
        return super().given(key)

    def says(self, key: str) -> bool:
        if self._asking:
            self._asking[-1].add(key)
        return super().says(key)

    def _resolved(self, key: str) -> float:
        with self.recording() as asked:
            value = super()._resolved(key)
        self.worked_keys[key] = (value, frozenset(asked))
        return value


def ground_of(loaded: Loaded, kits: int = 1) -> Ground:
    """The ground of a build as it was read."""
    return Ground(loaded, plan_for(loaded), kits)


def ground_read(loaded: Loaded, kits: int = 1) -> Ground:
    """The ground of a build as it was read, looked over first. Raises Unusable with what is wrong."""
    if problems := list(unknown_materials(loaded)):
        raise Unusable(problems)
    return ground_of(loaded, kits)


def ground_under(design: Design) -> Ground:
    """The ground of a build that was worked out: its expressions put back where its author wrote them."""
    loaded, build = design.loaded, design.build
    said = {key: spot.said for key, spot in loaded.spots.items()
            if OPENS in spot.said and ".set." not in key and not isinstance(value_at(build, key), str)}
    return ground_of(with_values(loaded, said) if said else loaded, design.kits)


def results_on(sheet: Worksheet, wanted: Iterable[str]) -> tuple[Mapping[str, Result], Mapping[str, str]]:
    """These results, each with its goal, and why the others are not there. NoBuild where there is no such build."""
    results: dict[str, Result] = {}
    missing: dict[str, str] = {}
    try:
        for result_id in wanted:
            try:
                results[result_id] = sheet.result(result_id)
            except NotSaid as silent:
                missing[result_id] = f"the spec does not say {silent}"
            except NoAnswer as reason:
                missing[result_id] = str(reason)
            except KeyError:
                missing[result_id] = "this build has no such result"
        judged, _ = with_goals(sheet, results, missing)
    except Loop as loop:
        raise NoBuild(f"it depends on itself: {loop}") from None
    except Unusable as error:
        raise NoBuild(told(error.problems)) from None
    except (NameProblem, ValueError, ArithmeticError) as error:
        raise NoBuild(str(error)) from None
    return judged, missing


def centre_of(sheet: Worksheet, key: str) -> float:
    """The number that a key has in a build: what is said there; else the result of the same name, as of a diagonal
    whose offset is worked out; else nothing, where nothing is the plan. NotSaid where there is none."""
    try:
        value = sheet.given(key).value
        if not isinstance(value, tuple):
            return value
    except NotSaid:
        pass
    if key in sheet.plan:
        return sheet.result(key).number
    if key in NOTHING_PLANNED:
        return 0.0
    raise NotSaid(key)


def told(problems: Iterable[Problem]) -> str:
    """Problems as one sentence."""
    return "; ".join(dict.fromkeys(f"{each.key} {each.message}" if each.key else each.message for each in problems))
