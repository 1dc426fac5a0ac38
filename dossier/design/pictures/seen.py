"""What is seen in the eyepiece: stars in focus and out, a planet-sized disc and a double star.

Pictures are square arrays of brightness, 1 where a perfect mirror's star or the scene is brightest; rows run down from
the top. All are simulations: exact diffraction of the stated mirrors, in white light as the eye weighs it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from dossier.calc.optics import pairs, scenes, spots, wavefront
from dossier.calc.optics import star_images as stars
from dossier.calc.optics.mirror import Floats, Mirror
from dossier.design.pictures.light import Light, light_of

if TYPE_CHECKING:
    from dossier.design.model import Design

STAR_PIXELS, TEST_PIXELS, SCENE_PIXELS, PAIR_PIXELS = 120, 100, 128, 128
DEFOCUS_WAVES = (-10.0, -5.0, 0.0, 5.0, 10.0)
# The disc of the invented planet, and the share of its picture that it fills (as ``scenes`` draws it).
DISC_ARCSEC, _DISC_SHARE = 40.0, 0.8
# The belts by whose contrast the telescopes are told apart: so far from one dark belt to the next.
BELTS_ARCSEC = 2.0
# Apertures shown beside this one where the author names none: the smallest and a large one of those that people build.
OTHERS_MM = (76.0, 250.0)
PAIR_RAYLEIGH, PAIR_DIFFERENCE_MAG = 1.5, 1.0
_STAR_REACH_UNITS, _WIDER, _PAIR_WIDTH_RAYLEIGH = 11.0, 6.0, 9.0
_MARGIN = 1.3


@dataclass(frozen=True, slots=True)
class StarImages:
    """A star in focus: this mirror and a perfect one on the axis, this one at the edge of the judged field.

    ``wide`` is this mirror on the axis with its surroundings, where spikes outshine the rings.
    """

    light: Light
    vanes: int
    vane_thickness_mm: float
    half_width_um: float
    wide_um: float
    edge_mm: float
    real: Floats
    perfect: Floats
    edge: Floats
    wide: Floats


@dataclass(frozen=True, slots=True)
class StarTest:
    """A star at defocuses in waves, below zero inside focus: this mirror and a perfect one with the same shadow.

    ``shifts_mm`` is how far the eyepiece is moved, away from the mirror above zero; ``half_widths_um`` of each pair.
    """

    light: Light
    vanes: int
    vane_thickness_mm: float
    waves: tuple[float, ...]
    shifts_mm: tuple[float, ...]
    half_widths_um: tuple[float, ...]
    real: tuple[Floats, ...]
    perfect: tuple[Floats, ...]


@dataclass(frozen=True, slots=True)
class Seer:
    """One telescope that looks: ``own`` the design's, ``perfect`` with a paraboloid behind the same diagonal, ``other``
    the same of another aperture, its diagonal larger or smaller with it.

    ``mirror`` is of the design's size. A paraboloid ``times`` as large shows what this one would show of a sky that
    many times as large: shadow and edge stand in its image as before, only finer.
    """

    kind: str
    mirror: Mirror
    aperture_mm: float

    @property
    def times(self) -> float:
        """This telescope's aperture in apertures of ``mirror``."""
        return self.aperture_mm / self.mirror.aperture_mm


@dataclass(frozen=True, slots=True)
class PlanetView:
    """The invented planet by each telescope, in still air and (None where it is not known) in the usual seeing.

    ``kept`` is how much contrast each keeps of belts ``BELTS_ARCSEC`` apart in still air, ``kept_usual`` in the seeing.
    """

    light: Light
    disc_arcsec: float
    width_arcsec: float
    seeing_arcsec: float | None
    seers: tuple[Seer, ...]
    kept: tuple[float, ...]
    kept_usual: tuple[float, ...] | None
    still: tuple[Floats, ...]
    usual: tuple[Floats, ...] | None


