"""What builders drawn at random reach, as a table: the share that meets each limit, and how the results spread."""

from __future__ import annotations

from dossier.calc import shares
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.explore import Drawn, GoalShare
from dossier.working import Given, Result

_Z = Given("standard deviations to either side", shares.Z_95, "", "default", said="95 of 100 cases")


def bounds_of(met: int, drawn: int) -> tuple[Result, Result]:
    """The least and the greatest share that a count allows."""
    share, count = _share(met, drawn), _count(drawn)
    return (shares.share_at_least.work("builders.share_at_least", share=share, drawn=count, z=_Z),
            shares.share_at_most.work("builders.share_at_most", share=share, drawn=count, z=_Z))


def _count(drawn: int) -> Given:
    return Given("builders drawn", float(drawn), "", "default")


def _share(met: int, drawn: int) -> Result:
    counted = Given("builders who meet it", float(met), "", "default")
    return shares.counted_share.work("builders.share", met=counted, drawn=_count(drawn))


def met(drawn: Drawn) -> Aside | None:
    """The share of builders that meets each limit, with its bounds; None where no limit is touched."""
    judged = [share for share in drawn.shares if share.met is not None]
    if not judged:
        return None
    columns = tuple(AsideColumn(title) for title in ("Share that meets it", "At least", "At most"))
    rows = [AsideRow(share.planned.title, _met(share.met or 0, share.drawn)) for share in judged]
    if len(judged) > 1:
        rows.append(AsideRow("All of these", _met(drawn.met_all, drawn.count)))
    return Aside("What share of builders meets each limit", "Limit on", columns, tuple(rows))


def _met(count: int, drawn: int) -> tuple[Result, ...]:
    return (_share(count, drawn), *bounds_of(count, drawn))


def spread(drawn: Drawn) -> Aside | None:
    """How each result spreads over the builders: its quantiles. None where nothing is touched."""
    if not drawn.shares:
        return None
    columns = tuple(AsideColumn(title) for title in ("As planned", "5 % lie below", "25 %", "Half", "75 %", "95 %"))
    rows = tuple(AsideRow(share.planned.title, (_rounded("planned", share.planned.number, share),
                                                *_quantiles(share))) for share in drawn.shares)
    return Aside("How the results spread", "Result", columns, rows)


def _quantiles(share: GoalShare) -> tuple[Given, ...]:
    return tuple(_rounded("quantile", value, share) for value in share.quantiles)


def _rounded(title: str, value: float, share: GoalShare) -> Given:
    """To four figures: a quantile of some hundred builders is known no better."""
    return Given(title, float(f"{value:.4g}"), share.planned.unit)
