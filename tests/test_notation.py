"""How numbers, units, symbols and formulas are written."""

import re
import subprocess
import sys
from dataclasses import dataclass
from html.parser import HTMLParser
from typing import Literal

import pint
import pytest

from dossier import shelf
from dossier.calc.mechanics.balance import centre_of_mass_mm, mirror_mass_kg
from dossier.calc.optics import diagonal, eyepieces, first_order, sphere
from dossier.calc.optics.field import coma_free_radius_mm
from dossier.notation import (
    METRIC,
    rule_html,
    rule_plain,
    show,
    show_limit,
    show_result,
    symbol,
    working_html,
    working_plain,
)
from dossier.notation.digits import Digits, written
from dossier.notation.units import CUSTOMARY, unit_text
from dossier.working import FORMULAS, UNITS, AnyFormula, Given, Goal, Result, formula

THIN = "\u202f"


@dataclass(frozen=True)
class Club:
    units: str = "inch"
    currency: str | None = "EUR"


@pytest.mark.parametrize(("value", "digits", "text"), [
    (12.345, Digits(decimals=1), "12.3"), (12.35, Digits(decimals=1), "12.4"), (2.675, Digits(decimals=2), "2.68"),
    (0.125, Digits(decimals=2), "0.13"), (-0.125, Digits(decimals=2), "−0.13"), (1200.0, Digits(decimals=1), "1200.0"),
    (1200.0, Digits(decimals=1, trim=True), "1200"), (0.0, Digits(decimals=2), "0"), (-1e-17, Digits(decimals=1), "0"),
    (0.04, Digits(decimals=1), "0.040"), (0.5, Digits(decimals=1), "0.5"), (0.26, Digits(decimals=1), "0.26"),
    (0.996, Digits(decimals=1), "1.0"), (5.4, Digits(decimals=0), "5"), (0.4, Digits(decimals=0), "0.40"),
    (48.0, Digits(figures=3), "48.0"), (123456.0, Digits(figures=3), "123456"), (9.996, Digits(figures=3), "10.0"),
    (0.3 + 0.6, Digits(figures=17, trim=True), "0.9"), (3.3e-6, Digits(figures=2), "3.3 × 10⁻⁶"),
    (-2.5e9, Digits(figures=3), "−2.50 × 10⁹"), (9.999e7, Digits(figures=2), "1.0 × 10⁸"),
    (12_500_000.0, Digits(decimals=2, powers=False), "12500000.00"), (0.00002, Digits(decimals=2), "2.0 × 10⁻⁵"),
    (float("nan"), Digits(), "not a number"), (float("inf"), Digits(), "∞"), (float("-inf"), Digits(), "−∞"),
])
def test_digits(value: float, digits: Digits, text: str) -> None:
    assert written(value, digits).plain == text


@pytest.mark.parametrize("value", [1 / 3, 1234.5678, 6.02e23, 1.6e-19, -0.00123])
def test_reader_takes_the_printed_number(value: float) -> None:
    assert written(value, Digits(figures=12)).value == pytest.approx(value, rel=1e-11)


@pytest.mark.parametrize(("value", "unit", "plain"), [
    (150.0, "mm", f"150.0{THIN}mm"), (20.5, "arcsec", "20.50″"), (1.5, "arcmin", "1.50′"), (50, "deg", "50.00°"),
    (5, "degc", f"5{THIN}°C"), (10.73, "um", f"10.7{THIN}µm"), (3.3e-6, "per_k", f"3.3 × 10⁻⁶{THIN}K⁻¹"),
    (-12.0, "mm", f"−12.0{THIN}mm"), (171.9, "arcsec_per_mm", "171.9″/mm"), (0.233, "", "0.233"),
    (8, "w_per_m2_k", f"8.0{THIN}W/(m²{THIN}K)"), (2230, "kg_per_m3", f"2230{THIN}kg/m³"),
])
def test_metric_readers(value: float, unit: str, plain: str) -> None:
    assert show(value, unit).plain == plain


@pytest.mark.parametrize(("value", "unit", "plain"), [
    (25.4, "mm", f"1.000{THIN}in"), (0.45359237, "kg", f"1.00{THIN}lb"), (4.4482216, "n", f"1.00{THIN}lbf"),
    (1.0, "n_per_mm", f"5.71{THIN}lbf/in"), (5.0, "degc", f"41{THIN}°F"), (286, "nm", f"286{THIN}nm"),
    (10.7, "um", f"10.7{THIN}µm"), (42, "money", f"42.00{THIN}EUR"), (2, "arcsec", "2.00″"),
])
def test_readers_of_inches(value: float, unit: str, plain: str) -> None:
    assert show(value, unit, readers=Club()).plain == plain


