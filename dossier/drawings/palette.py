"""Colours by what they mean, for screen and for paper.

On screen every colour is a custom property of the theme, so that one drawing serves light, dark and night. An inline
SVG in the packet sees neither the page's stylesheet nor ``var()``, so there the colours are written in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Role = Literal["ink", "ground", "accent", "glass", "caution", "faint"]


@dataclass(frozen=True, slots=True)
class Palette:
    """A CSS colour for each role: lines and lettering, what lies behind them, light, glass, caution, what recedes."""

    ink: str
    ground: str
    accent: str
    glass: str
    caution: str
    faint: str

    def colour(self, role: Role) -> str:
        """The colour of a role."""
        colour: str = getattr(self, role)
        return colour


SCREEN = Palette(ink="var(--ink)", ground="var(--ground)", accent="var(--accent)", glass="var(--glass)",
                 caution="var(--caution)", faint="var(--faint)")

# Black ink on white reads fully. The accent is dark enough (6.9 : 1) to read as a line on a black-only printer, the
# tints are light enough to lie under lettering.
PAPER = Palette(ink="#000000", ground="#ffffff", accent="#9a3412", glass="#d5e3e8", caution="#fbf0d0", faint="#5f6368")
