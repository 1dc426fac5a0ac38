"""The cautions: complete, in the program's own words, called up by what a build says."""

from __future__ import annotations

import pytest

from dossier import shelf
from dossier.shelf import Caution

# The topics that a telescope workshop needs, each with a word that its text may not lack and why.
MUST_SAY = {
    "sun": ["front opening", "eyepiece", "finder", "naked eye", "certified"],
    "fire": ["(107.5/F)²", "covered"],
    "laser": ["class 2", "1 mW"],
    "epoxy": ["nitrile gloves, not latex", "allergic"],
    "carbon-dust": ["conducts electricity", "FFP2", "wet"],
    "glass-dust": ["wet", "FFP2"],
    "metal-dust": ["aluminium", "eye protection"],
    "wood-dust": ["FFP2", "extraction"],
    "printing-fumes": ["window"],
    "lithium": ["IEC 62133-2", "asleep"],
    "lead": ["wash your hands", "Seal"],
    "tip-over": ["inside the feet at every pointing"],
    "heavy-lifting": ["overhead"],
    "power-tools": ["eye protection"],
    "hand-tools": ["away from the body", "clamp", "adult"],
    "night-site": ["cables"],
    "coating": ["data sheet"],
    "children": ["children"],
}
CAUTIONS = [pytest.param(caution, id=caution.topic) for caution in shelf.cautions().values()]


def _text(caution: Caution) -> str:
    return " ".join((caution.title, caution.can_happen, *caution.do, caution.defer))


@pytest.mark.parametrize(("topic", "words"), MUST_SAY.items(), ids=MUST_SAY)
def test_a_topic_says_what_matters(topic: str, words: list[str]) -> None:
    text = _text(shelf.cautions()[topic]).lower()
    assert not [word for word in words if word.lower() not in text]


@pytest.mark.parametrize("caution", CAUTIONS)
def test_a_caution_is_complete(caution: Caution) -> None:
    assert caution.can_happen
    assert caution.defer, "says which code or licensed practice has the last word"
    assert caution.protects
    assert len(caution.do) >= 3
    assert caution.authority
    assert all(source in shelf.sources() for source in caution.authority)
    assert "\n" not in _text(caution)


def test_every_telescope_is_warned_of_the_sun_and_of_fire_first() -> None:
    assert [caution.topic for caution in shelf.cautions().values() if caution.always] == ["sun", "fire"]
    assert list(shelf.cautions())[:2] == ["sun", "fire"]


@pytest.mark.parametrize("caution", CAUTIONS)
def test_whatever_is_not_always_shown_can_be_called_up(caution: Caution) -> None:
    when = caution.when
    assert caution.always or when.words or when.materials or when.gets or when.groups
    assert set(when.materials) <= set(shelf.materials())
    assert set(when.gets) <= {"buy", "print", "make", "have"}


@pytest.mark.parametrize(("said", "topics"), [
    ("Glue the sleeve in with Epoxy.", {"epoxy"}),
    ("Two epoxies will do", set()),  # whole words: a plural other than s is not guessed
    ("Cut the carbon tubes", {"carbon-dust"}),
    ("carbon steel bolt", set()),
    ("Lead the cable along the pole", set()),
    ("Lead shot, 2 kg, in a bag", {"lead"}),
    ("A drill and a hacksaw", {"power-tools"}),
    ("sawtooth exit pupil", set()),
    ("collimate with the laser", {"laser"}),
    ("POWER BANK, 10 Ah", {"lithium"}),
    ("cut it with a craft knife", {"hand-tools"}),
    ("what will the knife edge read, a razor blade at the focus", set()),
])
def test_words_are_matched_whole_and_in_any_case(said: str, topics: set[str]) -> None:
    assert {caution.topic for caution in shelf.cautions().values() if caution.when.named_in(said)} == topics


@pytest.mark.parametrize(("said", "beside"), [
    ("Mark the edge with a dot of\n paint.", False),
    ("Mark it with a dot of paint, then paint the inside", True),
    ("One pole stands on a crumb or on paint", False),
    ("Put a second coat on paint that has dried", True),
    ("Wash it off with soap, never with solvent", False),
    ("Matt black paint", True),
    ("Two rocker sides of 300 × 390", False),
    ("Set the box into the rocker by its rocker sides", True),
    ("tightened to hold a heavy eyepiece", False),
    ("a heavy box", True),
])
def test_what_is_said_in_passing_stands_beside_no_step_but_is_told_for_the_build(said: str, beside: bool) -> None:
    whens = [caution.when for caution in shelf.cautions().values() if caution.when.aside]
    assert any(when.meant_in(said) for when in whens) is beside
    assert any(when.named_in(said) for when in whens)


def test_every_turn_of_phrase_holds_a_word_that_it_takes_back() -> None:
    for caution in shelf.cautions().values():
        for phrase in caution.when.aside:
            assert caution.when.named_in(phrase), phrase
            assert not caution.when.meant_in(phrase), phrase


def test_the_concentration_in_the_text_follows_from_the_suns_diameter() -> None:
    """The Sun's image is f × 1919.3″ wide (Meeus, Astronomical Algorithms, 2nd ed., ch. 55, worked): 1/107.5 of f."""
    image_per_focal_length = 1919.3 / 206264.806
    assert 1 / image_per_focal_length == pytest.approx(107.5, abs=0.05)
    text = shelf.cautions()["fire"].can_happen
    assert "180 times at f/8" in text
    assert (1 / (8 * image_per_focal_length)) ** 2 == pytest.approx(180, rel=0.01)
    assert "over 700 times at f/4" in text
    assert (1 / (4 * image_per_focal_length)) ** 2 > 700
