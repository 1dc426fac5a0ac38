"""The whole build spec, as its author writes it. Every value is in the one canonical unit of its field."""

from typing import Annotated, Any, Literal

from pydantic import Field as PydanticField

from dossier.spec.base import Model
from dossier.spec.entries import ByKey, Section, Several, Whole, mm
from dossier.spec.model_about import About, Conditions, Goal, Note, Readers
from dossier.spec.model_explore import Study
from dossier.spec.model_optics import Bench, Diagonal, Eyepiece, Field, Focuser, Primary, Spider
from dossier.spec.model_parts import Part, Printer
from dossier.spec.model_structure import Cell, Cooling, Frame, Front, Mount
from dossier.spec.model_workshop import Workshop


class Build(Model):
    """A build spec. A section that is left out is None, a list that is left out is empty."""

    format: Annotated[Literal[1], Whole("Version of this format.", 1, among=(1,))]
    about: Annotated[About, Section("The build and the people behind it.")]
    readers: Annotated[Readers, Section("How numbers and sheets are shown.")] = Readers.model_construct()
    conditions: Annotated[Conditions, Section("Where and how it is used.")] = Conditions.model_construct()
    primary: Annotated[Primary, Section("The primary mirror.")]
    diagonal: Annotated[Diagonal, Section("The flat that turns the light out of the tube.")]
    spider: Annotated[Spider | None, Section("What holds the diagonal.")] = None
    focuser: Annotated[Focuser, Section("The focuser.")]
    field: Annotated[Field | None, Section("Diameters in the focal plane that the design must serve.")] = None
    eyepieces: Annotated[tuple[Eyepiece, ...], Section("The eyepieces it is used with.")] = ()
    frame: Annotated[Frame | None, Section("The tube, the poles or the truss.", {
        "kind": "poles", "material": "aluminium-6061", "outer_diameter": "20 mm", "inner_diameter": "17 mm",
        "length": "900 mm", "count": 3, "circle_radius": "115 mm", "upper_mass": "0.9 kg",
        "lower_fixing": "60 mm"})] = None
    front: Annotated[Front | None, Section("The end that looks at the sky.")] = None
    cell: Annotated[Cell | None, Section("What holds the primary.")] = None
    cooling: Annotated[Cooling | None, Section("Heat that the mirror's faces give to the air.")] = None
    mount: Annotated[Mount | None, Section("What points the telescope.")] = None
    goals: Annotated[tuple[Goal, ...], Section("Limits that the author sets on results.", [
        {"result": "figure.strehl", "at_least": 0.8, "because": "planets at 200x"}])] = ()
    parts: Annotated[tuple[Part, ...], Section("The parts list.")] = ()
    workshop: Annotated[Workshop | None, Section("A workshop that builds several kits at once.")] = None
    printer: Annotated[Printer | None, Section("The room in the author's printer.")] = None
    notes: Annotated[tuple[Note, ...], Section("Flaws and plans that readers must know of.")] = ()
    explore: Annotated[tuple[Study, ...], Section("Studies of what would be if it were otherwise.", [
        {"name": "A longer focal length", "vary": {"primary.focal_length": "900 mm:1500 mm:50 mm"},
         "show": ["figure.strehl"]}])] = ()
    tolerances: Annotated[dict[str, Any], ByKey(
        "How far a builder's value may lie from the one said, key by key: 6 mm is anywhere within, 6 mm normal is two "
        "standard deviations.", {"primary.focal_length": "6 mm"})] = PydanticField(default_factory=dict)
    compare_apertures: Annotated[tuple[float, ...], Several("Apertures to show beside this one.", ["114 mm", "200 mm"],
                                                            mm("One aperture.", "200 mm"))] = ()
    bench: Annotated[Bench | None, Section("Knife-edge readings; in a measured file only.")] = None
