"""What the cooling mirror costs, what a fan buys, which parts soften, and dew: in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.asides.heat import Softening, blur_of, cleared, softenings, warmer_k, ways
from dossier.design.pictures import heat
from dossier.notation import duration, show

_WORTH_MIN = 30.0


def tell(design: Design) -> str:
    """The words on heat; empty where nothing of it was worked out and no part is printed."""
    soft = softenings(design)
    told = (" ".join(_settling(design)), " ".join(_meanwhile(design)), " ".join(_softening(soft)))
    if not any(told):
        return ""
    return "\n\n".join((*filter(None, told), _DEW))


_DEW = ("Dew falls on whatever sees the open sky and has cooled below the air’s dew point: finder and eyepiece first, "
        "then the diagonal, in an open frame also the mirror. A shroud and a shield beyond the diagonal shut out most "
        "of that sky. Cap what is not in use. Never wipe a wet mirror: let it dry by itself, uncapped, indoors and out "
        "of the sun, after carrying it in with its lid on, so that the warm room’s damp settles on the lid. All this "
        "is common practice.")


def _settling(design: Design) -> Iterator[str]:
    known = {way.key: way for way in ways(design)}
    if not known:
        return
    if heat.cooling(design) is None:
        yield "The mirror is stored as cold as the night air: it need not cool at all. That is the best of all cures."
        return
    planned = known["planned"].settles().number
    start = show(abs(warmer_k(design)), "k").plain
    state = "warmer" if warmer_k(design) > 0 else "colder"
    yield (f"Carried out {start} {state} than the air, the mirror comes to within half a kelvin of it after "
           f"{{{{ thermal.settling_time }}}} ({duration(planned)}).")
    if state == "colder":
        yield "Until then dew settles on it as soon as it is uncovered in damp air: leave its lid on."
    if "closed" in known:
        yield f"With its back closed it would take {duration(known['closed'].settles().number)}."
    if "fan" not in known:
        yield "Air already moves over its back as fast as a small fan would move it."
        return
    fan = known["fan"].settles().number
    saved = planned - fan
    yield f"A small fan on its back brings it there in {duration(fan)}, {duration(saved)} sooner:"
    limit = design.results["thermal.settling_time"].goal
    if limit is not None and planned > limit.limit >= fan:
        yield "that is the difference between missing the limit and meeting it."
    elif saved > _WORTH_MIN:
        yield "worth its cells." if limit is None or fan <= limit.limit else "worth it, and not enough by itself."
    else:
        yield "hardly worth the trouble."
    if limit is not None and fan > limit.limit:
        yield f"Keep the telescope {'where it is cold' if state == 'warmer' else 'outdoors'}, or use a thinner mirror."


def _meanwhile(design: Design) -> Iterator[str]:
    """What the warmth costs in the first hours."""
    made = heat.cooling(design)
    if made is None or not made.warmer:
        return
    told = [(hours, left) for hours in (1.0, 2.0, 3.0)
            if made.within_k < (left := made.left_after(hours)) <= heat.SEEING_HOLDS_TO_K]
    if not told:
        return
    first = True
    for hours, left in told[:2]:
        own, total = blur_of(left, design)
        blur = show(own, "arcsec").plain
        with_sky = f", {show(total, 'arcsec').plain} together with the seeing" if total is not None and first else ""
        when = f"After {hours:.0f}\u202fh"
        yield (f"{when} it is still {show(left, 'k').plain} above the air, and blurs stars by "
               f"{blur}{with_sky}." if first
               else f"{when} it is {show(left, 'k').plain} and {blur}.")
        first = False
    yield _until(design)


def _until(design: Design) -> str:
    """When the mirror no longer hides what the telescope resolves."""
    from_then = cleared(design)
    resolved = show(design.results["optics.rayleigh_limit"].number, "arcsec").plain
    return (f"Its blur falls below the {resolved} that the telescope resolves after {duration(from_then.number)}. "
            "Until then look at wide fields and low powers, and leave planets and close double stars for later. The "
            "rule of the blur was measured on a large telescope: take it as a guide.")


def _softening(known: tuple[Softening, ...]) -> Iterator[str]:
    if not known:
        return
    lets_go = [each for each in known if each.lets_go]
    for each in lets_go:
        yield (f"**{_listed(each.parts)}, of {each.name}, {'softens' if len(each.parts) == 1 else 'soften'} in a hot "
               "car.** Print them of something that stands more, or never leave the telescope in a closed car in the "
               "sun.")
    unknown = [each.name for each in known if each.at is None]
    if unknown:
        yield f"Where {_listed(tuple(unknown))} softens is not on the shelf: ask its maker."
    if not lets_go and not unknown:
        yield ("All printed parts keep their shape in a closed car in the sun, the nearest to softening those of "
               f"{known[0].name}. Plastic under load still creeps there: slacken springs and screws for the journey.")


def _listed(names: tuple[str, ...]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
