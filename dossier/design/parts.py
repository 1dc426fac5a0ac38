"""The parts list worked out: packs, cost and mass of every line, and their sums as results."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from dossier.calc.mechanics import balance, mount
from dossier.calc.shop import packs
from dossier.design.buying import Payer, named, payers, unpriced_for
from dossier.design.cutting import lengths_for
from dossier.design.model import PartLine
from dossier.design.worksheet import NotSaid, Work, Worksheet, given, step, worked
from dossier.spec.defaults import slug
from dossier.spec.keys import value_at
from dossier.spec.model import Build
from dossier.spec.model_parts import Part
from dossier.working import Given, NoAnswer, Result, gathered

Chosen = Callable[[Part], bool]

# Parts of this group stand under the telescope and are not carried by the mount, unless the part itself says so.
MOUNT_GROUP = "mount"


def carried(part: Part) -> bool:
    """Whether the mount carries this part."""
    return part.carried if part.carried is not None else slug(part.group or "") != MOUNT_GROUP


def groups(build: Build) -> tuple[str, ...]:
    """The groups of the parts list, in the order in which the author first names them."""
    return tuple(dict.fromkeys(part.group for part in build.parts or () if part.group))


def lines(sheet: Worksheet) -> tuple[PartLine, ...]:
    """Every line of the parts list, for one kit and for all of them."""
    paid = payers(sheet.build)
    return tuple(_line(sheet, f"parts[{index}]", part, paid.get(f"parts[{index}]"))
                 for index, part in enumerate(sheet.build.parts or ()))


def _line(sheet: Worksheet, key: str, part: Part, payer: Payer | None) -> PartLine:
    price = _number(sheet, f"{key}.price")
    mass, station = _number(sheet, f"{key}.mass"), _number(sheet, f"{key}.station")
    if payer is not None:
        stock = part.cut.from_ if part.cut else ""
        if payer.key != key:
            return PartLine(part.ref, key, 0, None, 0, None, mass, station, carried(part), 1, 0, stock,
                            value_at(sheet.build, payer.key).ref)
        one, every = (_lengths(sheet, payer.stock, kits) for kits in (1, sheet.kits))
        return PartLine(part.ref, key, one or 0, _times(one, price), every or 0, _times(every, price), mass, station,
                        carried(part), 1, every or 0, stock)
    bought = part.get != "have"
    one, every = (_packs(part, kits) if bought else 0 for kits in (1, sheet.kits))
    needed = (part.quantity + part.spares) * sheet.kits
    return PartLine(part.ref, key, one, _times(one, price), every, _times(every, price), mass, station, carried(part),
                    part.pack, needed)


def _lengths(sheet: Worksheet, stock: str, kits: int) -> int | None:
    """Lengths to buy. None where the plan cannot say: then the working of the plan has said so already."""
    try:
        count = lengths_for(sheet, stock, kits).value
    except (NotSaid, NoAnswer, ValueError):
        return None
    return None if isinstance(count, tuple) else round(count)


def _times(count: int | None, price: float | None) -> float | None:
    return None if count is None or price is None else count * price


def _packs(part: Part, kits: int) -> int:
    return int(packs.pack_count(part.quantity + part.spares, kits, part.pack))


def _number(sheet: Worksheet, key: str) -> float | None:
    try:
        value = sheet.given(key).value
    except NotSaid:
        return None
    return None if isinstance(value, tuple) else value


def plan(build: Build) -> Mapping[str, Work]:
    """The results of this module: cost and mass of one kit, of every group and of all kits; balance; mount's load."""
    paid = payers(build)
    return dict((
        _cost("parts.cost", "Cost of one kit", _every, paid, one_kit=True),
        *(_cost(f"parts.group_cost.{slug(group)}", f"Cost of one kit, {group}", _of(group), paid, one_kit=True)
          for group in groups(build)),
        _cost("parts.cost_all_kits", "Cost of all kits together", _every, paid, one_kit=False),
        step("parts.cost_per_kit", packs.cost_per_kit_money, "Cost of each kit when all are bought together",
             total_cost_money=worked("parts.cost_all_kits"), kits=_kits),
        _mass("parts.mass", "Mass of everything listed", _every),
        _mass("mount.load", "Mass that the mount carries", carried),
        _mass("mount.base_mass", "Mass of the mount itself", lambda part: not carried(part),
              "any part that belongs to the mount itself"),
        step("mount.load_share", mount.load_share, load_kg=worked("mount.load"), capacity_kg=given("mount.capacity")),
        ("balance.station", _balance),
        ("balance.across", _across),
        step("balance.pivot_arm", balance.pivot_arm_mm,
             centre_of_mass_mm=worked("balance.station"), pivot_mm=given("mount.pivot")),
        step("balance.pivot_moment", balance.pivot_moment_n_m,
             load_kg=worked("mount.load"), pivot_arm_mm=worked("balance.pivot_arm")),
    ))


