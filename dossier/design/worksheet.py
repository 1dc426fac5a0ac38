"""The sheet on which a build is worked out: each result when first asked for, remembered, and loops named.

An entry of the plan says how one result is worked out from givens and earlier results. Nothing is worked out that
nobody asks for, so a single result of a changed build costs only what it needs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from dossier import shelf
from dossier.errors import did_you_mean
from dossier.shelf.records import PROPERTIES
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.load import Loaded
from dossier.working import AnyFormula, Given, NoAnswer, Result

Work = Callable[["Worksheet"], Result]
Source = Callable[["Worksheet"], "Given | Result"]


class NotSaid(Exception):
    """The spec does not say what a result needs; the message is what is missing, as a key or in words."""


class Loop(Exception):
    """A result depends on itself. ``chain`` is the loop, its first name repeated at the end."""

    def __init__(self, chain: tuple[str, ...]) -> None:
        super().__init__(" → ".join(chain))
        self.chain = chain


class Worksheet:
    """One build being worked out. ``changes`` puts other numbers in place of what the spec says, by key."""

    def __init__(self, loaded: Loaded, plan: Mapping[str, Work], *, kits: int = 1,
                 changes: Mapping[str, float] | None = None, deferred: Callable[[str], float] | None = None) -> None:
        self.loaded = loaded
        self.build = loaded.build
        self.kits = kits
        self.plan = plan
        self._changes = dict(changes or {})
        self._deferred = deferred
        self._done: dict[str, Result | Exception] = {}
        self._open: list[str] = []
        self._before: Worksheet | None = None

    def result(self, result_id: str) -> Result:
        """The result of this name. NotSaid where the spec is silent, Loop where it depends on itself."""
        known = self._done.get(result_id)
        if known is None:
            known = self._done[result_id] = self._work(result_id)
        if isinstance(known, Exception):
            raise known
        return known

    def know(self, results: Mapping[str, Result]) -> None:
        """Results that are known to be what this sheet would find: those of a build that differs in nothing they need.
        """
        self._done.update(results)

    def done(self) -> dict[str, Result]:
        """The results worked out so far, in the order of the plan."""
        found = ((name, self._done.get(name)) for name in self.plan)
        return {name: result for name, result in found if isinstance(result, Result)}

    def _work(self, result_id: str) -> Result | Exception:
        if result_id not in self.plan:
            raise KeyError(f"no result {result_id!r}{did_you_mean(result_id, self.plan)}")
        self._enter(result_id)
        try:
            return self.plan[result_id](self)
        except (NotSaid, NoAnswer) as missing:
            return missing
        finally:
            self._open.pop()

    def _enter(self, name: str) -> None:
        if name in self._open:
            raise Loop((*self._open[self._open.index(name):], name))
        self._open.append(name)

    def given(self, key: str) -> Given:
        """What the spec says at this key, or its default. NotSaid where there is neither."""
        unit = unit_of_key(key)
        spot = self.loaded.spots.get(key)
        if key in self._changes:
            return Given(key, self._changes[key], unit, "spec", said="changed")
        value = value_at(self.build, key)
        if value is None or isinstance(value, str):
            raise NotSaid(key)
        if isinstance(value, float) and math.isnan(value):
            value = self._resolved(key)
        number = tuple(float(item) for item in value) if isinstance(value, (list, tuple)) else float(value)
        if spot is None:
            return Given(key, number, unit, "default")
        return Given(key, number, unit, "measured" if spot.measured else "spec", spot.file, spot.line, spot.said)

    def unchanged(self) -> Worksheet:
        """This sheet as the spec and the measured file have it: what was found on a mirror no change moves."""
        if self._changes and self._before is None:
            self._before = Worksheet(self.loaded, self.plan, kits=self.kits, deferred=self._deferred)
        return self._before or self

    def changes(self, key: str) -> bool:
        """Whether another number was put in at this key."""
        return key in self._changes

    def says(self, key: str) -> bool:
        """Whether the spec says anything at this key, or has a default for it."""
        return key in self._changes or value_at(self.build, key) is not None

    def _resolved(self, key: str) -> float:
        if self._deferred is None:
            raise ValueError(f"{key} still waits for its expression")
        self._enter(f"spec.{key}")
        try:
            return self._deferred(key)
        finally:
            self._open.pop()

    def material(self, key: str, datum: str) -> Given:
        """A datum of the material named (or described) at this key: the author's own map, or the shelf's."""
        named = value_at(self.build, key)
        if named is None:
            raise NotSaid(key)
        if not isinstance(named, str):
            return self.given(f"{key}.{datum}")
        entry = getattr(shelf.materials()[named], datum)
        if entry is None:
            raise NotSaid(f"{_spoken(datum)} of {named}, for which the shelf has no number")
        title = f"{named}, {_spoken(datum)}"
        return Given(title, entry.value, PROPERTIES[datum], "shelf", source=entry.source)


def _spoken(datum: str) -> str:
    """A property of a material in words."""
    return datum.replace("youngs", "Young’s").replace("poissons", "Poisson’s").replace("_", " ")


def given(key: str) -> Source:
    """The number that the spec says at this key."""
    return lambda sheet: sheet.given(key)


def given_or(key: str, stand_in: str) -> Source:
    """What the spec says at this key, or, where it is silent, at the other."""
    return lambda sheet: sheet.given(key if sheet.says(key) else stand_in)


def worked(result_id: str) -> Source:
    """An earlier result."""
    return lambda sheet: sheet.result(result_id)


def material(key: str, datum: str) -> Source:
    """A datum of the material that the spec names at this key."""
    return lambda sheet: sheet.material(key, datum)


def count(key: str, number: Callable[[Worksheet], float]) -> Source:
    """A number read off the spec's lists, such as how many eyepieces there are."""
    return lambda sheet: Given(key, number(sheet), "", "spec")


def step(result_id: str, formula: AnyFormula, title: str = "", /, **sources: Source) -> tuple[str, Work]:
    """A line of the plan: this result by this formula from these sources, one for each of its parameters."""
    if set(sources) != set(formula.parameters):
        raise TypeError(f"{result_id}: {formula.name} wants {formula.parameters}, is given {tuple(sources)}")

    def work(sheet: Worksheet) -> Result:
        return formula.work(result_id, title, **{name: source(sheet) for name, source in sources.items()})

    return result_id, work

