"""Whether the declared threads hold, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from dossier import shelf
from dossier.design import Design
from dossier.design.threads import held


def tell(design: Design) -> str:
    """What was tested, what holds, and what to test; empty where no part declares a thread."""
    return "\n\n".join(_paragraphs(design))


def _paragraphs(design: Design) -> Iterator[str]:
    known = list(held(design.build))
    if not known:
        return
    judged = {part.ref: result.goal.outcome(result.number) for name, _, part in known
              if (result := design.results.get(f"thread.{name}.strength_share")) is not None and result.goal}
    weak = [ref for ref, outcome in judged.items() if outcome == "misses"]
    untested = [part.ref for _, _, part in known if part.ref not in judged]
    if weak:
        yield (f"{_listed(weak)} {'does' if len(weak) == 1 else 'do'} not hold with enough in hand. A longer "
               "engagement, a thicker screw, an insert or a bolt right through would.")
    elif judged:
        yield f"{_listed(list(judged))} {'holds' if len(judged) == 1 else 'hold'}, by the author’s own test pieces."
    if untested:
        yield (f"Of {_listed(untested)} nobody has given a strength, so only the stress is shown. There is no table to "
               "take it from: it depends on the batch, the print and the hole. Make a test piece of the same material, "
               "printed the same way round, and pull it with a luggage scale or a bucket of water until it lets go. "
               "The force divided by the area that holds is the strength. Take the weakest of five.")
    kinds = {shelf.materials()[part.holds.in_].kind for _, _, part in known if part.holds and part.holds.in_}
    if "plastic" in kinds:
        yield ("A screw that is taken out again wears a thread cut in plastic. A heat-set insert gives it brass to "
               "turn in and spreads the pull over a wider wall; a captive nut, loaded from the far side, presses the "
               "plastic instead of shearing it, and is the one to take for a pull that lasts.")


def _listed(refs: list[str]) -> str:
    *most, last = refs
    return f"{', '.join(most)} and {last}" if most else last
