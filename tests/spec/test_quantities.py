"""Text with a unit ↔ a number. Conversion factors are the exact definitions of the units (recalled: inch 25.4 mm,
pound 0.45359237 kg, standard gravity 9.80665 m/s²; psi and lbf/in follow from them)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.spec.quantities import EXAMPLES, example_of, parse
from dossier.spec.unit_text import UNIT_WORDS, as_unit
from dossier.working import UNITS

READ = [
    ("150 mm", "mm", 150.0), ("150mm", "mm", 150.0), ("15 cm", "mm", 150.0), ("0.15 m", "mm", 150.0),
    ("6 in", "mm", 152.4), ("1/2 in", "mm", 12.7), ("1 1/4 in", "mm", 31.75), ("1-1/4 in", "mm", 31.75),
    ("1½ in", "mm", 38.1), ("½ in", "mm", 12.7), ("-1 1/4 in", "mm", -31.75), ("5 ft", "mm", 1524.0),
    ("6 inches", "mm", 152.4), ("−12 mm", "mm", -12.0), ("+12 mm", "mm", 12.0), (".5 mm", "mm", 0.5),
    ("1e2 mm", "mm", 100.0), ("150\N{NO-BREAK SPACE}mm", "mm", 150.0),
    ("550 nm", "nm", 550.0), ("0.55 µm", "nm", 550.0), ("0.55 \N{GREEK SMALL LETTER MU}m", "nm", 550.0),
    ("0.55 um", "nm", 550.0),
    ("0.8 N/mm", "n_per_mm", 0.8), ("800 N/m", "n_per_mm", 0.8), ("10 lbf/in", "n_per_mm", 1.75126835246476),
    ("20 degC", "degc", 20.0), ("20 °C", "degc", 20.0), ("68 degF", "degc", 20.0), ("68 °F", "degc", 20.0),
    ("-40 degF", "degc", -40.0), ("293.15 K", "degc", 20.0),
    ("50 deg", "deg", 50.0), ("50°", "deg", 50.0), ("30 arcmin", "deg", 0.5), ("2 arcsec", "arcsec", 2.0),
    ("1 deg", "arcsec", 3600.0), ("1 arcmin", "arcsec", 60.0),
    ("1.2 kg", "kg", 1.2), ("340 g", "kg", 0.34), ("16 oz", "kg", 0.45359237), ("2 lb", "kg", 0.90718474),
    ("8 W/m^2/K", "w_per_m2_k", 8.0), ("8 W/(m^2 K)", "w_per_m2_k", 8.0), ("8 W/(m²·K)", "w_per_m2_k", 8.0),
    ("8 W/m²/K", "w_per_m2_k", 8.0), ("8 W m^-2 K^-1", "w_per_m2_k", 8.0), ("8 W·m⁻²·K⁻¹", "w_per_m2_k", 8.0),
    ("8 W/m2/K", "w_per_m2_k", 8.0), ("8 W/m**2/K", "w_per_m2_k", 8.0), ("8 W/m^2/degC", "w_per_m2_k", 8.0),
    ("18 W/m^2/degF", "w_per_m2_k", 32.4),
    ("3.3e-6 1/K", "per_k", 3.3e-6), ("3.3e-6/K", "per_k", 3.3e-6), ("3.3e-6 /°C", "per_k", 3.3e-6),
    ("64 GPa", "gpa", 64.0), ("64000 MPa", "gpa", 64.0), ("1e6 psi", "gpa", 6.89475729316836),
    ("2230 kg/m^3", "kg_per_m3", 2230.0), ("2.23 g/cm^3", "kg_per_m3", 2230.0), ("2230 kg/m³", "kg_per_m3", 2230.0),
    ("830 J/kg/K", "j_per_kg_k", 830.0), ("0.83 J/g/K", "j_per_kg_k", 830.0), ("830 J/(kg K)", "j_per_kg_k", 830.0),
    ("1.14 W/m/K", "w_per_m_k", 1.14), ("40 N", "n", 40.0), ("1 kgf", "n", 9.80665), ("1 lbf", "n", 4.4482216152605),
    ("0.25 wave", "wave", 0.25), ("0.25 λ", "wave", 0.25), ("12 %", "", 0.12), ("0.88", "", 0.88), ("1/8", "", 0.125),
    ("42.00", "money", 42.0),
]

REFUSED = [
    ("150", "mm", "needs a unit, such as 150 mm (got 150)"),
    (150, "mm", "needs a unit, such as 150 mm (got 150)"),
    (150.5, "mm", "needs a unit, such as 150 mm (got 150.5)"),
    ("150 kg", "mm", "is a mass, wants a length such as 150 mm (got 150 kg)"),
    ("5 mm^2", "mm", "is an area, wants a length such as 150 mm (got 5 mm^2)"),
    ("20 deg", "degc", "is an angle, wants a temperature such as 20 degC (got 20 deg)"),
    ("3 mm", "arcsec", "is a length, wants an angle such as 2 arcsec (got 3 mm)"),
    ("3 mm", "", "is a length, wants a pure number such as 0.88 (got 3 mm)"),
    ("8 W/m^2 K", "w_per_m2_k", "is in W/m^2 K, wants a heat transfer such as 8 W/m^2/K (got 8 W/m^2 K)"),
    ("1,5 mm", "mm", "has a comma in its number; write a decimal point and no mark for thousands (got 1,5 mm)"),
    ("1,200 mm", "mm", "has a comma in its number; write a decimal point and no mark for thousands (got 1,200 mm)"),
    ("150 mn", "mm", "has an unknown unit, 'mn', wants a length such as 150 mm (got 150 mn) — did you mean 'mm'?"),
    ("150 MM", "mm", "has an unknown unit, 'MM', wants a length such as 150 mm (got 150 MM) — did you mean 'mm'?"),
    ("20 C", "degc",
     "has an unknown unit, 'C', wants a temperature such as 20 degC (got 20 C) — did you mean 'degC'?"),
    ('6"', "mm", "has a unit that cannot be read, '\"', wants a length such as 150 mm (got 6\") — did you mean 'in'?"),
    ("1/0 in", "mm", "has a fraction with zero below the line (got 1/0 in)"),
    ("1 1/0 in", "mm", "has a fraction with zero below the line (got 1 1/0 in)"),
    ("nan mm", "mm", "must be a finite number (got nan mm)"),
    ("-inf mm", "mm", "must be a finite number (got -inf mm)"),
    (float("nan"), "mm", "must be a finite number (got nan)"), (float("inf"), "", "must be a finite number (got inf)"),
    ("1e999 mm", "mm", "is too large to work with (got 1e999 mm)"),
    ("1e11 m", "mm", "is too large to work with (got 1e11 m)"),
    ("1e-30 mm", "mm", "is too small to work with (got 1e-30 mm)"),
    ("-300 degC", "degc", "is below absolute zero (got -300 degC)"),
    ("abc", "mm", "wants a length such as 150 mm (got abc)"), ("mm", "mm", "wants a length such as 150 mm (got mm)"),
    ("", "mm", "wants a length such as 150 mm (got an empty text)"),
    (True, "mm", "wants a length such as 150 mm (got true)"), ([1], "mm", "wants a length such as 150 mm (got a list)"),
    ("5 ft 6 in", "mm",
     "has a second number where its unit should be, wants a length such as 150 mm (got 5 ft 6 in)"),
    ("8 W/(m^2 K", "w_per_m2_k",
     "has a unit with a bracket that is not closed, wants a heat transfer such as 8 W/m^2/K (got 8 W/(m^2 K)"),
    ("12 EUR", "money", "has an unknown unit, 'EUR', wants a bare price such as 42.00 (got 12 EUR)"),
]


@pytest.mark.parametrize(("text", "unit", "value"), READ)
def test_reads(text: str, unit: str, value: float) -> None:
    assert parse(text, unit) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(("said", "unit", "message"), REFUSED)
def test_refuses_in_plain_words(said: object, unit: str, message: str) -> None:
    with pytest.raises(ValueError, match=r".") as caught:
        parse(said, unit)
    assert str(caught.value) == message


@pytest.mark.parametrize("text", [
    "9**9**9 mm", "1 __import__('os').system('x')", "(1+1) mm", "2 mm*mm**99999999", "1 mm^99", "[1] mm", "1 mm; 2 mm",
    "1 " + "(" * 70, "1" * 5000 + " mm", "x" * 5000, "1 mm//mm", "1 \U00018cd6\n0", "1 /", "1 ()", "1 mm)", "1 e9 mm",
    "0x10 mm",
    "1_000 mm",
])
def test_never_evaluates_what_is_not_a_number_and_a_unit(text: str) -> None:
    with pytest.raises(ValueError, match=r"got|too long"):
        parse(text, "mm")


def test_inches_are_exact() -> None:
    assert parse("6 in", "mm") == 152.4
    assert parse("1 1/4 in", "mm") == 31.75


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_has_an_example_that_reads_back(unit: str) -> None:
    assert parse(example_of(unit), unit) > 0


def test_examples_are_of_known_units() -> None:
    assert set(EXAMPLES) <= set(UNITS)


@pytest.mark.parametrize("word", UNIT_WORDS)
def test_every_spelling_is_a_unit_of_the_registry(word: str) -> None:
    assert as_unit(word) is not None


COMMON = [("mm", "mm"), ("in", "mm"), ("ft", "mm"), ("cm", "mm"), ("nm", "nm"), ("um", "nm"), ("kg", "kg"),
          ("lb", "kg"),
          ("oz", "kg"), ("N/mm", "n_per_mm"), ("lbf/in", "n_per_mm"), ("arcmin", "deg"), ("psi", "gpa")]


@given(st.floats(1e-3, 1e5), st.sampled_from(COMMON))
def test_a_number_and_its_unit_come_back(size: float, units: tuple[str, str]) -> None:
    """value/unit → text → value: doubling the text's number doubles the value, and one unit of it scales alike."""
    unit, kept_in = units
    assert parse(f"{size!r} {unit}", kept_in) == pytest.approx(size * parse(f"1 {unit}", kept_in), rel=1e-13)


