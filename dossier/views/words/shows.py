"""What the telescope shows in sentences: which eyepiece the air allows, how faint and how fine it sees, on what."""

from __future__ import annotations

from dossier.design import Design
from dossier.design.asides import bodies, compare, shows
from dossier.design.asides import doubles as pairs
from dossier.design.asides.looking import EASY, SOFT, Looking, angle, listed, looking, number
from dossier.design.asides.sizes import size
from dossier.notation import METRIC, show, show_result
from dossier.notation.given import show_given
from dossier.shelf.tables import Pair
from dossier.spec.defaults import slug
from dossier.working import Result

# The rounding of a power against its limit.
_SAME = 1.0001


def eyepieces(design: Design) -> str:
    """Which eyepiece for most nights, which for the best, which for the widest view, and what light is lost."""
    look, named = looking(design), [piece.name for piece in design.build.eyepieces]
    if not named:
        return (f"The spec names no eyepieces. The highest useful power is {_times(shows.highest(look))} by custom "
                "(common practice, no source); the table says which eyepieces give the powers worth having.")
    by_power = sorted(named, key=lambda name: shows.power_of(design, name).number)
    return "\n\n".join(filter(None, (_for_the_air(design, look, by_power), _for_wide_views(design, look, by_power),
                                     _for_high_power(design, look, by_power))))


def _for_the_air(design: Design, look: Looking, by_power: list[str]) -> str:
    most = shows.air_power(look)
    if look.seeing is None or most is None:
        return ""
    calm = [name for name in by_power if shows.power_of(design, name).number <= most.number * _SAME]
    wild = [name for name in by_power if name not in calm]
    told = (f"Seeing of {angle(number(look.seeing))} swells every star to {number(SOFT):.0f}′ at {_times(most)}, and "
            "more power than that looks soft (common practice, no source). ")
    if not calm:
        return told + f"On such nights even the {by_power[0]} is too strong: one of less power is worth having."
    told += f"For most nights that makes the {calm[-1]}, at {_live(calm[-1])} times, the strongest. "
    if not wild:
        return told + "No eyepiece here asks for better air."
    wanted = [f"the {name} for nights steadier than {angle(shows.calm_air(design, name).number)}" for name in wild]
    return f"{told}Keep {listed(wanted)}."


def _for_wide_views(design: Design, look: Looking, by_power: list[str]) -> str:
    least = shows.lowest(look)
    if look.eye_pupil is None or least is None:
        return ""
    pupil = show_given(number(look.eye_pupil), "mm", METRIC).plain
    kept = {name: share.number for name in by_power if (share := shows.share_into_eye(design, look, name)) is not None}
    wide = [name for name in by_power if kept[name] < 1]
    if wide:
        lost = [f"with the {name} {_share(1 - kept[name])}" for name in wide]
        used = show(number(look.pupil["aperture_mm"]) * kept[wide[0]] ** 0.5, "mm", readers=design.build.readers).plain
        return (f"A beam wider than the eye’s pupil of {pupil} is wasted in part: {listed(lost)} of the light falls "
                f"beside it. With the {wide[0]} the telescope works as one of {used}.")
    longest = show_result(shows.eyepiece_for(look, least), design.build.readers).plain
    return (f"Every beam fits into a pupil of {pupil}, so that no light is wasted. The lowest useful power is "
            f"{_times(least)}, with an eyepiece of {longest}; the {by_power[0]} has {_live(by_power[0])} times.")


def _for_high_power(design: Design, look: Looking, by_power: list[str]) -> str:
    most, easy, strongest = shows.highest(look), shows.finest_at(look, EASY), by_power[-1]
    has = shows.power_of(design, strongest).number
    if has > most.number * _SAME:
        return (f"Custom puts the highest useful power at {_times(most)}, twice the millimetres; the {strongest} has "
                f"{_live(strongest)}. It shows nothing more, only dimmer.")
    told = (f"Custom puts the highest useful power at {_times(most)}, twice the millimetres. The aperture’s finest "
            f"detail, {{{{ optics.rayleigh_limit }}}}, is easy to the eye from {_times(easy)} on")
    if has < easy.number:
        return f"{told}, more than any eyepiece here gives: the {strongest} leaves detail unseen on good nights."
    return f"{told}; more power makes it larger and dimmer, not finer."


