"""Simulated views through the eyepiece: stars in focus and out, a planet-sized disc, a double star."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from dossier.charts.panels import Bar, Panel, Row, Sheet, rendered
from dossier.charts.rendered import Rendered
from dossier.design import pictures
from dossier.design.pictures.seen import BELTS_ARCSEC
from dossier.drawings.general_arrangement import Form
from dossier.drawings.numerals import fixed, plain, plain_length
from dossier.drawings.palette import Palette
from dossier.notation import show
from dossier.notation.digits import MINUS

if TYPE_CHECKING:
    from dossier.design.model import Design

# Stars in focus are shown over so many tens of brightness, down to black; the rest by a power of their brightness. A
# screen that is handed the power 1/2.2 shows light as it is; the planet is shown with more contrast than that.
_DECADES, _WIDE_DECADES = 4.0, 6.0
_STAR_GAMMA, _SCREEN_GAMMA, _PLANET_GAMMA = 0.5, 1 / 2.2, 1.0


def star_images(design: Design, palette: Palette, form: Form) -> Rendered:
    """A star in focus: this mirror, a perfect one, this one at the edge of the judged field, and its surroundings."""
    made = pictures.star_images(design)
    bar, wide_bar = _bar(2 * made.half_width_um, "um", 0.22), _bar(2 * made.wide_um, "um", 0.22)
    edge = show(made.edge_mm, "mm", readers=design.build.readers).plain
    times = round(made.wide_um / made.half_width_um)
    panels = [Panel("star-own", _logarithmic(made.real, _DECADES), ("this mirror", "on the axis"), bar),
              Panel("star-perfect", _logarithmic(made.perfect, _DECADES), ("perfect mirror", "same diagonal"), bar),
              Panel("star-edge", _logarithmic(made.edge, _DECADES), ("this mirror", f"{edge} off"), bar),
              Panel("star-wide", _logarithmic(made.wide, _WIDE_DECADES), ("this mirror", f"{times} times wider"),
                    wide_bar)]
    peak, edge_peak = float(made.real.max()), float(made.edge.max())
    vanes = f"{made.vanes} vanes of {show(made.vane_thickness_mm, 'mm', readers=design.build.readers).plain}"
    alt = (f"Simulation: a star in focus in white light{', ' + vanes if made.vanes else ''}. At its brightest this "
           f"mirror’s image has {fixed(peak, 2)} of a perfect mirror’s behind the same diagonal; at {edge} from the "
           f"middle of the field {fixed(edge_peak, 2)}. Pictures are {plain(2 * made.half_width_um, 'um')} wide, the "
           f"last {plain(2 * made.wide_um, 'um')}.")
    caption = (f"A star in still air on a logarithmic scale: black is a {_ten_to(_DECADES)}th of a perfect star’s "
               f"peak, in the last picture a {_ten_to(_WIDE_DECADES)}th, so that rings and spikes show that the eye "
               "only glimpses at bright stars. What the perfect mirror has is the diagonal’s and the spider’s doing; "
               "what more there is comes from the curve. The tube’s sky end is to the right.")
    sheet = Sheet("star-images", "A star in focus", caption, alt)
    columns = len(panels) if form == "wide" else 2
    return rendered(sheet, [Row("", tuple(panels[start:start + columns]))
                            for start in range(0, len(panels), columns)], form, palette, columns)


def star_test(design: Design, palette: Palette, form: Form) -> Rendered:
    """A star inside and outside focus: this mirror beside a perfect one."""
    made = pictures.star_test(design)
    pairs = []
    for index, (waves, shift) in enumerate(zip(made.waves, made.shifts_mm, strict=True)):
        most = max(float(made.real[index].max()), float(made.perfect[index].max()))
        heading = (f"{_signed(waves)} waves", _racked(design, shift)) if waves else ("in focus", "best Strehl ratio")
        pairs.append([Panel(f"test-{kind}-{index}", _power(picture / most, _STAR_GAMMA), heading)
                      for kind, picture in (("own", made.real[index]), ("perfect", made.perfect[index]))])
    if form == "wide":
        rows = [Row("this mirror", tuple(own for own, _ in pairs), inner=True),
                Row("perfect mirror, same diagonal", tuple(_headed(perfect) for _, perfect in pairs))]
    else:
        rows = [Row(", ".join(own.heading), (_headed(own, "this mirror"), _headed(perfect, "perfect mirror")))
                for own, perfect in pairs]
    steps = ", ".join(_signed(waves) for waves in made.waves)
    alt = (f"Simulation: a star in white light at {steps} waves of defocus, below zero inside focus. "
           f"{abs(made.waves[0]):.0f} waves are {_racked(design, made.shifts_mm[0])}. Beside "
           f"this mirror stands a perfect one behind the same diagonal. {_verdict(design)}")
    caption = ("The star test for this very mirror, in still air. Put an eyepiece of high power on a bright star, rack "
               "in and out by the stated way, and compare: a good mirror looks alike on both sides of focus. Each pair "
               "has its own scale and brightness; shades are the square root of the light.")
    return rendered(Sheet("star-test", "The star test", caption, alt), rows, form, palette,
                    len(pairs) if form == "wide" else 2)


def planet(design: Design, palette: Palette, form: Form) -> Rendered:
    """A disc of a planet's size, as this telescope, a perfect one and two others show it, in still air and in usual."""
    made = pictures.planet_view(design)
    alt = (f"Simulation: an invented planet, {plain(made.disc_arcsec, 'arcsec')} across, in white light, as seen by "
           f"{_telescopes(design, made.seers)}{_airs(made.seeing_arcsec)}. Of the contrast of belts "
           f"{plain(BELTS_ARCSEC, 'arcsec')} apart there is left in still air: {_each(design, made.seers, made.kept)}"
           f"{_in_the_usual(design, made.seers, made.kept_usual)}.{_taken(made.seers)}")
    caption = (f"One disc with invented belts, an oval and a moon’s shadow, by each telescope; Jupiter is between 30″ "
               f"and 50″ wide. Of the contrast of belts {plain(BELTS_ARCSEC, 'arcsec')} apart this telescope keeps "
               f"{_percent(made.kept[0])} in still air{_and_usual(made.kept_usual)}, a perfect mirror of its size "
               f"{_percent(made.kept[1])}. Look at which of the fine belts are left. Contrast is raised above the "
               "eye’s so that print and screen keep it, and all are set to the same brightness.")
    rows = _views(design, "planet", made, {air: [_power(view, _PLANET_GAMMA) for view in views]
                                           for air, views in _by_air(made).items()}, form)
    return rendered(Sheet("planet", "A planet’s disc in the eyepiece", caption, alt), rows, form, palette,
                    len(made.seers) if form == "wide" else 2)


