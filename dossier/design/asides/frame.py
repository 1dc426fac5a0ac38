"""The same frame in other materials and sections: what each weighs, how far it sags, how the focus drifts.

Each row is the same plan worked out again with another material, so that a row and a result can only agree.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from dossier import shelf
from dossier.calc.mechanics import balance, sections
from dossier.design.alternatives import alternatives
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.goals import with_goals
from dossier.design.plan import plan_for
from dossier.design.worksheet import NotSaid, Source, Work, Worksheet, given, step
from dossier.spec.model_structure import Frame
from dossier.working import Given, NoAnswer, Result, gathered

if TYPE_CHECKING:
    from dossier.design.model import Design

SHELF = ("aluminium-6061", "steel", "carbon", "spruce", "birch-ply", "card-tube")
BOARD_MM = 9.0
RESULTS = ("frame.member_mass", "frame.stiffness", "frame.sag", "frame.collimation_share", "frame.frequency",
           "frame.focus_drift")
_COLUMNS = ("Mass", "Price against the chosen", "Stiffness", "Sag", "Share of the coma-free radius", "First frequency",
            "Expansion", "Focus drift")
_CARD = "card-tube"
_ALIKE = "same section"
# What makes a frame of another material or section; whoever changes its length or place has another telescope.
_OWN_KEYS = frozenset({"frame.material", "frame.outer_diameter", "frame.inner_diameter"})
_REMARKS = {
    "aluminium-6061": "Sawn by hand, does not rust, costs little; the focus drifts most.",
    "steel": "Stiffest for its size, and heaviest. It rusts where the paint is chipped.",
    "carbon": "The maker’s fibres all along the tube: a wound tube is far less stiff. Its dust conducts and hurts "
              "lungs: cut it wet, with a mask.",
    "spruce": "Sticks differ by a fifth. Damp moves wood more than heat does: seal it, ends twice.",
    "birch-ply": "Even and easy to glue; damp moves it more than heat does: seal it, edges twice.",
    _CARD: "Nobody can say its stiffness but you: load a length of yours, measure how far it bends, write the "
                 "result in the build. Card creeps under its own weight and softens with damp: varnish it inside and "
                 "out, store it upright.",
}


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to make the frame: its name, its material's key, a remark, its results by ID, its price difference.

    ``spoken`` is the name as a sentence has it.
    """

    name: str
    material: str
    remark: str
    results: Mapping[str, Result]
    expansion: Given | None = None
    price: Result | None = None
    spoken: str = ""

    @property
    def misses(self) -> tuple[str, ...]:
        """The titles of the limits that it misses."""
        return tuple(result.title for result in self.results.values()
                     if result.goal and result.goal.outcome(result.number) == "misses")


def choices(design: Design) -> tuple[Choice, ...]:
    """The frame as chosen, the author's alternatives for it, and the same frame from the shelf's materials."""
    frame = design.build.frame
    if frame is None or frame.outer_diameter is None or frame.inner_diameter is None or frame.length is None:
        return ()
    own = Choice(_own_name(frame), _material_key(frame.material), "", _own(design),
                 _expansion(_sheet(design, frame)))
    others = tuple(_alternatives(design, frame))
    return (own, *others, *_shelved(design, frame, {choice.material for choice in (own, *others)}))


def materials(design: Design) -> Aside | None:
    """The choices as a table; None where the frame's section is not said, or nothing can be told."""
    known = choices(design)
    if not any(choice.results for choice in known):
        return None
    rows = [(choice, _entries(design, choice)) for choice in known]
    told = [at for at in range(len(_COLUMNS)) if any(entries[at] is not None for _, entries in rows)]
    return Aside(
        "The same frame in other materials", "Frame", tuple(AsideColumn(_COLUMNS[at]) for at in told),
        tuple(AsideRow(choice.name, tuple(entries[at] for at in told), choice.remark) for choice, entries in rows),
        ("Same length, same place, same upper mass; joints taken as fast in each. Moduli are those of short loads "
         "along the grain or the fibre.",), works=(0,) if told[:1] == [0] else ())


def _entries(design: Design, choice: Choice) -> tuple[Entry, ...]:
    found = choice.results
    return (_mass(design, choice), choice.price, *(found.get(f"frame.{what}") for what in (
        "stiffness", "sag", "collimation_share", "frequency")), choice.expansion, found.get("frame.focus_drift"))


def _mass(design: Design, choice: Choice) -> Result | None:
    one, frame = choice.results.get("frame.member_mass"), design.build.frame
    if one is None or frame is None:
        return None
    count = Given("frame.count" if frame.count else "one tube", float(frame.count or 1), "", "default",
                  said="members of the frame")
    return balance.total_mass_kg.work(
        "frame-table.mass", "Mass of the members", quantities=gathered("members", [count], ""),
        masses_kg=gathered("mass of one", [one], "kg"))


def _own(design: Design) -> dict[str, Result]:
    return {name: design.results[name] for name in RESULTS if name in design.results}


