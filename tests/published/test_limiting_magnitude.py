"""A published worked example of the form 2 + 5 log D: 130 mm gives 12.57.

Other published forms differ by more than a magnitude, so the form is named wherever the number is shown.
"""

import pytest

from dossier.calc.optics.first_order import limiting_magnitude_mag


@pytest.mark.proves("limiting_magnitude_mag", source="limiting-magnitude-web", known="read")
def test_limiting_magnitude() -> None:
    assert round(limiting_magnitude_mag(130), 2) == 12.57
    assert "2 + 5 log D" in limiting_magnitude_mag.title