def double_star(design: Design, palette: Palette, form: Form) -> Rendered:
    """A pair of stars, likewise."""
    made = pictures.double_star_view(design)
    apart = plain(made.separation_arcsec, "arcsec")
    alt = (f"Simulation: two stars {apart} apart, one {plain(made.difference_mag, 'mag')} fainter, in white light, "
           f"as seen by {_telescopes(design, made.seers)}{_airs(made.seeing_arcsec)}. Depth of the dark gap between "
           f"them, as a share of the fainter star, in still air: {_each(design, made.seers, made.dips)}"
           f"{_in_the_usual(design, made.seers, made.dips_usual)}.{_taken(made.seers)}")
    caption = (f"Two stars {apart} apart, half as far again as Rayleigh’s limit for this aperture. {_gap(made)} The "
               "air decides as often as the telescope does: wait for the moments when it is still.")
    rows = _views(design, "pair", made, {air: [_power(view, _SCREEN_GAMMA) for view in views]
                                         for air, views in _by_air(made).items()}, form)
    return rendered(Sheet("double-star", "A double star in the eyepiece", caption, alt), rows, form, palette,
                    len(made.seers) if form == "wide" else 2)


_Scene = pictures.PlanetView | pictures.DoubleStarView


def _by_air(made: _Scene) -> dict[str, tuple[pictures.Floats, ...]]:
    airs = {"still air": made.still}
    if made.usual is not None and made.seeing_arcsec is not None:
        airs[f"seeing {plain(made.seeing_arcsec, 'arcsec')}"] = made.usual
    return airs


def _views(design: Design, key: str, made: _Scene, views: dict[str, list[pictures.Floats]], form: Form) -> list[Row]:
    """A row for each kind of air and a column for each telescope, or on a phone the other way round."""
    bar, heads = _bar(made.width_arcsec, "arcsec", 0.25), [_head(design, seer) for seer in made.seers]
    panels = {air: [Panel(f"{key}-{number}-{index}", view, head, bar)
                    for index, (view, head) in enumerate(zip(seen, heads, strict=True))]
              for number, (air, seen) in enumerate(views.items())}
    if len(panels) == 1 and form == "upright":
        (air, only), = panels.items()
        return [Row(air if not start else "", tuple(only[start:start + 2])) for start in range(0, len(only), 2)]
    if form == "wide":
        return [Row(air, tuple(seen) if not row else tuple(_headed(panel) for panel in seen), inner=True)
                for row, (air, seen) in enumerate(panels.items())]
    return [Row(", ".join(head), tuple(_headed(panels[air][index], air) for air in panels))
            for index, head in enumerate(heads)]


