"""What is said of collimation: how well the mirrors must be set, how a builder sees it, and which screw to turn."""

from __future__ import annotations

from dossier.design import Design
from dossier.notation import show

_TILT = "collimation.tilt_tolerance"
_HOW_WELL = (
    "**Set the primary to within {{ collimation.tilt_tolerance }}.** A lean of so much costs 0.05 of the Strehl ratio; "
    "half as much costs about a quarter of that. At the focal plane it is {{ collimation.axis_shift }} between the "
    "middle of the view and the point that is free of coma.")
_SEEN = (
    "A beam turns by twice the lean of the mirror. **The return of a laser may stand {{ collimation.return_shift }} "
    "from where it left, and no more**; through a cap with a hole, the hole’s dark reflection may stand as far from "
    "the middle of the mark on the primary. The laser’s own error comes on top: turn it in the focuser first and see "
    "that its spot stays. Use only one of class 2, below 1 mW, and never look into its beam, nor into the telescope "
    "while it is on.")
_WHICH = (
    "**Which screw:** the one that lies, seen in the diagonal, on the side to which the dark reflection stands off the "
    "mark. Draw that side of the mirror back, away from the sky, and the reflection moves over to the other side.")
_OTHERS = (
    "Other faults that cost as much, each alone: the primary moved sideways by {{ collimation.primary_shift }}; the "
    "diagonal tipped along the tube by {{ collimation.diagonal_tip }}, or twisted about the tube’s axis by "
    "{{ collimation.diagonal_twist }}. The primary makes up for them all: after the diagonal, set it again.")


def tolerance(design: Design) -> str:
    """The tolerance as an angle, at the focal plane, on a laser's face and in turns; then which screw."""
    if _TILT not in design.results:
        reason = design.left_out.get(_TILT, "")
        return f"No tolerance can be given: {reason}." if reason else ""
    sag, shift = design.results.get("frame.sag"), design.results["collimation.axis_shift"].number
    kept = (f" Between the zenith and the horizon the frame’s sag, {{{{ frame.sag }}}}, uses up "
            f"{show(100 * sag.number / shift, 'percent').plain} of that." if sag else "")
    return "\n\n".join(filter(None, (_HOW_WELL + kept, _turns(design), _SEEN, _WHICH, _OTHERS)))


def _turns(design: Design) -> str:
    turns = design.results.get("collimation.screw_turns")
    if turns is None:
        return ""
    # A turn as large as the whole tolerance can leave the mirror as far out on the other side.
    step = ("Half turns are fine enough" if turns.number > 1 else "Turn by quarters at most" if turns.number > 0.4 else
            "Turn by an eighth, or by what the fingers just feel" if turns.number > 0.2 else
            "An eighth of a turn is too coarse: move the knob by what the fingers just feel, and look again each time")
    return f"Turns of one adjusting screw that tilt the mirror by all of it: {{{{ collimation.screw_turns }}}}. {step}."
