"""What ``compare`` prints: what changed between two sides and the upgrade kit, as plain tables, or as data."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from dossier.notation import Readers, duration, show
from dossier.notation.given import show_given
from dossier.revisions.again import Again
from dossier.revisions.difference import Difference, FileChange, PartChange, ResultChange, is_day_of_price
from dossier.revisions.materialise import Drift
from dossier.revisions.spec_changes import Said, SpecChange
from dossier.revisions.upgrade import Buy, Kit, Once, Over
from dossier.working import Value

ARROW, NOTHING = "→", "–"
WHY = {"new": "new", "changed": "another than before", "more": "more than before"}
_LONGEST, _SHORT = 60, 24
PACKS, ONCE_MORE = "take from what is left of your packs", "steps done again use once more"
Line = Sequence[str]


def comparison_text(found: Difference, kit: Kit, readers: Readers) -> str:
    """The difference and the kit as the terminal shows them. ``readers`` are those of the newer side."""
    old, new = found.old, found.new
    lines = [f"{old.build} · {old.name} · {old.date} {ARROW} {new.build} · {new.name} · {new.date}", ""]
    if found.nothing:
        return "\n".join([*lines, "nothing has changed"]) + "\n"
    for title, rows in _changes(found, readers):
        lines += _block(title, rows)
    for title, rows in _kit(kit, readers):
        lines += _block(title, rows)
    lines += not_counted(kit, readers)
    lines += [*_drifted(old.name, found.old_drift), *_drifted(new.name, found.new_drift)]
    return "\n".join(lines) + "\n"


def comparison_record(found: Difference, kit: Kit) -> dict[str, Any]:
    """The same as plain data, numbers at full precision in the unit that stands beside them."""
    plain = asdict(found) | {"old_drift": [each.result_id for each in found.old_drift],
                             "new_drift": [each.result_id for each in found.new_drift]}
    return {"format": 1, **plain, "upgrade": asdict(kit)}


def said_words(said: Said | None, readers: Readers) -> str:
    """A value of the spec as its readers want it; a dash for none."""
    if said is None:
        return NOTHING
    if isinstance(said.value, float) and said.unit:
        return show_given(said.value, said.unit, readers).plain
    return said.words


def pair_words(change: SpecChange, readers: Readers) -> tuple[str, str]:
    """A key's old and new value; in their authors' own words where both would be printed alike."""
    old, new = (said_words(said, readers) for said in (change.old, change.new))
    if old == new and change.old and change.new:
        return change.old.words, change.new.words
    return old, new


def value_words(value: Value | None, change: ResultChange, readers: Readers) -> str:
    """A result's old or new value as it is printed; a dash for none."""
    return NOTHING if value is None else show(value, change.unit, result_id=change.id, readers=readers).plain


def outcome_change(change: ResultChange) -> str:
    """What a result's goal came to, where that changed: ``misses → meets``."""
    if change.old_outcome == change.new_outcome:
        return ""
    return f"{change.old_outcome or 'no goal'} {ARROW} {change.new_outcome or 'no goal'}"


def buy_words(line: Buy) -> str:
    """How much of a part to buy: ``2 packs of 10, for 12``, ``3``, or ``2 lengths of beech dowel 16``."""
    if line.stock:
        return f"{line.packs} length{'' if line.packs == 1 else 's'} of {line.stock}"
    if line.pack == 1:
        return str(line.packs)
    return f"{line.packs} pack{'' if line.packs == 1 else 's'} of {line.pack}, for {line.pieces}"


def money(value: float | None, readers: Readers) -> str:
    """A sum of money; a dash where the plan has no price."""
    return NOTHING if value is None else show(value, "money", readers=readers).plain


def length(value: float, readers: Readers, width: float | None = None) -> str:
    """A length, or the two sides of a piece of sheet."""
    shown = show_given(value, "mm", readers).plain
    return shown if width is None else f"{shown} × {show_given(width, 'mm', readers).plain}"