def _head(design: Design, seer: pictures.Seer) -> tuple[str, str]:
    size = plain_length(seer.aperture_mm, design.build.readers)
    names = {"own": "this telescope", "perfect": "perfect mirror", "other": "perfect mirror"}
    return names[seer.kind], size


def _telescopes(design: Design, seers: Sequence[pictures.Seer]) -> str:
    own, _, *others = (plain_length(seer.aperture_mm, design.build.readers) for seer in seers)
    sizes = [own, *others]
    listed = f"{', '.join(sizes[:-1])} and {sizes[-1]}" if others else own
    return f"this telescope and by {'perfect mirrors' if others else 'a perfect mirror'} of {listed}"


def _airs(seeing: float | None) -> str:
    return ", in still air" if seeing is None else f", in still air and in seeing of {plain(seeing, 'arcsec')}"


def _taken(seers: Sequence[pictures.Seer]) -> str:
    others = any(seer.kind == "other" for seer in seers)
    return f" Each perfect mirror stands behind {'a diagonal in proportion' if others else 'the same diagonal'}."


def _each(design: Design, seers: Sequence[pictures.Seer], shares: Sequence[float]) -> str:
    return "; ".join(f"{', '.join(_head(design, seer))} {fixed(share, 2)}"
                     for seer, share in zip(seers, shares, strict=True))


def _in_the_usual(design: Design, seers: Sequence[pictures.Seer], shares: Sequence[float] | None) -> str:
    return "" if shares is None else f". In the seeing: {_each(design, seers, shares)}"


def _percent(share: float) -> str:
    return f"{100 * share:.0f}\u202f%"


def _and_usual(kept: Sequence[float] | None) -> str:
    return "" if kept is None else f" and {_percent(kept[0])} in the usual"


def _gap(made: pictures.DoubleStarView) -> str:
    """What this telescope makes of the pair, in a sentence or two."""
    still = (f"By this telescope the gap between them is {_percent(made.dips[0])} dark in still air"
             if made.dips[0] else "By this telescope no gap shows between them even in still air")
    if made.dips_usual is None:
        return f"{still}."
    return f"{still}; in long looks through the usual air " + (
        f"{_percent(made.dips_usual[0])}." if made.dips_usual[0] else "they run into one.")


def _signed(waves: float) -> str:
    return f"{'+' if waves > 0 else MINUS if waves < 0 else ''}{abs(waves):.0f}"


def _racked(design: Design, shift: float) -> str:
    return f"{show(abs(shift), 'mm', readers=design.build.readers).plain} {'out' if shift > 0 else 'in'}"


def _verdict(design: Design) -> str:
    shift = design.results["figure.longitudinal_aberration"].number
    if shift == 0:
        return "On a perfect curve both sides of focus look alike."
    edge = "short" if shift < 0 else "long"
    return (f"The edge of this mirror focuses {edge} of its middle by "
            f"{show(abs(shift), 'mm', readers=design.build.readers).plain}, so that the two sides of focus differ.")


def _logarithmic(picture: pictures.Floats, decades: float) -> pictures.Floats:
    """Brightness on a scale of so many tens, 0 at its dark end."""
    return (1 + pictures.tens(picture.clip(10.0**-decades)) / decades).clip(0, 1)


def _power(picture: pictures.Floats, gamma: float) -> pictures.Floats:
    return picture.clip(0, 1) ** gamma


def _ten_to(decades: float) -> str:
    return f"{10 ** int(decades):,}".replace(",", "\u202f")


def _bar(width: float, unit: str, share: float) -> Bar:
    """A round length of about this share of the picture's width."""
    power = 10.0 ** math.floor(math.log10(width * share))
    length = max(step * power for step in (1, 2, 5) if step * power <= width * share)
    return Bar(length / width, plain(length, unit))


def _headed(panel: Panel, *words: str) -> Panel:
    """The same view under other words."""
    return Panel(panel.name, panel.brightness, words, panel.bar)
