"""What ``check`` and ``explain`` print: tables and a chain of workings, as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from dossier import shelf
from dossier.design import Design
from dossier.design.bench_tools import Gathered, alike, consumables_of, tools_of
from dossier.design.buying import unpriced, wrong_packs
from dossier.design.unused import unused_parts
from dossier.errors import Problem, Unusable, did_you_mean
from dossier.notation import Shown, rule_plain, show, show_result, working_plain
from dossier.views.goals import outcome_words, remedy_words
from dossier.views.prices import listed, wrong_pack_words
from dossier.views.record import cited
from dossier.working import Given, Result

Row = tuple[str, str, str, str]


def check_text(design: Design) -> str:
    """All results by group with their goals, then the goals that are missed and what would put them right."""
    about = design.build.about
    heading = f"{about.name} · {design.revision} · {design.date}"
    rows = [_row(result, design) for result in design.results.values()]
    parts = [heading, "", *_table(rows), *_measured(design), *_misses(design), *_waiting(design), *_left_out(design),
             *_unused(design), *_alike(design), *_bought(design)]
    return "\n".join(parts) + "\n"


def misses_text(design: Design) -> str:
    """The goals that are missed, and what would put them right, a line each."""
    return "".join(f"{line}\n" for line in _misses(design))


def explain_text(design: Design, result_id: str) -> str:
    """How this result was worked out, and how everything that went into it was, each once.

    Raises Unusable where there is no such result, or the spec does not say what it needs.
    """
    if result_id not in design.results:
        why = design.left_out.get(result_id) or f"there is no such result{did_you_mean(result_id, design.results)}"
        raise Unusable([Problem(str(design.loaded.file), 0, result_id, why)])
    told: list[str] = []
    blocks = ["\n".join(_explained(result, design)) for result in _chain(design.results[result_id], told)]
    return "\n\n".join(blocks) + "\n"


def _row(result: Result, design: Design) -> Row:
    shown = show_result(result, design.build.readers)
    goal = outcome_words(result) if result.goal else ""
    return result.id, shown.number, shown.unit, goal if result.in_range else f"{goal} (out of range)".strip()


def _table(rows: Sequence[Row]) -> Iterator[str]:
    widths = [max(map(len, column), default=0) for column in zip(*rows, strict=True)]
    for group, members in groupby(rows, key=lambda row: row[0].partition(".")[0]):
        yield group
        for name, number, unit, goal in members:
            yield f"  {name:<{widths[0]}}  {number:>{widths[1]}} {unit:<{widths[2]}}  {goal}".rstrip()
        yield ""


def _measured(design: Design) -> Iterator[str]:
    if design.planned is not None:
        from dossier.views.measured_text import measured_lines

        yield from measured_lines(design)


def _misses(design: Design) -> Iterator[str]:
    for result in design.misses:
        yield f"misses: {result.title}: {outcome_words(result)}. {result.goal.because if result.goal else ''}".rstrip()
        for remedy in design.remedies.get(result.id, ()):
            yield f"        {remedy_words(remedy, design)}"


def _waiting(design: Design) -> Iterator[str]:
    for unmet in design.unmet:
        yield f"not judged: {unmet.goal.result}: {unmet.missing or 'not worked out by this version'}"


def _left_out(design: Design) -> Iterator[str]:
    """Results not worked out, gathered by what they want."""
    wanting: dict[str, list[str]] = {}
    for name, why in design.left_out.items():
        wanting.setdefault(why, []).append(name)
    for why, names in wanting.items():
        yield f"left out: {', '.join(names)}: {why}"


def _alike(design: Design) -> Iterator[str]:
    for kind in (tools_of(design.steps), consumables_of(design.steps)):
        for short, long in alike(kind):
            yield f"one thing under two names? {short.name} ({_steps(short)}), {long.name} ({_steps(long)})"


def _steps(thing: Gathered) -> str:
    return f"step{'s' if len(thing.steps) > 1 else ''} {', '.join(map(str, thing.steps))}"


def _unused(design: Design) -> Iterator[str]:
    for part in unused_parts(design):
        yield f"in no step: {part.ref} {part.name}"


def _bought(design: Design) -> Iterator[str]:
    if missing := unpriced(design.build):
        yield f"without a price: {listed(missing)}"
    for pack in wrong_packs(design.loaded):
        yield f"pack beside a cut: {pack.file}:{pack.line} {pack.key}: {wrong_pack_words(pack)}"


def _chain(result: Result, told: list[str]) -> Iterator[Result]:
    if result.id in told:
        return
    told.append(result.id)
    yield result
    for entry in result.inputs.values():
        for member in (entry, *(entry.members if isinstance(entry, Given) else ())):
            if isinstance(member, Result):
                yield from _chain(member, told)


def _explained(result: Result, design: Design) -> Iterator[str]:
    readers = design.build.readers
    yield f"{result.id} — {result.title}"
    yield f"  formula   {_hanging(rule_plain(result.formula))}"
    if result.formula.method:
        yield f"  method    {result.formula.method}"
    yield f"  put in    {_hanging(working_plain(result, readers))}"
    yield f"  answer    {show_result(result, readers).plain}"
    for name, entry in result.inputs.items():
        yield f"  {name} = {_from(entry, design)}"
    yield f"  source    {cited(result.formula)}"
    if result.formula.note:
        yield f"  note      {result.formula.note}"
    yield from (f"  range     out of range: {stray}" for stray in result.strays)
    if result.formula.holds and result.in_range:
        bounds = "; ".join(f"{name} {low:g} to {high:g}" for name, (low, high) in result.formula.holds.items())
        yield f"  range     within {bounds}"
    if result.goal:
        yield f"  goal      {outcome_words(result)}; {result.goal.because}".rstrip("; ")


def _hanging(text: str) -> str:
    return text.replace("\n", "\n" + " " * 12)


def _from(entry: Given | Result, design: Design) -> str:
    readers = design.build.readers
    if isinstance(entry, Result):
        return f"{show_result(entry, readers).plain}, from {entry.id}"
    shown = _shown(entry, design)
    if entry.line:
        return f"{shown}, from {entry.file}:{entry.line} {entry.key}"
    if entry.origin == "shelf":
        return f"{shown}, {entry.key}, from {shelf.sources()[entry.source].title}"
    return f"{shown}, {entry.key}" + (" (default)" if entry.origin == "default" else "")


def _shown(entry: Given, design: Design) -> str:
    if isinstance(entry.value, tuple):
        return f"{len(entry.value)} numbers"
    text: Shown = show(entry.value, entry.unit, readers=design.build.readers)
    return text.plain
