"""The drawings among the optical pictures, in the same wrapping as the charts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dossier.charts.rendered import Rendered
from dossier.drawings import optical_layout as layout
from dossier.drawings import sight as views
from dossier.drawings import spot_matrix as spots
from dossier.drawings import stray_light as stray
from dossier.drawings import zone_mask as masks
from dossier.drawings.general_arrangement import Form
from dossier.drawings.palette import Palette
from dossier.drawings.scene import Scene
from dossier.drawings.svg import render

if TYPE_CHECKING:
    from dossier.design.model import Design

# What stands between the words of a page, not on a sheet of its own.
_WIDTH_MM, _HEIGHT_MM = 180.0, 120.0


def spot_matrix(design: Design, palette: Palette, form: Form) -> Rendered:
    """Spots across the field and through focus."""
    return _wrapped(spots.scene(design, form), palette, spots.caption())


def stray_light(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """The worst lines of sight that are not the mirror's, and what shuts them."""
    scene = stray.scene(design, form)
    return _wrapped(scene, palette, stray.caption()) if scene else None


def sight(design: Design, palette: Palette, form: Form) -> Rendered | None:
    """The view down the drawtube, in true and out of it."""
    scene = views.scene(design, form)
    return _wrapped(scene, palette, views.caption(design)) if scene else None


def zone_mask(design: Design, palette: Palette, form: Form) -> Rendered:
    """The mask for the knife-edge test."""
    return _wrapped(masks.scene(design, form), palette, masks.caption())


def optical_layout(design: Design, palette: Palette, form: Form) -> Rendered:
    """The way of the light, with the rays of axis and field edges."""
    return _wrapped(layout.scene(design, form, _WIDTH_MM, _HEIGHT_MM), palette, layout.caption())


def _wrapped(scene: Scene, palette: Palette, caption: str) -> Rendered:
    return Rendered(render(scene, palette), caption, scene.description)
