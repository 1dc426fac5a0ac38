"""Every picture of the optics that can be made of a design, by its key, so that pages can place them by data.

``PICTURES[key].make(design, palette, form)`` gives a ``Rendered``: ``svg`` (or ``linked`` with its ``images``), a
``caption`` that says what to see, and ``alt``, the text alternative with the numbers, which is the SVG's description
too. It gives None where the spec does not say enough. ``form`` is ``wide`` (180 mm on paper, legible from 560 px on a
screen; the optical layout and what is drawn like a general arrangement excepted) or ``upright`` (328 px, for phones).
``question`` is the beginning of the heading that a picture belongs under; pages place those of one question in the
order they stand in here. Nothing is worked out before a picture is asked for, and only once for both forms.

On screen the light in a simulated view is ``var(--starlight, #ffffff)``: a theme's night appearance sets that property
to its red. Such views stand in a group of the class ``simulation``, with the word inside each.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING

from dossier.charts import bench, drawn, field, mirror, sky
from dossier.charts.rendered import FOLDER, Make, Picture, Rendered
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import Palette

if TYPE_CHECKING:
    from dossier.design.model import Design

__all__ = ["FOLDER", "PICTURES", "Form", "Picture", "Rendered"]

_MIRROR, _STAR = "Is the mirror good enough?", "What should a star look like?"
_ZONES, _BENCH = "What will the knife edge read?", "What did the test bench say?"
_SHARP, _DIAGONAL = "How sharp is it", "How big is the diagonal"
_FIELD, _STRAY = "How much of the field is good?", "Can stray light reach the eye?"
_PLANETS, _PAIRS = "What does it show of the planets?", "Which double stars does it divide?"
_COLLIMATION = "How well must it be collimated?"
_COST, _CUTS = "What does it cost?", "What is cut from what?"
_PRINTED = "What is printed, and for how long?"
_FRAME = "What holds it all"
_TRACKING, _HEAT = "How long does an object stay in view", "How long until the mirror has cooled?"
_CELL, _PINCH = "What holds the mirror, and does it pinch?", "How hard may it be pushed?"
_PATH = "What else is known of the light’s path?"


def _later(module: str, name: str) -> Make:
    """A picture whose module is loaded when it is first asked for: what is of mechanics and workshop need not be at
    hand for a picture of the optics."""

    def make(design: Design, palette: Palette, form: Form) -> Rendered | None:
        made: Make = getattr(import_module(f"dossier.charts.{module}"), name)
        return made(design, palette, form)

    return make


_ALL = (
    Picture("wavefront", "The wavefront across the mirror", _MIRROR, mirror.wavefront),
    Picture("strehl-focus", "Strehl ratio against focus", _MIRROR, mirror.strehl_against_focus),
    Picture("strehl-budget", "What the Strehl ratio is spent on", _MIRROR, mirror.budget),
    Picture("star-test", "The star test", _STAR, sky.star_test, simulated=True),
    Picture("zone-mask", "The mask for the knife-edge test", _ZONES, drawn.zone_mask),
    Picture("ronchi", "The Ronchi test", _ZONES, bench.ronchi, simulated=True),
    Picture("knife-edge", "The knife-edge test", _ZONES, bench.knife_edge, simulated=True),
    Picture("bench-profile", "The surface as the bench found it", _BENCH, bench.profile),
    Picture("contrast", "Contrast against fineness of detail", _SHARP, mirror.contrast),
    Picture("encircled-energy", "Light gathered in the star image", _SHARP, mirror.encircled_energy),
    Picture("star-images", "A star in focus", _SHARP, sky.star_images, simulated=True),
    Picture("illumination", "Light across the field", _DIAGONAL, field.illumination),
    Picture("spot-matrix", "Spots across the field and through focus", _FIELD, drawn.spot_matrix),
    Picture("stray-light", "Where stray light gets in", _STRAY, drawn.stray_light),
    Picture("planet", "A planet’s disc in the eyepiece", _PLANETS, sky.planet, simulated=True),
    Picture("double-star", "A double star in the eyepiece", _PAIRS, sky.double_star, simulated=True),
    Picture("sight", "The view down the drawtube", _COLLIMATION, drawn.sight),
    Picture("frame-sag", "How the frame bends", _FRAME, _later("frame", "frame_sag")),
    Picture("frame-materials", "Sag in other materials", _FRAME, _later("frame", "frame_materials")),
    Picture("field-rotation", "How fast the field turns", _TRACKING, _later("mount", "field_rotation")),
    Picture("cooling", "The mirror as it cools", _HEAT, _later("heat", "cooling")),
    Picture("cell-deflection", "The mirror’s sag between its supports", _CELL, _later("cell_map", "deflection")),
    Picture("pinch-strehl", "Strehl ratio against the force of a push", _PINCH, _later("cell", "pinch_strehl")),
    Picture("pinched-star", "What a pinched mirror makes of a star", _PINCH, _later("cell", "pinched_star"),
            simulated=True),
    Picture("cost-by-group", "Where the money goes", _COST, _later("workshop", "cost_by_group")),
    Picture("printed-parts", "The printed parts", _PRINTED, _later("mesh", "printed_parts")),
    Picture("cut-plan", "Which piece from which length", _CUTS, _later("workshop", "cut_plan")),
    Picture("optical-layout", "Optical layout", _PATH, drawn.optical_layout),
)
PICTURES: Mapping[str, Picture] = MappingProxyType({picture.key: picture for picture in _ALL})
