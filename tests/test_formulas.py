"""Every formula of the program: its printed rule, its printed working, its dimension, its source and its proof.

A new formula normally needs nothing here: its inputs are drawn by their names. One that cannot stand those numbers
gets a row in ``SAMPLES``.
"""

from __future__ import annotations

import ast
import importlib
import math
import pkgutil
import random
import re
import typing
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import dossier.calc
from dossier import rules, shelf
from dossier.notation import METRIC, symbol, working_plain
from dossier.notation.symbols import stem
from dossier.working import FORMULAS, UNITS, AnyFormula, Given, Result, Value, unit_ending

for module in pkgutil.walk_packages(dossier.calc.__path__, "dossier.calc."):
    importlib.import_module(module.name)

PUBLISHED = Path(__file__).parent / "published"

# The least and the most a name may be; a list holds the only values it may have.
Range = tuple[float, float] | list[int]
# What a name without its unit may be, so that the inputs of one formula fit together as those of a telescope do.
BY_NAME: Mapping[str, Range] = {
    "aperture": (110, 300), "focal_length": (900, 2400), "focal_ratio": (4, 10), "conic": (-1.5, 1),
    "rim_to_focus": (900, 2400), "intercept": (120, 300), "minor_axis": (30, 80), "offset": (0, 4),
    "sagitta": (0.5, 6), "blank_diameter": (150, 320), "edge_thickness": (15, 40), "zone_radii": (15, 50),
    "obstruction_diameter": (30, 50), "readings": (0.05, 0.3), "support_radii": (30, 70),
    "eyepiece_focal_length": (5, 40), "pole_length": (600, 1200), "truss_chord": (20, 300),
    "upper_fixing": (700, 1500), "lower_fixing": (30, 200), "magnification": (30, 200), "declination": (-70, 70),
    "body_diameter": (3e6, 1e8), "distance": (3e8, 1e12), "poissons_ratio": (0.17, 0.35), "youngs_modulus": (50, 210),
    "stored_at": (15, 25), "used_at": (0, 8), "within": (0.3, 1), "stock_length": (1000, 3000),
    "outer_diameter": (20, 40), "inner_diameter": (10, 18), "points": [9], "zones": [3, 4, 5],
    "zones_inside": [0, 1, 2, 3], "source_moves": [0, 1],
    "quantities": [1, 2, 3, 6], "length_counts": [1, 2, 1, 3], "piece_quantities": [1, 2, 3, 6],
    "kits": [1, 8], "push_radius": (30, 70), "clip_radius": (60, 74),
}
BY_UNIT: Mapping[str, Range] = {
    "": (0.1, 0.9), "nm": (10, 600), "um": (0.3, 30), "mm": (5, 50), "m": (0.1, 3), "km": (1, 4e5), "au": (0.3, 30),
    "mm2": (10, 500), "mm3": (1e3, 1e6),
    "cm3": (1, 300), "mm4": (100, 1e5), "m2": (0.1, 2), "per_mm": (0.01, 1), "cycles_per_mm": (5, 200),
    "deg": (0.3, 60), "arcmin": (1, 30), "arcsec": (0.3, 5), "rad": (0.001, 1), "urad": (1, 100),
    "arcsec_per_mm": (50, 300), "arcsec_mm": (100, 200), "arcsec_per_s": (1, 20), "rad_per_s": (1e-5, 1e-4),
    "mag": (6, 14), "wave": (0.01, 0.3), "dioptre": (0.1, 3),
    "percent": (1, 90), "g": (1, 500), "kg": (0.2, 20), "kg_per_m3": (600, 8000),
    "kg_per_m": (0.1, 3), "kg_mm": (1, 500), "n": (1, 30), "n_per_mm": (0.2, 5), "n_mm": (10, 5000), "n_m": (0.1, 20),
    "mpa": (1, 500), "gpa": (2, 210), "n_mm2": (1e6, 1e9), "nm_per_n": (0.1, 30), "s": (20, 300), "min": (3, 200),
    "h": (0.5, 5), "hz": (2, 60), "m_per_s": (0.5, 10), "mm_per_s": (5, 100), "m_per_s2": (9, 10), "degc": (-5, 25),
    "k": (0.5, 20), "per_k": (3e-7, 3e-5), "mm_per_k": (1e-4, 0.1), "w_per_m2_k": (4, 30), "w_per_m_k": (0.1, 200),
    "j_per_kg_k": (400, 1500), "m2_per_s": (1e-7, 1e-4), "money": (1, 200),
}
WAVELENGTH_UM = (0.45, 0.65)
# Formulas that need other numbers than their names tell.
SAMPLES: Mapping[str, Mapping[str, Range]] = {
    "pack_count": {"quantity": (1, 40), "pack_size": (1, 12)},
    "surface_rms_limit_nm": {"smooth_strehl": (0.85, 1), "wanted_strehl": (0.5, 0.8)},
}
LIST_LENGTHS = {"support_radii_mm": 2}
LIST_LENGTH = 4
# A stretch of every length; other units of mass, time and temperature. A calculation that cannot be given its
# constants in other units still obeys where the stretch leaves the acceleration of free fall as it is.
LENGTH, MASS, TIME, TEMPERATURE, MONEY = 1.7, 1.3, 0.7, 1.1, 1.9
TIME_OF_A_FALL = math.sqrt(LENGTH)
# Formulas whose result does not grow as its unit says, and why that is right.
NOT_STRETCHED: Mapping[str, str] = {
    "field_rotation_arcsec_per_s": "the Earth's turning stands inside, and nobody can give it another",
}

