"""Whether the mirror will do, in words: each limit met or missed and by how much, what else the budget pays for, what a
paraboloid would give and cost, and from what focal length on a sphere does."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dossier.design import Design, pictures
from dossier.design.alternatives import Alternative, alternatives
from dossier.design.asides.mirror import shortest_spheres
from dossier.design.pictures import BudgetLine, StrehlBudget
from dossier.notation import show
from dossier.notation.digits import Digits, written
from dossier.notation.given import show_given
from dossier.notation.units import joined
from dossier.views.alternatives import price_words
from dossier.working import Result

QUARTER_WAVE, MARECHAL = 0.25, 0.80
SPHERE, PARABOLOID = 0.0, -1.0
_TWO_FIGURES = Digits(figures=2, trim=True, powers=False)
_TWICE = 2.0
_MOST_DIGITS = 6
# What a factor on the Strehl ratio takes is not worth a number below the first, and is rounding below the second.
_NOTHING, _EXACTLY = 0.0005, 1e-9


def decision(design: Design) -> str:
    """The decision on the mirror; empty where its figure was not worked out."""
    spheres = shortest_spheres(design)
    if spheres is None:
        return ""
    budget = pictures.strehl_budget(design)
    paragraphs = (_verdict(design, budget), _spent(design, budget), _air(design, budget),
                  _paraboloid(design, budget), _sphere(design, budget, spheres), _rules(design, budget))
    return "\n\n".join(text for each in paragraphs if (text := " ".join(each)))


def _verdict(design: Design, budget: StrehlBudget) -> Iterator[str]:
    """Both limits, each met or missed, and by how much."""
    valley, strehl = (design.results[f"figure.{name}"].number for name in ("wavefront_pv", "strehl"))
    yield (f"{_kind(design, budget.light.mirror.conic)} of {{{{ spec.primary.aperture }}}} at "
           f"f/{{{{ optics.focal_ratio }}}} **{_met(valley <= QUARTER_WAVE)}** the quarter-wave limit (Rayleigh): over "
           "the ring that the diagonal leaves open its wavefront is {{ figure.wavefront_pv }} from peak to valley, "
           f"{_against(valley, QUARTER_WAVE)}.")
    yield (f"It **{_met(strehl >= MARECHAL)}** the limit of a Strehl ratio of 0.80 (Maréchal) with "
           f"{{{{ figure.strehl }}}}, {_against(strehl, MARECHAL)}.")
    curve = budget.lines[0].factor
    if curve >= MARECHAL > strehl:
        yield f"The curve by itself leaves {_three(curve)} and would do; the polish takes it below."


def _spent(design: Design, budget: StrehlBudget) -> Iterator[str]:
    """What else takes from the Strehl ratio, and whether all together still leave enough."""
    curve, *others = budget.lines
    costs = [f"{line.name} {_taken(line)}" for line in others]
    rest = f"; of what is then left, {_listed(costs)}" if costs else ""
    yield f"Of a perfect mirror’s 1 the curve takes {_taken(curve)}{rest}."
    if "figure.strehl_budget" in design.results:
        left, alone = (design.results[name].number for name in ("figure.strehl_budget", "figure.strehl"))
        enough = "still enough for 0.80" if left >= MARECHAL else (
            "no longer enough for 0.80, though the mirror alone would do" if alone >= MARECHAL else
            "not enough for 0.80")
        # A ratio of 0.797 in two decimals would read like the limit itself.
        digits = next((count for count in range(2, _MOST_DIGITS) if round(left, count) != MARECHAL), _MOST_DIGITS)
        number = written(left, Digits(decimals=digits)).plain if digits > 2 else "{{ figure.strehl_budget }}"
        yield f"All together {number} is left, {enough}."
    yield f"Not counted, because the plan does not say it: {_listed(list(budget.unsaid))}."


def _taken(line: BudgetLine) -> str:
    taken = 1 - line.factor
    return _percent(taken) if taken >= _NOTHING else "next to nothing" if taken > _EXACTLY else "nothing"


def _air(design: Design, budget: StrehlBudget) -> Iterator[str]:
    """How wide a star is in the air beside its Airy disc."""
    discs = budget.seeing_in_discs
    if discs is None:
        return
    seeing = show_given(design.build.conditions.seeing or 0.0, "arcsec", design.build.readers).plain
    width = show(2 * design.results["optics.rayleigh_limit"].number, "arcsec").plain
    times = "" if _figures(discs) == "1" else f"{_figures(discs)} times "
    yield (f"The air takes its share last: with a seeing of {seeing} a star is, at half its brightness, "
           f"{times}as wide as its Airy disc is from dark ring to dark ring, {width}.")
    yield ("On such a night the air decides what is seen; the mirror’s limits are for steadier ones." if discs >= 1
           else "On such a night the mirror’s limits can show.")


def _paraboloid(design: Design, budget: StrehlBudget) -> Iterator[str]:
    """What a paraboloid would give and cost; of a paraboloid, what it gives."""
    conic = budget.light.mirror.conic
    if conic == PARABOLOID:
        yield ("A paraboloid brings the light of a star on the axis to one point: its curve takes nothing"
               + (", and what its own ratio lacks is polish." if budget.light.surface_rms_nm else "."))
        yield from (_named(each, design) for each in _with_conic(design, SPHERE))
        return
    polish, rest = _without_curve(budget)
    all_told = f"; with the support as well, {_three(rest)}" if rest < polish - _NOTHING else ""
    same = " with the same polish" if budget.light.surface_rms_nm else ""
    yield ("A paraboloid of the same aperture and focal length would take nothing by its curve: its Strehl ratio "
           f"would be {_three(polish)}{same}{all_told}.")
    offered = tuple(_with_conic(design, PARABOLOID))
    yield from (_named(each, design) for each in offered)
    if not offered:
        yield "What one costs the plan does not say."


def _named(choice: Alternative, design: Design) -> str:
    """A mirror of the other figure that the parts list offers, with its price and what it gives."""
    kind = "a paraboloid" if _conic_of(choice) == PARABOLOID else "a sphere"
    strehl = choice.results["figure.strehl"]
    also = ", though it changes more than the figure" if set(choice.keys) != {"primary.conic"} else ""
    cost = next((change for change in choice.changes if change.id == "parts.cost"), None)
    past = " It takes the cost of one kit past its limit." if cost and cost.crossing == "missed" else ""
    return (f"The parts list offers {kind} in place of [{choice.ref}](parts.html#part-{choice.ref}){also}: for one kit "
            f"{price_words(choice, design)}, Strehl ratio {{{{ figure.strehl }}}} → {_shown(strehl, design)}.{past}")


def _sphere(design: Design, budget: StrehlBudget, spheres: tuple[Result, Result]) -> Iterator[str]:
    """From what focal length on a sphere of this aperture would do, and where this mirror stands."""
    mirror = budget.light.mirror
    wave, strehl = spheres
    own, short = mirror.focal_length_mm, _apart(mirror.focal_length_mm, wave.number, design)
    by_wave, by_strehl = (_length(each.number, design) for each in spheres)
    yield (f"A sphere of this aperture, with this diagonal, does from a focal length of {by_wave} by a quarter wave "
           f"and {by_strehl} by a Strehl ratio of 0.80, its curve alone counted.")
    if mirror.conic == SPHERE:
        yield f"This one is {short} the first and {_apart(own, strehl.number, design)} the second."
        return
    yield _sphere_instead(own, spheres, short, design)
    if mirror.conic != PARABOLOID:
        yield (f"By the third-order rule this conic leaves {_figures(abs(1 + mirror.conic))} times a sphere’s "
               "spherical aberration.")


def _sphere_instead(own_mm: float, spheres: tuple[Result, Result], short: str, design: Design) -> str:
    """Whether a sphere would do at the focal length of another mirror."""
    longer = [own_mm >= each.number for each in spheres]
    own = show_given(own_mm, "mm", design.build.readers).plain
    if all(longer):
        return f"At {own} a sphere would do by both limits."
    if any(longer):
        return f"At {own} a sphere would do by the {'first' if longer[0] else 'second'} alone."
    return f"At {own} a sphere would not do by either: that is {short} the first."


def _rules(design: Design, budget: StrehlBudget) -> Iterator[str]:
    """Where the hand rule and the exact wavefront of a sphere say different things."""
    mirror = budget.light.mirror
    if mirror.conic != SPHERE or "figure.sphere_limit_focal_ratio" not in design.results:
        return
    by_rule = mirror.focal_ratio >= design.results["figure.sphere_limit_focal_ratio"].number
    exact = design.results["figure.wavefront_pv"].number <= QUARTER_WAVE
    if by_rule != exact:
        yield (f"Two rules disagree here. The trade’s, third order and over the whole mirror, asks for "
               f"f/{{{{ figure.sphere_limit_focal_ratio }}}} and is {'kept' if by_rule else 'missed'}; the exact "
               f"wavefront over the ring that is left open {_met(exact)} the same quarter wave. "
               "So near the limit the exact one counts, and neither leaves anything for a second fault.")


def _with_conic(design: Design, conic: float) -> Iterator[Alternative]:
    """The alternatives of the parts list that give the primary this conic."""
    for each in alternatives(design):
        if "primary.conic" in each.keys and not each.unfit and _conic_of(each) == conic:
            yield each


def _conic_of(choice: Alternative) -> float | None:
    figure = choice.results.get("figure.strehl")
    value = figure.inputs["conic"].value if figure else None
    return None if isinstance(value, tuple) else value


def _without_curve(budget: StrehlBudget) -> tuple[float, float]:
    """What the polish alone leaves, and what everything but the curve leaves."""
    polish = math.prod(line.factor for line in budget.lines[1:] if line.result == "figure.strehl")
    return polish, math.prod(line.factor for line in budget.lines[1:])


def _kind(design: Design, conic: float) -> str:
    """What a mirror of this conic is called, at the beginning of a sentence. What was measured is never quite a sphere
    or a paraboloid, so its conic is said instead."""
    if isinstance(design.results["figure.strehl"].inputs["conic"], Result):
        return "This mirror, measured as a conic of {{ bench.conic }},"
    if conic == SPHERE:
        return "This sphere"
    if conic == PARABOLOID:
        return "This paraboloid"
    if conic < PARABOLOID:
        return "This hyperboloid, beyond the paraboloid,"
    if conic < SPHERE:
        return "This ellipsoid, between sphere and paraboloid,"
    return "This oblate ellipsoid, farther from the paraboloid than a sphere,"


def _met(is_met: bool) -> str:
    return "meets" if is_met else "misses"


def _against(value: float, limit: float) -> str:
    """How far a number stands from a limit: ``5.4 % below it``, ``7.1 times the limit``."""
    if value < limit * 1e-6:
        return "with all of it to spare" if limit == QUARTER_WAVE else "next to nothing"
    if value >= _TWICE * limit:
        return f"{_figures(value / limit)} times the limit"
    share = value / limit - 1
    if abs(share) < 1e-6:
        return "just on it"
    return f"{_percent(abs(share))} {'above' if share > 0 else 'below'} it"


def _apart(length: float, limit: float, design: Design) -> str:
    """``18.8 mm (1.6 %) longer than``."""
    gap = length - limit
    return f"{_length(abs(gap), design)} ({_percent(abs(gap) / limit)}) {'longer' if gap >= 0 else 'shorter'} than"


def _length(length_mm: float, design: Design) -> str:
    return show(length_mm, "mm", readers=design.build.readers).plain


def _shown(result: Result, design: Design) -> str:
    return show(result.value, result.unit, result_id=result.id, readers=design.build.readers).plain


def _percent(share: float) -> str:
    return joined(_figures(100 * share), "%")


def _figures(value: float) -> str:
    return written(value, _TWO_FIGURES).plain


def _three(value: float) -> str:
    return written(value, Digits(decimals=3)).plain


def _listed(items: list[str]) -> str:
    return f"{', '.join(items[:-1])} and {items[-1]}" if len(items) > 1 else "".join(items)
