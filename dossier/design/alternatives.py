"""Other choices for the parts: the build that each would make, worked out, and what it changes.

Nothing here is worked out for the results themselves, only when a page asks; what is asked for twice is worked out
once.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fnmatch import fnmatchcase
from functools import lru_cache
from typing import Any, Literal

from dossier.calc.shop.difference import cost_difference_money
from dossier.design.goals import with_goals
from dossier.design.materials import unknown_materials
from dossier.design.model import Design
from dossier.design.plan import plan_for
from dossier.design.resolve import resolved
from dossier.design.worksheet import Loop, NotSaid, Worksheet
from dossier.errors import Unusable
from dossier.spec.deferred import CLOSES, OPENS
from dossier.spec.keys import split_key, value_at
from dossier.spec.load import with_values
from dossier.spec.model_parts import Alternative as Said
from dossier.spec.model_parts import Part
from dossier.working import Given, NoAnswer, Result

# What another choice is looked at for; every result with a limit is looked at as well.
LOOKED_AT = ("figure.*", "optics.*", "light.*", "diagonal.*", "field.*", "cell.*", "frame.*", "thermal.*", "balance.*",
             "mount.*", "parts.mass")
# Those of them that a builder decides by where no limit says so.
TELLING = ("figure.strehl", "figure.wavefront_pv", "light.mtf_50", "optics.throughput", "optics.obstruction",
           "optics.limiting_magnitude", "optics.rayleigh_limit", "diagonal.full_field", "diagonal.edge_light",
           "field.coma_free_radius", "field.edge_rms_radius", "cell.wavefront_rms", "cell.pinch_wavefront_rms",
           "cell.spring_margin", "frame.sag", "frame.focus_drift", "frame.frequency", "frame.tube_length",
           "frame.pole_length", "thermal.settling_time", "mount.load", "mount.tipping_push", "parts.mass")
# What says another result over again. A limit on it is told and counted only where the other's is not told already.
AGAIN: Mapping[str, str] = {"diagonal.full_field_classical": "diagonal.full_field",
                            "eyepiece.*.edge_light": "diagonal.edge_light", "frame.sawn_length": "frame.pole_length"}
MOST_TOLD = 4
_LEAST_TOLD = 0.005  # half a percent of a limit, or of the number itself
_COST = "parts.cost"

Crossing = Literal["", "met", "missed", "lapsed"]
Results = Mapping[str, Result]


@dataclass(frozen=True, slots=True)
class Change:
    """A result of the chosen build and of the other; one of them is None where that build does not have it."""

    before: Result | None
    after: Result | None

    @property
    def id(self) -> str:
        return next(each.id for each in (self.before, self.after) if each is not None)

    @property
    def crossing(self) -> Crossing:
        """Whether a limit is newly met, newly missed, or was missed and is no longer asked; empty for neither."""
        missed, misses = _misses(self.before), _misses(self.after)
        if missed and not misses:
            return "met" if self.after is not None and self.after.goal else "lapsed"
        return "missed" if misses and not missed else ""

    @property
    def size(self) -> float:
        """How much it changes: in shares of its limit where it has one, else of the larger number. Infinite where one
        build lacks it."""
        if self.before is None or self.after is None:
            return math.inf
        old, new = self.before.number, self.after.number
        goal = self.after.goal or self.before.goal
        scale = abs(goal.limit) if goal and goal.limit and math.isfinite(goal.limit) else max(abs(old), abs(new))
        return abs(new - old) / scale if scale else 0.0


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another choice for a part, and the build it would make.

    ``keys`` are the spec's keys that it sets. ``price_difference`` is of one kit in whole packs, None where no price is
    said. ``changes`` are all results looked at that differ; ``misses`` the limits that the other build misses, by ID,
    as ``misses_of`` counts them.
    ``unfit`` says why there is no such build; ``results`` is then empty.
    """

    ref: str
    part: str
    key: str
    name: str
    because: str
    keys: tuple[str, ...]
    price_difference: Result | None
    changes: tuple[Change, ...] = ()
    misses: tuple[str, ...] = ()
    unfit: str = ""
    results: Results = field(default_factory=dict, compare=False, repr=False)

    @property
    def told(self) -> tuple[Change, ...]:
        """The two to four changes to tell: limits crossed first, then what changes most, a limit before the rest."""
        return _told(self.changes)


