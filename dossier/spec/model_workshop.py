"""A workshop that builds several kits side by side."""

from typing import Annotated

from dossier.spec.base import Model
from dossier.spec.entries import Quantity, Section, Text, Whole


class WorkBench(Model):
    """A kind of bench, as the build steps name it."""

    name: Annotated[str, Text("What the steps call it.", "saw", longest=40)]
    places: Annotated[int, Whole("How many kits can be worked on there at once.", 2, 1, 100)] = 1
    attended: Annotated[float | None, Quantity(
        "How long of each day somebody looks after a machine that works on by itself there; day and night where left "
        "out.", "16 h", "min", most=1440)] = None


class Workshop(Model):
    """Who works, how long at a time, and where."""

    session: Annotated[float, Quantity("How long one session lasts.", "150 min", "min")]
    apart: Annotated[float | None, Quantity(
        "From the end of one session to the beginning of the next; 12 h where left out.", "22 h", "min")] = None
    people: Annotated[int, Whole("How many people work at once.", 8, 1, 200)]
    kits: Annotated[int | None, Whole(
        "How many kits the workshop builds, where --kits does not say; for its plan and the shopping list, the "
        "results stay those of one kit.", 8, 1, 1000)] = None
    benches: Annotated[tuple[WorkBench, ...], Section("The benches that kits have to wait for.")] = ()
