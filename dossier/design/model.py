"""What has been worked out: plain data, ready for pages, drawings and the terminal."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from dossier.design.cautions import chosen
from dossier.spec.issued import Issued
from dossier.spec.load import Loaded
from dossier.spec.model import Build
from dossier.spec.steps import Step
from dossier.working import Goal, Result


@dataclass(frozen=True, slots=True)
class PartLine:
    """One line of the parts list. ``packs`` and ``cost`` are for one kit in whole packs; ``all_packs`` and ``all_cost``
    for all kits together, which need so many pieces (spares counted), in packs of ``pack``.

    What is cut from lengths is bought by the length as the cut plan says: ``stock`` is then the stock's name, a pack
    one length, and ``needed`` counts lengths. Where parts share a stock it stands on one line; the others have packs of
    none, no cost, and in ``shares`` the reference of that line. ``mass_kg`` is of one piece and
    ``station_mm`` its centre of mass; either is None where the author is silent. ``cost`` is None where no price is
    given; a part the reader is said to have costs nothing.
    """

    ref: str
    key: str
    packs: int
    cost: float | None
    all_packs: int
    all_cost: float | None
    mass_kg: float | None
    station_mm: float | None
    carried: bool
    pack: int
    needed: int
    stock: str = ""
    shares: str = ""

    @property
    def left_over(self) -> int:
        """Pieces that the packs for all kits hold beyond what is needed."""
        return max(0, self.all_packs * self.pack - self.needed)


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change that would put a missed goal right: this key at this value (in the key's unit), the rest as it is."""

    key: str
    unit: str
    value: float
    now: float


@dataclass(frozen=True, slots=True)
class Unmet:
    """A goal on a result that could not be worked out, and what the spec would have to say for it."""

    goal: Goal
    missing: str


@dataclass(frozen=True)
class Design:
    """Everything worked out of one build.

    ``results`` is in the order of the working and holds each result's goal; ``left_out`` says of every other result
    what the spec does not say; ``remedies`` has, for a missed goal, what would put it right; ``date`` is ISO 8601.
    ``planned`` is the same build as its plan has it, where measured values are laid over this one; ``fitted`` are
    then the keys of the spec that were moved with the focal plane, see ``design.laid_over``. ``issued`` are the
    revisions issued so far, oldest first; ``revision`` is the last one's letter, or a draft. ``kits_asked``: whoever
    ran the program said for how many kits, so that the spec's own number for its workshop does not hold.
    """

    loaded: Loaded
    build: Build
    results: Mapping[str, Result]
    left_out: Mapping[str, str]
    parts: tuple[PartLine, ...]
    steps: tuple[Step, ...]
    kits: int
    revision: str
    date: str
    remedies: Mapping[str, tuple[Remedy, ...]] = field(default_factory=dict)
    unmet: tuple[Unmet, ...] = ()
    planned: Design | None = None
    fitted: frozenset[str] = frozenset()
    issued: tuple[Issued, ...] = ()
    kits_asked: bool = False

    @cached_property
    def cautions(self) -> tuple[str, ...]:
        """The topics of the cautions this build needs, in the shelf's order; looked for when first asked for."""
        return chosen(self.build, self.steps)

    @property
    def workshop_kits(self) -> int:
        """For how many kits the workshop is planned and shopped for; every result is of ``kits``."""
        workshop = self.build.workshop
        return self.kits if self.kits_asked or workshop is None or workshop.kits is None else workshop.kits

    @property
    def misses(self) -> tuple[Result, ...]:
        """The results that miss their goal."""
        return tuple(r for r in self.results.values() if r.goal and r.goal.outcome(r.number) == "misses")
