"""How large a shadow a mirror of this Strehl ratio could bear, by the three forms in print, beside its own."""

from __future__ import annotations

from dossier.calc.optics import obstruction_limits
from dossier.design.asides import Aside, AsideColumn, AsideRow
from dossier.design.model import Design
from dossier.working import Result

_NOTE = ("By these forms a shadow and a mirror’s errors together keep as much contrast as a clear aperture with a "
         "Strehl ratio of 0.80. A mirror that has no more than that itself can afford no shadow at all.")
_FORMS = (
    (obstruction_limits.largest_obstruction, "Detail below half the cut-off", "coarse"),
    (obstruction_limits.largest_obstruction_adjusted, "The same, the smaller star image counted in its favour",
     "adjusted"),
    (obstruction_limits.largest_obstruction_all_detail, "All detail alike", "all"),
)


def afforded(design: Design) -> Aside:
    """The largest shadow by each form, and whether this telescope's is within it."""
    strehl, own = design.results["figure.strehl"], design.results["optics.obstruction"]
    rows = [AsideRow("This telescope", (own,), "")]
    for form, name, key in _FORMS:
        most = form.work(f"shadow.{key}", strehl=strehl)
        rows.append(AsideRow(name, (most,), within(most, own)))
    return Aside("The shadow this mirror can afford", "For", (AsideColumn("Share of the diameter"),), tuple(rows),
                 (_NOTE,), works_by_row=True)


def within(most: Result, own: Result) -> str:
    """Whether the shadow is within a form's limit, or what is wrong with the question."""
    if most.strays:
        return "The mirror’s own Strehl ratio is below 0.80: no shadow is small enough."
    if own.number <= most.number:
        return "This telescope’s shadow is within it."
    return "This telescope’s shadow is larger: it shows such detail with less contrast than that."