@pytest.mark.parametrize("unit", CUSTOMARY)
def test_inches_and_pounds_after_the_unit_library(unit: str) -> None:
    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    spelled = {"n": "N", "n_per_mm": "N/mm", "n_mm": "N*mm", "n_m": "N*m", "degc": "degC", "mm2": "mm^2",
               "mm3": "mm^3", "cm3": "cm^3"}.get(unit, unit)
    other = CUSTOMARY[unit].text.replace(THIN, "*").replace("°F", "degF").replace("in²", "in^2").replace("in³", "in^3")
    for value in (1.0, 17.0):
        expected = registry.Quantity(value, spelled).to(other.replace("lbf", "force_pound")).magnitude
        assert value * CUSTOMARY[unit].factor + CUSTOMARY[unit].offset == pytest.approx(expected, rel=1e-9)


def test_lists_carry_their_unit_once() -> None:
    assert show((40.0, 61.25), "mm").plain == f"40.0, 61.3{THIN}mm"


def test_currency_without_a_code_stands_bare() -> None:
    assert show(3.5, "money", readers=METRIC).plain == "3.50"


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_is_written(unit: str) -> None:
    shown = show(1.5, unit, readers=Club(units="metric"))
    assert shown.unit == unit_text(unit, "EUR")
    assert "_" not in shown.plain
    assert not re.search(r"[a-zA-Z][234]", shown.plain)


def test_digits_follow_the_result_before_the_unit() -> None:
    assert show(0.98765, "mm", result_id="diagonal.offset").number == "0.99"
    assert show(48.3, "", result_id="eyepiece.25-mm-plossl.magnification").number == "48"


def test_display_names_units_that_exist() -> None:
    assert set(shelf.display()["units"]) <= set(UNITS)


def test_symbols() -> None:
    assert symbol("aperture_mm").html == "<i>D</i>"
    assert symbol("least_minor_axis_mm").html == "<i>a</i><sub>min</sub>"
    assert symbol("least_minor_axis_mm").plain == "a_min"
    assert symbol("primary_reflectivity").plain == "ρ₁"
    assert symbol("sag_difference_nm").html == "Δ<i>z</i><sub>rim</sub>"
    assert symbol("aperture_mm").meaning.startswith("clear aperture")
    assert symbol("a_word_that_nobody_listed_mm").html == "a word that nobody listed"


def test_rules_as_text() -> None:
    assert rule_plain(first_order.focal_ratio) == "F = f/D"
    assert rule_plain(sphere.longitudinal_aberration_third_order_mm) == "l_III = −(1 + K) D²/(32 f)"
    assert rule_plain(first_order.rayleigh_limit_arcsec) == "θ_R = 206264.806 × 1.21967 λ/(1000 D)"
    assert rule_plain(diagonal.least_minor_axis_mm).splitlines() == ["s = D/(2 T)", "a_min = 2 s L/(1 − s²)"]
    assert rule_plain(sphere.sphere_limit_focal_ratio) == "F_lim = ∛(1000 D/(512 λ))"
    assert rule_plain(first_order.limiting_magnitude_mag) == "m_lim = 2 + 5 log₁₀(D/D₀)"
    assert rule_plain(centre_of_mass_mm) == centre_of_mass_mm.equation


def test_rules_as_html() -> None:
    assert rule_html(first_order.focal_ratio) == (
        '<span class="steps"><span class="step"><i>F</i> = <span class="frac"><span class="num"><i>f</i></span>'
        '<span class="den"><i>D</i></span></span></span></span>')
    assert '<span class="root tall"><span class="radix">∛</span><span class="radicand"><span class="frac">' in (
        rule_html(sphere.sphere_limit_focal_ratio))
    assert '<span class="root"><span class="radix">√</span><span class="radicand">0.4</span>' in rule_html(
        coma_free_radius_mm)
    assert "32 √0.4 λ" in rule_plain(coma_free_radius_mm)


