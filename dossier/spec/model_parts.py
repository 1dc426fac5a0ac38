"""What the build is made of: parts, their alternatives, and what they are cut or printed from."""

import datetime
from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from dossier.spec.base import Model
from dossier.spec.entries import (
    ByKey,
    Choice,
    Day,
    Flag,
    Quantity,
    Section,
    Text,
    Whole,
    inside,
    mm,
    prose,
    pure,
    shelf_key,
    signed_mm,
    web_address,
)

_PRICE = "money"
DrawnAs = Literal["primary", "diagonal", "holder", "vane", "hub", "focuser", "eyepiece", "frame", "front", "plate",
                  "clip", "push", "spring", "pad", "bearing", "rocker", "foot", "board", "deck", "lever"]


class Alternative(Model):
    """Another choice for a part, and what it changes."""

    name: Annotated[str, Text("What it is.", "Paraboloid of the same size")]
    price: Annotated[float | None, pure("Price, counted as the part's own.", 130.0, "not negative", unit=_PRICE)] = None
    mass: Annotated[float | None, Quantity("Mass of each, where it differs.", "0.98 kg", "kg", "not negative")] = None
    because: Annotated[str | None, prose("When to choose it.", "needed below f/8")] = None
    set: Annotated[dict[str, Any], ByKey(
        "What choosing it changes in this spec, key by key.", {"primary.conic": -1})] = Field(default_factory=dict)


class Piece(Model):
    """Pieces of one size cut from a stock."""

    length: Annotated[float, mm("Length of the piece.", "900 mm")]
    quantity: Annotated[int, Whole("How many of them for one kit.", 3)] = 1
    width: Annotated[float | None, mm("Width of a piece of sheet.", "300 mm")] = None
    name: Annotated[str | None, Text("What the piece becomes.", "pole")] = None


class Shelved(Model):
    """A length of stock that is there already."""

    length: Annotated[float, mm("Its length.", "1200 mm")]
    quantity: Annotated[int, Whole("How many of them.", 2)] = 1


class Cut(Model):
    """What a part is cut from."""

    from_: Annotated[str, Text(
        "Name of the stock; parts with the same name share its lengths.", "aluminium tube 20x17",
        longest=80)] = Field(alias="from")
    stock_length: Annotated[float, mm("Length as it is sold.", "2000 mm")]
    stock_width: Annotated[float | None, mm(
        "Width of a sheet as it is sold; its pieces then have a width each.", "600 mm")] = None
    pieces: Annotated[tuple[Piece, ...], Section("The pieces.")]
    price_of: Annotated[Literal["part", "length"], Choice(
        "What the part's price is of: the part, or one length of the stock, of which are then bought as many as the "
        "pieces of all parts take.", "part", ("part", "length"))] = "part"
    kerf: Annotated[float | None, mm("Width that one saw cut takes.", "1.5 mm", "not negative")] = None
    trim: Annotated[float | None, mm("Lost once from each length, to true its end.", "10 mm", "not negative")] = None
    shelf_stock: Annotated[tuple[Shelved, ...], Section("Lengths already on the shelf, to be used first.")] = ()

    @property
    def by_length(self) -> bool:
        """Whether the part's price is of a length of its stock."""
        return self.price_of == "length" and not self.is_sheet

    @property
    def is_sheet(self) -> bool:
        """Whether the stock is a sheet, whose pieces have a width too, and not sold by length alone."""
        return self.stock_width is not None or any(piece.width is not None for piece in self.pieces)


class Print(Model):
    """How a part is printed."""

    mesh: Annotated[str | None, inside("The mesh: STL, 3MF or OBJ.", "parts/cell.stl")] = None
    material: Annotated[str | None, shelf_key("A key of the material shelf.", "petg")] = None
    fill: Annotated[float | None, pure("Share of the inside that is filled.", 0.35, "not negative", most=1)] = None
    walls: Annotated[int | None, Whole("Number of wall lines.", 4, 0, 100)] = None
    line: Annotated[float | None, mm("Width of one line.", "0.45 mm")] = None
    skin: Annotated[float | None, mm(
        "Thickness of the solid skin on top and bottom; as thick as the walls where left out.", "1 mm",
        "not negative")] = None
    layer: Annotated[float | None, mm("Height of one layer; the printer's where left out.", "0.2 mm")] = None


