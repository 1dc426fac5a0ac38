"""R. Racine, D. Salmon, D. Cowley and J. Sovka, *Mirror, dome and natural seeing at CFHT*, PASP 103, 1020 (1991).

Seeing of a mirror ΔT warmer than the air: 0.40″ ΔT^1.2. Known: read.
"""

import pytest

from dossier.calc.thermal import mirror_seeing_arcsec, warmth_for_blur_k


@pytest.mark.proves("mirror_seeing_arcsec", source="racine-1991", known="read")
@pytest.mark.parametrize(("warmer_k", "arcsec"), [(1.0, 0.40), (0.5, 0.174)])
def test_mirror_seeing(warmer_k: float, arcsec: float) -> None:
    assert round(mirror_seeing_arcsec(warmer_k), 3) == arcsec


@pytest.mark.proves("warmth_for_blur_k", source="racine-1991", known="read")
@pytest.mark.parametrize(("arcsec", "warmer_k"), [(0.40, 1.0), (0.1741, 0.5)])
def test_warmth_that_blurs_so_much(arcsec: float, warmer_k: float) -> None:
    assert round(warmth_for_blur_k(arcsec), 3) == warmer_k
