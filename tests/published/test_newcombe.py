"""R. G. Newcombe, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17 (1998) 857.

Table I, 95 per cent intervals by the score method, without a correction for continuity, to four decimals.
"""

from __future__ import annotations

import pytest

from dossier.calc.shares import Z_95, share_at_least, share_at_most

TABLE_I = [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0000, 0.1611), (1, 29, 0.0061, 0.1718)]


@pytest.mark.proves("share_at_least", source="newcombe-1998", known="recalled")
@pytest.mark.proves("share_at_most", source="newcombe-1998", known="recalled")
@pytest.mark.parametrize(("met", "drawn", "least", "most"), TABLE_I)
def test_score_interval(met: int, drawn: int, least: float, most: float) -> None:
    assert round(share_at_least(met / drawn, drawn, Z_95), 4) == least
    assert round(share_at_most(met / drawn, drawn, Z_95), 4) == most
