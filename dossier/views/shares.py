"""Shares of builders in words, with how well they are known."""

from __future__ import annotations

from collections.abc import Callable

from dossier.design.asides.builders import bounds_of
from dossier.design.explore import Drawn, GoalShare
from dossier.notation.units import joined

# A share of the variance below this is not told from chance.
_LEAST_TOLD = 0.05


def bounds(met: int, drawn: int) -> tuple[float, float]:
    """Between which shares the true one lies in 95 of 100 cases, as far as counting goes."""
    least, most = bounds_of(met, drawn)
    return least.number, most.number


def share_words(counted: GoalShare | Drawn) -> str:
    """``93.2 % (91.5 to 94.6 %)``."""
    met = counted.met_all if isinstance(counted, Drawn) else counted.met or 0
    drawn = counted.count if isinstance(counted, Drawn) else counted.drawn
    low, high = bounds(met, drawn)
    return f"{percent(met / drawn)} ({100 * low:.1f} to {percent(high)})"


def percent(share: float) -> str:
    """A share as a percentage to a tenth."""
    return joined(f"{100 * share:.1f}", "%")


def worst_of(share: GoalShare, called: Callable[[str], str] = str) -> str:
    """Which tolerances spoil this result most, by which measure: misses recovered where builders miss its limit, and
    the share of its variance. ``called`` says what a key is called."""
    named = [each for each in share.spoilers if each.recovered or each.variance_share >= _LEAST_TOLD]
    if not named:
        return "none of them by itself"
    first = named[0]
    told = [f"made perfect, it recovers {first.recovered} of {first.of} misses looked at"] if first.of else []
    told.append(f"{_whole(first.variance_share)} of the variance")
    rest = "; ".join(f"{called(each.key)} ({f'{each.recovered} of {each.of}, ' if each.of else ''}"
                     f"{_whole(each.variance_share)})" for each in named[1:3])
    return f"{called(first.key)}: {', '.join(told)}" + (f"; then {rest}" if rest else "")


def idle_keys(drawn: Drawn) -> tuple[str, ...]:
    """The tolerances that move none of the results shown."""
    moving = {each.key for share in drawn.shares for each in share.spoilers
              if each.recovered or each.variance_share >= _LEAST_TOLD}
    return tuple(each.key for each in drawn.tolerances if each.key not in moving)


def _whole(share: float) -> str:
    return joined(f"{100 * share:.0f}", "%")
