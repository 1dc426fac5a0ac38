"""One build against its plan: what a builder measured, what it moves, and what must be cut differently for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dossier.calc.mechanics import frame_lengths
from dossier.design.model import Design
from dossier.spec.keys import unit_of_key, value_at
from dossier.working import Given, Result

# What can be measured with what a workshop has, in the order in which a build comes to it.
_WORTH = (
    "primary.focal_length", "primary.blank_diameter", "primary.edge_thickness", "primary.surface_rms",
    "diagonal.minor_axis", "diagonal.thickness", "diagonal.holder_diameter", "spider.vane_thickness",
    "focuser.mounting_radius", "focuser.height", "focuser.travel", "focuser.bore", "focuser.drawtube",
    "frame.length", "frame.outer_diameter", "frame.inner_diameter", "front.opening", "front.station",
    "cell.push.spring.free_length", "cell.push.spring.rate", "cell.push.spring.compressed_to", "cell.moving_mass",
    "mount.pivot",
)
_OF_EACH = {"eyepieces": ("field_stop", "stop_shift"), "parts": ("mass",)}


@dataclass(frozen=True, slots=True)
class Found:
    """A value that was measured: its key, what the plan says (None where it says nothing) and what was found."""

    key: str
    planned: Given | None
    found: Given


@dataclass(frozen=True, slots=True)
class Moved:
    """A result that the measured values move; either is None where it could not be worked out."""

    result_id: str
    planned: Result | None
    now: Result | None


@dataclass(frozen=True, slots=True)
class Recut:
    """How long a frame's members must be for this mirror: as planned, as they are now, as they should be, mm.

    All three run from fixing to fixing; a pole's tube is shorter by twice its fittings.
    """

    kind: str
    planned_mm: float
    now_mm: float
    wanted: Result
    focus_moved_mm: float
    end_fittings_mm: float = 0.0

    @property
    def change_mm(self) -> float:
        return float(self.wanted.number - self.now_mm)


def found(design: Design) -> tuple[Found, ...]:
    """Every number that was measured, in the order of the measured file."""
    planned = design.planned
    if planned is None:
        return ()
    spots = [(spot.line, key) for key, spot in design.loaded.spots.items() if spot.measured]
    pairs = ((key, _given(planned, key), _given(design, key)) for _, key in sorted(spots))
    return tuple(Found(key, before, now) for key, before, now in pairs if now is not None)


def moved(design: Design) -> tuple[Moved, ...]:
    """The results that are not what the plan's numbers give, in the order of the working."""
    planned = design.planned
    if planned is None:
        return ()
    names = dict.fromkeys((*planned.results, *design.results))
    pairs = (Moved(name, planned.results.get(name), design.results.get(name)) for name in names)
    return tuple(pair for pair in pairs if pair.planned is None or pair.now is None
                 or pair.planned.value != pair.now.value)


def recut(design: Design) -> Recut | None:
    """What the frame's length must become so that the focal plane stands at the focuser again. None where it does
    already, or where the plan does not say how long the frame is."""
    planned, frame = design.planned, design.build.frame
    if planned is None or frame is None or frame.length is None or planned.build.frame is None:
        return None
    before, now = (each.results.get("focuser.station") for each in (planned, design))
    length = planned.build.frame.length
    if before is None or now is None or length is None:
        return None
    shift = now.number - before.number
    wanted = _wanted(planned, length, shift)
    if abs(wanted.number - frame.length) < 0.05:
        return None
    return Recut(frame.kind, length, frame.length, wanted, shift, frame.end_fittings or 0.0)


def _wanted(planned: Design, length: float, shift: float) -> Result:
    chord = planned.results.get("frame.chord")
    across = chord if chord is not None else Given("parallel to the axis", 0.0, "mm", "default")
    height = planned.results["frame.height"].number if "frame.height" in planned.results else length
    return frame_lengths.pole_length_mm.work(
        "measured.frame_length", "Length that this mirror wants",
        lower_fixing_mm=Given("lower fixing", 0.0, "mm", "default", said="counted from it"),
        upper_fixing_mm=Given("upper fixing, moved with the focal plane", height + shift, "mm", "default"),
        truss_chord_mm=across)


def worth_measuring(design: Design) -> tuple[Given, ...]:
    """What a builder should write down: the plan's numbers that a workshop can measure."""
    planned = design.planned or design
    return tuple(given for key in _keys(planned) if (given := _given(planned, key)) is not None)


def _keys(design: Design) -> Iterator[str]:
    yield from _WORTH
    for section, names in _OF_EACH.items():
        for index in range(len(getattr(design.build, section))):
            yield from (f"{section}[{index}].{name}" for name in names)


def _given(design: Design, key: str) -> Given | None:
    value = value_at(design.build, key)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    spot = design.loaded.spots.get(key)
    if spot is None:
        return None
    return Given(key, float(value), unit_of_key(key), "measured" if spot.measured else "spec", spot.file, spot.line,
                 spot.said)