def _every(_: Part) -> bool:
    return True


def _of(group: str) -> Chosen:
    return lambda part: part.group == group


def _kits(sheet: Worksheet) -> Given:
    return Given("kits", float(sheet.kits), "", "default")


def _cost(result_id: str, title: str, chosen: Chosen, paid: Mapping[str, Payer], *,
          one_kit: bool) -> tuple[str, Work]:
    def work(sheet: Worksheet) -> Result:
        keys = _keys(sheet, lambda part: chosen(part) and part.get != "have", "price")
        packed, sawn = [key for key in keys if key not in paid], [key for key in keys if _pays(key, paid)]
        if not packed and not sawn:
            raise NotSaid("the price of any part")
        kits = Given("kits", 1.0, "", "default") if one_kit else _kits(sheet)
        lengths = [lengths_for(sheet, paid[key].stock, 1 if one_kit else sheet.kits) for key in sawn]
        return packs.total_cost_money.work(
            result_id, title + _without(sheet.build, result_id),
            quantities=_column(sheet, packed, "quantity", "pieces in one kit"),
            spare_pieces=_spares(sheet, packed), pack_sizes=_column(sheet, packed, "pack", "pieces in a pack"),
            prices_money=_column(sheet, packed, "price", "prices of a pack", "money"), kits=kits,
            length_counts=gathered("lengths of each stock", lengths, ""),
            length_prices_money=_column(sheet, sawn, "price", "prices of a length", "money"))

    return result_id, work


def _pays(key: str, paid: Mapping[str, Payer]) -> bool:
    return key in paid and paid[key].key == key


def _without(build: Build, result_id: str) -> str:
    """What a sum is called beyond its title where prices are missing: no more than what it is at least."""
    missing = unpriced_for(build, result_id)
    return f", at least ({named(missing)} without a price)" if missing else ""


def _mass(result_id: str, title: str, chosen: Chosen, of: str = "any part") -> tuple[str, Work]:
    def work(sheet: Worksheet) -> Result:
        keys = _keys(sheet, chosen, "mass", of=of)
        return balance.total_mass_kg.work(
            result_id, title, quantities=_column(sheet, keys, "quantity", "pieces"),
            masses_kg=_column(sheet, keys, "mass", "masses of one piece"))

    return result_id, work


def _balance(sheet: Worksheet) -> Result:
    keys = _keys(sheet, _every, "mass", "station")
    return balance.centre_of_mass_mm.work(
        "balance.station", quantities=_column(sheet, keys, "quantity", "pieces"),
        masses_kg=_column(sheet, keys, "mass", "masses of one piece"),
        stations_mm=_column(sheet, keys, "station", "stations of the parts"))


def _across(sheet: Worksheet) -> Result:
    """Of the same parts; one that does not say how far off the axis it lies counts as on it."""
    keys = _keys(sheet, _every, "mass", "station")
    said = [key for key in keys if sheet.says(f"{key}.across")]
    if not said:
        raise NotSaid("how far any part lies off the axis")
    offsets = [sheet.given(f"{key}.across") if key in said else Given(f"{key}.across", 0.0, "mm", "default")
               for key in keys]
    return balance.centre_of_mass_across_mm.work(
        "balance.across", quantities=_column(sheet, keys, "quantity", "pieces"),
        masses_kg=_column(sheet, keys, "mass", "masses of one piece"),
        offsets_mm=gathered("how far off the axis the parts lie", offsets, "mm"))


def _keys(sheet: Worksheet, chosen: Chosen, *needed: str, of: str = "any part") -> list[str]:
    """The keys of the parts that are chosen and say all that is needed. NotSaid where no part does."""
    keys = [f"parts[{index}]" for index, part in enumerate(sheet.build.parts or ()) if chosen(part)]
    found = [key for key in keys if all(sheet.says(f"{key}.{datum}") for datum in needed)]
    if not found:
        raise NotSaid(f"the {' and the '.join(needed)} of {of}")
    return found


def _spares(sheet: Worksheet, keys: list[str]) -> Given:
    """Few parts have any, and what nobody said need not be looked up."""
    said = (f"{key}.spares" for key in keys)
    return gathered("spares for one kit",
                    [sheet.given(key) if key in sheet.loaded.spots else Given(key, 0.0, "", "default") for key in said],
                    "")


def _column(sheet: Worksheet, keys: list[str], datum: str, title: str, unit: str = "") -> Given:
    """One datum of these parts. ``unit`` is of a column that may be empty; another tells by its first."""
    column = [sheet.given(f"{key}.{datum}") for key in keys]
    return gathered(title, column, column[0].unit if column else unit)
