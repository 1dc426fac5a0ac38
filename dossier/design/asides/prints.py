"""The meshes of the printed parts: size, closed or not, on the author's printer or not, and what can be changed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dossier.calc.shop.prints import fits_printer
from dossier.design.asides import Aside, AsideColumn, AsideRow, Entry
from dossier.design.prints import mesh_of, named
from dossier.spec.model_parts import Part
from dossier.working import Given, NoAnswer

if TYPE_CHECKING:
    from dossier.design.model import Design
    from dossier.spec.meshes import Solid

_COLUMNS = (AsideColumn("Width"), AsideColumn("Depth"), AsideColumn("Height"), AsideColumn("Closed", text=True),
            AsideColumn("Fits the printer", text=True), AsideColumn("Editable source", text=True))
# Told of a part whose mesh can be read, the first that is left out.
_TOLD = ("plastic", "mass", "time")


@dataclass(frozen=True, slots=True)
class Printed:
    """A part that is printed: the name it goes by in its results (empty without a mesh), its mesh or what is wrong
    with it, and whether it fits the author's printer, where its room is said."""

    part: Part
    name: str
    solid: Solid | None
    fault: str
    fits: bool | None

    @property
    def title(self) -> str:
        return f"{self.part.ref} {self.part.name}"


def printed(design: Design) -> tuple[Printed, ...]:
    """Every part that is printed, in the order of the parts."""
    names = {key: name for name, key in named(design.build).items()}
    return tuple(_printed(design, part, names.get(f"parts[{index}]", ""))
                 for index, part in enumerate(design.build.parts) if part.get == "print" or part.print is not None)


def table(design: Design) -> Aside | None:
    """A row for each printed part."""
    rows = tuple(_row(design, each) for each in printed(design))
    if not rows:
        return None
    notes = ["Sizes are those of the mesh as it lies in its file, which is taken to be as it is printed. A part may be "
             "turned by a quarter on the bed."] if any(row.entries[0] for row in rows) else []
    if any(each.part.cad or each.solid for each in printed(design)):
        notes.append("The files stand beside each part in the list below, and with their SHA-256 among the downloads.")
    return Aside("What the meshes are like", "Part", _COLUMNS, rows, tuple(notes), works=(), stacks=True)


def _printed(design: Design, part: Part, name: str) -> Printed:
    if not name or part.print is None or part.print.mesh is None:
        return Printed(part, "", None, "No mesh is given, so nothing can be said of its size and mass", None)
    try:
        solid = mesh_of(design.loaded, part.print.mesh)
    except NoAnswer as fault:
        return Printed(part, name, None, str(fault), None)
    printer = design.build.printer
    fits = fits_printer(solid.size_mm, (printer.x, printer.y, printer.z)) if printer else None
    return Printed(part, name, solid, "", fits)


def _row(design: Design, each: Printed) -> AsideRow:
    source = _last(each.part.cad) if each.part.cad else "none given"
    if each.solid is None:
        unread = f"Left out: {each.fault}." if each.name else f"{each.fault}."
        return AsideRow(each.title, (None, None, None, "", "", source), unread)
    mesh = each.part.print.mesh if each.part.print else ""
    sizes: list[Entry] = [Given(f"{what} of {mesh}", round(size, 1), "mm", "spec")
                          for what, size in zip(("width", "depth", "height"), each.solid.size_mm, strict=True)]
    closed = "yes" if each.solid.closed else "no"
    fits = {True: "yes", False: "no", None: "no printer said"}[each.fits]
    return AsideRow(each.title, (*sizes, closed, fits, source), " ".join(_remarks(design, each, each.solid)))


def _remarks(design: Design, each: Printed, solid: Solid) -> list[str]:
    told = []
    if not solid.closed:
        edges = "one edge is" if solid.open_edges == 1 else f"{solid.open_edges} edges are"
        told.append(f"The mesh is not closed, or a facet faces the wrong way: {edges} not shared by two facets. Its "
                    "volume and all that follows from it are a guess; mend it before you print.")
    if each.fits is False:
        told.append("It is larger than the author’s printer: cut it in two, or find a larger one.")
    if each.part.cad is None:
        told.append("Only the mesh is there, so to change the part it has to be drawn anew.")
    missing = next((design.left_out[name] for quantity in _TOLD
                    if (name := f"print.{each.name}.{quantity}") in design.left_out), "")
    if missing:
        told.append(f"Not all is worked out: {missing}.")
    return told


def _last(path: str) -> str:
    return path.rsplit("/", 1)[-1]
