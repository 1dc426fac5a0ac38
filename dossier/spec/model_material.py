"""A material said by its properties where the shelf has none."""

from typing import Annotated

from dossier.spec.base import Model
from dossier.spec.entries import Quantity, Text, pure


class Material(Model):
    """Properties of a material; only what a result needs must be given."""

    name: Annotated[str | None, Text("What it is called on the pages.", "low-expansion glass")] = None
    youngs_modulus: Annotated[float | None, Quantity("Young's modulus.", "64 GPa", "gpa")] = None
    shear_modulus: Annotated[float | None, Quantity("Shear modulus.", "26.7 GPa", "gpa")] = None
    poissons_ratio: Annotated[float | None, pure("Poisson's ratio.", 0.2, least=0, most=0.5)] = None
    density: Annotated[float | None, Quantity("Density.", "2230 kg/m^3", "kg_per_m3")] = None
    expansion: Annotated[float | None, Quantity("Linear thermal expansion.", "3.3e-6 1/K", "per_k", "")] = None
    conductivity: Annotated[float | None, Quantity("Thermal conductivity.", "1.14 W/m/K", "w_per_m_k")] = None
    heat_capacity: Annotated[float | None, Quantity("Specific heat capacity.", "830 J/kg/K", "j_per_kg_k")] = None
