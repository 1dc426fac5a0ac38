"""Values that follow from others where their author is silent, and names made of names."""

from __future__ import annotations

import re
import unicodedata

from dossier.spec.model import Build

USUAL_FIELD_MM = 12.0
_LETTERS = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "đ": "d", "ð": "d", "ł": "l", "þ": "th", "ı": "i"})


def slug(name: str) -> str:
    """A name as a part of an ID or an address: ``25 mm Plössl`` → ``25-mm-plossl``; may be empty."""
    plain = unicodedata.normalize("NFKD", name.casefold().translate(_LETTERS))
    letters = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")


def drawn_out_mm(build: Build) -> float:
    """How far the focuser is drawn out at focus: as said, else half its travel, else (no travel said) nothing."""
    focuser = build.focuser
    if focuser.drawn_out is not None:
        return focuser.drawn_out
    return focuser.travel / 2 if focuser.travel is not None else 0.0


def intercept_mm(build: Build) -> float:
    """Optical axis to focal plane."""
    return build.focuser.mounting_radius + build.focuser.height + drawn_out_mm(build)


def holder_diameter_mm(build: Build) -> float:
    """Diameter of the diagonal's holder: as said, else the minor axis."""
    said = build.diagonal.holder_diameter
    return build.diagonal.minor_axis if said is None else said


def judged_field_mm(build: Build) -> float:
    """Diameter of the field that is judged: as said, else the largest field stop, else 12 mm."""
    if build.field and build.field.judged is not None:
        return build.field.judged
    return max((piece.field_stop for piece in build.eyepieces if piece.field_stop is not None), default=USUAL_FIELD_MM)


def blank_diameter_mm(build: Build) -> float:
    """Diameter of the primary's glass: as said, else the clear aperture."""
    said = build.primary.blank_diameter
    return build.primary.aperture if said is None else said
