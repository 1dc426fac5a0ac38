"""First-order numbers against general libraries: SciPy's constants, zeros and integrals, prysm's conic surfaces."""

import math
from decimal import Decimal, getcontext

import numpy as np
import pytest
from prysm.experimental.raytracing.surfaces import conic_sag
from scipy import constants, integrate, special

from dossier.calc.mechanics.balance import mirror_mass_kg
from dossier.calc.mechanics.frame_lengths import pole_length_mm, truss_chord_mm, truss_height_mm
from dossier.calc.optics import eyepieces, field, first_order, sphere, targets

CONICS = [-1.8, -1.0, -0.6, 0.0, 0.7]


def test_airy_and_rayleigh_use_the_first_zero_of_the_bessel_function() -> None:
    zero = special.jn_zeros(1, 1)[0] / math.pi
    assert first_order.airy_diameter_um(0.55, 8) == pytest.approx(2 * zero * 0.55 * 8, rel=1e-5)
    radians = first_order.rayleigh_limit_arcsec(0.55, 150) * constants.arcsecond
    assert radians == pytest.approx(zero * 0.55e-6 / 0.150, rel=1e-5)


def test_angles() -> None:
    assert first_order.image_scale_arcsec_per_mm(1200) * constants.arcsecond == pytest.approx(1 / 1200, rel=1e-8)
    assert field.field_angle_arcmin(24, 1200) * constants.arcminute == pytest.approx(12 / 1200, rel=1e-8)
    half = eyepieces.true_field_from_stop_deg(46, 600) / 2 * constants.degree
    assert math.tan(half) == pytest.approx(23 / 600, rel=1e-12)
    seen = targets.disc_diameter_arcsec(1.4e8, 6e11) * constants.arcsecond
    assert math.sin(seen / 2) == pytest.approx(0.7e8 / 6e11, rel=1e-8)


@pytest.mark.parametrize("conic", CONICS)
@pytest.mark.parametrize(("aperture_mm", "focal_length_mm"), [(114, 900), (300, 900), (150, 1200)])
def test_sagitta_of_a_conic(aperture_mm: float, focal_length_mm: float, conic: float) -> None:
    expected = conic_sag(1 / (2 * focal_length_mm), conic, (aperture_mm / 2) ** 2)
    assert first_order.sagitta_mm(aperture_mm, focal_length_mm, conic) == pytest.approx(float(expected), rel=1e-12)


@pytest.mark.parametrize("conic", [0.0, -0.5, -0.999, -1 + 1e-9, -1.0])
def test_sag_difference_keeps_its_digits(conic: float) -> None:
    """Against the plain difference of two depths in fifty-digit arithmetic."""
    getcontext().prec = 50
    rim, vertex_radius, k = Decimal(75), Decimal(2400), Decimal(conic)
    root = (vertex_radius**2 - (1 + k) * rim**2).sqrt()
    depth = rim**2 / (vertex_radius + root)
    expected = abs(depth - rim**2 / (2 * vertex_radius)) * 10**6
    assert sphere.sag_difference_nm(150, 1200, conic) == pytest.approx(float(expected), rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("conic", CONICS)
def test_mass_of_a_mirror(conic: float) -> None:
    """A disc of 25 mm at its edge, 152 mm wide, ground over 150 mm: its volume by quadrature over the front."""
    curvature = 1 / (2 * 600.0)
    rim_depth = float(conic_sag(curvature, conic, 75.0**2))

    def ring(radius: float) -> float:
        ground = max(0.0, rim_depth - float(conic_sag(curvature, conic, radius**2))) if radius < 75 else 0.0
        return 2 * math.pi * radius * (25 - ground)

    volume, _ = integrate.quad(ring, 0, 76, points=[75])
    sagitta = first_order.sagitta_mm(150, 600, conic)
    assert mirror_mass_kg(152, 25, 600, conic, sagitta, 2230) == pytest.approx(2230e-9 * volume, rel=1e-9)


@pytest.mark.parametrize("count", [6, 8, 12])
def test_truss_lies_between_its_nodes(count: int) -> None:
    """Lower and upper nodes as points in space; the upper ones are turned by half a pitch."""
    pitch = 4 * math.pi / count
    lower = np.array([160.0, 0.0, 300.0])
    upper = np.array([130 * math.cos(pitch / 2), 130 * math.sin(pitch / 2), 1100.0])
    length = float(np.linalg.norm(upper - lower))
    chord = truss_chord_mm(160, 130, count)
    assert chord == pytest.approx(float(np.linalg.norm((upper - lower)[:2])))
    assert truss_height_mm(length, chord) == pytest.approx(800)
    assert pole_length_mm(300, 1100, chord) == pytest.approx(length)
