"""A study: the points at which a build is worked out again, and what comes of each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from dossier.design.alternatives import bought
from dossier.design.explore.ground import Ground, NoBuild, centre_of, results_on
from dossier.design.worksheet import NotSaid
from dossier.expressions import NameProblem
from dossier.spec.deferred import OPENS
from dossier.spec.entries import Whole
from dossier.spec.ranges import Range, number_entry
from dossier.working import NoAnswer, Result

AS_PLANNED = "as planned"


@dataclass(frozen=True, slots=True)
class Setting:
    """One value of an axis: a ``number`` in the axis's unit, or in ``words`` the choice of a part and the ``values``
    that it puts in, by key. The choice that is planned puts in nothing."""

    number: float = math.nan
    words: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Axis:
    """What is varied: a key with its unit, or a part's reference with the part's name; and its settings.

    ``planned`` is the number that the plan has at the key; not a number for a part, or where the plan says none.
    """

    key: str
    settings: tuple[Setting, ...]
    unit: str = ""
    part: str = ""
    planned: float = math.nan


@dataclass(frozen=True, slots=True)
class Point:
    """A build that was worked out: its setting on each axis, what is shown of it with its goals, and what is not there
    and why. ``unusable`` says why there is no such build; nothing is shown of it then."""

    settings: tuple[Setting, ...]
    results: Mapping[str, Result]
    missing: Mapping[str, str]
    unusable: str = ""


@dataclass(frozen=True, slots=True)
class Study:
    """Points in the order of their axes, the last running fastest; or the plan first, then each other choice alone.

    ``planned`` is what is shown of the build as planned.
    """

    name: str
    because: str
    axes: tuple[Axis, ...]
    shown: tuple[str, ...]
    points: tuple[Point, ...]
    planned: Mapping[str, Result]
    alone: bool = False

    @property
    def varied(self) -> tuple[Axis, ...]:
        """The axes that are keys with numbers."""
        return tuple(axis for axis in self.axes if not axis.part)


def key_axis(ground: Ground, said: Range) -> Axis:
    """The axis of a key."""
    return Axis(said.key, tuple(Setting(number=value) for value in said.values), said.unit,
                planned=_planned(ground, said.key))


def part_axis(ground: Ground, place: int) -> Axis:
    """The axis of a part's choices: the one that is planned, then each below ``instead``."""
    part = ground.loaded.build.parts[place]
    others = (Setting(words=choice.name, values={**bought(place, part, choice), **_set(ground, place, number)})
              for number, choice in enumerate(part.instead))
    return Axis(part.ref, (Setting(words=AS_PLANNED), *others), part=part.name)


def _set(ground: Ground, place: int, number: int) -> dict[str, Any]:
    """What a choice sets, with its expressions as the author wrote them."""
    spots, section = ground.loaded.spots, f"parts[{place}].instead[{number}].set"
    said = {key: spots.get(f"{section}.{key}") for key in ground.loaded.build.parts[place].instead[number].set}
    return {key: spot.said if (spot := said[key]) and OPENS in spot.said else value
            for key, value in ground.loaded.build.parts[place].instead[number].set.items()}


def size_of(axes: Sequence[Axis], alone: bool) -> int:
    """How many points these axes make."""
    if alone:
        return 1 + sum(len(axis.settings) - 1 for axis in axes)
    return math.prod(len(axis.settings) for axis in axes)


def worked_out(ground: Ground, axes: tuple[Axis, ...], shown: Sequence[str], *, name: str = "", because: str = "",
               alone: bool = False) -> Study:
    """Every point of these axes. What makes no build is told at its point and does not stop the rest."""
    grounds: dict[tuple[int, ...], Ground | str] = {}
    points = tuple(_point(ground, axes, settings, shown, grounds) for settings in _settings(axes, alone))
    planned, _ = results_on(ground.sheet({}), shown)
    return Study(name, because, axes, tuple(shown), points, planned, alone)


def _settings(axes: Sequence[Axis], alone: bool) -> Iterator[tuple[Setting, ...]]:
    if not alone:
        yield from product(*(axis.settings for axis in axes))
        return
    planned = tuple(axis.settings[0] for axis in axes)
    yield planned
    for at, axis in enumerate(axes):
        yield from ((*planned[:at], setting, *planned[at + 1:]) for setting in axis.settings[1:])


def _point(ground: Ground, axes: Sequence[Axis], settings: tuple[Setting, ...], shown: Sequence[str],
           grounds: dict[tuple[int, ...], Ground | str]) -> Point:
    numbers = {axis.key: setting.number for axis, setting in zip(axes, settings, strict=True) if not axis.part}
    chosen = tuple(axis.settings.index(setting) for axis, setting in zip(axes, settings, strict=True) if axis.part)
    if chosen not in grounds:
        grounds[chosen] = _chosen(ground, axes, settings, shown)
    stands = grounds[chosen]
    if isinstance(stands, str):
        return Point(settings, {}, {}, stands)
    try:
        return Point(settings, *results_on(stands.sheet(numbers), shown))
    except NoBuild as why:
        return Point(settings, {}, {}, str(why))


def _chosen(ground: Ground, axes: Sequence[Axis], settings: Sequence[Setting], shown: Sequence[str]) -> Ground | str:
    """The build with these choices, or why there is none."""
    values: dict[str, Any] = {}
    for axis, setting in zip(axes, settings, strict=True):
        for key, value in setting.values.items():
            if values.setdefault(key, value) != value:
                return f"{axis.key}, {setting.words}, sets {key}, and so does another of the choices"
    try:
        return _settled(ground.otherwise(values), axes, settings, shown)
    except NoBuild as why:
        return str(why)


def _settled(ground: Ground, axes: Sequence[Axis], settings: Sequence[Setting], shown: Sequence[str]) -> Ground:
    """The ground for every point of these choices, with all that the keys cannot change worked out, if that can be."""
    numbers = {axis.key: setting.number for axis, setting in zip(axes, settings, strict=True) if not axis.part}
    if not numbers or any(isinstance(number_entry(key), Whole) for key in numbers):
        return ground
    try:
        return ground.settled(numbers, shown).ground
    except NoBuild:
        return ground


def _planned(ground: Ground, key: str) -> float:
    try:
        return centre_of(ground.sheet({}), key)
    except (NotSaid, NoAnswer, NameProblem, ValueError, ArithmeticError):
        return math.nan
