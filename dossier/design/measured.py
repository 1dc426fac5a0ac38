"""One build against its plan: what a builder measured, what it moves, and what must be cut differently for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dossier.calc.mechanics import frame_lengths
from dossier.design.model import Design
from dossier.spec.keys import unit_of_key, value_at
from dossier.spec.ranges import read_tolerance
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


# What nobody sees in a frame's length where the plan gives no tolerance: as near as a hand saw and a file come.
# Common practice, no source.
SAWN_MM = 0.5


@dataclass(frozen=True, slots=True)
class Recut:
    """How long a frame's members must be for this mirror: as planned, as they are now, as they should be, mm.

    All three run from fixing to fixing; a pole's tube is shorter by twice its fittings. ``made`` says that the length
    was measured, so that the members are there; ``allowed_mm`` how far the plan lets it be off. ``drawn_out_mm`` is how
    much farther out the focuser stands if nothing is sawn (below zero: farther in), and ``left_mm`` the travel that it
    then has left that way, None where its travel is not said.
    """

    kind: str
    planned_mm: float
    now_mm: float
    wanted: Result
    focus_moved_mm: float
    made: bool
    allowed_mm: float
    drawn_out_mm: float
    left_mm: float | None
    end_fittings_mm: float = 0.0

    @property
    def change_mm(self) -> float:
        return float(self.wanted.number - self.now_mm)

    @property
    def needed(self) -> bool:
        """Whether the length is farther off than the plan lets it be."""
        return abs(self.change_mm) > self.allowed_mm + 1e-6


def found(design: Design) -> tuple[Found, ...]:
    """Every number that was measured, in the order of the measured file."""
    planned = design.planned
    if planned is None:
        return ()
    spots = [(spot.line, key) for key, spot in design.loaded.spots.items()
             if spot.measured and key not in design.fitted]
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
    """How the frame's length stands to what this mirror wants, so that the focal plane is at the focuser again. None
    where it is that length, or where the plan does not say how long the frame is."""
    planned, frame = design.planned, design.build.frame
    if planned is None or frame is None or frame.length is None or planned.build.frame is None:
        return None
    before, now = (each.results.get("focuser.station") for each in (planned, design))
    length = planned.build.frame.length
    if before is None or now is None or length is None:
        return None
    shift = now.number - before.number
    spot = design.loaded.spots.get("frame.length")
    made = spot is not None and spot.measured and "frame.length" not in design.fitted
    here = frame.length if made else length
    wanted = _wanted(planned, length, shift)
    if abs(wanted.number - here) < 0.05:
        return None
    out = _height(planned, length) + shift - _height(planned, here)
    return Recut(frame.kind, length, here, wanted, shift, made, _allowed(planned), out, _left(design, out),
                 frame.end_fittings or 0.0)


def _height(planned: Design, length: float) -> float:
    """How far along the axis members of this length reach, mm."""
    chord = planned.results.get("frame.chord")
    return frame_lengths.truss_height_mm(length, chord.number) if chord is not None else length


def _allowed(planned: Design) -> float:
    said = planned.build.tolerances.get("frame.length")
    return read_tolerance("frame.length", said).size if said is not None else SAWN_MM


def _left(design: Design, out: float) -> float | None:
    """The focuser's travel that is left, mm, with it drawn out so much farther; below zero what is missing."""
    spare = design.results.get("focuser.spare_out" if out > 0 else "focuser.spare_in")
    if spare is not None:
        return float(spare.number - abs(out))
    drawn, travel = design.results.get("focuser.drawn_out"), design.build.focuser.travel
    if drawn is None or (out > 0 and travel is None):
        return None
    return float((travel or 0.0) - drawn.number - out if out > 0 else drawn.number + out)


def _wanted(planned: Design, length: float, shift: float) -> Result:
    chord = planned.results.get("frame.chord")
    across = chord if chord is not None else Given("parallel to the axis", 0.0, "mm", "default")
    height = _height(planned, length)
    return frame_lengths.pole_length_mm.work(
        "measured.frame_length", "Length that this mirror wants",
        lower_fixing_mm=Given("lower fixing", 0.0, "mm", "default", said="counted from it"),
        upper_fixing_mm=Given("upper fixing, moved with the focal plane", height + shift, "mm", "default"),
        truss_chord_mm=across)


def worth_measuring(design: Design) -> tuple[Given, ...]:
    """What a builder should write down: the plan's numbers that a workshop can measure."""
    planned = design.planned or design
    return tuple(given for key in _keys(planned) if (given := _given(planned, key)) is not None)


def in_grams(given: Given) -> Given:
    """A mass below a kilogram as a balance shows it."""
    if given.unit != "kg" or isinstance(given.value, tuple) or not given.value < 1:
        return given
    return replace(given, value=float(f"{given.value * 1000:.12g}"), unit="g")


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