@dataclass(frozen=True, slots=True)
class Clash:
    """Two choices that set the same key: ``left`` is left out beside ``taken``."""

    taken: Alternative
    left: Alternative
    key: str


@dataclass(frozen=True, slots=True)
class Cheapest:
    """The cheapest choice of each part, together in one build: who was taken, who clashed, and what comes of it.

    ``unfit`` says why the choices do not fit together; ``results`` is then empty.
    """

    taken: tuple[Alternative, ...]
    clashes: tuple[Clash, ...]
    changes: tuple[Change, ...]
    misses: tuple[str, ...]
    unfit: str = ""
    results: Results = field(default_factory=dict, compare=False, repr=False)


def alternatives(design: Design) -> tuple[Alternative, ...]:
    """Every alternative of every part, in the order of the spec."""
    return _alternatives(asked_of(design))


def cheapest(design: Design) -> Cheapest | None:
    """The build with the cheapest choice of each part; None where what is chosen is the cheapest already."""
    return _cheapest(asked_of(design))


@dataclass(frozen=True, slots=True)
class Asked:
    """A design to be asked for twice: told from others by what its spec says."""

    said: str
    design: Design = field(compare=False)


def asked_of(design: Design) -> Asked:
    """A design by what its spec says, so that what is asked for twice is worked out once."""
    said = json.dumps([design.loaded.raw, _expressions(design)], default=str, sort_keys=True)
    return Asked(f"{design.loaded.file}\n{design.kits}\n{said}", design)


@lru_cache(maxsize=4)
def _alternatives(asked: Asked) -> tuple[Alternative, ...]:
    return tuple(_alternative(asked.design, place, part, other, choice)
                 for place, part in enumerate(asked.design.build.parts) for other, choice in enumerate(part.instead))


def _alternative(design: Design, place: int, part: Part, other: int, choice: Said) -> Alternative:
    key = f"parts[{place}].instead[{other}]"
    told = Alternative(part.ref, part.name, key, choice.name, choice.because or "", tuple(choice.set), None)
    own = bought(place, part, choice)
    try:
        results = _worked_out(design, {**own, **_set(design, key, choice)})
    except (Unusable, Loop, ValueError, ArithmeticError) as error:
        return replace(told, price_difference=_price_only(design, own, choice), unfit=_why(error))
    return replace(told, price_difference=_price_difference(design, results, choice), results=results,
                   changes=_changes(design, results, priced=choice.price is not None), misses=misses_of(results))


@lru_cache(maxsize=4)
def _cheapest(asked: Asked) -> Cheapest | None:
    design = asked.design
    cheaper: dict[str, Alternative] = {}
    for each in alternatives(design):
        known = cheaper.get(each.ref)
        if not each.unfit and _saved(each) > 0 and (known is None or _rank(each) < _rank(known)):
            cheaper[each.ref] = each
    if not cheaper:
        return None
    taken, clashes = _without_clashes(sorted(cheaper.values(), key=_rank))
    order = list(cheaper)
    taken.sort(key=lambda each: order.index(each.ref))
    try:
        results = _worked_out(design, {key: value for each in taken for key, value in _values(design, each).items()})
    except (Unusable, Loop, ValueError, ArithmeticError) as error:
        return Cheapest(tuple(taken), tuple(clashes), (), (), _why(error))
    return Cheapest(tuple(taken), tuple(clashes), _changes(design, results, priced=True), misses_of(results),
                    results=results)