def _own_name(frame: Frame) -> str:
    named = frame.material if isinstance(frame.material, str) else getattr(frame.material, "name", None)
    return f"As chosen: {_material_name(named or 'own material')}"


def _material_key(said: object) -> str:
    """The shelf's key of a material; of one described by its properties, the shelf's whose place it takes: an author
    who has measured his own card needs no other. Empty where there is none."""
    if isinstance(said, str):
        return said
    name = said.get("name") if isinstance(said, Mapping) else getattr(said, "name", None)
    return _CARD if re.search(r"\bcard(board)?\b", name or "", re.IGNORECASE) else ""


def _material_name(key: str) -> str:
    known = shelf.materials().get(key)
    return known.name.split(",")[0] if known else key


def _alternatives(design: Design, frame: Frame) -> Iterator[Choice]:
    """Those of the author that change the frame's material or section."""
    for each in alternatives(design):
        changed = {key for key in each.keys if key.startswith("frame.")}
        if each.unfit or not changed or not changed <= _OWN_KEYS:
            continue
        results = {name: each.results[name] for name in RESULTS if name in each.results}
        material = _said_material(design, each.key) if each.keys == ("frame.material",) else ""
        drift = results.get("frame.focus_drift")
        expansion = drift.inputs.get("expansion_per_k") if drift else None
        remark = f"{_capital(each.because).rstrip('.')}." if each.because else ""
        name = _capital(each.name)
        yield Choice(f"{name} (for {each.ref})", material, remark, _renamed(results, each.key),
                     expansion if isinstance(expansion, Given) else None, each.price_difference,
                     f"{name} (offered for {each.ref})")


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _said_material(design: Design, key: str) -> str:
    place, other = (int(piece.partition("]")[0]) for piece in key.split("[")[1:3])
    return _material_key(design.build.parts[place].instead[other].set.get("frame.material", ""))


def _renamed(results: Mapping[str, Result], own: str) -> dict[str, Result]:
    """Another build's results: their working is not this build's, so their IDs must not lead there."""
    return {name: replace(result, id=f"frame-table.{own}.{name.rpartition('.')[2]}")
            for name, result in results.items()}


def _shelved(design: Design, frame: Frame, told: set[str]) -> Iterator[Choice]:
    for key in SHELF:
        if key in told:
            continue
        form, remark, changed, rows = _form(frame, key)
        sheet = _sheet(design, changed, rows)
        results: dict[str, Result] = {}
        for name in RESULTS:
            try:
                results[name] = sheet.result(name)
            except (NotSaid, NoAnswer):
                continue
        known = _capital(_material_name(key))
        how = "in the" if form == _ALIKE else "as a"
        yield Choice(f"{known}, {form}", key, remark, _renamed(with_goals(sheet, results, {})[0], key),
                     _expansion(sheet), spoken=f"{known} {how} {form}")


def _form(frame: Frame, key: str) -> tuple[str, str, Frame, Mapping[str, Work]]:
    """In which section this material is to be had: words, a remark, the frame, and plan rows of its own."""
    changed, remark = frame.model_copy(update={"material": key}), _REMARKS[key]
    if key == "birch-ply" and frame.kind == "tube":
        wall = Given("thickness of the boards", BOARD_MM, "mm", "default", said="a common sheet")
        box = {"inner_side_mm": given("frame.inner_diameter"), "wall_mm": _just(wall)}
        return (f"box of {BOARD_MM:g} mm boards", f"A square box as wide inside as the tube. {remark}", changed,
                dict((step("frame.member_area", sections.box_area_mm2, **box),
                      step("frame.member_second_moment", sections.box_second_moment_mm4, **box))))
    if key == "birch-ply":
        side = given("frame.outer_diameter")
        bar = {"bar_width_mm": side, "bar_depth_mm": side}
        return ("square bar as wide", f"Sawn from sheet, as no tube of it is sold. {remark}", changed,
                dict((step("frame.member_area", sections.bar_area_mm2, **bar),
                      step("frame.member_second_moment", sections.bar_second_moment_mm4, **bar))))
    if key == "spruce" and frame.kind != "tube":
        solid = changed.model_copy(update={"inner_diameter": 0.0})
        return "solid rod as thick", f"A solid rod, as no tube of it is sold. {remark}", solid, {}
    if key == "spruce":
        return _ALIKE, f"Glued from staves, the grain along the tube. {remark}", changed, {}
    return _ALIKE, remark, changed, {}


def _just(entry: Given) -> Source:
    return lambda sheet: entry


def _sheet(design: Design, frame: Frame, rows: Mapping[str, Work] | None = None) -> Worksheet:
    loaded = replace(design.loaded, build=design.build.model_copy(update={"frame": frame}))
    return Worksheet(loaded, {**plan_for(loaded), **(rows or {})}, kits=design.kits)


def _expansion(sheet: Worksheet) -> Given | None:
    try:
        return sheet.material("frame.material", "expansion")
    except NotSaid:
        return None
