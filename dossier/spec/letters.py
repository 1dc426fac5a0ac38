"""Revision letters in the order of ASME Y14.35: A to Y without I, O, Q, S and X, no Z, then AA, AB … YY."""

from __future__ import annotations

LETTERS = "ABCDEFGHJKLMNPRTUVWY"
_LONGEST = 2


def is_letter(text: str) -> bool:
    """Whether a text is a letter that a revision can have."""
    return 1 <= len(text) <= _LONGEST and all(sign in LETTERS for sign in text)


def rank(letter: str) -> int:
    """The place of a letter in the order, from 1; 0 for no letter at all. ValueError where it is none of them."""
    if letter and not is_letter(letter):
        raise ValueError(f"{letter!r} is no revision letter; I, O, Q, S, X and Z are not used")
    place = 0
    for sign in letter:
        place = place * len(LETTERS) + LETTERS.index(sign) + 1
    return place


def after(letter: str = "") -> str:
    """The letter that follows; A after none. ValueError after the last, YY."""
    place, found = rank(letter) + 1, ""
    while place:
        place, sign = divmod(place - 1, len(LETTERS))
        found = LETTERS[sign] + found
    if len(found) > _LONGEST:
        raise ValueError(f"no revision letter follows {letter}")
    return found
