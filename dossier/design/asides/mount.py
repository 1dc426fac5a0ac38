"""Balance in tables: at each altitude, and with each eyepiece and finder on and off."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.calc.mechanics import balance, rocker
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.spec.defaults import slug
from dossier.working import Given, Result, gathered

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.model_parts import Part

ALTITUDES_DEG = (0.0, 30.0, 60.0, 90.0)
# A finder and eyepieces are told by what their part is called, or by the group it is listed under.
_EYEPIECE, _FINDER = "eyepiece", "finder"
_NOT_ITSELF = frozenset(("bag", "box", "bracket", "cap", "caps", "case", "holder", "rack", "shelf", "tray"))


@dataclass(frozen=True, slots=True)
class Swing:
    """The tube at one altitude: its imbalance with the focuser to the side and, where known, straight up; the pushes
    at the focuser that raise and lower it, in the worse of the two. ``held`` is None where no friction is known."""

    altitude_deg: float
    level: Result
    up: Result | None
    raising: Result | None
    lowering: Result | None
    held: bool | None


def swings(design: Design) -> tuple[Swing, ...]:
    """The tube at each altitude; empty where there is no pivot, or none that is level."""
    if not _swings(design):
        return ()
    return tuple(_swing(design, altitude) for altitude in ALTITUDES_DEG)


def _swings(design: Design) -> bool:
    mount = design.build.mount
    return (mount is not None and mount.kind != "equatorial"
            and {"balance.pivot_arm", "mount.load"} <= set(design.results))


def _swing(design: Design, altitude: float) -> Swing:
    own, results = f"balance-at.{altitude:.0f}", design.results
    across = results.get("balance.across")
    level = _imbalance(design, f"{own}.level", altitude, _below(0.0))
    up = _imbalance(design, f"{own}.up", altitude, _below(-across.number)) if across else None
    worse = up if up is not None and abs(up.number) > abs(level.number) else level
    friction, arm = results.get("rocker.friction"), results.get("rocker.focuser_arm")
    if friction is None:
        return Swing(altitude, level, up, None, None, None)
    held = abs(worse.number) <= friction.number
    if arm is None or not arm.number:
        return Swing(altitude, level, up, None, None, held)
    moments = {"bearing_friction_n_m": friction, "imbalance_n_m": worse, "hand_arm_mm": arm}
    return Swing(altitude, level, up, rocker.raising_push_n.work(f"{own}.raising", **moments),
                 rocker.lowering_push_n.work(f"{own}.lowering", **moments), held)


def _below(below_mm: float) -> Given:
    said = "above the axis with the focuser straight up" if below_mm else "the focuser to the side"
    return Given("below the pivot", below_mm, "mm", "default", said=said)


def _imbalance(design: Design, name: str, altitude: float, below: Given) -> Result:
    return rocker.imbalance_n_m.work(
        name, swung_mass_kg=design.results["mount.load"], pivot_arm_mm=design.results["balance.pivot_arm"],
        below_pivot_mm=below, altitude_deg=Given("altitude", altitude, "deg", "default"))


def altitudes(design: Design) -> Aside | None:
    """Imbalance and the pushes that move the tube, from the horizon to overhead."""
    known = swings(design)
    if not known:
        return None
    columns: list[tuple[str, Callable[[Swing], Entry]]] = [("Imbalance", lambda each: each.level)]
    if known[0].up is not None:
        columns = [("Imbalance, focuser to the side", lambda each: each.level),
                   ("Imbalance, focuser straight up", lambda each: each.up)]
    if known[0].raising is not None:
        columns += [("Push up at the focuser", lambda each: each.raising),
                    ("Push down at the focuser", lambda each: each.lowering)]
    rows = tuple(AsideRow(_altitude(each.altitude_deg), tuple(entry(each) for _, entry in columns), _stays(each))
                 for each in known)
    return Aside("Balance at each altitude", "Altitude", tuple(AsideColumn(title) for title, _ in columns), rows,
                 ("Above zero the front sinks, below zero it rises. A push that is below zero means that the tube goes "
                  "that way by itself." if known[0].raising is not None else
                  "Above zero the front sinks, below zero it rises.",))


def _altitude(degrees: float) -> str:
    return {0.0: "0°, level", 90.0: "90°, upright"}.get(degrees, f"{degrees:.0f}°")


def _stays(each: Swing) -> str:
    return {True: "Stays where it is put.", False: "Does not stay: friction is too weak.", None: ""}[each.held]


@dataclass(frozen=True, slots=True)
class Loading:
    """The tube with other things on it: where it balances, how far that is from the pivot, its moment when level."""

    name: str
    station: Result
    arm: Result | None
    moment: Result | None


def loadings(design: Design) -> tuple[Loading, ...]:
    """As listed, then with each eyepiece alone, with none, without the finder. Empty where none is told apart."""
    listed = design.results.get("balance.station")
    if listed is None:
        return ()
    pieces, finders = _of(design, _is_eyepiece), _of(design, _is_finder)
    own = _columns(listed)
    bare = [entry for entry in own if entry.key not in {key for key, _ in pieces}]
    rows: list[tuple[str, list[_Entry]]] = []
    for key, part in pieces:
        alone = next((entry for entry in own if entry.key == key), None) or _added(design, key, part)
        if alone is not None:
            rows.append((f"{part.ref} alone in the focuser: {part.name}", [*bare, alone]))
    if len(bare) < len(own):
        rows.append(("No eyepiece", bare))
    for key, part in finders:
        without = [entry for entry in own if entry.key != key]
        if len(without) < len(own):
            rows.append((f"Without {part.ref}: {part.name}", without))
    if finders and len(bare) < len(own):
        rows.append(("Neither eyepiece nor finder",
                     [entry for entry in bare if entry.key not in {key for key, _ in finders}]))
    listed_keys = {entry.key for entry in own}
    on = " and ".join(part.ref for key, part in (*pieces, *finders) if key in listed_keys)
    made = [(f"As listed, with {on}" if on else "As listed", own)]
    made += [(name, entries) for name, entries in rows if entries and {entry.key for entry in entries} != listed_keys]
    if len(made) < 2:
        return ()
    return tuple(_loading(design, index, name, entries) for index, (name, entries) in enumerate(made))


def has_finder(design: Design) -> bool:
    """Whether a part is a finder by what it is called, or by its group."""
    return bool(_of(design, _is_finder))


@dataclass(frozen=True, slots=True)
class _Entry:
    key: str
    quantity: Given | Result
    mass: Given | Result
    station: Given | Result


def _columns(listed: Result) -> list[_Entry]:
    """The parts that the balance was reckoned with, by their keys."""
    columns = [_members(listed.inputs[name]) for name in ("quantities", "masses_kg", "stations_mm")]
    return [_Entry(str(quantity.title).rpartition(".")[0], quantity, mass, station)
            for quantity, mass, station in zip(*columns, strict=True)]


def _members(column: Given | Result) -> Sequence[Given | Result]:
    return column.members if isinstance(column, Given) else ()


def _of(design: Design, chosen: Callable[[Design, Part], bool]) -> list[tuple[str, Part]]:
    return [(f"parts[{index}]", part) for index, part in enumerate(design.build.parts) if chosen(design, part)]


def _is_eyepiece(design: Design, part: Part) -> bool:
    named = {slug(piece.name) for piece in design.build.eyepieces}
    return _called(part, _EYEPIECE) or slug(part.name) in named


def _is_finder(design: Design, part: Part) -> bool:
    return _called(part, _FINDER)


def _called(part: Part, what: str) -> bool:
    """Whether the part or its group is called so in its first words; a case for eyepieces is no eyepiece."""
    first = slug(part.name.split(",")[0]).split("-")
    named = bool({what, f"{what}s"} & set(first)) and first[-1] not in _NOT_ITSELF
    return named or (part.group or "").casefold().rstrip("s") == what


def _added(design: Design, key: str, part: Part) -> _Entry | None:
    """An eyepiece with a mass and no station stands where the focuser is."""
    from dossier.design import worksheet

    place = design.results.get("focuser.station")
    if part.mass is None or place is None:
        return None
    one = Given(f"{key}.quantity", 1.0, "", "default", said="one at a time")
    return _Entry(key, one, worksheet(design.loaded).given(f"{key}.mass"), place)


def _loading(design: Design, index: int, name: str, entries: Sequence[_Entry]) -> Loading:
    own = f"balance-with.{index}"
    pieces = {"quantities": gathered("pieces", [entry.quantity for entry in entries], ""),
              "masses_kg": gathered("masses of one piece", [entry.mass for entry in entries], "kg")}
    station = balance.centre_of_mass_mm.work(
        f"{own}.station", **pieces, stations_mm=gathered("stations of the parts", [e.station for e in entries], "mm"))
    pivot = design.results.get("balance.pivot_arm")
    if pivot is None:
        return Loading(name, station, None, None)
    arm = balance.pivot_arm_mm.work(f"{own}.arm", centre_of_mass_mm=station, pivot_mm=pivot.inputs["pivot_mm"])
    mass = balance.total_mass_kg.work(f"{own}.mass", "Mass of the parts that are on", **pieces)
    return Loading(name, station, arm, balance.pivot_moment_n_m.work(f"{own}.moment", load_kg=mass, pivot_arm_mm=arm))


def exchanged(design: Design) -> Aside | None:
    """The balance with each eyepiece and finder on and off."""
    known = loadings(design)
    if not known:
        return None
    columns = ("Balances at", "Beyond the pivot", "Moment, level")
    told = len(columns) if known[0].arm is not None else 1
    friction = design.results.get("rocker.friction")
    rows = tuple(AsideRow(each.name, (each.station, each.arm, each.moment)[:told], _kept(each, friction))
                 for each in known)
    return Aside("Balance with each eyepiece and finder on and off", "On the tube",
                 tuple(AsideColumn(title) for title in columns[:told]), rows, tuple(_unknown(design)))


def _kept(each: Loading, friction: Result | None) -> str:
    if each.moment is None or friction is None:
        return ""
    return ("Friction holds it at every altitude." if abs(each.moment.number) <= friction.number
            else "Friction does not hold it near the horizon.")


def _unknown(design: Design) -> Iterator[str]:
    eyepieces = [part.ref for _, part in _of(design, _is_eyepiece) if part.mass is None]
    silent = [*eyepieces, *(part.ref for _, part in _of(design, _is_finder) if part.mass is None)]
    if silent:
        named = " and ".join(filter(None, (", ".join(silent[:-1]), silent[-1])))
        them = "it" if len(silent) == 1 else "them"
        yield (f"The plan gives no mass for {named}, so that nothing is told of {them}. Weigh your own before you rely "
               "on the balance: what is heavier than the piece it replaces pulls the front down.")
    if eyepieces:
        yield ("In the spec, an eyepiece that is not on all the time has its mass and carried: false. It is then told "
               "here and does not count into the load.")
