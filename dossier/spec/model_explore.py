"""What an author wants to know of builds that lie beside this one."""

from typing import Annotated, Any

from pydantic import Field

from dossier.spec.base import Model
from dossier.spec.entries import ByKey, Flag, Several, Text, prose
from dossier.spec.model_about import RESULT_ID


class Study(Model):
    """One question of what would be if: keys that take other values, parts that are chosen otherwise."""

    name: Annotated[str, Text("The question in a few words.", "A longer focal length", longest=120)]
    because: Annotated[str | None, prose("Why it is asked.", "The box could be 100 mm taller.")] = None
    vary: Annotated[dict[str, Any], ByKey(
        "One or two keys and their values: from, to and step, or a list with commas.",
        {"primary.focal_length": "900 mm:1500 mm:50 mm"})] = Field(default_factory=dict)
    choose: Annotated[tuple[str, ...], Several(
        "Parts of which every other choice is tried, by reference.", ["P1"], Text("One reference.", "P1"))] = ()
    one_at_a_time: Annotated[bool | None, Flag(
        "Whether the other choices are tried each alone; all combinations where left out.", True)] = None
    show: Annotated[tuple[str, ...], Several(
        "The results that are shown; those with a limit where left out.", ["figure.strehl", "parts.cost"],
        Text("One result.", "figure.strehl", RESULT_ID, "the ID of a result"))] = ()
