"""Whether the mirror's supports are enough, where they would stand best, which residual is meant, and the verdict on
pinching that the next question explains."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.asides import cell
from dossier.design.asides.pinch import on_plate
from dossier.notation import show, show_result
from dossier.working import Result

# Rings that sag no more than this many times the best are as good; a wavefront below this share of its limit is ample.
_AS_GOOD, _AMPLE = 1.05, 0.25


def supports(design: Design) -> str:
    """The words on the supports; empty where the spec says too little of the blank."""
    held, others = cell.own(design), cell.compared(design)
    if held is None:
        return _not_said(design, others)
    return "\n\n".join(filter(None, (
        " ".join(_enough(design, held, others)), " ".join(_rings(design, held)), " ".join(_nine(design, held, others)),
        _thickness(held), _pinched(design))))


def _not_said(design: Design, others: tuple[cell.Held, ...]) -> str:
    fewest = cell.fewest(design, others)
    if fewest is None:
        return ""
    return (f"The plan does not say where the mirror is held. {cell.NUMBERS[fewest.points].capitalize()} points at "
            f"{listed(fewest.radii, design)} would do: refocused, its sag between them leaves "
            f"{_plain(fewest.wavefront, design)} of RMS wavefront.")


def _enough(design: Design, held: cell.Held, others: tuple[cell.Held, ...]) -> Iterator[str]:
    points, most = cell.NUMBERS[held.points].capitalize(), show(cell.limit(design), "wave").plain
    kept = held.wavefront.number <= cell.limit(design)
    yield (f"{points} points are {'enough' if kept else 'not enough'} for this mirror: its sag between them leaves "
           f"{{{{ cell.wavefront_rms }}}} of RMS wavefront, where {most} is the most that should be, and a Strehl "
           "ratio "
           f"of {_plain(held.strehl, design)} to an otherwise perfect mirror.")
    fewest = cell.fewest(design, others)
    if kept:
        yield from _more_than_needed(design, held, fewest)
    elif fewest is None:
        yield "No even cell of up to eighteen points holds a mirror this thin; it takes thicker glass or more points."
    else:
        count = "As many" if fewest.points == held.points else f"{cell.NUMBERS[fewest.points].capitalize()} points"
        loads = ", with the best loads" if fewest.forces is not None else ""
        yield (f"{count} at {listed(fewest.radii, design)}{loads} would do: they leave "
               f"{_plain(fewest.wavefront, design)}.")


def _more_than_needed(design: Design, held: cell.Held, fewest: cell.Held | None) -> Iterator[str]:
    if fewest is not None and fewest.points < held.points:
        yield (f"{cell.NUMBERS[fewest.points].capitalize()} at {listed(fewest.radii, design)} would do too: they leave "
               f"{_plain(fewest.wavefront, design)}.")
    elif held.wavefront.number <= _AMPLE * cell.limit(design) and held.points < 18:
        yield "More points would be more to make and nothing to see."


def _rings(design: Design, held: cell.Held) -> Iterator[str]:
    one = len(held.radii.numbers) == 1
    ring, stand, lets = ("ring", "stands", "lets") if one else ("rings", "stand", "let")
    judged = cell.judged(design)
    if judged is None:
        yield (f"The points stand on the best {ring}, {listed(held.radii, design)} from the axis: best for a mirror "
               "that "
               "is refocused, as an eye behind a focuser does, with piston, tilt and focus taken out.")
        return
    yield (f"Refocused, with piston, tilt and focus taken out as an eye behind a focuser does, the best {ring} for as "
           f"many points {stand} at {listed(judged.best, design)}; the planned {listed(held.radii, design)} {lets} it "
           f"sag {_times(judged.times)}. With only piston and tilt taken out, as many tables have it, the best {stand} "
           f"at {listed(judged.best_left_in, design)}, and the planned {lets} it sag {_times(judged.times_left_in)}.")
    kept = held.wavefront.number <= cell.limit(design)
    if min(judged.times, judged.times_left_in) > _AS_GOOD:
        yield ("The plan suits neither, and keeps the limit all the same." if kept else
               "The plan suits neither, and moving its supports costs nothing.")
    elif judged.times > _AS_GOOD and held.wavefront.number <= _AMPLE * cell.limit(design):
        yield "What moving them would win is too little to see."


def _times(times: float) -> str:
    if times <= 1.0005:
        return "no more"
    if times <= _AS_GOOD:
        return f"{show(100 * (times - 1), 'percent').plain} more"
    return f"{times:.1f} times as much"


def _nine(design: Design, held: cell.Held, others: tuple[cell.Held, ...]) -> Iterator[str]:
    """Nine equally loaded points are no better than six: said to whoever plans them."""
    if held.points != 9 or not others:
        return
    six, nine, free = (next(each for each in others if each.points == points and (each.forces is not None) == loads)
                       for points, loads in ((6, False), (9, False), (9, True)))
    if not cell.no_better(nine, six) or free.forces is None:
        return
    inner, outer = (show(force, "n", readers=design.build.readers).plain for force in free.forces.numbers)
    yield (f"Nine points that carry the same are no better than six once the mirror is refocused: at best they leave "
           f"{_plain(nine.wavefront, design)}, six {_plain(six.wavefront, design)}. Levers that put {inner} on each "
           f"inner point and {outer} on each outer one, at {listed(free.radii, design)}, leave "
           f"{_plain(free.wavefront, design)}.")


def _thickness(held: cell.Held) -> str:
    """What the shear factor is, how it was found and how far it may be off."""
    which = "with focus left in, for which these supports are made" if held.focus_left_in else "refocused"
    return ("The sag itself is a thin plate’s. The blank’s thickness makes it {{ cell.shear_factor }} times as much, "
            f"{which}: the front face of the solid blank against the thin plate, by a series that stands within half a "
            "per cent of finite elements of the solid. The telescope looks at the zenith, where the mirror sags most.")


def _pinched(design: Design) -> str:
    """Whether it is pinched, in a sentence."""
    wavefront = design.results.get("cell.pinch_wavefront_rms")
    if wavefront is None:
        return ""
    if wavefront.number == 0:
        return "It is not pinched: " + ("the pushes bend a plate, not the glass." if on_plate(design) else
                                        "the clips stand right over the pushes." if design.results[
                                            "cell.push_force"].number else "nothing pushes.")
    most = wavefront.goal.limit if wavefront.goal is not None else cell.limit(design)
    judged = "little enough" if wavefront.number <= most else "too much"
    return f"Its pushes pinch it by {{{{ cell.pinch_wavefront_rms }}}} of RMS wavefront as a thin plate: {judged}."


def listed(result: Result, design: Design) -> str:
    """Lengths of a list, such as 25.1 mm and 57.3 mm."""
    return " and ".join(show(number, "mm", readers=design.build.readers).plain for number in result.numbers)


def _plain(result: Result, design: Design) -> str:
    return show_result(result, design.build.readers).plain
