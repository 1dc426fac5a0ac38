"""What changed from one side to another: spec, pages, results and goals, parts, cuts, notes. Plain data in metric
units; views say it in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from dossier.notation import show
from dossier.revisions.materialise import Drift
from dossier.revisions.side import Side
from dossier.revisions.spec_changes import SpecChange, spec_changes
from dossier.spec import notes
from dossier.spec.contents import SPEC
from dossier.spec.model_parts import Part
from dossier.working import Outcome, Result, Value

Kind = Literal["added", "removed", "changed"]
SUMS = ("parts.cost", "parts.mass")


@dataclass(frozen=True, slots=True)
class Named:
    """One side by its name: a letter, or a draft; its date and the build's own name."""

    name: str
    date: str
    build: str


@dataclass(frozen=True, slots=True)
class FileChange:
    """A page or another file of the build, by its path."""

    path: str
    kind: Kind


@dataclass(frozen=True, slots=True)
class ResultChange:
    """A result that prints otherwise, or whose goal came to something else. None, or an empty outcome, where a side has
    no such result or no goal on it."""

    id: str
    title: str
    unit: str
    old: Value | None
    new: Value | None
    old_outcome: Outcome | Literal[""]
    new_outcome: Outcome | Literal[""]

    @property
    def crossed(self) -> bool:
        """Whether the goal came to something else."""
        return bool(self.old_outcome and self.new_outcome) and self.old_outcome != self.new_outcome


@dataclass(frozen=True, slots=True)
class PartChange:
    """A part by its reference, what changed in its lines of the spec but the day on which its price was looked up, its
    cost in one kit, where it has one, and whether its mesh is another."""

    ref: str
    name: str
    kind: Kind
    spec: tuple[SpecChange, ...]
    old_cost: float | None
    new_cost: float | None
    mesh: bool = False


@dataclass(frozen=True, slots=True)
class CutChange:
    """Pieces of one size for one part in one kit: how many there were, and how many there are."""

    stock: str
    ref: str
    length_mm: float
    width_mm: float | None
    old: int
    new: int


@dataclass(frozen=True, slots=True)
class NoteChange:
    """A note that stands otherwise on the newer side."""

    id: str
    title: str
    old: notes.Status
    new: notes.Status


@dataclass(frozen=True, slots=True)
class Difference:
    """Everything that changed. ``sums`` are cost and mass of one kit, changed or not; ``priced_again`` counts the parts
    whose prices were looked up again; ``old_drift`` and ``new_drift`` tell where the program of today differs from what
    a revision was frozen with."""

    old: Named
    new: Named
    spec: tuple[SpecChange, ...]
    pages: tuple[FileChange, ...]
    files: tuple[FileChange, ...]
    results: tuple[ResultChange, ...]
    sums: tuple[ResultChange, ...]
    parts: tuple[PartChange, ...]
    priced_again: int
    cuts: tuple[CutChange, ...]
    notes: tuple[NoteChange, ...]
    old_drift: tuple[Drift, ...]
    new_drift: tuple[Drift, ...]

    @property
    def nothing(self) -> bool:
        """Whether both sides are the same."""
        return not (self.spec or self.pages or self.files or self.results)


def difference(old: Side, new: Side) -> Difference:
    """What changed from the old side to the new one. Numbers are compared as the new side's readers see them."""
    spec = spec_changes(old, new)
    changed = tuple(_results(old, new))
    return Difference(
        _named(old), _named(new), spec,
        pages=tuple(_files(old.contents.texts, new.contents.texts, old, new)),
        files=tuple(_files(old.contents.files, new.contents.files, old, new)),
        results=tuple(each for each in changed if _differs(each, new)),
        sums=tuple(each for each in changed if each.id in SUMS),
        parts=tuple(_parts(old, new, spec)), priced_again=sum(map(is_day_of_price, spec)),
        cuts=tuple(_cuts(old, new)), notes=tuple(_notes(old, new)),
        old_drift=old.drift, new_drift=new.drift,
    )


