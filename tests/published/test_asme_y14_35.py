"""Revision letters: ASME Y14.35M-1997, which leaves out I, O, Q, S, X and Z, and goes on with AA after Y."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.spec.letters import LETTERS, after, is_letter, rank


@pytest.mark.parametrize(("letter", "following"), [
    # read, in a quotation of the standard
    ("H", "J"), ("N", "P"), ("P", "R"), ("R", "T"), ("W", "Y"),
    # recalled: when the letters are used up, they are doubled
    ("Y", "AA"), ("AA", "AB"), ("AY", "BA"),
])
def test_the_letter_that_follows(letter: str, following: str) -> None:
    assert after(letter) == following


def test_the_first_letter_and_the_last() -> None:
    assert after() == "A"
    with pytest.raises(ValueError, match="YY"):
        after("YY")


@pytest.mark.parametrize("letter", ["I", "O", "Q", "S", "X", "Z", "AI", "ZA", "a", "AAA", "", "1"])
def test_what_is_no_letter(letter: str) -> None:
    assert not is_letter(letter)


@given(st.integers(1, 419))
def test_every_letter_once_and_in_order(place: int) -> None:
    letter = ""
    for _ in range(place):
        letter = after(letter)
    assert rank(letter) == place
    assert set(letter) <= set(LETTERS)
