"""The upgrade kit: what a builder of the one side must buy, print, cut, make and do again to reach the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from dossier.design.buying import payers
from dossier.design.cut_plans import lengths_for_pieces
from dossier.design.prints import named as printed
from dossier.revisions.again import Again, CheckAgain, Touched, repeated, used_once_more
from dossier.revisions.difference import part_of
from dossier.revisions.side import Side
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.spec.model_parts import Cut, Part

Why = Literal["new", "changed", "more"]


@dataclass(frozen=True, slots=True)
class Buy:
    """Pieces of a part to pay for, in whole packs; of what is cut from lengths, lengths of its ``stock``. ``cost`` is
    None where the plan has no price."""

    ref: str
    name: str
    why: Why
    pieces: int
    packs: int
    pack: int
    cost: float | None
    stock: str = ""


@dataclass(frozen=True, slots=True)
class Print:
    """Pieces to print; mass, time and cost of plastic of all of them, where they were worked out."""

    ref: str
    name: str
    why: Why
    pieces: int
    mass_kg: float | None
    time_h: float | None
    cost: float | None


@dataclass(frozen=True, slots=True)
class Saw:
    """Pieces of one length to saw. ``from_mm`` is the length of the old piece that it can be sawn from, or None where
    it takes new stock."""

    ref: str
    name: str
    stock: str
    length_mm: float
    width_mm: float | None
    pieces: int
    from_mm: float | None


@dataclass(frozen=True, slots=True)
class Make:
    """Pieces to make again, or to have at hand."""

    ref: str
    name: str
    why: Why
    pieces: int


@dataclass(frozen=True, slots=True)
class Over:
    """Pieces that the new telescope has no place for: taken out, or what is left of new packs."""

    ref: str
    name: str
    pieces: int
    of_new_packs: bool


@dataclass(frozen=True, slots=True)
class Rework:
    """Pieces of the old telescope that are worked into what the new one has in their place: what of, and how."""

    ref: str
    name: str
    old_name: str
    how: str
    pieces: int


@dataclass(frozen=True, slots=True)
class Once:
    """A part that the steps done again use up, and that is not in the kit."""

    ref: str
    name: str
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Kit:
    """The upgrade kit. ``from_packs`` are further pieces that are left of what was bought in packs; ``cost`` is of what
    has a price; ``unpriced`` are the references to buy without one."""

    buy: tuple[Buy, ...]
    from_packs: tuple[Make, ...]
    prints: tuple[Print, ...]
    saw: tuple[Saw, ...]
    rework: tuple[Rework, ...]
    make: tuple[Make, ...]
    at_hand: tuple[Make, ...]
    once_more: tuple[Once, ...]
    left_over: tuple[Over, ...]
    steps: tuple[Again, ...]
    read: tuple[Again, ...]
    steps_gone: tuple[str, ...]
    checks: tuple[CheckAgain, ...]
    cost: float
    unpriced: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Need:
    """A part of the new side: what of it the builder has none of. ``fits`` says that the old pieces of the same
    reference are the same thing; ``worked`` of them are worked into the new ones, and ``at_rest`` are taken out of what
    is left of a pack."""

    part: Part
    name: str
    old: Part | None
    fits: bool
    pieces: int
    worked: int = 0
    at_rest: int = 0

    @property
    def why(self) -> Why:
        return "new" if self.old is None else "more" if self.fits else "changed"


def upgrade(old: Side, new: Side) -> Kit:
    """What leads from the old side to the new, for one telescope that was built exactly as the old one says."""
    found = [_need(part, old, new) for part in new.design.build.parts]
    needs = [need for need in found if need.pieces]
    sawn = {need.part.ref: tuple(_saw(need)) for need in needs if need.part.cut and need.part.get != "have"}
    bought = [_buy(need, sawn) for need in needs if need.part.get != "have" and not _by_length(need.part)]
    order = [part.ref for part in new.design.build.parts]
    buy = tuple(sorted((line for line in (*bought, *_stock(needs, sawn, new)) if line and line.pieces),
                       key=lambda line: order.index(line.ref)))
    touched = _touched(found, old, new)
    again = repeated(old, new, touched)
    slugs = {step.slug for step in new.design.steps}
    return Kit(
        buy=buy, from_packs=tuple(replace(_make(need), pieces=need.at_rest) for need in found if need.at_rest),
        prints=tuple(_print(need, new) for need in needs if need.part.get == "print"),
        saw=tuple(line for lines in sawn.values() for line in lines),
        rework=tuple(_rework(need, old, new) for need in found if need.worked),
        make=tuple(_make(need) for need in needs if need.part.get == "make" and need.part.ref not in sawn),
        at_hand=tuple(_make(need) for need in needs if need.part.get == "have"),
        once_more=tuple(_once_more(needs, new, again.steps, touched)),
        left_over=tuple(_left_over(old, new, found, sawn, buy)), steps=again.steps, read=again.read,
        steps_gone=tuple(old.text(step.title) for step in old.design.steps if step.slug not in slugs),
        checks=again.checks,
        cost=sum(line.cost or 0.0 for line in buy), unpriced=tuple(line.ref for line in buy if line.cost is None),
    )


def _touched(found: list[_Need], old: Side, new: Side) -> Touched:
    gone = {part.ref for part in old.design.build.parts} - {part.ref for part in new.design.build.parts}
    anew = {need.part.ref for need in found if need.pieces or need.at_rest} | gone
    return Touched(frozenset(anew), frozenset(need.part.ref for need in found if need.worked) - anew)


def _once_more(needs: list[_Need], new: Side, again: tuple[Again, ...], touched: Touched) -> Iterator[Once]:
    """What is used up has no mass of its own in the plan: glue, paint, silicone."""
    parts = new.design.build.parts
    steps = used_once_more(
        new.design.steps, again, touched,
        replaced={need.part.ref for need in needs if need.why == "changed" and need.part.get in ("make", "print")},
        consumed={part.ref for part in parts if part.get == "buy" and part.mass is None and part.station is None},
        fixed={part.ref for part in parts if part.get != "have"})
    for part in parts:
        if part.ref in steps:
            yield Once(part.ref, new.text(part.name), steps[part.ref])


def _need(part: Part, old: Side, new: Side) -> _Need:
    before, wanted = part_of(old, part.ref), part.quantity + part.spares
    fits = before is not None and _same_thing(before, part, old, new)
    have = _pieces_got(before) if before and fits else 0
    more = part.quantity - before.quantity if before and fits else 0
    worked = min(wanted, before.quantity) if before and not fits and _from_old(part, before) else 0
    return _Need(part, new.text(part.name), before, fits, max(0, wanted - have - worked), worked,
                 at_rest=max(0, min(more, have - before.quantity)) if before else 0)


def _from_old(part: Part, before: Part) -> bool:
    """Whether the old pieces are worked into the new. What was said for an earlier step of the history is not said for
    this one."""
    return bool(part.from_old) and part.from_old != before.from_old and before.get != "have"


def _rework(need: _Need, old: Side, new: Side) -> Rework:
    assert need.old
    return Rework(need.part.ref, need.name, old.text(need.old.name), new.text(need.part.from_old), need.worked)


def _pieces_got(part: Part) -> int:
    """The pieces that a builder has got: whole packs of what is bought. A length is sawn into no more than is wanted.
    """
    wanted = part.quantity + part.spares
    return -(-wanted // part.pack) * part.pack if _paid(part) and not _by_length(part) else wanted


def _by_length(part: Part) -> bool:
    """Whether a part comes out of lengths that are paid for by the length, be it by another part of the same stock."""
    return part.cut is not None and not part.cut.is_sheet and (part.cut.by_length or part.price is None)


def _paid(part: Part) -> bool:
    """Whether there is something to pay for: what is bought, and what is made from something with a price."""
    return part.get == "buy" or (part.get != "have" and part.price is not None)


def _same_thing(old: Part, new: Part, before: Side, after: Side) -> bool:
    """Whether an old piece serves as a new one: the same by name, shape, stock and thread. Price, mass as stated,
    reason and supplier do not make another thing of it."""
    if (old.get == "have" and new.get != "have") or before.text(old.name) != after.text(new.name):
        return False
    first, second = (_made_of(part, side, told=old.cut is not None and new.cut is not None)
                     for part, side in ((old, before), (new, after)))
    return first == second


def _made_of(part: Part, side: Side, *, told: bool) -> tuple[object, ...]:
    """What tells one thing from another. What it is cut from counts where it is ``told`` of both: a size that a plan
    says at last makes no other thing of what was built."""
    cut = told and part.cut and (
        part.cut.from_, tuple(sorted((piece.length, piece.width or 0.0) for piece in part.cut.pieces)))
    shape = part.print and (side.contents.sums.get(part.print.mesh or ""), part.print.material, part.print.fill,
                            part.print.walls, part.print.skin)
    thread = part.holds and (part.holds.thread, part.holds.engagement, part.holds.how)
    return cut, shape, thread


def _buy(need: _Need, sawn: dict[str, tuple[Saw, ...]]) -> Buy | None:
    part, pieces = need.part, need.pieces
    if not _paid(part):
        return None
    if part.ref in sawn:  # what is sawn from the old pieces takes no new stock
        anew = sum(line.pieces for line in sawn[part.ref] if line.from_mm is None)
        per_part = sum(piece.quantity for piece in part.cut.pieces) / part.quantity if part.cut else 1
        pieces = min(pieces, -(-anew // max(1, round(per_part))))
    packs = -(-pieces // part.pack)
    return Buy(part.ref, need.name, need.why, pieces, packs, part.pack,
               None if part.price is None else packs * part.price)


def _stock(needs: list[_Need], sawn: dict[str, tuple[Saw, ...]], side: Side) -> Iterator[Buy]:
    """The lengths of each stock for the pieces that no old piece gives, on the line of the part that pays for it."""
    wanting: dict[str, list[_Need]] = {}
    for need in needs:
        if need.part.cut and need.part.ref in sawn and _by_length(need.part):
            wanting.setdefault(slug(need.part.cut.from_), []).append(need)
    paid = {payer.stock: value_at(side.design.build, payer.key) for payer in payers(side.design.build).values()}
    for stock, own in wanting.items():
        anew = [line.length_mm for need in own for line in sawn[need.part.ref] if line.from_mm is None
                for _ in range(line.pieces)]
        paying = paid.get(stock) or next((need.part for need in own if need.part.get == "buy"), None)
        if anew and paying is not None:
            count = lengths_for_pieces(side.design, stock, anew)
            yield Buy(paying.ref, side.text(paying.name), own[0].why, count, count, 1,
                      None if paying.price is None else count * paying.price,
                      paying.cut.from_ if paying.cut else "")


def _print(need: _Need, side: Side) -> Print:
    keys = {key: name for name, key in printed(side.design.build).items()}
    line = next(line for line in side.design.parts if line.ref == need.part.ref)
    mass, time, cost = (side.design.results.get(f"print.{keys.get(line.key, '')}.{what}")
                        for what in ("mass", "time", "cost"))
    each = mass.number if mass else line.mass_kg
    return Print(need.part.ref, need.name, need.why, need.pieces, None if each is None else each * need.pieces,
                 time.number * need.pieces if time else None, cost.number * need.pieces if cost else None)


def _make(need: _Need) -> Make:
    return Make(need.part.ref, need.name, need.why, need.pieces)


def _saw(need: _Need) -> Iterator[Saw]:
    """The pieces to saw: those that no old piece is, from the shortest old piece of the same stock that is long enough,
    so that the longer ones serve where only they do."""
    part = need.part
    assert part.cut
    old = need.old.cut if need.old and need.old.get != "have" and not need.worked else None
    spare = _lengths(old) if old and old.from_ == part.cut.from_ else Counter()
    wanted = Counter({size: -(-count * need.pieces // max(1, part.quantity))
                      for size, count in _lengths(part.cut).items()})
    same: Counter[tuple[float, float | None]] = Counter() if need.fits else wanted & spare
    spare = Counter() if need.fits else spare - same
    found: Counter[tuple[float, float | None, float | None]] = Counter()
    for length, width in sorted((wanted - same).elements(), key=lambda size: -size[0]):
        longer = [size for size in spare.elements() if size[1] == width and size[0] > length]
        source = min(longer, key=lambda size: size[0], default=None)
        if source:
            spare[source] -= 1
        found[length, width, source[0] if source else None] += 1
    for (length, width, source_mm), count in found.items():
        yield Saw(part.ref, need.name, part.cut.from_, length, width, count, source_mm)


def _lengths(cut: Cut) -> Counter[tuple[float, float | None]]:
    found: Counter[tuple[float, float | None]] = Counter()
    for piece in cut.pieces:
        found[piece.length, piece.width] += piece.quantity
    return found


def _left_over(old: Side, new: Side, found: list[_Need], sawn: dict[str, tuple[Saw, ...]],
               buy: tuple[Buy, ...]) -> Iterator[Over]:
    replaced = {need.part.ref: need for need in found if need.old and not need.fits}
    for part in old.design.build.parts:
        after = part_of(new, part.ref)
        if after is None or (part.ref in replaced and not _used_up(sawn.get(part.ref, ()))):
            if rest := part.quantity - (replaced[part.ref].worked if after else 0):
                yield Over(part.ref, old.text(part.name), rest, of_new_packs=False)
        elif part.ref not in replaced and after.quantity < part.quantity:
            yield Over(part.ref, old.text(part.name), part.quantity - after.quantity, of_new_packs=False)
    for line in buy:
        if rest := line.packs * line.pack - line.pieces:
            yield Over(line.ref, line.name, rest, of_new_packs=True)


def _used_up(lines: tuple[Saw, ...]) -> bool:
    """Whether the old pieces go into the new ones."""
    return bool(lines) and all(line.from_mm is not None for line in lines)