@given(st.integers(-50_000, 50_000), st.sampled_from(["degC", "degF", "K"]))
def test_temperatures_come_back(hundredths: int, unit: str) -> None:
    size = hundredths / 100
    kelvin = {"degC": size + 273.15, "degF": (size + 459.67) * 5 / 9, "K": size}[unit]
    if kelvin < -1e-9:
        with pytest.raises(ValueError, match="absolute zero"):
            parse(f"{size!r} {unit}", "degc")
    else:
        assert parse(f"{size!r} {unit}", "degc") == pytest.approx(kelvin - 273.15, abs=1e-8)


@given(st.integers(0, 200), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]), st.booleans())
def test_inch_fractions_come_back(whole: int, above: int, below: int, negative: bool) -> None:
    sign = -1 if negative else 1
    exact = sign * (whole + Fraction(above, below)) * Fraction(254, 10)
    text = f"{'-' if negative else ''}{whole} {above}/{below} in" if whole else f"{'-' * negative}{above}/{below} in"
    assert parse(text, "mm") == pytest.approx(float(exact), rel=1e-14)


def parsed(text: str, unit: str) -> float | str:
    """The number that a text says, or what is wrong with it."""
    try:
        return parse(text, unit)
    except ValueError as error:
        return str(error)


@given(st.text(max_size=60), st.sampled_from(sorted(UNITS)))
def test_any_text_is_read_or_refused(text: str, unit: str) -> None:
    value = parsed(text, unit)
    assert "\n" not in value if isinstance(value, str) else abs(value) <= 1e12


@given(st.from_regex(r"\A[0-9]{1,3} [a-zA-Z0-9/*^() .µ°-]{0,30}\Z"))
def test_anything_like_a_unit_is_read_or_refused(text: str) -> None:
    assert parsed(text, "mm") != ""