def not_counted(kit: Kit, readers: Readers) -> Iterator[str]:
    """What the sum of money to pay leaves out, in sentences without their full stop: of plastic what it costs, where
    the plan says; of wood and other stock that it has no price for."""
    costs = [line.cost for line in kit.prints if line.cost is not None]
    if costs:
        masses = [line.mass_kg for line in kit.prints if line.cost is not None and line.mass_kg is not None]
        plastic = show(sum(masses), "kg", readers=readers).plain
        yield f"not counted: the plastic to print with, {plastic}, for {money(sum(costs), readers)} of its spool"
    paid = {line.ref for line in kit.buy}
    left = ["wood and other stock for what is made"] if any(line.ref not in paid for line in kit.make) else []
    left += ["plastic for what is printed"] if len(costs) < len(kit.prints) else []
    if left:
        yield (f"not counted: {' and '.join(left)}, which a plan buys for the whole telescope; see what is left of "
               "yours")


def again_words(step: Again) -> str:
    """Why a step is done or read again, with the numbers that are others now."""
    told = {_bare(old, new) for what, old, new in step.numbers if what}  # with its unit; no need of it without
    numbers = [f"{what}: {old} {ARROW} {new}" for what, old, new in step.numbers if what]
    numbers += {_bare(old, new): f"{old} {ARROW} {new} in its text" for what, old, new in reversed(step.numbers)
                if not what and _bare(old, new) not in told}.values()
    said = {"new": ["new"], "parts": ["its parts change"], "numbers": numbers, "text": ["its text has changed"]}
    return "; ".join(words for reason in step.why for words in said[reason])


def _bare(*said: str) -> tuple[str, ...]:
    """Numbers without their units."""
    return tuple(each.split()[0] if each.split() else "" for each in said)


def once_words(line: Once) -> str:
    """The steps that use a part once more: ``step 4``, or ``steps 4, 10``."""
    return f"step{'' if len(line.steps) == 1 else 's'} {', '.join(map(str, line.steps))}"


def part_words(change: PartChange, readers: Readers) -> str:
    """What changed of a part: the values where they are short, else what they are of."""
    found = [_field_words(each, change.ref, readers) for each in change.spec]
    if change.mesh and not any(words.startswith("print mesh") for words in found):
        found.append("mesh")
    return "; ".join(dict.fromkeys(found)) or "what it costs as the others are cut"


def _field_words(change: SpecChange, ref: str, readers: Readers) -> str:
    field = change.key.removeprefix(f"parts[{ref}].")
    if field.startswith("instead["):
        return "other choices"
    called = field.removeprefix("cut.pieces").strip("[").replace("]", "")
    called = called.replace("[", " ").replace(".", " ").replace("_", " ").strip()
    old, new = pair_words(change, readers)
    return f"{called} {old} {ARROW} {new}" if max(len(old), len(new)) <= _SHORT else called


def status_words(status: str, name: str) -> str:
    """How a known issue stands in a revision of this name."""
    return f"not in {name}" if status == "elsewhere" else status


def changed_sums(found: Difference, readers: Readers) -> list[ResultChange]:
    """Cost and mass of one kit where they print otherwise, or their goal came to something else."""
    return [change for change in found.sums if change.old_outcome != change.new_outcome
            or value_words(change.old, change, readers) != value_words(change.new, change, readers)]


def priced_words(found: Difference) -> str:
    """How many parts had their prices looked up again; empty for none."""
    return f"{found.priced_again} part{'' if found.priced_again == 1 else 's'}" if found.priced_again else ""


def over_words(line: Over) -> str:
    """Where what is left over comes from."""
    return "left of the new packs" if line.of_new_packs else "taken out"


def _changes(found: Difference, readers: Readers) -> Iterator[tuple[str, list[Line]]]:
    parts = [change for change in found.spec if change.key.startswith("parts[")]
    rest = [change for change in found.spec if change not in parts]
    yield "spec", [_arrow(change.key, *pair_words(change, readers)) for change in rest]
    yield "pages", [_file(change) for change in found.pages]
    yield "files", [_file(change) for change in found.files]
    results = [change for change in found.results if change not in found.sums]
    groups: dict[str, list[Line]] = {}
    for change in results:
        groups.setdefault(change.id.partition(".")[0], []).append(_result(change, readers))
    yield from groups.items()
    yield "parts list", list(_parts(found, parts, readers))
    yield "sums", [_result(change, readers) for change in changed_sums(found, readers)]
    yield "cuts", [_arrow(f"{change.ref} {change.stock}, {length(change.length_mm, readers, change.width_mm)}",
                          str(change.old), str(change.new)) for change in found.cuts]
    yield "notes", [(f"{change.id} {change.title}", status_words(change.old, found.old.name), ARROW,
                      status_words(change.new, found.new.name)) for change in found.notes]


