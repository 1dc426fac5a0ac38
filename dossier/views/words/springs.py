"""Whether the cell's springs are right: strong enough, long enough, and what follows where a cell floats on them."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.asides.springs import CUSTOMARY_MARGIN, fittings, job
from dossier.notation import show


def tell(design: Design) -> str:
    """The words on the springs; empty where it is not known what they carry."""
    if "cell.seating_force" not in design.results:
        return ""
    return "\n\n".join(filter(None, (
        " ".join(_seated(design)), " ".join(_wound(design)), " ".join(_floats(design)), _from_the_shelf(design))))


def _seated(design: Design) -> Iterator[str]:
    margin = design.results.get("cell.spring_margin")
    if margin is None:
        yield ("Each adjuster needs {{ cell.seating_force }} to keep the cell seated at every altitude, whichever side "
               "is down, and by custom half as much again.")
        return
    goal = margin.goal
    least = goal.limit if goal is not None and goal.sense == "at_least" else CUSTOMARY_MARGIN
    pushes = "The springs push" if "cell.spring_rate" in design.results else "The screws push"
    yield (f"{pushes} with {{{{ cell.push_force }}}} each, {{{{ cell.spring_margin }}}} times what keeps the cell "
           "seated "
           "at the worst altitude, whichever side is down.")
    if margin.number >= least:
        yield "That is enough."
        return
    yield ("The mirror slumps as the telescope tips, and collimation goes with it." if margin.number < 1 else
           f"It holds while nobody knocks it; {show(least, '').plain} times is wanted.")
    if "cell.needed_compression" in design.results:
        yield "Compressed by {{ cell.needed_compression }} they would have half as much again in hand."


def _wound(design: Design) -> Iterator[str]:
    travel, share = (design.results.get(f"cell.{name}") for name in ("travel_in_hand", "stress_share"))
    if travel is not None and travel.number <= 1:
        yield ("At the planned length the coils touch: squared and ground, the spring is {{ cell.solid_length }} long "
               "when solid, and pushes like a screw. Take a longer one.")
    elif travel is not None and travel.number < 1.15:
        yield ("At the planned length the spring is all but solid, which it is at {{ cell.solid_length }}: single "
               "coils "
               "touch and its rate climbs. Take a longer one.")
    elif travel is not None:
        yield "Its coils touch at {{ cell.solid_length }} and stay clear of that."
    if share is not None:
        yield ("The wire is stressed to {{ cell.wire_stress }}, {{ cell.stress_share }} of what makes a spring set"
               + (": it keeps its length." if share.number <= 1 else ": it will stay shorter and push less."))


def _floats(design: Design) -> Iterator[str]:
    if "cell.floating_shift" in design.results:
        yield ("A cell whose screws pull it against its springs does not shift. One that floats on them, with slack in "
               "a screw, sinks by {{ cell.floating_shift }} along the axis from horizon to zenith and swings at "
               "{{ cell.floating_frequency }}.")


def _from_the_shelf(design: Design) -> str:
    wanted, margin = job(design), design.results.get("cell.spring_margin")
    if wanted is None or (margin is not None and margin.number >= wanted.margin) or fittings(design):
        return ""
    return (f"None of the common sizes on the shelf gives "
            f"{show(wanted.force_n, 'n', readers=design.build.readers).plain} softly and with travel to "
            "spare. Put several side by side at each adjuster, or have one wound.")