def _without_clashes(wanted: list[Alternative]) -> tuple[list[Alternative], list[Clash]]:
    """Of choices that set the same key, or a key within another's, the first; and which were left for it."""
    taken: list[Alternative] = []
    clashes: list[Clash] = []
    for each in wanted:
        found = next(((first, key) for first in taken for key in each.keys for other in first.keys
                      if _overlap(key, other)), None)
        if found:
            clashes.append(Clash(found[0], each, found[1]))
        else:
            taken.append(each)
    return taken, clashes


def _overlap(one: str, other: str) -> bool:
    first, second = sorted((split_key(one), split_key(other)), key=len)
    return second[:len(first)] == first


def _saved(alternative: Alternative) -> float:
    """What it saves, to a thousandth of the currency's unit: the rounding of binary fractions saves nothing."""
    return -round(alternative.price_difference.number, 3) if alternative.price_difference else 0.0


def _rank(alternative: Alternative) -> tuple[float, int, float]:
    """The first is the one to take: what saves most; of equal savings, what misses fewer limits, and by less."""
    missed = [alternative.results[name] for name in alternative.misses]
    short = sum(-result.goal.spare(result.number) / (abs(result.goal.limit) or 1.0) for result in missed if result.goal)
    return -_saved(alternative), len(missed), short


def _values(design: Design, alternative: Alternative) -> dict[str, Any]:
    part_key, _, _ = alternative.key.partition(".")
    place = int(part_key.removeprefix("parts[").removesuffix("]"))
    part = design.build.parts[place]
    choice: Said = value_at(design.build, alternative.key)
    return {**bought(place, part, choice), **_set(design, alternative.key, choice)}


def bought(place: int, part: Part, choice: Said) -> dict[str, Any]:
    """What buying the other choice changes in the part's own line: its price and mass, where said. What is at hand
    is bought then."""
    key, values = f"parts[{place}]", dict[str, Any]()
    if choice.price is not None:
        values[f"{key}.price"] = choice.price
        if part.get == "have":
            values[f"{key}.get"] = "buy"
    if choice.mass is not None:
        values[f"{key}.mass"] = f"{choice.mass!r} kg"
    return values


def _set(design: Design, key: str, choice: Said) -> dict[str, Any]:
    """What the choice sets, with its expressions as the author wrote them."""
    expressions = _expressions(design)
    return {name: expressions.get(f"{key}.set.{name}", value) for name, value in choice.set.items()}


def _expressions(design: Design) -> dict[str, str]:
    """Every text of the spec with an expression in it, as its author wrote it."""
    return {key: spot.said for key, spot in design.loaded.spots.items() if OPENS in spot.said}


def _worked_out(design: Design, values: Mapping[str, Any]) -> Results:
    """Every result of the build with these values, with its goal.

    The author's expressions stand where they were written, so that a mass that follows from the mirror follows the
    other mirror. Those in words are only words here. Raises Unusable, Loop, ValueError or ArithmeticError where there
    is no such build.
    """
    again = {key: said.replace(OPENS, "").replace(CLOSES, "") if _is_prose(design, key) else said
             for key, said in _expressions(design).items()}
    # Another mirror is not the one whose readings were taken.
    untested = {"bench": None} if design.build.bench and any(key.startswith("primary.") for key in values) else {}
    loaded = with_values(design.loaded, {**again, **untested, **values})
    if problems := list(unknown_materials(loaded)):
        raise Unusable(problems)
    ready = resolved(loaded, plan_for, design.kits)
    sheet = Worksheet(ready, plan_for(ready), kits=design.kits)
    results: dict[str, Result] = {}
    left_out: dict[str, str] = {}
    for result_id in sheet.plan:
        try:
            results[result_id] = sheet.result(result_id)
        except (NotSaid, NoAnswer) as missing:
            left_out[result_id] = str(missing)
    return with_goals(sheet, results, left_out)[0]


def _is_prose(design: Design, key: str) -> bool:
    return isinstance(value_at(design.build, key), str) and ".set." not in key


