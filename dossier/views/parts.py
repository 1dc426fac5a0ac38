"""The parts list: what to buy, print and make, why, what it costs, and what could stand in its place."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass

from dossier.design import Design, PartLine
from dossier.design.shopping import for_workshop
from dossier.notation import show
from dossier.notation.given import show_given
from dossier.spec.defaults import slug
from dossier.spec.deferred import OPENS
from dossier.spec.model_parts import Alternative, Part
from dossier.views.align import aligned
from dossier.views.known_issues import IssueView, issues_of_part
from dossier.views.links import part_anchor, spec_line, working_of
from dossier.views.markup import Html
from dossier.views.prose import Said
from dossier.views.results import Answered
from dossier.views.shopping import Shopping, shopping_list
from dossier.views.site import Page
from dossier.views.spoken import Spoken
from dossier.views.tables import Cell

Download = Callable[[str], str]
GET = {"buy": "buy", "print": "print", "make": "make", "have": "at hand", None: ""}


@dataclass(frozen=True, slots=True)
class Instead:
    """Another choice for a part, its price, and when to take it."""

    name: Html
    price: str
    because: Html


@dataclass(frozen=True, slots=True)
class File:
    """A file to take along. Without an address it is named in the spec but not in the build's folder."""

    name: str
    href: str


@dataclass(frozen=True, slots=True)
class PartRow:
    """One line of the parts list as strings."""

    ref: str
    anchor: str
    href: str
    name: Html
    get: str
    quantity: str
    spares: str
    packs: str
    price: Cell
    cost: Cell
    mass: Cell
    why: Html
    supplier: Html
    link: str
    priced: Html
    instead: tuple[Instead, ...]
    issues: tuple[IssueView, ...]
    files: tuple[File, ...]


@dataclass(frozen=True, slots=True)
class PartGroup:
    """The parts of one group, and what they cost together."""

    name: str
    rows: tuple[PartRow, ...]
    cost: Cell


@dataclass(frozen=True, slots=True)
class PartsView:
    """The sheet of parts and costs: the list is of one kit; ``shopping`` is of as many as were asked for, and where
    the workshop builds others, of those. ``currency`` and ``mass_unit`` stand once, in the head; ``list_note`` says of
    how many kits the list is where it could be asked."""

    page: Page
    intro: tuple[Said, ...]
    answers: tuple[Answered, ...]
    groups: tuple[PartGroup, ...]
    currency: str
    mass_unit: str
    total_cost: Cell
    total_mass: Cell
    list_note: str
    shopping: tuple[Shopping, ...]


def parts_view(design: Design, page: Page, intro: tuple[Said, ...], answers: tuple[Answered, ...], spoken: Spoken,
               download: Download) -> PartsView:
    """The parts list of a design. ``download`` gives the address of a file of the build, or nothing."""
    lines = dict(zip([line.ref for line in design.parts], design.parts, strict=True))
    money = _Column(design, "money", [part.price for part in design.build.parts],
                    [line.cost for line in design.parts])
    mass = _Column(design, "kg", [line.mass_kg for line in design.parts],
                   typed={line.mass_kg for line in design.parts if _is_typed(design, f"{line.key}.mass")})
    rows = {part.ref: _row(design, part, lines[part.ref], spoken, download, money, mass)
            for part in design.build.parts}
    names = dict.fromkeys(part.group or "" for part in design.build.parts)
    groups = tuple(PartGroup((name or "others").capitalize(), tuple(rows[part.ref] for part in design.build.parts
                                                     if (part.group or "") == name), _group_cost(design, name, money))
                   for name in names)
    return PartsView(page, intro, answers, groups, money.unit, mass.unit, _total(design, "parts.cost", money),
                     _total(design, "parts.mass", mass), _list_note(design),
                     tuple(found for each in (design, for_workshop(design))
                           if each is not None and (found := shopping_list(each, spoken))))


