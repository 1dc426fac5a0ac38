"""Other choices for the parts in words: what each costs and changes, and the cheapest build beside the chosen one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from dossier.design import Design
from dossier.design.alternatives import (
    Alternative,
    Change,
    Cheapest,
    alternatives,
    cheapest,
    misses_of,
    said_again,
)
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.asides import alternatives as tables
from dossier.notation import show, show_result
from dossier.spec.defaults import slug
from dossier.views.goals import limit_words, outcome_words
from dossier.working import Result

_COST = "parts.cost"
_NAMES = frozenset({"Strehl", "Airy", "Dawes", "Rayleigh"})


def choices(design: Design) -> Aside | None:
    """Every other choice, and in a sentence what the build with it would be."""
    table = tables.choices(design)
    if table is None:
        return None
    rows = zip(table.rows, alternatives(design), strict=True)
    return replace(table, rows=tuple(replace(row, remark=remark(each, design)) for row, each in rows),
                   notes=(*table.notes, missed_now(design)))


def missed_now(design: Design) -> str:
    """Which limits the build misses with its parts as chosen: of all that are set, not of one question's."""
    judged = sum(result.goal is not None for result in design.results.values())
    missed = misses_of(design.results)
    if not missed:
        return f"With the parts as chosen none of the {judged} limits on all sheets is missed."
    named = _listed(_label(Change(design.results[name], None), design) for name in missed)
    return (f"With the parts as chosen {len(missed)} of the {judged} limits on all sheets "
            f"{'is' if len(missed) == 1 else 'are'} missed: {named}.")


def remark(alternative: Alternative, design: Design) -> str:
    """What choosing it costs and changes, in sentences."""
    if alternative.unfit:
        return f"Instead of {alternative.part}: it does not fit as the plan has it, {alternative.unfit}."
    kept = [change for change in alternative.told if not change.crossing]
    said = [f"Instead of {alternative.part}: {price_words(alternative, design)}",
            *filter(None, (_moved(each, design) for each in kept))]
    sentences = [f"{'; '.join(said)}.", *_crossings(alternative.told, design)]
    if not alternative.keys and len(said) == 1:
        sentences.append("The plan names nothing that it changes, so nothing more is worked out.")
    elif len(said) == 1 and len(sentences) == 1:
        sentences.append("No result that is looked at changes in the digits shown.")
    return " ".join(sentences)


def price_words(alternative: Alternative, design: Design) -> str:
    """``84.00 EUR more``; for no price said, so much."""
    if alternative.price_difference is None:
        return "no price is given"
    difference = round(alternative.price_difference.number, 3)
    if not difference:
        return "it costs the same"
    shown = show(abs(difference), "money", readers=design.build.readers).plain
    return f"{shown} {'more' if difference > 0 else 'less'}"


def side_by_side(design: Design) -> Aside | None:
    """The chosen build and the one of the cheapest choices: cost, limits missed, each limit that stands otherwise."""
    found = cheapest(design)
    if found is None:
        return None
    columns = (AsideColumn("As chosen", text=True), AsideColumn("Cheapest of each part", text=True))
    notes = tuple(_cheapest_notes(found))
    if found.unfit:
        return Aside("Chosen and cheapest build, side by side", "Result", columns[:1], (
            AsideRow("Cost of one kit", (_result(design.results.get(_COST), design),)),), notes)
    rows = (AsideRow("Cost of one kit", tuple(_result(each.get(_COST), design)
                                              for each in (design.results, found.results))),
            AsideRow("Limits missed", (str(len(misses_of(design.results))), str(len(found.misses)))),
            *_judged_rows(found, design))
    return Aside("Chosen and cheapest build, side by side", "Result", columns, rows, notes)


def _judged_rows(found: Cheapest, design: Design) -> Iterator[AsideRow]:
    """The limits that one build meets, only just meets or misses, and the other does not."""
    otherwise = [change for change in found.changes if change.id != _COST and _outcome(change.before) != _outcome(
        change.after)]
    shown = {change.id for change in otherwise}
    for change in otherwise:
        if said_again(change.id) not in shown:
            yield AsideRow(_capital(_label(change, design)), tuple(_judged(each, design) for each in (
                change.before, change.after)))


def _outcome(result: Result | None) -> str:
    return result.goal.outcome(result.number) if result and result.goal else ""


def _judged(result: Result | None, design: Design) -> str:
    outcome = f", {outcome_words(result)}" if result and result.goal else ""
    return _result(result, design) + outcome


def _result(result: Result | None, design: Design) -> str:
    return show_result(result, design.build.readers).plain if result else "not worked out"


def _cheapest_notes(found: Cheapest) -> Iterator[str]:
    named = _listed(f"{each.ref}, {each.name}" for each in found.taken)
    yield (f"Taken instead of what is chosen: {named}. All other parts are cheapest as they are. Limits on which both "
           "builds are judged alike are left out.")
    for clash in found.clashes:
        yield (f"{clash.left.ref}, {clash.left.name}, is left out: it sets {clash.key}, and so does {clash.taken.ref}, "
               f"{clash.taken.name}. The two cannot be had together as they are written.")
    if found.unfit:
        yield f"They do not fit together as the plan has it: {found.unfit}."


def _moved(change: Change, design: Design) -> str:
    """``fully lit field 11.5 → 4.5 mm``; empty where the digits of the page show no change."""
    if change.before is None or change.after is None:
        return ""
    old, new = (show_result(each, design.build.readers) for each in (change.before, change.after))
    return "" if old.plain == new.plain else f"{_label(change, design)} {old.number} → {new.plain}"


def _crossings(changes: Iterable[Change], design: Design) -> Iterator[str]:
    """Limits that are newly met, newly missed or no longer asked, in sentences."""
    crossed = [change for change in changes if change.crossing]
    for which, words in (("met", "Newly within its limit"), ("missed", "Newly beyond its limit")):
        named = [f"{_moved(change, design) or _reached(change, design)} ({_asked(change.after, design)})"
                 for change in crossed if change.crossing == which and change.after]
        if named:
            yield f"{words}: {_listed(named)}."
    lapsed = [_label(change, design) for change in crossed if change.crossing == "lapsed"]
    if lapsed:
        yield f"No longer limited, though missed now: {_listed(lapsed)}."


def _asked(result: Result, design: Design) -> str:
    """``at least 8.0 mm, misses by 43 %``: the share tells apart what a few digits cannot."""
    said = outcome_words(result)
    return f"{limit_words(result, design)}, {said}" if said.startswith("misses") else limit_words(result, design)


def _reached(change: Change, design: Design) -> str:
    """Where a result that has moved little, or was not there before, stands now."""
    return f"{_label(change, design)} {_result(change.after, design)}"


def _label(change: Change, design: Design) -> str:
    """A result's name within a sentence: of a table, with the name of its row."""
    result = change.after or change.before
    if result is None:
        return change.id
    row = result.id.partition(".")[2].partition(".")[0] if result.id.startswith("eyepiece.") else ""
    name = next((piece.name for piece in design.build.eyepieces if slug(piece.name) == row), "")
    is_name = result.title.partition(" ")[0] in _NAMES or not result.title[1:2].islower()
    title = result.title if is_name else result.title[:1].lower() + result.title[1:]
    return f"{title}, {name}" if name and name not in title else title


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _listed(items: Iterable[str]) -> str:
    found = tuple(items)
    return f"{'; '.join(found[:-1])} and {found[-1]}" if len(found) > 1 else "".join(found)