RULES = {name: card for name, card in FORMULAS.items() if card.rule}
EQUATIONS = {name: card for name, card in FORMULAS.items() if card.equation}


def drawn(card: AnyFormula, chance: random.Random, figures: int = 0) -> dict[str, Value]:
    """Random inputs for a formula, rounded to so many figures unless 0. Lists are in rising order."""
    kinds = typing.get_type_hints(card.function)
    inputs: dict[str, Value] = {}
    for name in card.parameters:
        if "Sequence" not in str(kinds[name]):
            inputs[name] = _one(card, name, chance, figures)
        else:
            count = LIST_LENGTHS.get(name, LIST_LENGTH)
            inputs[name] = tuple(sorted(_one(card, name, chance, figures) for _ in range(count)))
    return inputs


def _one(card: AnyFormula, name: str, chance: random.Random, figures: int) -> float:
    among = SAMPLES.get(card.name, {}).get(name) or card.holds.get(name) or _usual(name)
    if isinstance(among, list):
        return float(chance.choice(among))
    value = chance.uniform(*among)
    return float(f"{value:.{figures}g}") if figures else value


def _usual(name: str) -> Range:
    ending = unit_ending(name)
    if name.endswith("_count"):
        return [3, 6, 8]
    if stem(name) == "wavelength":
        size = UNITS["um"].size / UNITS[ending].size
        return WAVELENGTH_UM[0] * size, WAVELENGTH_UM[1] * size
    return BY_NAME.get(stem(name)) or BY_UNIT[ending]


@pytest.mark.parametrize("name", RULES)
def test_printed_rule_says_what_the_function_does(name: str) -> None:
    card, chance = RULES[name], random.Random(name)
    for _ in range(200):
        inputs = drawn(card, chance)
        numbers = {key: value for key, value in inputs.items() if not isinstance(value, tuple)}
        assert rules.evaluate(card.rule, {**card.constants, **numbers}) == pytest.approx(card(**inputs), rel=1e-9)


@pytest.mark.parametrize("name", RULES)
def test_rule_names_nothing_but_inputs_and_constants(name: str) -> None:
    card = RULES[name]
    assert rules.names(card.rule) <= {*card.parameters, *card.constants}


@pytest.mark.parametrize("figures", [0, 3, 4])
@pytest.mark.parametrize("name", RULES)
def test_reader_with_a_calculator_gets_the_printed_answer(name: str, figures: int) -> None:
    card, chance = RULES[name], random.Random(f"{name} {figures}")
    for _ in range(25):
        lines = working_plain(result_of(card, drawn(card, chance, figures)), METRIC).splitlines()
        assert len(lines) == len(rules.steps(card.rule)), lines
        for line, (_, expression) in zip(lines, rules.steps(card.rule), strict=True):
            _, *put_in, printed = line.split(" = ")
            assert bool(put_in) != isinstance(expression, ast.Name), line
            number, place = read(printed)
            assert not put_in or abs(calculated(put_in[0]) - number) <= 0.5000001 * place, line


def result_of(card: AnyFormula, inputs: Mapping[str, Value]) -> Result:
    """The result of these inputs, each as something that was said."""
    givens: dict[str, Any] = {key: Given(key, value, unit_ending(key)) for key, value in inputs.items()}
    return card.work("any.result", **givens)


def read(printed: str) -> tuple[float, float]:
    """The number at the head of an answer, and the worth of one step in its last place."""
    found = re.match(r"(−?)(\d+)(?:\.(\d+))?(?: × 10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+))?", printed)
    assert found, printed
    sign, whole, decimals, power = found.groups("")
    scale = 10.0 ** int(power.translate(LOWERED) or 0)
    value = float(f"{whole}.{decimals or 0}") * scale
    return (-value if sign else value), 10.0 ** -len(decimals) * scale


LOWERED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
BUTTONS = {"sqrt": math.sqrt, "cbrt": math.cbrt, "atan": math.atan, "asin": math.asin, "acos": math.acos,
           "cos": math.cos, "sin": math.sin, "tan": math.tan, "ln": math.log, "log10": math.log10, "exp": math.exp,
           "abs": abs, "ceil": math.ceil, "min": min, "max": max, "pi": math.pi}


def calculated(text: str) -> float:
    """What a calculator makes of the printed text."""
    text = re.sub(r"[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+", lambda power: f"**({power[0].translate(LOWERED)})", text)
    text = re.sub(r"\|([^|]*)\|", r"abs(\1)", text)
    text = re.sub(r"([√∛])([\d.]+)", r"\1(\2)", text)
    for printed, button in {"log₁₀": "log10", "√": "sqrt", "∛": "cbrt", "arc": "a", "×": "*", "−": "-", "^": "**",
                            "⌈": "ceil(", "⌉": ")", "π": "pi"}.items():
        text = text.replace(printed, button)
    return float(eval(text, {"__builtins__": {}}, BUTTONS))


