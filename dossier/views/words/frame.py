"""Whether the frame stays true, in sentences: sag, play, swaying, warmth, and whether another material would help."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design
from dossier.design.asides.frame import Choice, choices
from dossier.design.asides.pushes import HAND, Moved, evening, moves
from dossier.notation import show, show_result
from dossier.notation.given import show_given
from dossier.views.goals import within
from dossier.working import Result

# Below this a loss of Strehl ratio is nothing that anybody sees; above the other it is the air's own good night.
_UNSEEN, _SEEN = 0.01, 0.05
# Below this its digits say nothing.
_NOTHING = 0.0005
_TWICE = 1.5
_ALIKE = " in the same section"


def tell(design: Design) -> str:
    """The words on the frame; empty where nothing of it was worked out."""
    if design.build.frame is None:
        return ""
    known = {each.key: each for each in moves(design)}
    return "\n\n".join(filter(None, (
        " ".join(_weight(design, known.get("weight"))), " ".join(_play(design, known.get("play"))),
        " ".join(_shaken(design, known)), " ".join(_warmth(design)), " ".join(_why(design)))))


def _plain(result: Result, design: Design) -> str:
    return show_result(result, design.build.readers).plain


def _weight(design: Design, weight: Moved | None) -> Iterator[str]:
    if weight is None:
        if "frame.sag" in design.left_out:
            yield f"How far it sags is not known: {design.left_out['frame.sag']}."
        return
    yield ("From overhead to the horizon the upper end moves {{ frame.sag }} across and turns {{ frame.tilt }}, and "
           "collimation wanders with it.")
    share = design.results.get("frame.collimation_share")
    if share is None:
        return
    lost = weight.lost.number
    end = ": nobody sees it." if lost < _UNSEEN else ": a planet at high power shows it." if lost < _SEEN else (
        ". Collimate at the altitude where you observe, or stiffen the frame.")
    cost = f"{show(lost, '', result_id=weight.lost.id).plain} of" if lost >= _NOTHING else "next to nothing of the"
    yield ("That is {{ frame.collimation_share }} of the coma-free radius and costs "
           f"{cost} Strehl ratio at most{end}")
    if share.goal and share.goal.outcome(share.number) == "misses":
        yield f"It is more than the limit of {show(share.goal.limit, '').plain}. A wider section helps most."


def _play(design: Design, play: Moved | None) -> Iterator[str]:
    frame = design.build.frame
    if frame is None or frame.kind == "tube" or "frame.sag" not in design.results:
        return
    if frame.joint_play is None:
        yield ("The joints are taken as fast. Take hold of the upper end and rock it: what you feel is play, and it "
               "moves the image at once, where sag moves it slowly.")
    elif play is not None and play.share is not None:
        room = show(frame.joint_play, "mm", readers=design.build.readers).plain
        yield (f"Play of {room} in the joints lets the middle of the field move by {_plain(play.image, design)}, "
               f"{_plain(play.share, design)} of the coma-free radius.")
        sag = design.results["frame.sag"].number
        yield ("That is more than the sag: tighten the joints before anything else."
               if play.image.number > sag else "That is less than the sag.")


def _shaken(design: Design, known: dict[str, Moved]) -> Iterator[str]:
    frequency, hand, wind = design.results.get("frame.frequency"), known.get("hand"), known.get("wind")
    if frequency is not None:
        missed = frequency.goal and frequency.goal.outcome(frequency.number) == "misses"
        yield "Knocked, it swings at {{ frame.frequency }}" + (
            ", too slow: every touch shakes the image." if missed else ", which is fast enough.")
    if hand is not None:
        rest = f", which stands still again after about {_plain(hand.rest, design)}" if hand.rest else ""
        push = show(HAND.value, "n", readers=design.build.readers).plain
        yield f"A push of {push} at the focuser moves a star by {_plain(hand.star, design)}{rest}."
    if wind is not None:
        star, seeing = wind.star.number, design.build.conditions.seeing
        speed = wind.amount.value if wind.amount else None
        of = f" of {show_given(speed, 'm_per_s', design.build.readers).plain}" if isinstance(speed, float) else ""
        yield f"In a wind{of} a star moves by {_plain(wind.star, design)} at most" + (
            "." if seeing is None else ", less than the air itself moves it." if star < seeing
            else ", more than the air itself moves it.")


def _warmth(design: Design) -> Iterator[str]:
    known = evening(design)
    if known is None:
        return
    drift, depth = known
    times = abs(drift.number) / depth.number
    often = f"{times:.0f} times" if times >= _TWICE else "once or twice"
    where = design.build.conditions
    cools = where.stored_at is None or where.used_at is None or where.stored_at >= where.used_at
    yield (f"As it {'cools' if cools else 'warms'} to the night air the focus moves by {_plain(drift, design)}")
    yield (f"against a depth of focus of {_plain(depth, design)} each way: nothing to refocus." if times < 1
           else f"against a depth of focus of {_plain(depth, design)} each way: touch the focuser now and then, about "
                f"{often} in the evening.")


def _why(design: Design) -> Iterator[str]:
    known = choices(design)
    if len(known) < 2 or (not known[0].misses and "frame.sag" not in known[0].results):
        return
    own, others = known[0], known[1:]
    if own.misses:
        cures = [each for each in others if "frame.sag" in each.results and not each.misses]
        yield (f"The frame as chosen misses a limit ({'; '.join(map(within, own.misses))}). " + (
            f"Of the others in the table {_named(cures)} would meet it." if cures
            else "None of the others in the table would meet it: widen the section or shorten it."))
        return
    stiffer = [each for each in others if _sag(each) < _sag(own)]
    yield "The frame as chosen meets its limits."
    if stiffer:
        yield f"{_named(stiffer)} would sag less, which no limit asks for."
    worse = [each for each in others if each.misses]
    if worse:
        yield f"{_named(worse)} would not meet them."


def _sag(choice: Choice) -> float:
    return choice.results["frame.sag"].number if "frame.sag" in choice.results else float("inf")


def _named(of: list[Choice]) -> str:
    """The choices in a row; with semicolons where a name has a comma of its own. What the next ends in as well is said
    once."""
    spoken = [each.spoken if at == 0 else each.spoken[:1].lower() + each.spoken[1:] for at, each in enumerate(of)]
    *most, last = (name.removesuffix(_ALIKE) if after.endswith(_ALIKE) else name
                   for name, after in zip(spoken, (*spoken[1:], ""), strict=True))
    if len(most) < 2:
        return " and ".join((*most, last))
    between = "; " if any(", " in name for name in (*most, last)) else ", "
    return f"{between.join(most)}{'; and' if between == '; ' else ' and'} {last}"
