"""The ground that neighbours of a build stand on: the build as its author wrote it, its expressions still in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from dossier.design.goals import with_goals
from dossier.design.materials import unknown_materials
from dossier.design.model import Design
from dossier.design.plan import plan_for
from dossier.design.resolve import live_sheet
from dossier.design.worksheet import Loop, NotSaid, Work, Worksheet
from dossier.errors import Problem, Unusable
from dossier.expressions import NameProblem
from dossier.spec.changed import with_numbers
from dossier.spec.deferred import OPENS
from dossier.spec.keys import value_at
from dossier.spec.load import Loaded, with_values
from dossier.working import NoAnswer, Result

# What nobody plans and every builder has a little of.
NOTHING_PLANNED = frozenset({"primary.tilt"})


class NoBuild(Exception):
    """There is no such build; the message says why."""


@dataclass(frozen=True)
class Ground:
    """A build as written, and the plan of its results. The plan follows from words and lists, never from a quantity."""

    loaded: Loaded
    plan: Mapping[str, Work]
    kits: int = 1

    def sheet(self, numbers: Mapping[str, float], kind: type[Worksheet] = Worksheet) -> Worksheet:
        """A fresh sheet for the same build with these numbers. NoBuild where it cannot stand."""
        try:
            changed = with_numbers(self.loaded, numbers) if numbers else self.loaded
        except Unusable as error:
            raise NoBuild(told(error.problems)) from None
        return live_sheet(changed, self.plan, self.kits, kind)

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


def ground_of(loaded: Loaded, kits: int = 1) -> Ground:
    """The ground of a build as it was read."""
    return Ground(loaded, plan_for(loaded), kits)


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
