"""How a number shows its working.

A calculation is a plain function of floats with a card above it, ``@formula``. Called, it gives a number; asked to
``work``, it takes givens (what the author said) and earlier results, and gives a ``Result`` that remembers them.

Units are told by the end of a name: ``focal_length_mm`` is in millimetres, a name without such an ending is a ratio.
``UNITS`` holds every ending with its printed unit, its size in base units and its dimension.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Generic, Literal, ParamSpec, TypeAlias, TypeVar

P = ParamSpec("P")
T = TypeVar("T", bound=float | Sequence[float])
Value = float | tuple[float, ...]
Sense = Literal["at_least", "at_most"]
Outcome = Literal["meets", "close", "misses"]
AnyFormula: TypeAlias = "Formula[..., Any]"


class NoAnswer(ValueError):
    """A sound question without an answer for this build, such as what force bends a mirror that no force bends. The
    result is left out and the message said; any other ValueError of a calculation is a fault of the build. ``key`` is
    where the spec has the cause, where one value has it."""

    def __init__(self, message: str = "", key: str = "") -> None:
        super().__init__(message)
        self.key = key


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: how it is written in results, its size in base units (mm, kg, s, K, radian), its dimension."""

    text: str
    size: float
    length: int = 0
    mass: int = 0
    time: int = 0
    temperature: int = 0

    @property
    def dimension(self) -> tuple[int, int, int, int]:
        return (self.length, self.mass, self.time, self.temperature)


_ARCSEC = math.pi / 648000
# Base units: mm, kg, s, K. So 1 N = 1000 kg mm/s², 1 MPa = 1 N/mm², 1 W = 1e6 kg mm²/s³, 1 J = 1e6 kg mm²/s².
UNITS: Mapping[str, Unit] = {
    "": Unit("1", 1),
    "nm": Unit("nm", 1e-6, 1), "um": Unit("um", 1e-3, 1), "mm": Unit("mm", 1, 1), "m": Unit("m", 1000, 1),
    "km": Unit("km", 1e6, 1), "au": Unit("au", 149597870700000.0, 1),
    "mm2": Unit("mm2", 1, 2), "mm3": Unit("mm3", 1, 3), "mm4": Unit("mm4", 1, 4), "m2": Unit("m2", 1e6, 2),
    "cm3": Unit("cm3", 1000, 3),
    "rad": Unit("rad", 1), "deg": Unit("deg", math.pi / 180), "arcmin": Unit("arcmin", 60 * _ARCSEC),
    "arcsec": Unit("arcsec", _ARCSEC), "urad": Unit("urad", 1e-6),
    "arcsec_per_mm": Unit("arcsec/mm", _ARCSEC, -1), "arcsec_mm": Unit("arcsec mm", _ARCSEC, 1),
    "arcsec_per_s": Unit("arcsec/s", _ARCSEC, 0, 0, -1), "rad_per_s": Unit("rad/s", 1, 0, 0, -1),
    "per_mm": Unit("1/mm", 1, -1), "cycles_per_mm": Unit("cycles/mm", 1, -1),
    "dioptre": Unit("dpt", 1e-3, -1),
    "mag": Unit("mag", 1), "wave": Unit("wave", 1), "percent": Unit("%", 0.01),
    "g": Unit("g", 1e-3, 0, 1), "kg": Unit("kg", 1, 0, 1), "kg_per_m3": Unit("kg/m3", 1e-9, -3, 1),
    "kg_per_m": Unit("kg/m", 1e-3, -1, 1), "kg_mm": Unit("kg mm", 1, 1, 1),
    "n": Unit("N", 1000, 1, 1, -2), "n_per_mm": Unit("N/mm", 1000, 0, 1, -2), "n_mm": Unit("N mm", 1000, 2, 1, -2),
    "n_m": Unit("N m", 1e6, 2, 1, -2), "mpa": Unit("MPa", 1000, -1, 1, -2), "gpa": Unit("GPa", 1e6, -1, 1, -2),
    "n_mm2": Unit("N mm2", 1000, 3, 1, -2), "nm_per_n": Unit("nm/N", 1e-9, 0, -1, 2),
    "s": Unit("s", 1, 0, 0, 1), "min": Unit("min", 60, 0, 0, 1), "h": Unit("h", 3600, 0, 0, 1),
    "hz": Unit("Hz", 1, 0, 0, -1), "m_per_s": Unit("m/s", 1000, 1, 0, -1), "mm_per_s": Unit("mm/s", 1, 1, 0, -1),
    "m_per_s2": Unit("m/s2", 1000, 1, 0, -2),
    "k": Unit("K", 1, 0, 0, 0, 1), "degc": Unit("degC", 1, 0, 0, 0, 1),
    "per_k": Unit("1/K", 1, 0, 0, 0, -1), "mm_per_k": Unit("mm/K", 1, 1, 0, 0, -1),
    "w_per_m2_k": Unit("W/m2/K", 1, 0, 1, -3, -1), "w_per_m_k": Unit("W/m/K", 1000, 1, 1, -3, -1),
    "j_per_kg_k": Unit("J/kg/K", 1e6, 2, 0, -2, -1), "m2_per_s": Unit("m2/s", 1e6, 2, 0, -1),
    "money": Unit("money", 1),
}