def is_day_of_price(change: SpecChange) -> bool:
    """Whether a key tells on what day a part's price was looked up."""
    return change.key.startswith("parts[") and change.key.endswith("].priced_on")


def part_of(side: Side, ref: str) -> Part | None:
    """The part with this reference."""
    return next((part for part in side.design.build.parts if part.ref == ref), None)


def _named(side: Side) -> Named:
    return Named(side.name, side.design.date, side.design.build.about.name)


def _files(before: Iterable[str], after: Iterable[str], old: Side, new: Side) -> Iterator[FileChange]:
    for path in sorted({*before, *after} - {SPEC}):
        was, is_ = old.contents.sums.get(path), new.contents.sums.get(path)
        if was != is_:
            yield FileChange(path, "added" if was is None else "removed" if is_ is None else "changed")


def _results(old: Side, new: Side) -> Iterator[ResultChange]:
    before, after = old.design.results, new.design.results
    for name in dict.fromkeys([*after, *before]):
        was, is_ = before.get(name), after.get(name)
        one = is_ or was
        assert one is not None
        yield ResultChange(name, one.title, one.unit, was.value if was else None, is_.value if is_ else None,
                           _outcome(was), _outcome(is_))


def _outcome(result: Result | None) -> Outcome | Literal[""]:
    return result.goal.outcome(result.number) if result and result.goal else ""


def _differs(change: ResultChange, side: Side) -> bool:
    if change.old is None or change.new is None or change.old_outcome != change.new_outcome:
        return True
    readers = side.design.build.readers
    old, new = (show(value, change.unit, result_id=change.id, readers=readers) for value in (change.old, change.new))
    return old != new


def _parts(old: Side, new: Side, spec: tuple[SpecChange, ...]) -> Iterator[PartChange]:
    before, after = _costs(old), _costs(new)
    for ref in dict.fromkeys([*after, *before]):
        kind: Kind = "added" if ref not in before else "removed" if ref not in after else "changed"
        said = tuple(change for change in spec
                     if change.key.startswith(f"parts[{ref}].") and not is_day_of_price(change))
        mesh = kind == "changed" and _mesh_sum(old, ref) != _mesh_sum(new, ref)
        if kind != "changed" or said or mesh or before[ref] != after[ref]:
            side = old if kind == "removed" else new
            yield PartChange(ref, _name(side, ref), kind, said, before.get(ref), after.get(ref), mesh)


def _costs(side: Side) -> dict[str, float | None]:
    return {line.ref: line.cost for line in side.design.parts}


def _name(side: Side, ref: str) -> str:
    part = part_of(side, ref)
    return side.text(part.name) if part else ""


def _mesh_sum(side: Side, ref: str) -> str | None:
    part = part_of(side, ref)
    return side.contents.sums.get(part.print.mesh) if part and part.print and part.print.mesh else None


def _cuts(old: Side, new: Side) -> Iterator[CutChange]:
    before, after = _pieces(old), _pieces(new)
    for piece in dict.fromkeys([*after, *before]):
        if before[piece] != after[piece]:
            yield CutChange(*piece, before[piece], after[piece])


def _pieces(side: Side) -> Counter[tuple[str, str, float, float | None]]:
    found: Counter[tuple[str, str, float, float | None]] = Counter()
    for part in side.design.build.parts:
        for piece in part.cut.pieces if part.cut else ():
            assert part.cut
            found[part.cut.from_, part.ref, piece.length, piece.width] += piece.quantity
    return found


def _notes(old: Side, new: Side) -> Iterator[NoteChange]:
    """By the notes of the newer side, which knows more; then those that only the older one has."""
    known = {note.id: note for side in (old, new) for note in side.design.build.notes}
    for note in known.values():
        was, is_ = notes.status(note, old.name), notes.status(note, new.name)
        if was != is_:
            yield NoteChange(note.id, new.text(note.title), was, is_)
