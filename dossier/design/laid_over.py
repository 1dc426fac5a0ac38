"""A build with measured values laid over its plan, fitted to them: what is not made yet follows the focal plane.

A mirror of another focal length puts the focal plane elsewhere. Poles or tube that nobody has measured are not cut, so
they get the length that this mirror wants, and what stands above them moves with them: focuser, diagonal and front keep
their places to one another. Cut plan, lists, drawings and steps then all have the one length.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from dossier.design import Design, work_out
from dossier.design.measured import Recut, recut
from dossier.errors import Unusable
from dossier.spec.keys import value_at
from dossier.spec.load import Loaded, Spot, with_values

# What moves the focal plane, and the keys above the frame that move with it.
_MOVES = ("primary.focal_length", "focuser.mounting_radius", "focuser.height", "focuser.drawn_out")
_ABOVE = ("front.station", "spider.station")


def laid_over(plan: Loaded, found: Loaded, kits: int | None = None) -> Design:
    """The build as ``found``, which is ``plan`` with a measured file laid over it, beside its plan.

    Raises Unusable as ``work_out`` does. A telescope that cannot be fitted is left as its spec has it.
    """
    planned = work_out(plan, kits)
    design = replace(work_out(found, kits), planned=planned)
    cut = recut(design)
    if cut is None or cut.made or not cut.needed:
        return design
    values = {"frame.length": cut.wanted.number} | {
        key: value for key, value in _above(design, planned, cut) if key not in found.expressions}
    try:
        fitted = work_out(_with(found, values), kits)
    except Unusable:
        return design
    return replace(fitted, planned=planned, fitted=frozenset(values))


def _above(design: Design, planned: Design, cut: Recut) -> Iterator[tuple[str, float]]:
    """The stations above the frame and what they become, mm; what was measured stays."""
    above = planned.results.get("frame.upper_fixing")
    beyond = above.number if above is not None else planned.results["focuser.station"].number / 2
    stations = (f"parts[{place}].station" for place in range(len(design.build.parts)))
    for key in (*_ABOVE, *stations):
        value, spot = value_at(planned.build, key), design.loaded.spots.get(key)
        if isinstance(value, float) and value > beyond and spot is not None and not spot.measured:
            yield key, value + cut.focus_moved_mm


def _with(found: Loaded, values: Mapping[str, float]) -> Loaded:
    """The build with these lengths in it, to the tenth of a millimetre that is sawn to, each said to come from the
    measured line that moves the focal plane."""
    said = {key: f"{value:.1f} mm" for key, value in values.items()}
    measured = {key: spot for key, spot in found.spots.items() if spot.measured}
    cause = next((measured[key] for key in _MOVES if key in measured), next(iter(measured.values())))
    spots = {key: Spot(cause.file, cause.line, text, measured=True) for key, text in said.items()}
    return replace(with_values(found, said), spots={**found.spots, **spots})