class Balanced(HTMLParser):
    """Says whether every tag is closed in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("card", FORMULAS.values(), ids=lambda card: card.name)
def test_html_is_well_formed(card: AnyFormula) -> None:
    reader = Balanced()
    reader.feed(rule_html(card))
    assert reader.open == []
    assert "<math" not in rule_html(card)


def said(value: float, unit: str) -> Given:
    return Given("spec.key", value, unit)


def test_working_with_the_numbers_put_in() -> None:
    result = first_order.sagitta_mm.work("optics.sagitta", aperture_mm=said(150, "mm"),
                                         focal_length_mm=said(1200, "mm"), conic=said(-1, ""))
    assert working_plain(result).splitlines() == [
        f"r = 150/2 = 75{THIN}mm", f"R = 2 × 1200 = 2400{THIN}mm",
        f"z_rim = 75²/(2400 + √(2400² − (1 + (−1)) × 75²)) = 1.172{THIN}mm"]


def test_working_is_in_the_units_of_the_rule() -> None:
    """550 nm is 0.55 µm where the rule is in micrometres; inches are added behind the metric answer."""
    airy = first_order.airy_diameter_um.work("optics.airy_diameter", wavelength_um=said(550, "nm"),
                                             focal_ratio=said(8, ""))
    assert working_plain(airy, Club()) == f"d_A = 2.43934 × 0.55 × 8 = 10.7{THIN}µm"
    sun = first_order.sun_image_mm.work("sun.image", focal_length_mm=said(1200, "mm"))
    assert working_plain(sun, Club()) == f"d_S = 1200 × 1919.3/206264.806 = 11.2{THIN}mm = 0.440{THIN}in"


def test_inputs_get_more_figures_where_the_answer_needs_them() -> None:
    """Four figures would print 1200 − 1199 = 1.2: the difference must follow from what is printed."""
    spare = diagonal.rim_to_focus_mm.work("x", focal_length_mm=said(1200.0, "mm"), sagitta_mm=said(1198.8282828, "mm"))
    assert working_plain(spare) == f"T = 1200 − 1198.8 = 1.2{THIN}mm"


def test_calculation_with_a_loop_prints_what_went_in() -> None:
    masses = Given("masses", (1.0, 2.5), "kg")
    result = centre_of_mass_mm.work("balance.station", quantities=Given("pieces", (1.0, 2.0)), masses_kg=masses,
                                    stations_mm=Given("stations", (0.0, 600.0), "mm"))
    assert working_plain(result).splitlines() == [
        f"n_i = 1, 2; m_i = 1, 2.5{THIN}kg; z_i = 0, 600{THIN}mm", f"z_cm = 500.0{THIN}mm"]


def test_long_lists_are_cut_short() -> None:
    many = Given("many", tuple(float(i) for i in range(1, 46)), "mm")
    result = centre_of_mass_mm.work("x", quantities=Given("n", (1.0,) * 45), masses_kg=Given("m", (1.0,) * 45, "kg"),
                                    stations_mm=many)
    assert f"z_i = 1, 2, 3{THIN}mm, … (45 in all)" in working_plain(result)


def test_answer_that_is_not_a_number_is_shown_as_such() -> None:
    result = first_order.focal_ratio.work("optics.focal_ratio", focal_length_mm=said(float("nan"), "mm"),
                                          aperture_mm=said(150, "mm"))
    assert working_plain(result).splitlines()[-1] == "F = not a number"
    assert show_result(result).plain == "not a number"


def test_html_and_text_put_in_the_same_numbers() -> None:
    mirror = {"blank_diameter_mm": said(152, "mm"), "edge_thickness_mm": said(25, "mm"), "conic": said(0, ""),
              "focal_length_mm": said(1200, "mm"), "sagitta_mm": said(1.17216, "mm"),
              "density_kg_per_m3": said(2230, "kg_per_m3")}
    result = mirror_mass_kg.work("cell.mirror_mass", **mirror)
    text, html = working_plain(result), working_html(result)
    assert show_result(result).plain in text
    assert show_result(result).html in html
    plain_numbers = re.findall(r"\d+\.\d+", text)
    assert plain_numbers == re.findall(r"\d+\.\d+", html)


def test_identity_is_not_printed_twice() -> None:
    result = eyepieces.spare_in_mm.work("x", focus_position_mm=said(15, "mm"))
    assert working_plain(result) == f"s_in = 15.0{THIN}mm"


def test_brackets_stand_where_they_are_needed() -> None:
    @formula(title="Trial", source="definition", rule="-a * b / c / d - (b - c) + a**(b / c) * (-d) + 1e6 * max(a, b)")
    def trial(a: float, b: float, c: float, d: float) -> float:
        return -a * b / c / d - (b - c) + a ** (b / c) * (-d) + 1e6 * max(a, b)

    FORMULAS.pop(f"{trial.function.__module__}.trial")
    assert rule_plain(trial) == "trial = −(a b/c)/d − (b − c) + a^(b/c) (−d) + 10⁶ max(a, b)"


def test_importing_notation_is_cheap() -> None:
    loaded = subprocess.run(
        [sys.executable, "-c", "import sys, dossier.notation; print(*sys.modules)"],
        capture_output=True, text=True, check=True).stdout.split()
    assert not {"numpy", "pint", "pydantic", "jinja2", "scipy"} & set(loaded)


@pytest.mark.parametrize(("value", "limit", "sense", "unit", "shown", "asked"), [
    (0.7958, 0.8, "at_least", "", "0.796", "0.800"), (0.7999996, 0.8, "at_least", "", "0.7999996", "0.8000000"),
    (0.804, 0.8, "at_least", "", "0.80", "0.80"), (350.004, 350.0, "at_most", "money", "350.004", "350.000"),
    (7.9, 8.0, "at_least", "mm", "7.9", "8.0"), (25.401, 25.4, "at_most", "mm", "25.401", "25.400"),
])
def test_a_number_that_misses_its_limit_reads_so(value: float, limit: float, sense: Literal["at_least", "at_most"],
                                                 unit: str, shown: str, asked: str) -> None:
    """Digits are added until the two differ; what meets its limit keeps its digits."""
    name = "figure.strehl" if not unit else "some.length"
    result = Result(name, value, unit, eyepieces.magnification, {}, "Strehl", goal=Goal(name, sense, limit, ""))
    assert (show_result(result).number, show_limit(result).number) == (shown, asked)


def test_a_result_without_a_limit_has_none_to_show() -> None:
    result = Result("figure.strehl", 0.7958, "", eyepieces.magnification, {}, "Strehl")
    assert show_result(result).number == "0.80"
    with pytest.raises(ValueError, match="has no limit"):
        show_limit(result)
