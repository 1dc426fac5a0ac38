"""What the program says of a question in sentences: which limit is met, by how much, and what would change it.

Each teller gives Markdown for one question, with live numbers as an author would write them, ``{{ figure.strehl }}``,
so that its numbers lead to their working. It may name only what is in ``design.results``. An empty text says nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from dossier.design import Design
from dossier.views.words import (
    bench,
    buying,
    cell,
    collimation,
    diagonal,
    field,
    frame,
    heat,
    measured,
    mirror,
    mount,
    pinch,
    prints,
    shows,
    springs,
    stray,
    testing,
    threads,
    workshop,
)

Teller = Callable[[Design], str]
# The tellers of each question, by its key, in their order.
WORDS: Mapping[str, tuple[Teller, ...]] = MappingProxyType({
    "star-test": (testing.star_test,), "zones": (testing.zones,), "bench": (bench.tell,),
    "mirror": (mirror.decision,), "diagonal": (diagonal.light,), "field": (field.edge,), "stray": (stray.ways,),
    "collimation": (collimation.tolerance,),
    "sessions": (workshop.sessions,), "measured": (measured.change,), "to-measure": (measured.sheet,),
    "lending": (workshop.lending,), "printed": (prints.tell,), "cost": (buying.tell,),
    "eyepieces": (shows.eyepieces,), "limits": (shows.limits,), "moon": (shows.moon,), "planets": (shows.planets,),
    "doubles": (shows.doubles,), "beside": (shows.beside,),
    "threads": (threads.tell,),
    "frame": (frame.tell,),
    "balance": (mount.tell,), "tipping": (mount.tipping,), "tracking": (mount.tracking,), "heat": (heat.tell,),
    "cell": (cell.supports,), "pinch": (pinch.tell,), "springs": (springs.tell,),
})


def words_for(design: Design, question: str) -> str:
    """The sentences on the question of this key as Markdown; empty where there is nothing to say."""
    return "\n\n".join(filter(None, (tell(design).strip() for tell in WORDS.get(question, ()))))
