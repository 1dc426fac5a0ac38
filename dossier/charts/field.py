"""The chart of how evenly the field is lit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.charts.axes import Axis, round_ticks
from dossier.charts.framing import chart, height_of
from dossier.charts.plot import Curve, Plot
from dossier.charts.rendered import MEDIA, Rendered
from dossier.charts.spans import Span, spans
from dossier.design import pictures
from dossier.drawings.general_arrangement import Form
from dossier.drawings.numerals import fixed, length_unit
from dossier.drawings.palette import Palette
from dossier.drawings.scene import HIDDEN, OUTLINE, Pen, Words
from dossier.notation import Readers, show

if TYPE_CHECKING:
    from dossier.design.model import Design


def illumination(design: Design, palette: Palette, form: Form) -> Rendered:
    """Share of the mirror's light across the field, with the magnitudes lost, and the limit at its edge."""
    made = pictures.illumination_curve(design)
    readers, goal = design.build.readers, design.results["diagonal.edge_light"].goal
    medium, width = MEDIA[form]
    factor, unit = length_unit(readers)
    low, high = float(made.places_mm[0]), float(made.places_mm[-1])
    limit = goal.limit if goal and goal.sense == "at_least" else None
    least = min(float(made.in_fold.min()), float(made.across.min()), *([limit] if limit is not None else []))
    floor = max(0.0, least - 0.25 * (1 - least) - 0.02)
    x = Axis(low, high, round_ticks(low, high, 8 if form == "wide" else 5, factor),
             f"towards the primary   ·   place in the field, {unit}   ·   towards the sky" if form == "wide"
             else f"place in the field, {unit}; sky end right")
    y = Axis(floor, 1.0, round_ticks(floor, 1.0, 5), "share of the light")
    right = Axis(floor, 1.0, _magnitudes(floor, 5 if form == "wide" else 4), "magnitudes lost")
    plot = Plot(medium, width, height_of(form, 0.42), x, y, right)
    if limit is not None:
        plot.limit(limit, "below", Words(f"at least {fixed(limit, 2)} at the edge of the judged field"
                                         if form == "wide" else f"at least {fixed(limit, 2)}"))
    for name, place in (("judged", -made.judged_mm / 2), ("judged", made.judged_mm / 2)):
        plot.upright(name, place, "edge of the judged field" if place > 0 and form == "wide" else
                     "judged" if place > 0 else "")
    plot.curve(Curve("across", made.places_mm, made.across, Pen(HIDDEN), "across"))
    plot.curve(Curve("in_fold", made.places_mm, made.in_fold, Pen(OUTLINE), "in the plane of the fold"
                     if form == "wide" else "in the fold"))
    full = show(made.full_mm, "mm", readers=readers).plain
    widths = _widths(made, readers)
    edges = (_at(made, made.in_fold, made.judged_mm / 2), _at(made, made.in_fold, -made.judged_mm / 2),
             _at(made, made.across, made.judged_mm / 2))
    sky, primary, across = (f"{fixed(share, 2)} ({_lost(share)})" for share in edges)
    judged = show(made.judged_mm, "mm", readers=readers).plain
    worst = (f"{fixed(made.worst_share, 2)} ({_lost(made.worst_share)}), "
             f"{show(made.worst_azimuth_deg, 'deg').plain} round from the sky end")
    alt = (f"Share of the mirror’s light that the diagonal catches across the focal plane. Fully lit over {full}. At "
           f"the edge of the judged field of {judged}: towards the sky end {sky}, towards the primary {primary}, "
           f"across {across}; the worst place round the edge has {worst}."
           + (f" The limit there is {fixed(limit, 2)}." if limit is not None else "")
           + (f" Marked below: {'; '.join(span.words for span in widths)}." if widths else ""))
    caption = ("How evenly the field is lit. The diagonal stands at 45° in the cone of light, its two ends at "
               "different heights, so that the two sides in the plane of the fold differ; across it both are alike. "
               "Below, to the same scale: what is fully lit, and how wide each eyepiece’s field is."
               + (f" {goal.because}" if limit is not None and goal and not goal.authors else ""))
    return chart(plot, "illumination", "Light across the field", caption, alt, form, palette,
                 lambda box: tuple(spans(widths, lambda value: plot.at(value, floor)[0], box, medium)))


def _widths(made: pictures.IlluminationCurve, readers: Readers) -> tuple[Span, ...]:
    """What is fully lit, and the field of each eyepiece."""
    named = [("fully lit", made.full_mm)] if made.full_mm > 0 else []
    return tuple(Span(f"width-{index}", -width / 2, width / 2,
                      f"{name}, {show(width, 'mm', readers=readers).plain}")
                 for index, (name, width) in enumerate([*named, *made.stops]))


def _magnitudes(floor: float, most: int) -> tuple[tuple[float, str], ...]:
    """Losses that can be told apart on an axis from this share to 1, a round step apart."""
    span = pictures.magnitudes_lost(floor) if floor > 0 else 2.5
    step = next(step for step in (0.05, 0.1, 0.2, 0.5, 1.0) if span / step <= most or step == 1.0)
    return tuple((pictures.share_at(index * step), fixed(index * step, 2 if step < 0.1 else 1))
                 for index in range(int(span / step + 1e-9) + 1))


def _at(made: pictures.IlluminationCurve, shares: pictures.Floats, place: float) -> float:
    return float(shares[int(abs(made.places_mm - place).argmin())])


def _lost(share: float) -> str:
    return show(pictures.magnitudes_lost(share), "mag").plain if share > 0 else "dark"
