"""What is printed, in sentences: how long the machine runs, what fits, what is to be mended first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dossier.design import Design
from dossier.design.asides.prints import Printed, printed
from dossier.notation import show


def tell(design: Design) -> str:
    """Time of one kit and of all, the longest part; then what does not fit and what is not whole."""
    parts = printed(design)
    return " ".join((*_time(design, parts), *_whole(parts))) if any(each.solid for each in parts) else ""


def _time(design: Design, parts: Sequence[Printed]) -> Iterator[str]:
    total = design.results.get("parts.print_time")
    if total is None:
        return
    yield "One kit keeps a printer busy for about {{ parts.print_time }}, one part after the other."
    if design.kits > 1:
        yield f"For {design.kits} kits that is {show(design.kits * total.number, 'h', result_id=total.id).plain}."
    timed = [each for each in parts if f"print.{each.name}.time" in design.results]
    longest = max(timed, key=lambda each: design.results[f"print.{each.name}.time"].number)
    if len(timed) > 1:
        yield f"The longest is {longest.title}, {{{{ print['{longest.name}'].time }}}} for one."
    yield "These are estimates; the slicer, which knows your machine, knows better."


def _whole(parts: Sequence[Printed]) -> Iterator[str]:
    read = [each for each in parts if each.solid]
    large = [each.title for each in read if each.fits is False]
    torn = [each.title for each in read if each.solid and not each.solid.closed]
    if large:
        yield f"**Too large for the author’s printer:** {', '.join(large)}."
    elif all(each.fits for each in read):
        yield "All fit the author’s printer." if len(read) > 1 else "It fits the author’s printer."
    if torn:
        yield f"**Not closed, to be mended first:** {', '.join(torn)}."
    unread = [each.title for each in parts if each.name and not each.solid]
    if unread:
        yield f"**Left out of all sums, because the mesh cannot be used:** {', '.join(unread)}."