class _Column:
    """The numbers of one column, all with the same unit and padded to the same decimal point; those that are typed with
    the digits they were typed with."""

    def __init__(self, design: Design, unit: str, *values: Iterable[float | None],
                 typed: Collection[float | None] = ()) -> None:
        self._readers, self._ending, self._typed = design.build.readers, unit, typed
        self.unit = show(0.0, unit, readers=self._readers).unit
        shown = [self._number(value) for column in values for value in column if value is not None]
        self._pads = {place.number: place.pad for place in aligned(shown)}

    def _number(self, value: float) -> str:
        if value in self._typed:
            return show_given(value, self._ending, self._readers).number
        return show(value, self._ending, readers=self._readers).number

    def cell(self, value: float | None, href: str = "") -> Cell:
        """The cell of a value, empty for None."""
        if value is None:
            return Cell("")
        number = self._number(value)
        return Cell(number, self._pads.get(number, ""), href)


def _row(design: Design, part: Part, line: PartLine, spoken: Spoken, download: Download, money: _Column,
         mass: _Column) -> PartRow:
    key = line.key
    return PartRow(
        ref=part.ref, anchor=part_anchor(part.ref), href=_line(design, key), spares=_spares(part),
        name=spoken.of_spec(part.name, f"{key}.name"), get=GET[part.get], quantity=str(part.quantity),
        packs=packs_words(part, line), price=money.cell(part.price, _line(design, f"{key}.price")),
        cost=money.cell(line.cost, _line(design, f"{key}.price")),
        mass=mass.cell(line.mass_kg, _line(design, f"{key}.mass")), why=spoken.of_spec(part.why, f"{key}.why"),
        supplier=spoken.of_spec(part.supplier, f"{key}.supplier"), link=part.link or "",
        priced=_priced(part),
        instead=tuple(_instead(other, f"{key}.instead[{index}]", spoken, money, design)
                      for index, other in enumerate(part.instead)),
        issues=issues_of_part(design, part.ref, spoken),
        files=tuple(File(f"{path.rsplit('/', 1)[-1]}{what}", download(path)) for path, what in _files(part)),
    )


def _priced(part: Part) -> Html:
    """How old the price is, and of what where it is not of one piece."""
    if part.price is None:
        return Html("")
    day = f"on <time>{part.priced_on.isoformat()}</time>" if part.priced_on else ""
    what = f"by the pack of {part.pack}" if part.pack > 1 else ""
    if part.cut is not None and not part.cut.is_sheet:
        what = "by the length"
    said = ", ".join(filter(None, (day, what)))
    return Html(f"Priced {said}") if said else Html("")


def packs_words(part: Part, line: PartLine, packs: int | None = None) -> str:
    """In what a part is bought for one kit, or for all in so many ``packs``; empty for single pieces."""
    count = line.packs if packs is None else packs
    if line.shares:
        return f"out of the lengths of {line.shares}"
    if line.stock:
        return f"{count} length{'' if count == 1 else 's'}"
    return f"{count} pack{'' if count == 1 else 's'} of {part.pack}" if part.pack > 1 else ""


def _spares(part: Part) -> str:
    return f"and {part.spares} spare{'' if part.spares == 1 else 's'}" if part.spares else ""


def _is_typed(design: Design, key: str) -> bool:
    """Whether a number stands in the spec as it is, and not as an expression that works it out."""
    spot = design.loaded.spots.get(key)
    return spot is not None and OPENS not in spot.said


def _list_note(design: Design) -> str:
    if design.workshop_kits == 1:
        return ""
    return f"This list is of one kit. What {design.workshop_kits} kits take is in the shopping lists below."


def _instead(other: Alternative, key: str, spoken: Spoken, money: _Column, design: Design) -> Instead:
    price = show(other.price, "money", readers=design.build.readers).plain if other.price is not None else ""
    return Instead(spoken.of_spec(other.name, f"{key}.name"), price, spoken.of_spec(other.because, f"{key}.because"))


def _files(part: Part) -> tuple[tuple[str, str], ...]:
    """The files of a part, each with what is to be said of it."""
    named = ((part.print.mesh if part.print else None, ""), (part.cad, " (editable source)"))
    return tuple((path, what) for path, what in named if path)


def _line(design: Design, key: str) -> str:
    spot = design.loaded.spots.get(key)
    return spec_line(spot.line, measured=spot.measured) if spot else ""


def _group_cost(design: Design, name: str, money: _Column) -> Cell:
    result = design.results.get(f"parts.group_cost.{slug(name)}") if name else None
    return money.cell(result.number, working_of(result.id)) if result else Cell("")


def _total(design: Design, result_id: str, column: _Column) -> Cell:
    result = design.results.get(result_id)
    return column.cell(result.number, working_of(result.id)) if result else Cell("")