class Holds(Model):
    """A screw in the part's material, what holds it there, and what it must bear."""

    thread: Annotated[str, Text("A coarse metric thread of the shelf.", "M4", longest=40)]
    engagement: Annotated[float | None, mm("Length of thread that is engaged.", "8 mm")] = None
    in_: Annotated[str | None, shelf_key(
        "What the thread is in: a key of the material shelf.", "petg")] = Field(default=None, alias="in")
    load: Annotated[float | None, Quantity("Pull that it must bear.", "40 N", "n", "not negative")] = None
    how: Annotated[Literal["tapped", "insert", "nut"], Choice(
        "A thread cut in the material, an insert set into it, or a captive nut.", "insert",
        ("tapped", "insert", "nut"))] = "tapped"
    hole: Annotated[float | None, mm("Diameter of the hole that an insert is set into.", "5.6 mm")] = None
    strength: Annotated[float | None, Quantity(
        "Force at which your own test piece let go, divided by the area that the pages print.", "12 MPa", "mpa")] = None


class Part(Model):
    """One line of the parts list."""

    ref: Annotated[str, Text(
        "Reference that stays the same between revisions.", "P1", r"[A-Za-z0-9][A-Za-z0-9_.-]*", "a short reference",
        24)]
    name: Annotated[str, Text("What it is.", "Primary mirror, 150 mm, spherical")]
    group: Annotated[str | None, Text("Group it is listed under.", "optics", longest=60)] = None
    get: Annotated[Literal["buy", "print", "make", "have"] | None, Choice(
        "How a builder comes by it.", "buy", ("buy", "print", "make", "have"))] = None
    quantity: Annotated[int, Whole("How many for one kit.", 1)] = 1
    price: Annotated[float | None, pure(
        "Price of each, of one pack where pack is above 1, or of one length where it is cut from lengths.", 42.0,
        "not negative", unit=_PRICE)] = None
    pack: Annotated[int, Whole(
        "How many come in a pack. What is cut from lengths is bought as its cut plan says, and needs none.", 1)] = 1
    priced_on: Annotated[datetime.date | None, Day("Date of the price.", "2026-09-12")] = None
    supplier: Annotated[str | None, Text(
        "Where it is sold, in words; what stands after a comma or semicolon is a hint for this part.",
        "a hardware shop, as edging strip")] = None
    link: Annotated[str | None, web_address("Where it is shown.", "https://example.org/tube")] = None
    mass: Annotated[float | None, Quantity("Mass of each.", "0.98 kg", "kg", "not negative")] = None
    station: Annotated[float | None, signed_mm("Station of its centre of mass, for balance.", "-12 mm")] = None
    across: Annotated[float | None, signed_mm(
        "How far its centre of mass lies off the axis, towards the focuser; on the axis where left out.",
        "100 mm")] = None
    carried: Annotated[bool | None, Flag(
        "Whether it rides on the mount; true where left out, unless its group is mount.", True)] = None
    on_springs: Annotated[bool | None, Flag(
        "Whether it moves with the mirror on the adjusters' springs; the mirror itself is named too.", True)] = None
    spares: Annotated[int, Whole("Spares for one kit.", 1, 0)] = 0
    why: Annotated[str | None, prose("What it buys the user.", "The cheapest mirror that shows planets.")] = None
    from_old: Annotated[str | None, Text(
        "How the piece that the revision before had under this reference is worked into this one, so that nobody who "
        "has it buys or makes another.", "Saw 8 mm off one end.")] = None
    instead: Annotated[tuple[Alternative, ...], Section("Other choices.")] = ()
    cut: Annotated[Cut | None, Section("What it is cut from.")] = None
    print: Annotated[Print | None, Section("How it is printed.")] = None
    holds: Annotated[Holds | None, Section("A thread in it that must bear a load.")] = None
    cad: Annotated[str | None, inside("Its editable CAD source, in any format.", "parts/cell.step")] = None
    drawn_as: Annotated[DrawnAs | None, Choice(
        "What of the drawings this part is, so that their balloons can name it; frame is the tube or one pole, "
        "deck what poles stand on, lever a bar or triangle of the cell.",
        "focuser", get_args(DrawnAs))] = None


class Printer(Model):
    """The author's printer: its room, how it prints, and what it is fed with."""

    x: Annotated[float, mm("Width.", "220 mm")]
    y: Annotated[float, mm("Depth.", "220 mm")]
    z: Annotated[float, mm("Height.", "250 mm")]
    speed: Annotated[float | None, Quantity(
        "Speed at which plastic is laid down; 50 mm/s where left out.", "60 mm/s", "mm_per_s")] = None
    layer: Annotated[float | None, mm("Height of one layer; 0.2 mm where left out.", "0.2 mm")] = None
    busy: Annotated[float | None, pure(
        "Share of the time in which plastic is laid down; one half where left out.", 0.5, "above zero", most=1)] = None
    filament: Annotated[float | None, mm("Diameter of the filament; 1.75 mm where left out.", "1.75 mm")] = None
    spool_price: Annotated[float | None, pure("Price of a spool.", 17.5, "not negative", unit=_PRICE)] = None
    spool_mass: Annotated[float | None, Quantity("Plastic on a spool.", "1 kg", "kg")] = None
