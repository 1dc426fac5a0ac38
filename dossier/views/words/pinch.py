"""How much the pushes bend the glass, what it bears, and what another arrangement would change."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.asides.pinch import (
    IN_THE_LIGHT,
    Arrangement,
    adjuster_rate,
    arrangements,
    on_plate,
    own_screw,
    screw_torque,
    screw_turn,
)
from dossier.notation import show, show_result
from dossier.working import Result


def tell(design: Design) -> str:
    """The words on pushing; empty where neither pushes nor clips are known."""
    known = arrangements(design)
    if on_plate(design):
        return "\n\n".join(filter(None, (_plate(design), " ".join(_bare(design, known)), _soft(design, known))))
    return "\n\n".join(filter(None, (
        " ".join(_glass(design, known)), " ".join(_change(design, known)), _soft(design, known))))


def _plate(design: Design) -> str:
    where = ("; they stand outside the glass and cannot reach it." if _outside(design) else
             ", whatever their force, as long as the end of no screw reaches the glass and no clip is tightened.")
    return ("The pushes bear on a plate, which bends in the glass’s stead. Between pushes and clips the mirror is not "
            f"pinched at all{where} Leave the clips clear of the glass by a sheet of paper.")


def _outside(design: Design) -> bool:
    blank = design.results.get("cell.blank_weight")
    push = design.build.cell.push if design.build.cell else None
    if blank is None or push is None or push.radius is None:
        return False
    across = blank.inputs["blank_diameter_mm"].value
    return isinstance(across, float) and push.radius > across / 2


def _bare(design: Design, known: tuple[Arrangement, ...]) -> Iterator[str]:
    """What the plate spares the glass."""
    if not known:
        return
    own, between = known[0], next((each for each in known if each.key == "between"), None)
    if own.solid_limit is not None:
        yield ("Should screws reach the glass at the same places all the same, they would bend it by "
               "{{ cell.pinch_surface }} RMS of surface, counted by each push, as a thin plate, and "
               f"{_times(own)} with its thickness counted in. Then {_newtons(own.solid_limit, design)} each is the "
               "most.")
    if between is not None and between.solid_limit is not None:
        yield f"With the clips half way between them it would be {_newtons(between.solid_limit, design)}."


def _glass(design: Design, known: tuple[Arrangement, ...]) -> Iterator[str]:
    if not known:
        return
    own, force = known[0], design.results.get("cell.push_force")
    if own.limit is None or own.solid_limit is None:
        yield ("The pushes stand right behind the clips: what one presses the other holds, and the glass between them "
               "does not bend. It takes the same radius and the same angles, so mark both from one template.")
        return
    yield "The pushes bear on the glass and the clips answer."
    if force is not None:
        yield (f"{{{{ cell.push_force }}}} each, from {_giver(design)}, leave {{{{ cell.pinch_wavefront_rms }}}} of "
               "RMS "
               "wavefront to a thin plate.")
    yield (f"A thin plate would bear {{{{ cell.pinch_force_limit }}}} of each push before the Strehl ratio of an "
           f"otherwise perfect mirror falls to 0.95. A blank as thick as this bends {_times(own)} and bears "
           f"{_newtons(own.solid_limit, design)}.")
    if force is not None and own.strehl is not None and own.wavefront is not None:
        yield (f"With its thickness counted in, the planned push leaves {_plain(own.wavefront, design)} and a Strehl "
               f"ratio of {_plain(own.strehl, design)}"
               + (": soft enough." if force.number <= own.solid_limit.number else
                  ": too hard. Stars then show corners that stay where they are when the eyepiece is turned."))


def _giver(design: Design) -> str:
    push = design.build.cell.push if design.build.cell else None
    return "a screw" if push is not None and push.force is not None else "the springs"


def _change(design: Design, known: tuple[Arrangement, ...]) -> Iterator[str]:
    if not known or known[0].solid_limit is None:
        return
    others = [each for each in known[1:] if each.key != "plate" and each.remark != IN_THE_LIGHT]
    told = [f"{_small(each.name)}, " + ("any force, for nothing bends" if each.solid_limit is None else
                                        _newtons(each.solid_limit, design)) for each in others]
    if told:
        yield f"What this blank would bear in other arrangements: {'; '.join(told)}; on a plate, any force."


def _soft(design: Design, known: tuple[Arrangement, ...]) -> str:
    """How soft soft springs are, in newtons."""
    worst, rate = known[0].solid_limit if known else None, adjuster_rate(design)
    if worst is None or rate is None:
        return ""
    screw = own_screw(design)
    turn, torque = screw_turn(screw, rate), _plain(screw_torque(screw, worst), design)
    hard = "" if turn.number <= worst.number / 2 else ", which is not soft"
    return ("Common practice says soft springs and no screw on the glass. In numbers: through springs of "
            f"{{{{ {rate.id} }}}} a whole turn of an {screw} screw adds {_newtons(turn, design)}{hard}; "
            f"the glass bears {_newtons(worst, design)}. With its end on the bare glass the same screw pushes that "
            f"hard at {torque}, which is less than two fingers give.")


def _times(arrangement: Arrangement) -> str:
    factor = arrangement.factor
    return "as much" if factor is None else f"{factor.number:.1f} times as much"


def _newtons(result: Result, design: Design) -> str:
    return show(result.number, "n", readers=design.build.readers).plain


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]


def _plain(result: Result, design: Design) -> str:
    return show_result(result, design.build.readers).plain
