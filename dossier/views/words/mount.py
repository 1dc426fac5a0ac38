"""Whether the telescope balances, stays where it is put, stands, and keeps an object in view: in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.asides.mount import Swing, loadings, swings
from dossier.design.asides.turning import rotation_inputs
from dossier.design.mount import NEAR_MM
from dossier.notation import show, show_result
from dossier.spec.defaults import slug
from dossier.working import Result

_KG_AS_G = 1000.0
# A hand on the telescope pushes several times as hard as is needed to move it, and a person who leans or holds on with
# more than this. Common practice, no source.
_FAR_ABOVE, _HOLDS_ON_N = 3.0, 50.0


def _length(design: Design, value_mm: float) -> str:
    return show(value_mm, "mm", readers=design.build.readers).plain


def _mass(design: Design, value_kg: float) -> str:
    """In grams where it is light."""
    readers = design.build.readers
    if readers.units == "metric" and value_kg < 1:
        return show(value_kg * _KG_AS_G, "g").plain
    return show(value_kg, "kg", readers=readers).plain


def _plain(result: Result, design: Design) -> str:
    return show_result(result, design.build.readers).plain


def tell(design: Design) -> str:
    """Where it balances and what cures an imbalance, whether the bearings hold it, what the mount carries."""
    return "\n\n".join(filter(None, (" ".join(_balance(design)), " ".join(_bearings(design)), " ".join(_load(design)))))


def _balance(design: Design) -> Iterator[str]:
    results = design.results
    arm, weight = results.get("balance.pivot_arm"), results.get("balance.counterweight")
    if "balance.station" not in results:
        return
    yield "Everything that has a mass and a station in the parts list balances at {{ balance.station }}."
    if "balance.across" in results:
        side = "towards the focuser" if results["balance.across"].number >= 0 else "away from the focuser"
        yield (f"Across the tube it lies {_length(design, abs(results['balance.across'].number))} off the axis, "
               f"{side}; which way that turns the telescope depends on how the focuser points.")
    elif arm is not None:
        yield ("No part says how far off the axis it lies, so that focuser and finder are reckoned as if they stood in "
               "the middle.")
    if arm is None:
        if design.build.mount is not None:
            yield "The spec does not say where the pivot is; that is where it should be."
        return
    if abs(arm.number) < NEAR_MM:
        yield "That is at the pivot: nothing needs a weight."
        return
    heavy = "front" if arm.number > 0 else "mirror’s end"
    yield (f"That is {_length(design, abs(arm.number))} {'beyond' if arm.number > 0 else 'short of'} the pivot: the "
           f"{heavy} is heavy.")
    cure = f"Move the pivot to {_plain(results['balance.station'], design)}"
    if weight is None:
        yield f"{cure}, or put a weight on the other side of it."
        return
    station = _length(design, _station(results["balance.counter_arm"]))
    yield f"{cure}, or put {_mass(design, weight.number)} at station {station}: either brings it into balance."


def _station(counter_arm: Result) -> float:
    value = counter_arm.inputs["counter_station_mm"].value
    return value[0] if isinstance(value, tuple) else value


def _bearings(design: Design) -> Iterator[str]:
    known = swings(design)
    share, push = design.results.get("rocker.hold_share"), design.results.get("rocker.push")
    if not known or share is None:
        if design.build.mount is not None and design.build.mount.kind == "rocker" and known:
            yield ("Whether friction holds that is not known: the spec does not say the bearings’ radius, friction and "
                   "pad angle.")
        return
    slips = [each for each in known if each.held is False]
    if not slips:
        yield ("**Friction holds it at every altitude.** The imbalance takes {{ rocker.hold_share }} of what the "
               "bearings can hold, level, where it is worst." if known[0].up is None else
               "**Friction holds it at every altitude**, whichever way the focuser points.")
    else:
        yield f"**Friction does not hold it {_where(slips)}.** {_cures(design)}"
    if push is not None and push.number > 0:
        yield "In balance it takes {{ rocker.push }} at the focuser to move it in altitude."
        yield from _exchange(design)


def _where(slips: list[Swing]) -> str:
    named = [f"{each.altitude_deg:.0f}°" for each in slips]
    return f"at {' and '.join(filter(None, (', '.join(named[:-1]), named[-1])))}"


def _cures(design: Design) -> str:
    above = design.results.get("rocker.holds_above")
    told = "It stays only above {{ rocker.holds_above }}. " if above is not None and above.number > 0 else ""
    return (f"{told}Balance it first; a larger bearing radius or pads farther apart hold more, and make it stiffer to "
            "move by the same factor.")


def _exchange(design: Design) -> Iterator[str]:
    """What putting eyepieces and finder on and off does."""
    friction = design.results["rocker.friction"].number
    kept = [(each.name, abs(each.moment.number) <= friction) for each in loadings(design) if each.moment is not None]
    if len(kept) < 2:
        return
    (_, listed), *others = kept
    changed = [name if name[1:2].isdigit() else name[:1].lower() + name[1:] for name, held in others if held != listed]
    if not changed:
        yield ("The same holds with every eyepiece and finder of the list on or off." if listed else
               "No eyepiece or finder of the list, on or off, changes that.")
    elif listed:
        yield f"Near the horizon friction does not hold it with other things on the tube: {'; '.join(changed)}."
    else:
        yield f"Friction does hold it with other things on the tube: {'; '.join(changed)}."


def _load(design: Design) -> Iterator[str]:
    results, mount = design.results, design.build.mount
    load = results.get("mount.load")
    if load is None or mount is None:
        return
    if "mount.load_share" not in results or mount.capacity is None:
        yield "The mount carries {{ mount.load }}; the spec does not say what it is made for."
        return
    share, half = results["mount.load_share"].number, _mass(design, mount.capacity / 2)
    two_thirds = _mass(design, 2 * mount.capacity / 3)
    yield "The mount carries {{ mount.load }}, {{ mount.load_share }} of its capacity."
    advice = (f"Common practice loads a mount to half of it for a camera ({half}) and to two thirds for the eye "
              f"({two_thirds})")
    if share <= 1 / 2:
        yield f"{advice}: it has enough in hand for both."
    elif share <= 2 / 3:
        yield f"{advice}: it will do for looking, and shake under a camera."
    elif share <= 1:
        yield f"{advice}: it carries more than that. It will stand, and shake at every touch and gust."
    else:
        yield f"{advice}: it carries more than it is made for. Take a stronger mount, or a lighter tube."


def tipping(design: Design) -> str:
    """Whether it can tip, what push does it, and the caution."""
    results, mount = design.results, design.build.mount
    margin = results.get("mount.tipping_margin")
    if mount is None or margin is None:
        return _silent(design)
    told = ["In the worst pointing the centre of mass of the whole telescope, mount and all, stands "
            "{{ mount.centre_stands_out }} from the upright axis. It tips over a line between two feet, and that is "
            "{{ mount.feet_reach }} away."]
    if margin.number <= 0:
        told.append("**It falls over by itself.** Set the feet farther out before anybody lets go of it.")
    else:
        told.append("**It stands at every pointing.**")
        push = results.get("mount.tipping_push")
        if push is not None and push.number > 0:
            told.append(_pushed(design, push))
    feet = [_feet(design)] if mount.feet == 3 else []
    return "\n\n".join((" ".join(told), " ".join((*feet, *_CAUTION))))


def _pushed(design: Design, push: Result) -> str:
    kilograms, moves = push.number / 9.80665, design.results.get("rocker.push")
    readers = design.build.readers
    whole = kilograms >= 1 or readers.units == "inch"
    like = (show(kilograms, "kg", readers=readers) if whole else show(1000 * kilograms, "g", readers=readers)).plain
    told = ("With the tube upright a level push of {{ mount.tipping_push }} at the focuser lifts its far feet, as much "
            f"as the weight of {like}, in the worst direction and where the bearings do not give way first.")
    if moves is not None and push.number < _FAR_ABOVE * moves.number:
        return (f"{told} **That is little more than the {{{{ rocker.push }}}} that move it in altitude.** Set the feet "
                "farther out, or the pivot lower.")
    return f"{told} Whoever holds on to it pulls harder than that." if push.number < _HOLDS_ON_N else told


def _feet(design: Design) -> str:
    mount = design.build.mount
    radius = mount.feet_radius if mount is not None else None
    if radius is None:
        return ""
    return ("Three feet never rock, but reach only half their circle’s radius: four on the same "
            f"{_length(design, radius)} would reach {_length(design, radius * 0.5**0.5)}.")


_CAUTION = ("A falling telescope hurts whoever tries to catch it, children above all. Push it gently at the top, every "
            "way, indoors, with somebody ready to hold it, before anybody else uses it; keep people from leaning on "
            "it; and where the public is let near, the rules of the place come first.",)


def _silent(design: Design) -> str:
    """Why nothing can be told of tipping, where there is something that could tip."""
    mount = design.build.mount
    if mount is None or mount.kind == "equatorial" or not {"mount.load", "balance.pivot_arm"} <= set(design.results):
        return ""
    missing = design.left_out.get("mount.tipping_margin", "")
    return " ".join(("Whether it stands at every pointing is not known"
                     f"{f': {missing}' if missing else ''}.", *_CAUTION))


def tracking(design: Design) -> str:
    """How long an object stays in view without tracking, and what tracking buys at the powers used on planets."""
    if design.build.mount is None:
        return ""
    return "\n\n".join(filter(None, (" ".join(_drift(design)), " ".join(_turning(design)))))


def _drift(design: Design) -> Iterator[str]:
    powers = [(design.results[f"eyepiece.{name}.magnification"], name) for name in _named(design)
              if {f"eyepiece.{name}.magnification", f"eyepiece.{name}.crossing_time"} <= set(design.results)]
    if not powers:
        return
    power, name = max(powers, key=lambda each: each[0].number)
    crossing = design.results[f"eyepiece.{name}.crossing_time"]
    half = show(crossing.number / 2, "s").plain
    yield (f"The sky turns by 15″ in a second. At {_plain(power, design)} times, the highest power of the list, a "
           f"planet near the celestial equator crosses the whole field in {_plain(crossing, design)}, and goes from "
           f"the middle to the edge in {half}.")
    nudges = 3600 / crossing.number
    if design.build.mount is not None and design.build.mount.tracking:
        yield (f"This mount follows it, and spares some {_round(nudges)} pushes an hour, each with seconds of shaking "
               "after it. The planet stays in the middle, where the image is best, and the eye has time to wait for "
               "the moments of steady air.")
    else:
        yield ("This mount does not follow: somebody sets it ahead and lets the planet drift through, some "
               f"{_round(nudges)} times an hour, and each push shakes for a while. Tracking would buy that time, for "
               f"waiting for steady air, for drawing, and for a queue of visitors. {_enough(nudges)}")


def _named(design: Design) -> list[str]:
    return [slug(piece.name) for piece in design.build.eyepieces]


def _round(value: float) -> str:
    return f"{float(f'{value:.1g}'):.0f}" if value < 10 else f"{5 * round(value / 5):.0f}"


def _enough(nudges: float) -> str:
    """Whether a hand can do it: a push each minute is what people bear at a planet. Common practice, no source."""
    if nudges <= 60:
        return "For looking at planets by yourself a smooth mount pushed by hand will do."
    return "A wide-angle eyepiece of the same focal length lengthens each pass without a motor."


def _turning(design: Design) -> Iterator[str]:
    mount = design.build.mount
    if mount is None or mount.kind is None:
        return
    if mount.kind == "equatorial":
        yield "Set up on the pole, an equatorial mount follows with one motor, and the field does not turn."
    elif rotation_inputs(design) is None:
        if design.build.conditions.latitude is None:
            yield "How fast the field of a camera would turn depends on the latitude, which the spec does not say."
    elif mount.tracking:
        yield ("A mount that follows in altitude and azimuth keeps the object in the middle, and the field turns about "
               "it. The eye does not mind; a camera does. Short exposures laid over each other by a program, turned "
               "back, are the way out.")
    else:
        yield ("If it were driven in altitude and azimuth, the field would turn about the object. The eye does not "
               "mind; the map and the table say what exposures a camera would bear. A drive about the polar axis does "
               "not turn the field.")
