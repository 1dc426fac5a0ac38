"""Live numbers inside the spec itself: every ``{{ … }}`` worked out, each before the numbers that need it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property

from dossier.design.worksheet import Loop, NotSaid, Work, Worksheet
from dossier.errors import Problem, Unusable
from dossier.expressions import NameProblem, Number, render
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.load import Loaded, with_values
from dossier.spec.quantities import parse
from dossier.working import UNITS, Given, NoAnswer, Result

Plan = Callable[[Loaded], Mapping[str, Work]]


def resolved(loaded: Loaded, plan: Plan, kits: int) -> Loaded:
    """The build with every expression replaced by what it gives.

    Raises Unusable where an expression names no result, needs what the spec does not say, or goes in a loop.
    """
    if not loaded.expressions:
        return loaded
    resolver = _Resolver(loaded, plan(loaded), kits)
    texts = {key: resolver.text(key) for key in loaded.expressions}
    if resolver.problems:
        raise Unusable(resolver.problems)
    return with_values(loaded, {key: texts[key] for key in texts if resolver.is_number(key)})


def live_sheet(loaded: Loaded, plan: Mapping[str, Work], kits: int, kind: type[Worksheet] = Worksheet,
               names: Names | None = None) -> Worksheet:
    """A sheet for a build whose expressions still stand in it: each is worked out when a result needs its number.

    So a single result costs only what it needs. ``names`` may be shared by builds that say the same keys. The sheet
    raises NameProblem where an expression cannot be worked out, besides what any sheet raises.
    """
    return _Resolver(loaded, plan, kits, kind, names).sheet


def spoken_name(key: str) -> str:
    """How an expression names what the spec says: ``parts[0].mass`` is ``spec.parts.0.mass`` (or ``spec.parts[0]``)."""
    return "spec." + key.replace("[", ".").replace("]", "")


class Names:
    """What expressions may name: results, and what the spec says. Looked for when the first expression is met."""

    def __init__(self, loaded: Loaded, plan: Mapping[str, Work]) -> None:
        self._spots, self._plan = loaded.spots, plan

    @cached_property
    def said(self) -> Mapping[str, str]:
        """The keys of the spec that hold one value, by what expressions call them; a section is no value."""
        sections = {key[:max(key.rfind("."), key.rfind("["), 0)] for key in self._spots}
        return {spoken_name(key): key for key in self._spots if key not in sections}

    @cached_property
    def known(self) -> frozenset[str]:
        """All names."""
        return frozenset(self._plan) | frozenset(self.said)


class _Resolver:
    """Works out expressions on a worksheet that comes back here for every number still waiting for one."""

    def __init__(self, loaded: Loaded, plan: Mapping[str, Work], kits: int, kind: type[Worksheet] = Worksheet,
                 names: Names | None = None) -> None:
        self.loaded = loaded
        self.problems: list[Problem] = []
        self.sheet = kind(loaded, plan, kits=kits, deferred=self._number)
        self._names = names or Names(loaded, plan)

    def is_number(self, key: str) -> bool:
        return not isinstance(value_at(self.loaded.build, key), str)

    def text(self, key: str) -> str:
        """What the expression at this key gives, or an empty text with the problem noted."""
        spot = self.loaded.spots[key]
        try:
            return render(self.loaded.expressions[key], self._names.known, self._ask)
        except NameProblem as problem:
            why = str(problem)
        except Loop as loop:
            why = f"depends on itself: {loop}"
        except NotSaid as missing:
            why = f"needs {missing}, which the spec does not say"
        except NoAnswer as reason:
            why = f"cannot be worked out: {reason}"
            if cause := self.loaded.spots.get(reason.key):
                spot, key, why = cause, reason.key, f"{reason}; {key} at line {spot.line} needs it"
        self.problems.append(Problem(spot.file, spot.line, key, why))
        return ""

    def _number(self, key: str) -> float:
        return parse(render(self.loaded.expressions[key], self._names.known, self._ask), unit_of_key(key))

    def _ask(self, name: str) -> Number:
        entry: Given | Result
        if name in self._names.said and isinstance(said := value_at(self.loaded.build, self._names.said[name]), str):
            return Number(name, said, said)
        entry = self.sheet.given(self._names.said[name]) if name in self._names.said else self.sheet.result(name)
        if isinstance(entry.value, tuple):
            raise NameProblem(f"{name!r} is a list; take one of its numbers in the prose instead")
        unit = UNITS[entry.unit].text
        bare = entry.unit in {"", "money"}  # as an author writes it
        return Number(name, entry.value, f"{entry.value!r}" if bare else f"{entry.value!r} {unit}")