def limits(design: Design) -> str:
    """How faint, by which form; how fine, and whether aperture or air decides."""
    look = looking(design)
    told = ["By the form 2 + 5 log D it shows stars as faint as {{ optics.limiting_magnitude }}. Forms in print "
            "lie far apart, so compare telescopes by one form only.",
            "In still air it tells two equal stars apart that stand {{ optics.rayleigh_limit }} from each other, after "
            "Rayleigh, or {{ optics.dawes_limit }} after Dawes, who went by experience."]
    if look.seeing is not None:
        seeing = number(look.seeing)
        told.append(f"In the usual seeing of {angle(seeing)} the air decides: it is "
                    f"{seeing / look.rayleigh.number:.1f} times as coarse. Only still moments show what the mirror can "
                    "do." if seeing > look.rayleigh.number else
                    f"The usual seeing of {angle(seeing)} is finer than that: here the aperture decides.")
    return " ".join(told)


def moon(design: Design) -> str:
    """The least crater in still air and in the usual."""
    look = looking(design)
    still = show_result(bodies.least_crater("still", look.rayleigh)).plain
    if look.coarser is None:
        return f"In still air the least crater that it tells from the ground about it is {still} wide."
    usual = show_result(bodies.least_crater("usual", look.coarser)).plain
    if look.coarser is look.rayleigh:
        return f"The least crater that it tells from the ground about it is {still} wide, in the usual air as in still."
    return (f"The least crater that it tells from the ground about it is {usual} wide in the usual air, and {still} in "
            "still moments. Look along the line between day and night, where shadows are long.")


def planets(design: Design) -> str:
    """How many elements lie across Jupiter."""
    look, across = looking(design), bodies.diameter_of(bodies.jupiter()).number
    told = (f"Jupiter at a mean opposition is {angle(across)} wide: {across / look.rayleigh.number:.0f} elements in "
            "still air")
    if look.coarser is not None and look.coarser is not look.rayleigh:
        told += f" and {across / number(look.coarser):.0f} in the usual air"
    return (f"{told}. The colours of planets are pale and their markings faint. What the table finds room for shows to "
            "a patient eye, a little at a time.")


def doubles(design: Design) -> str:
    """How many of the pairs are divided, and the closest."""
    look, there = looking(design), pairs.seen_from(design.build.conditions.latitude)
    if not there:
        return ""
    found = [(pair, *pairs.gaps("", look.pupil, pair, look.seeing)) for pair in there]
    still = _divided([pair for pair, gap, _ in found if gap.number >= pairs.CLEAR])
    told = f"Of {len(there)} well-known pairs it divides {still} in still air. "
    if look.seeing is not None:
        usual = _divided([pair for pair, _, gap in found if gap is not None and gap.number >= pairs.CLEAR])
        told += f"In long looks through seeing of {angle(number(look.seeing))} it divides {usual.rstrip(',')}. "
    return told + "Wait for the moments when the air is still: they decide what is seen."


def _divided(divided: list[Pair]) -> str:
    if not divided:
        return "none"
    closest = min(divided, key=lambda pair: pair.separation_arcsec)
    return f"{len(divided)}, the closest of them {closest.name} at {angle(closest.separation_arcsec)},"


def beside(design: Design) -> str:
    """What another aperture gains in light, and whether the air lets it gain in detail."""
    own, *others = compare.compared(design)
    if not others:
        return ""
    told = [f"An aperture of {size(design, number(each.aperture))} gathers "
            f"{compare.light_against(own, each).number:.2g} times the light." for each in others]
    told.append(compare.air_words(own.look, [each.look.rayleigh for each in (own, *others)]))
    return " ".join(filter(None, told))


def _times(power: Result) -> str:
    return f"{power.number:.0f} times"


def _share(value: float) -> str:
    return f"{100 * value:.0f}\u202f%"


def _live(name: str) -> str:
    return f"{{{{ eyepiece['{slug(name)}'].magnification }}}}"
