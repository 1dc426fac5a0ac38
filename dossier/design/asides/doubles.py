"""Well-known double stars: which of them this telescope divides, in still air and in its usual air."""

from __future__ import annotations

from collections.abc import Mapping

from dossier import shelf
from dossier.calc.optics.pairs import double_star_dip_in_seeing, magnitude_difference_mag
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.asides.looking import Looking, looking, number
from dossier.design.model import Design
from dossier.shelf.tables import Pair
from dossier.spec.defaults import slug
from dossier.working import Given, Result

# Two equal stars at Rayleigh's limit behind a clear aperture leave a gap of 0.26, at Dawes' limit one of 0.03.
CLEAR, NOTCH = 0.26, 0.03
_STILL = Given("still air", 0.0, "arcsec", "default", said="no seeing")
_LOWEST_DEG = 15.0
_GLARE_MAG = 2.0


def doubles(design: Design) -> Aside | None:
    """The pairs that rise high enough here, wide to close, each with its gap and a verdict."""
    look, pairs = looking(design), seen_from(design.build.conditions.latitude)
    if not pairs:
        return None
    columns = (AsideColumn("Separation"), AsideColumn("Brighter"), AsideColumn("Fainter"),
               AsideColumn("Gap in still air"), *((AsideColumn("Gap in the usual air"),) if look.seeing else ()))
    rows = tuple(_pair(look, pair) for pair in pairs)
    return Aside("Double stars, from wide to close", "Pair", columns, rows, _notes(design, look),
                 works=tuple(range(3, len(columns))))


def seen_from(latitude_deg: float | None) -> tuple[Pair, ...]:
    """The pairs that rise to 15° or more at this latitude; all where it is not said."""
    return tuple(pair for pair in shelf.targets().pairs
                 if latitude_deg is None or 90 - abs(latitude_deg - pair.declination_deg) >= _LOWEST_DEG)


def _pair(look: Looking, pair: Pair) -> AsideRow:
    row, star = f"pair.{slug(pair.name)}", stars(pair)
    still, usual = gaps(f"{row}.", look.pupil, pair, look.seeing)
    name = f"{pair.name}, {pair.constellation}" if pair.constellation else pair.name
    said = verdict(still.number, usual.number if usual else None)
    return AsideRow(name, (star["apart"], star["brighter"], star["fainter"], still, *((usual,) if usual else ())),
                    f"{said} {glare(pair.fainter_mag - pair.brighter_mag)}".strip())


def stars(pair: Pair) -> Mapping[str, Given]:
    """What the catalogue says of a pair."""
    said = {"apart": (pair.separation_arcsec, "arcsec"), "brighter": (pair.brighter_mag, "mag"),
            "fainter": (pair.fainter_mag, "mag")}
    return {name: Given(f"{pair.name}, {name} ({pair.known})", value, unit, "shelf", source=pair.source)
            for name, (value, unit) in said.items()}


def gaps(
    row: str, pupil: Mapping[str, Given | Result], pair: Pair, seeing: Given | None,
) -> tuple[Result, Result | None]:
    """How dark it is between the two stars in still air, and in this seeing."""
    star = stars(pair)
    inputs = {**pupil, "separation_arcsec": star["apart"], "magnitude_difference_mag": magnitude_difference_mag.work(
        f"{row}difference", fainter_mag=star["fainter"], brighter_mag=star["brighter"])}
    still = double_star_dip_in_seeing.work(f"{row}still", "Gap in still air", **inputs, seeing_arcsec=_STILL)
    usual = None if seeing is None else double_star_dip_in_seeing.work(
        f"{row}usual", "Gap in the usual air", **inputs, seeing_arcsec=seeing)
    return still, usual


def verdict(still: float, usual: float | None) -> str:
    """Whether the pair is divided, from its gaps; ``usual`` is None where the usual air is not said."""
    if usual is not None and usual >= CLEAR:
        return "Divided in the usual air."
    if usual is not None and usual >= NOTCH:
        return "A notch in the usual air, a clear gap in still moments." if still >= CLEAR else "A notch at most."
    if still >= CLEAR:
        return "Divided in still air." if usual is None else "Divided in still moments only; in the usual air one star."
    if still >= NOTCH:
        return "A notch in the best of air, no clear gap."
    return "Not divided."


def glare(difference_mag: float) -> str:
    """What a great difference in brightness does."""
    if difference_mag < _GLARE_MAG:
        return ""
    return f"One has {10 ** (0.4 * difference_mag):.0f} times the light of the other, whose glare it must show in."


def _notes(design: Design, look: Looking) -> tuple[str, ...]:
    notes = ["The gap is the depth of the dark between the two, as a share of the fainter star’s light, by this mirror "
             f"with its diagonal in one colour. Two equal stars at Rayleigh’s limit leave {CLEAR}, which is called "
             f"divided here; at Dawes’ limit {NOTCH}, a notch.",
             "Separations and magnitudes are recalled from the catalogues, of about the year 2015. All these pairs "
             "move slowly, by a tenth of an arcsecond in a decade or two."]
    if look.seeing is not None:
        notes.append(f"The usual air is that of long looks through seeing of {number(look.seeing):g}″. It is never as "
                     "bad as that all the time: a patient eye catches still moments, and then sees what still air "
                     "shows.")
    latitude = design.build.conditions.latitude
    if latitude is not None:
        notes.append(f"Pairs that never rise {_LOWEST_DEG:.0f}° above the horizon at {abs(latitude):g}° "
                     f"{'north' if latitude >= 0 else 'south'} are left out.")
    return tuple(notes)
