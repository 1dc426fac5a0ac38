"""Materials that a spec names: each must be on the shelf."""

from __future__ import annotations

from collections.abc import Iterator

from dossier import shelf
from dossier.errors import Problem, did_you_mean
from dossier.spec.keys import value_at
from dossier.spec.load import Loaded
from dossier.spec.model import Build

_KEYS = ("primary.glass", "frame.material", "cell.push.spring.material")


def unknown_materials(loaded: Loaded) -> Iterator[Problem]:
    """A problem for each key that names a material the shelf does not have."""
    shelved = shelf.materials()
    for key in _named(loaded.build):
        name = value_at(loaded.build, key)
        if isinstance(name, str) and name not in shelved:
            hint = did_you_mean(name, shelved) or f"; there are {', '.join(sorted(shelved))}"
            yield loaded.problem(key, f"no material on the shelf is named {name!r}{hint}")


def _named(build: Build) -> Iterator[str]:
    yield from _KEYS
    for index, part in enumerate(build.parts or ()):
        if part.print is not None:
            yield f"parts[{index}].print.material"
        if part.holds is not None:
            yield f"parts[{index}].holds.in"
