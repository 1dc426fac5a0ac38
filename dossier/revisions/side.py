"""One side of a comparison: a revision, the build as it stands, or a plan that somebody else made of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from dossier.design import Design, work_out
from dossier.design.resolve import spoken_name
from dossier.expressions import NameProblem, Number, render
from dossier.notation import show_result
from dossier.notation.given import show_given
from dossier.revisions import frozen
from dossier.revisions.materialise import Drift, design_of, drift
from dossier.spec.contents import Contents, contents
from dossier.spec.issued import WORKING as WORKING
from dossier.spec.issued import refuse_frozen
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.load import Loaded, load_build

NOT_WORKED_OUT = "(not worked out)"
_EXPRESSION = re.compile(r"\{\{.*?\}\}")


@dataclass(frozen=True)
class Side:
    """``said`` is the build as its author typed it, expressions in place; ``drift`` tells where the program of today
    differs from what a revision was frozen with."""

    name: str
    said: Loaded
    design: Design
    contents: Contents
    drift: tuple[Drift, ...] = ()

    @cached_property
    def _names(self) -> Mapping[str, str]:
        """What an expression may name of the spec: a key that holds one value, never a section."""
        return {spoken_name(key): key for key in self.design.loaded.spots
                if isinstance(value_at(self.design.build, key), (int, float, str))}

    @cached_property
    def _known(self) -> frozenset[str]:
        return frozenset(self.design.results) | frozenset(self._names)

    def text(self, said: str | None) -> str:
        """A text of the build with its live numbers put in. What the program of today cannot work out says so."""
        try:
            return render(said or "", self._known, self._ask)
        except NameProblem:
            return _EXPRESSION.sub(lambda found: self._alone(found[0]), said or "")

    def _alone(self, expression: str) -> str:
        try:
            return render(expression, self._known, self._ask)
        except NameProblem:
            return NOT_WORKED_OUT

    def _ask(self, name: str) -> Number:
        design = self.design
        if name in design.results:
            result = design.results[name]
            return Number(name, result.value, show_result(result, design.build.readers).plain)
        key = self._names[name]
        value = value_at(design.build, key)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return Number(name, value, show_given(float(value), unit_of_key(key), design.build.readers).plain)
        return Number(name, value, str(value))


@contextmanager
def side(build: Path, which: str) -> Iterator[Side]:
    """A revision by its letter, or the build as it stands by ``working``. It holds only within the ``with``.

    Raises Unusable.
    """
    if which == WORKING:
        yield standing(build)
        return
    with design_of(build, which) as design:
        head = design.issued[-1]
        yield _of(design, drift(frozen.read(head), design))


def standing(build: Path) -> Side:
    """A build folder or a spec as it stands. Raises Unusable."""
    refuse_frozen(build)
    return _of(work_out(load_build(build)))


def _of(design: Design, drifted: tuple[Drift, ...] = ()) -> Side:
    return Side(design.revision, load_build(design.loaded.file), design, contents(design.loaded.file), drifted)