@dataclass(frozen=True, slots=True)
class DoubleStarView:
    """A pair of stars by each telescope, likewise; ``dips`` is how dark it is between them in still air and one colour,
    as a share of the fainter one's peak, ``dips_usual`` the same in the seeing."""

    light: Light
    separation_arcsec: float
    difference_mag: float
    width_arcsec: float
    seeing_arcsec: float | None
    seers: tuple[Seer, ...]
    dips: tuple[float, ...]
    dips_usual: tuple[float, ...] | None
    still: tuple[Floats, ...]
    usual: tuple[Floats, ...] | None


def star_images(design: Design) -> StarImages:
    """A star in focus, with the spikes of the spider's vanes."""
    return _star_images(light_of(design), *_vanes(design), design.results["field.judged"].number)


@lru_cache(maxsize=4)
def _star_images(light: Light, vanes: int, thickness: float, judged: float) -> StarImages:
    mirror, reach = light.mirror, _STAR_REACH_UNITS * light.unit_um
    focus = wavefront.highest_strehl(mirror, light.wavelength_nm).focus_mm
    angle = spots.field_angle_deg(judged, mirror.focal_length_mm)
    samples = _samples(mirror, reach)
    real, perfect, edge = (stars.white_image(each, off, at, reach, STAR_PIXELS, vanes, thickness, samples)
                           for each, off, at in ((mirror, 0.0, focus), (mirror.perfect(), 0.0, 0.0),
                                                 (mirror, angle, focus)))
    fine = stars.white_image(mirror, 0.0, focus, _WIDER * reach, 2 * STAR_PIXELS, vanes, thickness,
                             _samples(mirror, _WIDER * reach))
    return StarImages(light, vanes, thickness, reach, _WIDER * reach, judged / 2, real, perfect, edge,
                      _halved(fine))


def _samples(mirror: Mirror, reach_um: float) -> int:
    """Samples across the pupil for a picture this far each way: none of its colours may repeat in it."""
    bluest = min(wavelength for wavelength, _ in stars.EYE) * 1e-3
    return max(80, 16 * math.ceil(2 * reach_um / (bluest * mirror.focal_ratio) / 16))


def _halved(picture: Floats) -> Floats:
    """Half as many pixels each way, each the mean of four: rings finer than a pixel then leave no pattern of theirs."""
    half = len(picture) // 2
    return np.asarray(picture.reshape(half, 2, half, 2).mean(axis=(1, 3)))


def tens(values: Floats) -> Floats:
    """How many tens of brightness a picture stands above 1: its logarithm."""
    return np.asarray(np.log10(values))


def star_test(design: Design) -> StarTest:
    """A star out of focus on both sides."""
    return _star_test(light_of(design), *_vanes(design))


@lru_cache(maxsize=4)
def _star_test(light: Light, vanes: int, thickness: float) -> StarTest:
    mirror, wavelength = light.mirror, light.wavelength_nm
    shifts = tuple(stars.star_test_shift_mm(waves, wavelength, mirror.focal_ratio) for waves in DEFOCUS_WAVES)
    # The disc of light grows with the shift; in focus there is the pattern of diffraction.
    reaches = tuple(max(_MARGIN * 500 * abs(shift) / mirror.focal_ratio, 5 * light.unit_um) for shift in shifts)
    real, perfect = (tuple(_defocused(each, light, waves, reach, vanes, thickness)
                           for waves, reach in zip(DEFOCUS_WAVES, reaches, strict=True))
                     for each in (mirror, mirror.perfect()))
    return StarTest(light, vanes, thickness, DEFOCUS_WAVES, shifts, reaches, real, perfect)


def _defocused(mirror: Mirror, light: Light, waves: float, reach: float, vanes: int, thickness: float) -> Floats:
    focus = stars.defocused(mirror, light.wavelength_nm, waves)
    return stars.white_image(mirror, 0.0, focus, reach, TEST_PIXELS, vanes, thickness,
                             _samples(mirror, reach))