def _kit(kit: Kit, readers: Readers) -> Iterator[tuple[str, list[Line]]]:
    yield "upgrade: buy", [*((line.ref, line.name, buy_words(line), money(line.cost, readers)) for line in kit.buy),
                           *([("", "together", "", money(kit.cost, readers))] if len(kit.buy) > 1 else [])]
    yield f"upgrade: {PACKS}", [(line.ref, line.name, str(line.pieces)) for line in kit.from_packs]
    yield "upgrade: print", [
        (line.ref, line.name, str(line.pieces),
         ", ".join(filter(None, (NOTHING if line.mass_kg is None else show(line.mass_kg, "kg", readers=readers).plain,
                                 "" if line.time_h is None else duration(line.time_h * 60))))) for line in kit.prints]
    yield "upgrade: cut", [
        (line.ref, line.stock, f"{line.pieces} of {length(line.length_mm, readers, line.width_mm)}",
         "from new stock" if line.from_mm is None else f"from the old {length(line.from_mm, readers)}")
        for line in kit.saw]
    yield "upgrade: rework", [(line.ref, line.name, str(line.pieces), f"from the old {line.old_name}: {line.how}")
                              for line in kit.rework]
    yield "upgrade: make", [(line.ref, line.name, str(line.pieces), WHY[line.why]) for line in kit.make]
    yield "upgrade: have at hand", [(line.ref, line.name, str(line.pieces), "") for line in kit.at_hand]
    yield f"upgrade: {ONCE_MORE}", [(line.ref, line.name, once_words(line)) for line in kit.once_more]
    yield "upgrade: left over", [(line.ref, line.name, str(line.pieces), over_words(line)) for line in kit.left_over]
    yield "upgrade: do again", [(str(step.number), step.title, again_words(step)) for step in kit.steps]
    yield "upgrade: read again", [(str(step.number), step.title, again_words(step)) for step in kit.read]
    yield "upgrade: steps no longer there", [(title,) for title in kit.steps_gone]
    yield "upgrade: check again", [(str(check.number), check.what, check.target,
                               f"within {check.tolerance}" if check.tolerance else "") for check in kit.checks]


def _parts(found: Difference, spec: Sequence[SpecChange], readers: Readers) -> Iterator[Line]:
    """The parts that came, went or have another mesh or cost, then what their lines in the spec say otherwise. The days
    on which prices were looked up are only counted."""
    for change in found.parts:
        if not change.spec or change.kind != "changed":
            yield f"{change.ref} {change.name}", change.kind
    yield from (_arrow(change.key, *pair_words(change, readers)) for change in spec
                if not change.key.endswith("]") and not is_day_of_price(change))
    if found.priced_again:
        yield "prices looked up again", priced_words(found)


def _arrow(name: str, old: str, new: str) -> Line:
    return name, _clipped(old), ARROW, _clipped(new)


def _clipped(text: str) -> str:
    flat = " ".join(text.split("\n"))
    return flat if len(flat) <= _LONGEST else f"{flat[:_LONGEST - 1].rstrip()}…"


def _file(change: FileChange) -> Line:
    return change.path, change.kind


def _result(change: ResultChange, readers: Readers) -> Line:
    return (change.id, value_words(change.old, change, readers), ARROW, value_words(change.new, change, readers),
            outcome_change(change))


def _drifted(name: str, drifted: tuple[Drift, ...]) -> Iterator[str]:
    if drifted:
        yield (f"revision {name} was frozen with other results than this version of dossier works out of it: "
               f"{', '.join(each.result_id for each in drifted)}")


def _block(title: str, rows: Iterable[Line]) -> Iterator[str]:
    """A heading and its rows in columns; nothing where there are no rows."""
    found = [tuple(row) for row in rows]
    if not found:
        return
    count = max(map(len, found))
    full = [row + ("",) * (count - len(row)) for row in found]
    widths = [max(map(len, column)) for column in zip(*full, strict=True)]
    yield title
    for row in full:
        yield "  " + "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
    yield ""