@cache
def unit_ending(name: str) -> str:
    """The longest known unit that ends this name: ``focal_length_mm`` → ``mm``; empty for a pure ratio."""
    words = name.split("_")
    endings = ("_".join(words[start:]) for start in range(1, len(words)))
    return next((ending for ending in endings if ending in UNITS), "")


def unit_of(name: str) -> Unit:
    """The unit that a name's ending tells."""
    return UNITS[unit_ending(name)]


@dataclass(frozen=True, slots=True)
class Given:
    """A number that was said, not worked out, and who said it.

    ``unit`` is a key of UNITS. ``origin`` is ``spec`` (the author, at ``file:line``), ``measured`` (a builder,
    likewise), ``default`` (the trade's custom where the author is silent) or ``shelf`` (a material's or standard's
    data) or ``gathered`` (a list of the ``members``).
    """

    key: str
    value: Value
    unit: str = ""
    origin: Literal["spec", "measured", "default", "shelf", "gathered"] = "spec"
    file: str = ""
    line: int = 0
    said: str = ""
    source: str = ""
    members: tuple[Given | Result, ...] = ()

    @property
    def title(self) -> str:
        return self.key


def gathered(title: str, members: Sequence[Given | Result], unit: str) -> Given:
    """Single numbers of one unit as a list that remembers where each came from. TypeError where one is a list."""
    values = []
    for member in members:
        if isinstance(member.value, tuple):
            raise TypeError(f"{member.title} is a list already")
        if member.unit != unit:
            raise ValueError(f"{member.title} is in {member.unit}, not in {unit}")
        values.append(member.value)
    return Given(title, tuple(values), unit, "gathered", members=tuple(members))


@dataclass(frozen=True, slots=True)
class Goal:
    """A limit on one result. ``sources`` are keys of the shelf's sources, or empty for the author's own wish."""

    result: str
    sense: Sense
    limit: float
    because: str
    authors: bool = True
    source: str = ""

    def spare(self, value: float) -> float:
        """How far the value stands on the right side of the limit, in the result's unit; negative when it misses."""
        return value - self.limit if self.sense == "at_least" else self.limit - value

    def outcome(self, value: float) -> Outcome:
        """``close`` means met with less than a tenth of the limit to spare. A value that is not a number misses."""
        spare = self.spare(value)
        if not spare >= 0:
            return "misses"
        return "close" if spare < 0.1 * abs(self.limit) else "meets"


@dataclass(frozen=True, slots=True)
class Result:
    """A number worked out: what it is, what went in, by which formula, and whether that holds here."""

    id: str
    value: Value
    unit: str
    formula: AnyFormula
    inputs: Mapping[str, Given | Result]
    title: str
    strays: tuple[str, ...] = ()
    goal: Goal | None = None

    @property
    def in_range(self) -> bool:
        return not self.strays

    @property
    def number(self) -> float:
        """The value as one number. TypeError for a list."""
        if isinstance(self.value, tuple):
            raise TypeError(f"{self.id} is a list")
        return self.value

    @property
    def numbers(self) -> tuple[float, ...]:
        """The value as a list, of one where it is a single number."""
        return self.value if isinstance(self.value, tuple) else (self.value,)


