"""From what the author said to everything worked out. The only layer that knows both spec and calc."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from dossier.design.cautions import unknown_topics
from dossier.design.goals import with_goals
from dossier.design.materials import unknown_materials
from dossier.design.model import Design, PartLine, Remedy, Unmet
from dossier.design.parts import lines
from dossier.design.plan import plan_for
from dossier.design.remedies import remedies
from dossier.design.resolve import resolved
from dossier.design.revision import standing
from dossier.design.shown import unknown_shown
from dossier.design.worksheet import NotSaid, Worksheet
from dossier.errors import Problem, Unusable
from dossier.spec import notes
from dossier.spec.issued import history
from dossier.spec.load import Loaded
from dossier.spec.steps import Step, load_steps
from dossier.working import NoAnswer, Result

__all__ = ["Design", "PartLine", "Remedy", "Unmet", "work_out", "worksheet"]


def work_out(loaded: Loaded, kits: int | None = None, today: date | None = None, *, only: str = "") -> Design:
    """Everything this build's spec allows to be worked out; or ``only`` one result and what it needs, without what
    would put a miss right. Where ``kits`` is None the results are of one kit.

    Raises Unusable with every problem found: expressions that cannot be worked out, goals on results that do not
    exist, steps that cannot be read, numbers for which a calculation has no answer, issued revisions that were changed.
    """
    if problems := list(unknown_materials(loaded)):
        raise Unusable(problems)
    count = 1 if kits is None else kits
    ready = resolved(loaded, plan_for, count)
    sheet = worksheet(ready, kits=count)
    plan = sheet.plan
    results, left_out = _all_results(sheet, [only] if only in plan else plan)
    if only in plan:
        results = sheet.done()
    judged, unmet = with_goals(sheet, results, left_out)
    if problems := list(unknown_shown(ready, plan)):
        raise Unusable(problems)
    steps = _steps(ready)
    issued = history(ready.folder)
    if problems := list(notes.problems(ready, steps, issued)):
        raise Unusable(problems)
    revision, day = standing(ready, issued, today)
    missed = [result for result in judged.values()
              if not only and result.goal and result.goal.outcome(result.number) == "misses"]
    return Design(
        loaded=ready, build=ready.build, results=judged, left_out=left_out, parts=lines(sheet), steps=steps,
        kits=count, kits_asked=kits is not None, revision=revision, date=day, issued=issued,
        remedies={
            result.id: remedies(result, lambda changes: Worksheet(ready, plan, kits=count, changes=changes), sheet)
            for result in missed},
        unmet=unmet,
    )


def _steps(loaded: Loaded) -> tuple[Step, ...]:
    steps = load_steps(loaded.folder, loaded.build)
    if problems := list(unknown_topics(steps)):
        raise Unusable(problems)
    return steps


def worksheet(loaded: Loaded, *, kits: int = 1, changes: Mapping[str, float] | None = None) -> Worksheet:
    """A fresh sheet for this build, on which results are worked out as they are asked for."""
    return Worksheet(loaded, plan_for(loaded), kits=kits, changes=changes)


def _all_results(sheet: Worksheet, wanted: Iterable[str]) -> tuple[dict[str, Result], dict[str, str]]:
    results: dict[str, Result] = {}
    left_out: dict[str, str] = {}
    problems: list[Problem] = []
    for result_id in wanted:
        try:
            results[result_id] = sheet.result(result_id)
        except NotSaid as missing:
            left_out[result_id] = f"the spec does not say {missing}"
        except NoAnswer as reason:
            left_out[result_id] = str(reason)
        except (ValueError, ArithmeticError) as error:
            # What follows from a result fails with it, and in its words; said once is enough.
            if not any(problem.message.endswith(str(error)) for problem in problems):
                problems.append(_unworkable(sheet, result_id, error))
    if problems:
        raise Unusable(problems)
    return results, left_out


def _unworkable(sheet: Worksheet, result_id: str, error: Exception) -> Problem:
    shown = next(iter(sheet.loaded.spots.values())).file
    return Problem(shown, 0, result_id, f"cannot be worked out: {error}")