@pytest.mark.parametrize("name", [name for name in FORMULAS if name.rpartition(".")[2] not in NOT_STRETCHED])
def test_result_grows_as_its_unit_says(name: str) -> None:
    card, chance = FORMULAS[name], random.Random(name)
    time = TIME if card.rule else TIME_OF_A_FALL
    for _ in range(20 if card.rule else 1):
        inputs = drawn(card, chance)
        stretched = {key: _stretched(key, value, time) for key, value in inputs.items()}
        before, after = _answer(card, inputs, 1.0), _answer(card, stretched, time)
        assert after == pytest.approx(_stretched(card.name, before, time), rel=1e-6, abs=1e-12)


def _answer(card: AnyFormula, inputs: Mapping[str, Value], time: float) -> Value:
    if not card.rule:
        answer = card(**inputs)
        return tuple(answer) if isinstance(answer, (list, tuple)) else float(answer)
    known: dict[str, Any] = {key: value if time == 1 else _stretched(key, value, time)
                             for key, value in card.constants.items()}
    return rules.evaluate(card.rule, known | dict(inputs))


def _stretched(name: str, value: Value, time: float) -> Value:
    length, mass, seconds, kelvin = UNITS[unit_ending(name)].dimension
    factor = LENGTH**length * MASS**mass * time**seconds * TEMPERATURE**kelvin
    factor *= MONEY if unit_ending(name) == "money" else 1.0
    return tuple(item * factor for item in value) if isinstance(value, tuple) else value * factor


@pytest.mark.parametrize("name", FORMULAS)
def test_formula_has_a_source_on_the_shelf(name: str) -> None:
    assert FORMULAS[name].source in shelf.sources()


@dataclass(frozen=True)
class Proof:
    """What a test in ``tests/published`` says it proves, and by what; ``used`` are the names its file makes use of."""

    test: str
    formulas: tuple[str, ...]
    said: Mapping[str, str]
    used: frozenset[str]


@cache
def proofs() -> tuple[Proof, ...]:
    """The marks of all tests in ``tests/published``, read without running them."""
    found = []
    for path in sorted(PUBLISHED.rglob("test_*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        used = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        used |= {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
        for test in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
            for mark in test.decorator_list:
                if isinstance(mark, ast.Call) and ast.unparse(mark.func) == "pytest.mark.proves":
                    said = {str(keyword.arg): ast.literal_eval(keyword.value) for keyword in mark.keywords}
                    formulas = tuple(ast.literal_eval(argument) for argument in mark.args)
                    found.append(Proof(f"{path.name}: {test.name}", formulas, said, frozenset(used)))
    return tuple(found)


@pytest.mark.parametrize("name", FORMULAS)
def test_formula_is_proved_or_says_why_not(name: str) -> None:
    card = FORMULAS[name]
    proved = any(card.name in proof.formulas for proof in proofs())
    assert proved or len(card.unproved) > 10, (
        f"{card.name}: mark a test in tests/published with @pytest.mark.proves({card.name!r}, source=…, known=…), "
        "or say in the card's `unproved` why there is no published number")


@pytest.mark.parametrize("proof", proofs(), ids=lambda proof: proof.test)
def test_proof_names_formulas_it_uses_and_how_its_source_is_known(proof: Proof) -> None:
    assert " test_" in proof.test
    assert set(proof.formulas) <= {card.name for card in FORMULAS.values()} & proof.used
    assert proof.said["source"] in shelf.sources()
    assert proof.said["known"] in {"read", "worked", "recalled"}


def words(card: AnyFormula) -> list[str]:
    """Every name that is printed for a formula: itself, its inputs, constants and steps."""
    steps = [name for name, _ in rules.steps(card.rule) if name] if card.rule else []
    return [card.name, *card.parameters, *card.constants, *steps]


@pytest.mark.parametrize("name", FORMULAS)
def test_every_word_has_a_symbol_of_its_own(name: str) -> None:
    card = FORMULAS[name]
    lacking = [word for word in words(card) if word not in shelf.symbols() and stem(word) not in shelf.symbols()]
    assert not lacking, "add these to dossier/shelf/symbols.yaml"
    printed = Counter(symbol(word).plain for word in words(card))
    assert [text for text, count in printed.items() if count > 1] == []


def test_every_unit_has_numbers_to_draw() -> None:
    assert set(UNITS) <= set(BY_UNIT)


def test_no_symbol_is_listed_twice() -> None:
    """YAML would quietly keep the last of two entries."""
    listed = Path(shelf.__file__).with_name("symbols.yaml").read_text("utf-8")
    counted = Counter(re.findall(r"^([\w-]+):", listed, re.MULTILINE))
    assert [word for word, count in counted.items() if count > 1] == []
