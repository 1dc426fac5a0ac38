"""Builds beside the one that is planned: what would be if keys had other values, parts were chosen otherwise, or each
builder came as near as he can.

Nothing here is loaded or worked out for the results themselves, only when a page or a command asks.
"""

from __future__ import annotations

from dossier.design.explore.asked import studies_in, studies_of, study_asked
from dossier.design.explore.points import Axis, Point, Setting, Study, worked_out
from dossier.design.explore.tolerances import Drawn, GoalShare, builders_of, draw_builders

__all__ = ["Axis", "Drawn", "GoalShare", "Point", "Setting", "Study", "builders_of", "draw_builders", "studies_in",
           "studies_of", "study_asked", "worked_out"]
