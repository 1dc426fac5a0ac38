"""J. Meeus, *Astronomical Algorithms*, 2nd edition, example 13.b: Venus over Washington, 10 April 1987, 19:21 UT.

Known: recalled; recomputed, and it agreed.
"""

import pytest

from dossier.calc.mechanics.tracking import altitude_deg


@pytest.mark.proves("altitude_deg", source="meeus-1998", known="recalled")
def test_altitude_of_venus() -> None:
    assert round(altitude_deg(38.921389, -6.719892, 64.352133), 4) == 15.1249
