"""What ``dossier explore`` is asked, and all that it answers: a text, data, and lists."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dossier.design.explore import Study, draw_builders, studies_in, study_asked
from dossier.design.explore.ground import Ground, ground_read
from dossier.design.explore.tolerances import own_executor
from dossier.errors import Problem, Unusable
from dossier.spec.load import load_build
from dossier.views.exploring import drawn_list, drawn_record, drawn_text, study_list, study_record, study_text
from dossier.views.lists import List


@dataclass(frozen=True, slots=True)
class Asked:
    """The words of a command: see its help."""

    vary: Sequence[str] = ()
    choose: Sequence[str] = ()
    show: Sequence[str] = ()
    alone: bool = False
    tolerances: int | None = None
    seed: int = 0


@dataclass(frozen=True, slots=True)
class Explored:
    """The answer three ways."""

    text: str
    record: dict[str, Any]
    lists: tuple[List, ...]


def explored(build: Path, asked: Asked, kits: int) -> Explored:
    """What a command asks of a build. Raises Unusable with every problem."""
    ground = ground_read(load_build(build), kits)
    if asked.tolerances is not None:
        return _builders(ground, asked)
    if asked.vary or asked.choose:
        return _studies(ground, (study_asked(ground, asked.vary, asked.choose, asked.show, alone=asked.alone),))
    if asked.show:
        raise Unusable([Problem("--show", 0, "", "says what is shown, and nothing says what is varied; give --vary, "
                                                 "--choose or --tolerances")])
    if not ground.loaded.build.explore:
        raise Unusable([ground.loaded.problem("explore", "is not in this spec, so say what is varied: --vary "
                                              "primary.focal_length=900mm:1500mm:50mm, --choose REF or --tolerances")])
    return _studies(ground, studies_in(ground))


def _studies(ground: Ground, studies: tuple[Study, ...]) -> Explored:
    build, readers = ground.loaded.build, ground.loaded.build.readers
    texts = (f"{study.name or build.about.name}\n\n{study_text(study, readers)}" for study in studies)
    return Explored("\n".join(texts), _record(ground, studies=[study_record(study) for study in studies]),
                    tuple(study_list(study, "", readers.currency) for study in studies))


def _builders(ground: Ground, asked: Asked) -> Explored:
    if asked.vary or asked.choose:
        raise Unusable([Problem("--tolerances", 0, "", "draws builders of the plan as it is; leave --vary and --choose "
                                                       "out")])
    readers = ground.loaded.build.readers
    with own_executor(asked.tolerances or 1) as executor:
        drawn = draw_builders(ground, asked.tolerances or 1, asked.seed, show=asked.show, executor=executor)
    return Explored(f"{ground.loaded.build.about.name}\n\n{drawn_text(drawn, readers)}",
                    _record(ground, builders=drawn_record(drawn)), (drawn_list(drawn, "", readers.currency),))


def _record(ground: Ground, **found: Any) -> dict[str, Any]:
    return {"format": 1, "build": ground.loaded.name, "spec_sha256": ground.loaded.sha256, **found}
