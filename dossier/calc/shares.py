"""Chance: how well a share is known that was counted, and how much of a spread comes from one cause.

A share is a pure number from 0 to 1. Arrays hold one value for each build that was drawn.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from dossier.working import formula

Floats = npt.NDArray[np.float64]
# Two-sided bounds that hold in 95 of 100 cases.
Z_95 = 1.959963984540054
_DEGREE = 3


@formula(title="Share that meets it", source="definition", rule="met / drawn",
         unproved="A quotient of two counts.")
def counted_share(met: float, drawn: float) -> float:
    """Share of the builds that meet a limit. ValueError where none was drawn."""
    if not drawn > 0:
        raise ValueError("no build was drawn")
    return met / drawn


@formula(title="That share at least", source="wilson-1927", where="p. 210",
         rule="(share + z**2 / (2 * drawn) - z * sqrt(share * (1 - share) / drawn + z**2 / (4 * drawn**2)))"
              " / (1 + z**2 / drawn)", holds={"share": (0, 1)},
         note="Counting alone: with z 1.96 the true share lies between the two bounds in 95 of 100 cases.")
def share_at_least(share: float, drawn: float, z: float) -> float:
    """Lower bound of a counted share after Wilson."""
    return max(0.0, _middle(share, drawn, z) - _half(share, drawn, z))


@formula(title="That share at most", source="wilson-1927", where="p. 210",
         rule="(share + z**2 / (2 * drawn) + z * sqrt(share * (1 - share) / drawn + z**2 / (4 * drawn**2)))"
              " / (1 + z**2 / drawn)", holds={"share": (0, 1)},
         note="Counting alone: with z 1.96 the true share lies between the two bounds in 95 of 100 cases.")
def share_at_most(share: float, drawn: float, z: float) -> float:
    """Upper bound of a counted share after Wilson."""
    return min(1.0, _middle(share, drawn, z) + _half(share, drawn, z))


def _middle(share: float, drawn: float, z: float) -> float:
    return (share + z**2 / (2 * drawn)) / (1 + z**2 / drawn)


def _half(share: float, drawn: float, z: float) -> float:
    return z * math.sqrt(share * (1 - share) / drawn + z**2 / (4 * drawn**2)) / (1 + z**2 / drawn)


def variance_share(cause: Floats, answer: Floats) -> float:
    """The share of the answer's variance that follows from one cause alone, Var(E[y|x])/Var(y), 0 to 1.

    The mean of the answer for each value of the cause is taken as a cubic in it, fitted by least squares; the share is
    that of the fit, less what a cubic fits of pure chance (adjusted R²). 0 where either does not vary. Saltelli and
    others, Global Sensitivity Analysis, 2008, 1.2.5.
    """
    count = len(answer)
    spread, centred = float(np.ptp(cause)), answer - answer.mean()
    total = float(centred @ centred)
    rounding = (1e-12 * float(np.abs(answer).max(initial=0.0))) ** 2 * count
    if count < _DEGREE + 3 or spread == 0 or not total > rounding:
        return 0.0
    x = 2 * (cause - cause.min()) / spread - 1
    table = np.polynomial.legendre.legvander(x, _DEGREE)
    fitted, *_ = np.linalg.lstsq(table, answer, rcond=None)
    left = answer - table @ fitted
    unexplained = float(left @ left) / (count - _DEGREE - 1) / (total / (count - 1))
    return min(1.0, max(0.0, 1.0 - unexplained))