def _why(error: Exception) -> str:
    if isinstance(error, Unusable):
        return "; ".join(dict.fromkeys(f"{problem.key}: {problem.message}" if problem.key else problem.message
                                       for problem in error.problems))
    return f"it depends on itself: {error}" if isinstance(error, Loop) else str(error)


def _price_only(design: Design, bought: Mapping[str, Any], choice: Said) -> Result | None:
    """The price difference of a choice that makes no build: its price alone is put in."""
    try:
        return _price_difference(design, _worked_out(design, bought), choice)
    except (Unusable, Loop, ValueError, ArithmeticError):
        return None


def _price_difference(design: Design, results: Results, choice: Said) -> Result | None:
    other = results.get(_COST)
    if choice.price is None or other is None:
        return None
    return difference_of(design, other)


def difference_of(design: Design, other: Result) -> Result:
    """The cost of one kit of another build less that of the chosen one."""
    chosen: Given | Result = design.results.get(_COST) or Given(
        "cost as chosen", 0.0, "money", "default", said="no price is given")
    with_it = Given("cost of one kit with the other choice", other.number, "money", "default", said="worked out again")
    return cost_difference_money.work("alternatives.cost_difference", other_cost_money=with_it,
                                      chosen_cost_money=chosen)


def _changes(design: Design, results: Results, *, priced: bool) -> tuple[Change, ...]:
    names = dict.fromkeys((*design.results, *results))
    found = (Change(design.results.get(name), results.get(name)) for name in names)
    return tuple(change for change in found if _looked_at(change, priced) and _differs(change))


def _looked_at(change: Change, priced: bool) -> bool:
    name = change.id
    if name.startswith("parts.") and name != "parts.mass":
        # Costs are the price difference over again; a limit on them is another matter.
        return priced and bool(change.crossing)
    judged = any(each is not None and each.goal for each in (change.before, change.after))
    return judged or any(fnmatchcase(name, pattern) for pattern in LOOKED_AT)


def _differs(change: Change) -> bool:
    before, after = change.before, change.after
    if before is None or after is None:
        return True
    if isinstance(before.value, tuple) or isinstance(after.value, tuple):
        return False
    return bool(change.crossing) or not math.isclose(before.number, after.number, rel_tol=1e-9, abs_tol=1e-12)


def _told(changes: tuple[Change, ...]) -> tuple[Change, ...]:
    crossing = {change.id for change in changes if change.crossing}
    once = [change for change in changes if not (change.crossing and said_again(change.id) in crossing)]
    ranked = sorted(_ranked(once), key=lambda each: each[0])
    crossed = sum(bool(change.crossing) for _, change in ranked)
    return tuple(change for _, change in ranked[:max(crossed, MOST_TOLD)])


def _ranked(changes: Sequence[Change]) -> Iterator[tuple[tuple[int, float], Change]]:
    for change in changes:
        if change.crossing:  # all of them: whoever counts the limits missed finds as many named
            yield (0, -change.size), change
            continue
        if change.before is None or change.after is None or change.size < _LEAST_TOLD or said_again(change.id):
            continue
        if change.after.goal or change.before.goal or change.id in TELLING:
            judged = bool(change.after.goal or change.before.goal)
            yield (1, -change.size * (1.0 if judged else 0.5)), change


def said_again(name: str) -> str:
    """The result that this one says over again; empty where it says something of its own."""
    return next((other for pattern, other in AGAIN.items() if fnmatchcase(name, pattern)), "")


def misses_of(results: Results) -> tuple[str, ...]:
    """The limits that these results miss, by ID. One shortfall that two results tell, as the exact and the classical
    formula of the same thing, is counted once."""
    missed = [name for name, result in results.items() if _misses(result)]
    return tuple(name for name in missed if said_again(name) not in missed)


def _misses(result: Result | None) -> bool:
    return bool(result and result.goal and result.goal.outcome(result.number) == "misses")