@dataclass(frozen=True)
class Formula(Generic[P, T]):
    """A calculation and its card. See ``formula`` for the fields."""

    function: Callable[P, T]
    title: str
    source: str
    where: str = ""
    rule: str = ""
    equation: str = ""
    method: str = ""
    note: str = ""
    holds: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    constants: Mapping[str, float] = field(default_factory=dict)
    unproved: str = ""

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> T:
        return self.function(*args, **kwargs)

    @property
    def name(self) -> str:
        return self.function.__name__

    @property
    def unit(self) -> str:
        return unit_ending(self.name)

    @property
    def parameters(self) -> tuple[str, ...]:
        code = self.function.__code__  # the signature of inspect says the same, at a hundred times the cost
        return code.co_varnames[:code.co_argcount + code.co_kwonlyargcount]

    def work(self, result_id: str, title: str = "", /, **inputs: Given | Result) -> Result:
        """Work this out from givens and earlier results, each turned into the unit its parameter's name tells.

        Raises ValueError where an input's dimension does not fit its parameter.
        """
        values = {name: converted(entry, name) for name, entry in inputs.items()}
        call: Callable[..., T] = self.function
        answer = call(**values)
        # Adding zero makes a plain zero of the negative one, which would print as −0.
        value: Value = (tuple(float(item) + 0.0 for item in answer) if isinstance(answer, Sequence)
                        else float(answer) + 0.0)
        return Result(result_id, value, self.unit, self, dict(inputs), title or self.title, tuple(self._strays(values)))

    def _strays(self, values: Mapping[str, Value]) -> list[str]:
        found = []
        for name, (least, most) in self.holds.items():
            value = values[name]
            worst = value if isinstance(value, tuple) else (value,)
            if not all(least <= item <= most for item in worst):
                found.append(f"{name} should lie between {least:g} and {most:g}")
        return found


FORMULAS: dict[str, AnyFormula] = {}


def formula(
    *, title: str, source: str, where: str = "", rule: str = "", equation: str = "", method: str = "", note: str = "",
    holds: Mapping[str, tuple[float, float]] | None = None, constants: Mapping[str, float] | None = None,
    unproved: str = "",
) -> Callable[[Callable[P, T]], Formula[P, T]]:
    """The card above a calculation.

    title      what the number is, as a heading, without unit
    source     key of ``shelf/sources.yaml``; ``common-practice`` for a fact of the trade that has none
    where      page, section or equation in the source
    rule       the arithmetic, in the language of ``rules.py``, over the function's own parameter names and constants;
               it is first read when it is printed, and the tests over all formulas refuse any other name in it
    equation   for a calculation with a loop: its governing equation in words and symbols, instead of a rule
    method     how the equation was solved
    note       a convention or limit that a reader must know
    holds      parameter → (least, most) where the formula may be trusted
    constants  named constants with a unit, so that the rule stays true when every length is stretched
    unproved   why no published worked number exists, where none does; otherwise tests/published has one
    """
    if bool(rule) == bool(equation):
        raise ValueError("a card has either a rule or an equation")

    def card(function: Callable[P, T]) -> Formula[P, T]:
        made = Formula(function, title, source, where, rule, equation, method, note, dict(holds or {}),
                       dict(constants or {}), unproved)
        object.__setattr__(made, "__doc__", function.__doc__)
        FORMULAS[f"{function.__module__}.{function.__name__}"] = made
        return made

    return card


def converted(entry: Given | Result, name: str) -> Value:
    """An input's value in the unit that the parameter's name tells. ValueError where the dimensions differ."""
    have, want = UNITS[entry.unit], unit_of(name)
    if have == want:
        return entry.value
    if have.dimension != want.dimension:
        raise ValueError(f"{name} is in {want.text}, which {entry.title} in {have.text} cannot be")
    factor = have.size / want.size
    return tuple(item * factor for item in entry.value) if isinstance(entry.value, tuple) else entry.value * factor
