"""A builder who saws and drills to the drawing: what lies off moves the focal plane, not the focuser.

The plan puts the focuser where the focal plane is. A builder's focuser stands where the drawing has it, on the poles
that he sawed; his mirror throws its focal plane somewhat elsewhere, and the drawtube makes up for it. So the drawtube
stands farther out in focus by what the focal length is too long, and farther in by what the poles, the focuser's
mounting or its height are too long.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from dossier.calc.shares import Floats
from dossier.design.explore.ground import Ground, centre_of
from dossier.design.worksheet import NotSaid
from dossier.expressions import NameProblem
from dossier.working import NoAnswer

DRAWN_OUT, FOCAL_LENGTH, FRAME = "focuser.drawn_out", "primary.focal_length", "frame.length"
_FARTHER_IN = ("focuser.mounting_radius", "focuser.height")


def focus_moves(ground: Ground, keys: Sequence[str]) -> tuple[Mapping[str, float], Floats]:
    """How offsets of these keys become offsets of a builder's values, keys × values: each moves its own, and some the
    drawtube. What is returned first is the drawtube's key with its value as planned, where it is a further value.

    Nothing moves the drawtube where the plan does not say where it is in focus, or where it lets the frame follow the
    mirror by an expression: then each builder saws to his own mirror.
    """
    shift = _on_the_drawtube(ground, keys)
    own = np.eye(len(keys))
    if not shift.any():
        return {}, own
    try:
        planned = centre_of(ground.sheet({}), DRAWN_OUT)
    except (NotSaid, NoAnswer, NameProblem, ValueError, ArithmeticError):
        return {}, own
    if DRAWN_OUT in keys:
        own[:, list(keys).index(DRAWN_OUT)] += shift
        return {}, own
    return {DRAWN_OUT: planned}, np.hstack([own, shift[:, None]])


def _on_the_drawtube(ground: Ground, keys: Sequence[str]) -> Floats:
    """By how much the drawtube moves out for each unit that a key is off."""
    frame = ground.loaded.build.frame
    if FRAME in ground.loaded.expressions:
        return np.zeros(len(keys))
    carried = {FRAME: -1.0} if frame is not None and frame.kind != "tube" else {}  # a tube's holes keep their places
    weights = {FOCAL_LENGTH: 1.0, **dict.fromkeys(_FARTHER_IN, -1.0), **carried}
    return np.array([weights.get(key, 0.0) for key in keys])
