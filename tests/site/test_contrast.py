"""Colours can be read: contrast after WCAG 2.2, 1.4.3 and 1.4.11, for every pair of colours that meet."""

from __future__ import annotations

import re

import pytest

from dossier.publish.themes import load_theme

Colours = dict[str, str]
NAMES = {"ground", "ink", "faint", "accent", "glass", "caution", "rule", "hair"}


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[start:start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio as WCAG 2.2 defines it, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize(("colour", "expected"), [("#767676", 4.54), ("#777777", 4.48), ("#000000", 21)])
def test_contrast_on_white_is_the_published_one(colour: str, expected: float) -> None:
    """WCAG 2.2: worked."""
    assert contrast(colour, "#ffffff") == pytest.approx(expected, abs=0.005)


def appearances() -> dict[str, Colours]:
    """The custom properties of each appearance, as the style sheet has them."""
    sheet = next(path for path in load_theme().stylesheets if path.name == "colours.css").read_text("utf-8")
    screen, _, printed = sheet.partition("@media print")
    blocks = {"light": re.search(r":root \{([^}]*)\}", screen), "print": re.search(r"\{([^{}]*)\}", printed),
              "device dark": re.search(r":root:not\(\[data-appearance\]\) \{([^}]*)\}", screen)}
    for name in ("dark", "night"):
        blocks[name] = re.search(rf':root\[data-appearance="{name}"\] \{{([^}}]*)\}}', screen)
    return {name: dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", found[1])) for name, found in blocks.items() if found}


APPEARANCES = appearances()


def test_every_appearance_has_every_colour() -> None:
    assert set(APPEARANCES) == {"light", "device dark", "dark", "night", "print"}
    assert all(set(colours) == NAMES for colours in APPEARANCES.values())
    assert APPEARANCES["dark"] == APPEARANCES["device dark"]


@pytest.mark.parametrize("name", APPEARANCES)
@pytest.mark.parametrize("ground", ["ground", "caution", "glass"])
@pytest.mark.parametrize("text", ["ink", "faint", "accent"])
def test_text_can_be_read(name: str, ground: str, text: str) -> None:
    colours = APPEARANCES[name]
    assert contrast(colours[text], colours[ground]) >= 4.5


@pytest.mark.parametrize("name", APPEARANCES)
@pytest.mark.parametrize("line", ["rule", "ink", "accent"])
def test_lines_that_carry_meaning_can_be_seen(name: str, line: str) -> None:
    assert contrast(APPEARANCES[name][line], APPEARANCES[name]["ground"]) >= 3


def test_selected_text_can_be_read() -> None:
    for colours in APPEARANCES.values():
        assert contrast(colours["ground"], colours["ink"]) >= 4.5


def test_night_is_red_and_nothing_else() -> None:
    night = APPEARANCES["night"]
    assert all(colour[3:] == "0000" for colour in night.values())
    assert luminance(night["ground"]) == 0
    assert max(map(luminance, night.values())) < 0.2


def test_the_browsers_own_frame_has_the_colour_of_the_ground() -> None:
    frame = load_theme().theme_colours
    assert {name: frame[name] for name in ("light", "dark", "night")} == {
        name: APPEARANCES[name]["ground"] for name in ("light", "dark", "night")}
