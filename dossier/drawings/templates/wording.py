"""Numbers on templates: diameters, radii and angles as the readers of the build have them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.drawings.numerals import fixed
from dossier.drawings.scene import Words
from dossier.notation import show, show_result

if TYPE_CHECKING:
    from dossier.design.model import Design

DIAMETER = "⌀\u202f"


def length(design: Design, length_mm: float, key: str = "") -> str:
    """A length with its unit: no zeros that nobody said; in inches where readers have them."""
    readers = design.build.readers
    if readers.units == "inch":
        return show(length_mm, "mm", result_id=key, readers=readers).plain
    return f"{trimmed(length_mm)}\u202fmm"


def lettered(design: Design, length_mm: float, key: str, before: str = DIAMETER) -> Words:
    """A length that the spec says under this key, as lettering."""
    return Words(before + length(design, length_mm, key), key=key)


def of_result(design: Design, name: str, before: str = "") -> Words:
    """A result as lettering. KeyError where it is left out."""
    return Words(before + show_result(design.results[name], design.build.readers).plain, result=name)


def trimmed(value: float) -> str:
    """A number with at most two decimals and no zeros at its end."""
    text = fixed(value, 2)
    return text.rstrip("0").rstrip(".") if "." in text else text


def degrees(angle_deg: float) -> str:
    """An angle between 0° and 360°."""
    return f"{trimmed(angle_deg % 360)}°"
