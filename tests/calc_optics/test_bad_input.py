"""What cannot be is refused, and the refusal names the value and why. Not-a-number never passes."""

from __future__ import annotations

import math
import re
from collections.abc import Callable

import pytest

from dossier.calc.optics import (
    bench_tests,
    collimation,
    diffraction,
    illumination,
    offaxis,
    openings,
    scenes,
    sight,
    spots,
    star_images,
    wavefront,
    zone_mask,
)
from dossier.calc.optics.fold import Diagonal, Telescope
from dossier.calc.optics.mirror import Mirror

NAN = math.nan
REFUSED: list[tuple[Callable[[], object], str]] = [
    (lambda: Mirror(150, 1200, 5), "conic 5 is no telescope mirror's"),
    (lambda: Mirror(150, 1200, NAN), "conic nan"),
    (lambda: Mirror(5000, 1200, 0), "aperture_mm 5000 is too deep for a vertex radius of 2400 mm"),
    (lambda: Mirror(4000, 1200, 0), "aperture_mm 4000 is too deep"),
    (lambda: Mirror(0, 1200, 0), "aperture_mm must be above zero, not 0"),
    (lambda: Mirror(150, -3, 0), "focal_length_mm must be above zero, not -3"),
    (lambda: Mirror(150, NAN, 0), "focal_length_mm must be above zero, not nan"),
    (lambda: Mirror(150, math.inf, 0), "focal_length_mm must be above zero, not inf"),
    (lambda: Mirror(150, 1200, 0, 150), "obstruction_diameter_mm 150 must lie between 0 and the aperture of 150"),
    (lambda: Mirror(150, 1200, 0, NAN), "obstruction_diameter_mm nan"),
    (lambda: wavefront.strehl(150, 1200, 0, 35, NAN, 0), "wavelength_nm must be above zero, not nan"),
    (lambda: wavefront.strehl(150, 1200, 0, 35, 550, NAN), "surface_rms_nm must be zero or more, not nan"),
    (lambda: wavefront.wavefront_pv_wave(150, 1200, 0, 35, 0), "wavelength_nm must be above zero, not 0"),
    (lambda: spots.edge_rms_radius_um(150, 1200, 0, 35, NAN), "judged_field_mm must be above zero, not nan"),
    (lambda: offaxis.edge_wavefront_rms_wave(150, 1200, 0, 35, -1, 550), "judged_field_mm must be above zero, not -1"),
    (lambda: diffraction.mtf_25(150, 1200, 0, 35, -550), "wavelength_nm must be above zero, not -550"),
    (lambda: illumination.full_field_mm(150, 1200, 5, 1300, 35, 0), "intercept_mm 1300 must be less than the focal"),
    (lambda: illumination.full_field_mm(150, 1200, 5, 160, 35, 90), "it catches nothing"),
    (lambda: illumination.edge_light(150, 1200, -1, 160, 35, 90, 20), "minor_axis_mm 35 outside the cone of light"),
    (lambda: illumination.edge_light(150, 1200, -1, 160, 0, 0, 20), "minor_axis_mm must be above zero, not 0"),
    (lambda: illumination.edge_light(150, 1200, -1, 160, 35, NAN, 20), "offset_mm must be a number, not nan"),
    (lambda: illumination.edge_light(150, 1200, -1, 160, 35, 1, NAN), "judged_field_mm must be above zero, not nan"),
    (lambda: openings.bore_field_mm(150, 1195, 30, 1200), "drawtube_mm 1200 must be less than rim_to_focus_mm 1195"),
    (lambda: collimation.tilt_tolerance_arcmin(300, 1200, 0, 60, 550), "it cannot lose 0.05 to a tilt"),
    (lambda: scenes.double_star_dip(150, 1200, 0, 35, 550, 0, 0), "separation_arcsec must be above zero, not 0"),
    (lambda: scenes.seeing_transfer(-1, 1.0), "seeing_arcsec must be zero or more, not -1"),
    (lambda: scenes.two_stars(Mirror(150, 1200), 1, 0, 1, 30, 32), "pixels 32 are too few for 30″"),
    (lambda: star_images.image(Mirror(150, 1200), 0, 0, 550, 400, 64), "half_width_um 400 needs more than 128 samples"),
    (lambda: sight.outlines(Telescope(Mirror(150, 1200), Diagonal(35, 160))), "bore_mm is missing"),
    (lambda: zone_mask.mask_edges_mm(150, 35, 2.5), "zones must be a whole number of 2 or more, not 2.5"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 20), (0, 0.1), 1), r"zones[1] 20 mm must be larger than"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 30), (0, 0.1), 1), r"zones[1] 30 mm must be larger than"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 60), (0.1,), 1), "zones has 2 radii and bench.readings 1"),
    (lambda: bench_tests.bench_conic(150, 1200, (), (), 1), "zones has 0 radii: the zero of the scale is free"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 90), (0, 0.1), 1), r"zones[1] 90 mm is not on the mirror"),
    (lambda: bench_tests.bench_conic(150, 1200, (NAN, 60), (0, 0.1), 1), r"zones[0] nan mm is not on the mirror"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 60), (NAN, 0.1), 1), r"readings[0] must be a number, not nan"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 60), (0, 99), 1), "no telescope mirror's: are they positive away"),
    (lambda: bench_tests.bench_conic(150, 1200, (30, 60), (0, 0.5), 0.5), "source_moves must be 1"),
    (lambda: bench_tests.bench_conic_uncertainty(150, 1200, (30, 60), (0, 0.5), 1), "leave no scatter"),
]


@pytest.mark.parametrize(("call", "words"), REFUSED, ids=[words for _, words in REFUSED])
def test_refused(call: Callable[[], object], words: str) -> None:
    with pytest.raises(ValueError, match=re.escape(words)):
        call()


@pytest.mark.parametrize("conic", [-6.0, -2.0, -1.0, 0.0, 1.0, 4.0])
def test_every_conic_in_range_is_worked(conic: float) -> None:
    for call in (
        lambda: wavefront.strehl(120, 1000, conic, 30, 550, 0), lambda: diffraction.mtf_50(120, 1000, conic, 30, 550),
        lambda: spots.edge_rms_radius_um(120, 1000, conic, 30, 20),
        lambda: offaxis.edge_wavefront_rms_wave(120, 1000, conic, 30, 20, 550),
        lambda: diffraction.airy_energy(120, 1000, conic, 30, 550),
    ):
        assert math.isfinite(call())