def planet_view(design: Design) -> PlanetView:
    """A disc of a planet's size with invented detail."""
    return _planet(light_of(design), other_apertures(design), design.build.conditions.seeing)


@lru_cache(maxsize=4)
def _planet(light: Light, others: tuple[float, ...], seeing: float | None) -> PlanetView:
    width = DISC_ARCSEC / _DISC_SHARE
    scene, pixel, seers = scenes.invented_planet(SCENE_PIXELS), width / SCENE_PIXELS, _seers(light, others)

    def seen(air: float) -> tuple[Floats, ...]:
        return tuple(scenes.seen(scene, pixel * seer.times, seer.mirror, air * seer.times) for seer in seers)

    def kept(air: float) -> tuple[float, ...]:
        return tuple(float(scenes.white_transfer(seer.mirror, air * seer.times,
                                                 np.array([1 / (BELTS_ARCSEC * seer.times)]))[0]) for seer in seers)

    usual = (None, None) if seeing is None else (kept(seeing), seen(seeing))
    return PlanetView(light, DISC_ARCSEC, width, seeing, seers, kept(0.0), usual[0], seen(0.0), usual[1])


def double_star_view(design: Design) -> DoubleStarView:
    """Two stars half as far apart again as Rayleigh's limit for this aperture, to a tenth of an arcsecond."""
    rayleigh = design.results["optics.rayleigh_limit"].number
    return _pair(light_of(design), other_apertures(design), design.build.conditions.seeing, rayleigh)


@lru_cache(maxsize=4)
def _pair(light: Light, others: tuple[float, ...], seeing: float | None, rayleigh: float) -> DoubleStarView:
    apart, width = max(0.1, round(PAIR_RAYLEIGH * rayleigh, 1)), _PAIR_WIDTH_RAYLEIGH * rayleigh
    seers = _seers(light, others)
    # A larger aperture needs finer pixels than this one's picture has.
    pixels = PAIR_PIXELS * max(1, math.ceil(max(seer.times for seer in seers) / 2))

    def seen(air: float) -> tuple[Floats, ...]:
        return tuple(scenes.two_stars(seer.mirror, apart * seer.times, PAIR_DIFFERENCE_MAG, air * seer.times,
                                      width * seer.times, pixels) for seer in seers)

    dips = tuple(scenes.double_star_dip(
        seer.mirror.aperture_mm, seer.mirror.focal_length_mm, seer.mirror.conic, seer.mirror.obstruction_diameter_mm,
        light.wavelength_nm, apart * seer.times, PAIR_DIFFERENCE_MAG) for seer in seers)
    usual = None if seeing is None else tuple(pairs.double_star_dip_in_seeing(
        seer.mirror.aperture_mm, seer.mirror.focal_length_mm, seer.mirror.conic, seer.mirror.obstruction_diameter_mm,
        light.wavelength_nm, apart * seer.times, PAIR_DIFFERENCE_MAG, seeing * seer.times) for seer in seers)
    return DoubleStarView(light, apart, PAIR_DIFFERENCE_MAG, width, seeing, seers, dips, usual, seen(0.0),
                          None if seeing is None else seen(seeing))


def _vanes(design: Design) -> tuple[int, float]:
    spider = design.build.spider
    if spider is None or not spider.vanes or not spider.vane_thickness:
        return 0, 0.0
    return spider.vanes, spider.vane_thickness


def other_apertures(design: Design) -> tuple[float, ...]:
    """The apertures beside this one: two that the author names, else the usual ones; none within a twentieth of it."""
    own = light_of(design).mirror.aperture_mm
    named = design.build.compare_apertures or OTHERS_MM
    return tuple(other for other in named if abs(other - own) > own / 20)[:2]


def _seers(light: Light, others: tuple[float, ...]) -> tuple[Seer, ...]:
    own, perfect = light.mirror, light.mirror.perfect()
    return (Seer("own", own, own.aperture_mm), Seer("perfect", perfect, own.aperture_mm),
            *(Seer("other", perfect, other) for other in others))
