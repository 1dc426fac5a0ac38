"""What the mirror's support takes from the Strehl ratio, against wavefronts that are added and integrated."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.calc.optics.strehl_budget import strehl_budget

RADII, ANGLES = 120, 90


def _strehl(*fronts: np.ndarray) -> float:
    """|mean exp(2πiW)|² of added wavefronts, waves, at points of equal area."""
    return float(abs(np.exp(2j * np.pi * sum(fronts)).mean()) ** 2)


def test_small_wavefronts_of_different_shape_multiply() -> None:
    """A sphere's aberration (RMS 0.0711), a three-point sag and a three-clip pinch, none larger than a real cell's."""
    r2 = (np.arange(RADII)[:, None] + 0.5) / RADII
    angle = 2 * np.pi * np.arange(ANGLES) / ANGLES
    sphere = (r2**2 - r2 + 1 / 6) * np.sqrt(180) * 0.0711 * np.ones(ANGLES)
    sag = np.sqrt(r2) ** 3 * np.cos(3 * angle)
    pinch = np.sqrt(r2) ** 3 * (4 - 5 * r2) * np.sin(3 * angle + 0.4)
    sag, pinch = (0.03 * each / each.std() for each in (sag, pinch))
    assert sphere.std() == pytest.approx(0.0711, rel=2e-3)
    assert strehl_budget(_strehl(sphere), 0.03, 0.03) == pytest.approx(_strehl(sphere, sag, pinch), abs=0.002)


def test_a_support_that_takes_nothing() -> None:
    assert strehl_budget(0.83, 0.0, 0.0) == 0.83


def test_a_twentieth() -> None:
    """The trade's limit on a cell, 0.036 of a wave, is where a twentieth is lost."""
    assert strehl_budget(1.0, 0.036, 0.0) == pytest.approx(0.95, abs=0.0005)
    assert strehl_budget(1.0, 0.0, 0.036) == strehl_budget(1.0, 0.036, 0.0)


@pytest.mark.parametrize("values", [(-0.1, 0, 0), (0.8, -0.1, 0), (0.8, 0, float("nan"))])
def test_what_makes_no_sense(values: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="zero or more"):
        strehl_budget(*values)
