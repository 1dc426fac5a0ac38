"""How units are written, and what readers of inches and pounds are shown instead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dossier.notation.digits import THIN
from dossier.working import UNITS

_OWN_FORM: Mapping[str, str] = {
    "": "", "um": "µm", "deg": "°", "arcmin": "′", "arcsec": "″", "urad": "µrad", "degc": "°C",
    "arcsec_per_mm": "″/mm", "arcsec_mm": f"″{THIN}mm", "arcsec_per_s": "″/s",
    "per_mm": "mm⁻¹", "per_k": "K⁻¹", "w_per_m2_k": f"W/(m²{THIN}K)", "w_per_m_k": f"W/(m{THIN}K)",
    "j_per_kg_k": f"J/(kg{THIN}K)",
}
_SIGNS = str.maketrans({"2": "²", "3": "³", "4": "⁴", " ": THIN})


@dataclass(frozen=True, slots=True)
class Customary:
    """A unit of inches and pounds: how it is written, metric × ``factor`` + ``offset``, and how many decimals more
    than the metric number it needs to say as much."""

    text: str
    factor: float
    more_decimals: int = 0
    offset: float = 0.0


_INCH, _POUND, _POUND_FORCE = 25.4, 0.45359237, 4.4482216152605
# Wavelengths, spots and surfaces stay in nm and µm: opticians use nothing else.
CUSTOMARY: Mapping[str, Customary] = {
    "mm": Customary("in", 1 / _INCH, 2), "m": Customary("ft", 1000 / (12 * _INCH)),
    "mm2": Customary("in²", _INCH**-2, 3), "mm3": Customary("in³", _INCH**-3, 4),
    "cm3": Customary("in³", 1000 * _INCH**-3, 1),
    "kg": Customary("lb", 1 / _POUND), "g": Customary("oz", 16 / (1000 * _POUND), 1),
    "n": Customary("lbf", 1 / _POUND_FORCE, 1), "n_per_mm": Customary("lbf/in", _INCH / _POUND_FORCE),
    "n_mm": Customary(f"lbf{THIN}in", 1 / (_POUND_FORCE * _INCH), 2),
    "n_m": Customary(f"lbf{THIN}ft", 1000 / (_POUND_FORCE * 12 * _INCH)),
    "degc": Customary("°F", 1.8, 0, 32.0),
}


def unit_text(ending: str, currency: str | None = None) -> str:
    """How a unit (a key of ``working.UNITS``) is written: ``um`` gives µm, ``money`` the currency's code."""
    if ending == "money":
        return currency or ""
    return _OWN_FORM[ending] if ending in _OWN_FORM else UNITS[ending].text.translate(_SIGNS)


def joined(number: str, unit: str) -> str:
    """Number and unit with the space that belongs between them."""
    close = not unit or (unit[0] in "″′°" and unit[:2] not in ("°C", "°F"))
    return number + unit if close else number + THIN + unit
