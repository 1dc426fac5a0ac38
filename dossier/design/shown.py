"""Results that the spec names beside its goals: looked at with the build, so that a check finds a slip."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from dossier.design.worksheet import Work
from dossier.errors import Problem, did_you_mean
from dossier.spec.load import Loaded


def unknown_shown(loaded: Loaded, plan: Mapping[str, Work]) -> Iterator[Problem]:
    """Results that a study wants shown and that do not exist."""
    for place, study in enumerate(loaded.build.explore):
        for item, name in enumerate(study.show):
            if name not in plan:
                yield loaded.problem(f"explore[{place}].show[{item}]",
                                     f"no result is named {name!r}{did_you_mean(name, plan)}")
