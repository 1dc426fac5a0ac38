"""A builder's measured file laid over the spec: the same keys with the values found."""

from __future__ import annotations

from typing import Any

from dossier.errors import Problem, did_you_mean
from dossier.spec.messages import Spot

_NAMED_BY = {"parts": "ref", "eyepieces": "name", "notes": "id"}
_OF_THE_PLAN = ("about", "readers", "goals", "notes", "explore", "tolerances", "printer", "compare_apertures")
# What a part costs and why it was chosen is not measured either.
_OF_A_PART_OF_THE_PLAN = ("price", "priced_on", "pack", "supplier", "link", "why", "instead", "spares", "get", "group")


class Overlay:
    """Lays measured values over a spec's values, and their spots over its spots."""

    def __init__(self, values: dict[str, Any], spots: dict[str, Spot], found: dict[str, Spot], file: str) -> None:
        self.values, self.spots, self.found, self.file = values, spots, found, file
        self.problems: list[Problem] = []

    def lay(self, measured: dict[str, Any]) -> None:
        """Put every measured value in its place."""
        for key in _OF_THE_PLAN:
            if key in measured:
                self.say(key, "is the plan's to say; a measured file holds what was measured")
        plain = {key: value for key, value in measured.items() if key not in _OF_THE_PLAN}
        self._map(self.values, plain, "", "")

    def say(self, source: str, message: str) -> None:
        """A problem at a key of the measured file."""
        spot = self.found[source]
        self.problems.append(Problem(self.file, spot.line, source, " ".join(message.split())))

    def _map(self, into: dict[str, Any], measured: dict[str, Any], target: str, source: str) -> None:
        for key, value in measured.items():
            here = f"{target}.{key}" if target else key
            there = f"{source}.{key}" if source else key
            name = _NAMED_BY.get(here)
            if isinstance(value, dict) and isinstance(into.get(key), dict):
                self._move(here, there)
                self._map(into[key], value, here, there)
            elif name and isinstance(value, list) and isinstance(into.get(key), list):
                self._named(into[key], value, name, here, there)
            else:
                into[key] = value
                self._replace(here, there)

    def _named(self, into: list[Any], measured: list[Any], name: str, target: str, source: str) -> None:
        """Items of a list that are told apart by a name: each is laid over the one of the same name."""
        names = [item.get(name) if isinstance(item, dict) else None for item in into]
        for place, item in enumerate(measured):
            there = f"{source}[{place}]"
            said = item.get(name) if isinstance(item, dict) else None
            if said is None:
                self.say(there, f"needs {name}, which says what was measured")
            elif said not in names:
                near = did_you_mean(str(said), [str(known) for known in names])
                self.say(f"{there}.{name}", f"is not in the spec (got {said}){near}")
            else:
                for key in _OF_A_PART_OF_THE_PLAN if target == "parts" else ():
                    if key in item:
                        self.say(f"{there}.{key}", "is the plan's to say; a measured file holds what was measured")
                self._map(into[names.index(said)], item, f"{target}[{names.index(said)}]", there)

    def _move(self, target: str, source: str) -> None:
        if target not in self.spots and source in self.found:
            self.spots[target] = self.found[source]

    def _replace(self, target: str, source: str) -> None:
        """The spots of a value and of all that is nested in it."""
        for key in [key for key in self.spots if _within(key, target)]:
            del self.spots[key]
        for key, spot in self.found.items():
            if _within(key, source):
                self.spots[target + key[len(source):]] = spot


def _within(key: str, section: str) -> bool:
    return key == section or key.startswith((f"{section}.", f"{section}["))
