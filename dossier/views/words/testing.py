"""What to look for in a star and at the bench, in words a builder can act on."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.design import Design, pictures
from dossier.design.asides import testing
from dossier.drawings.numerals import plain, plain_length
from dossier.notation import show

# A wavefront from peak to valley below which the two sides of focus look alike to the eye, waves: common practice.
_ALIKE = 0.06
_SMALL_MM = 0.01


def star_test(design: Design) -> str:
    """How far to move the eyepiece, what this mirror should show, and what faults look like."""
    return "\n\n".join((_how(design), _own_figure(design), _FAULTS + "\n" + "\n".join(f"* {fault}" for fault in
                                                                                   _faults(design))))


def _how(design: Design) -> str:
    one, five = (show(testing.star_shift(design, waves).number, "mm", result_id="testing.star_shift",
                      readers=design.build.readers).plain for waves in (1.0, 5.0))
    cooled = (" Wait until the mirror has cooled: {{ thermal.settling_time }} by the plan."
              if "thermal.settling_time" in design.results else " Wait until the mirror has cooled.")
    return (f"Take the eyepiece of the highest power and a bright star high in the sky, and bring it to the middle of "
            f"the field.{cooled} One wave of defocus is {one} of the eyepiece’s way; rack **{five} inwards and {five} "
            "outwards** from the sharpest focus for the five waves of the pictures. Look at the same number of rings "
            "on both sides, and compare the one side with the other, not with a memory. Nothing of this is ever done "
            "on the Sun.")


def _own_figure(design: Design) -> str:
    conic, valley = pictures.light_of(design).mirror.conic, design.results["figure.wavefront_pv"].number
    whose = "as the bench found it" if "bench.conic" in design.results else "as planned"
    if valley < _ALIKE:
        return (f"This mirror, {whose}, is so near the paraboloid that both sides look alike. Whatever differs "
                "between them is a fault: of the glass, of what holds it, or of the air.")
    near, far = (("inside", "outside") if conic > -1 else ("outside", "inside"))
    kind = "undercorrected: its rim focuses short of its middle" if conic > -1 else (
        "overcorrected: its rim focuses beyond its middle")
    return (f"This mirror, {whose}, is {kind}, by {{{{ figure.wavefront_pv }}}} from peak to valley. So the two sides "
            f"are *not* alike, and need not be: {near} focus the outermost ring is bright and hard, {far} focus the "
            "light lies nearer the middle and the edge is soft. Compare with the pictures of this mirror; beside or "
            "under each stands a perfect one. More difference than they show is a fault, the opposite difference too.")


_FAULTS = "What else a star shows (common practice, no source):\n"


def _faults(design: Design) -> Iterator[str]:
    clips = (design.build.cell.clips.count if design.build.cell and design.build.cell.clips else None) or 3
    corners = {3: "three corners, or six", 4: "four corners", 6: "six corners"}.get(clips, f"{clips} corners")
    yield (f"**Rings with corners**, {corners}, the same on both sides of focus: the mirror is pinched. Loosen the "
           "clips until paper slides under them.")
    yield ("**The shadow off the middle of the disc**, rings wider on one side: the mirrors are tilted against one "
           "another. Collimate first; no other fault can be judged before.")
    yield ("**An oval that lies the other way on the other side of focus**: astigmatism, of the mirror, its support or "
           "the diagonal. Turn the mirror in its cell: if the oval turns along, it is the glass; turn your head to "
           "leave out the eye.")
    yield ("**A hairy, washed-out outer ring inside focus, a crisp one outside**: a turned-down edge. Mask the outer "
           "millimetres with a ring of black card and look again.")
    yield "**One ring brighter or missing on one side, and the reverse on the other**: a raised or a deep zone."
    yield ("**A bulge or a flat on the upper side, plumes that crawl across**: warm air in the tube or off the mirror. "
           "Wait.")
    yield "**The whole disc boils and runs**: the air outside. Try another night, or a star higher up."


def zones(design: Design) -> str:
    """Where to stand, what to expect, and how to hand readings in."""
    return "\n\n".join((_where(design), _expected(design), _pictured(design), _PRACTICE, _handed_in(design)))


def _where(design: Design) -> str:
    mask, mirror, readers = pictures.zone_mask_of(design), pictures.light_of(design).mirror, design.build.readers
    away = plain_length(mirror.radius_mm, readers)
    return (f"The lamp and the knife stand at the mirror’s centre of curvature, {away} from its face, twice the focal "
            f"length. The mask has {len(mask.centres_mm)} zones of equal area; those nearer to the middle than the "
            "edge of the diagonal’s shadow are left out, since no starlight comes from there.")


def _expected(design: Design) -> str:
    planned, readers = design.build.primary.conic, design.build.readers
    moving, fixed, parabola = _spans(design)
    length = [show(abs(each), "mm", result_id="testing.reading", readers=readers).plain for each in (moving, fixed)]
    if planned == 0:
        told = ("A sphere has nothing to read: every zone turns grey at the same place, at **zero** difference, with "
                "the source moving or standing still. What you find is a fault, and its sign says which: readings that "
                "grow outwards lie towards the paraboloid.")
    else:
        way = "away from the mirror" if moving > 0 else "towards the mirror"
        told = (f"From the first zone to the last the knife moves **{length[0]}** {way} with the source beside it, and "
                f"**{length[1]}** with the source standing still.")
    step, worth = plain_length(_SMALL_MM, readers), plain(float(f"{_SMALL_MM / parabola:.2g}"), "")
    return (f"{told} With the source moving, {step} more or less between first and last zone is {worth} more or "
            "less of conic.")


def _spans(design: Design) -> tuple[float, float, float]:
    """How far the knife moves from the first zone to the last: as planned with the source moving and still, and for a
    paraboloid with the source moving; mm."""
    aside = testing.zones(design)
    first, last = aside.rows[0].entries, aside.rows[-1].entries
    ways = [testing.number(end) - testing.number(start) for start, end in zip(first[3:], last[3:], strict=True)]
    return ways[0], ways[1], ways[0] if design.build.primary.conic == -1 else ways[-2]


def _pictured(design: Design) -> str:
    made, readers = pictures.bench_pictures(design), design.build.readers
    grating, knife = ([_place(at, design) for at in row.positions_mm] for row in (made.ronchi, made.knife))
    slit = plain_length(made.slit_mm, readers)
    return (f"The Ronchi pictures are for {made.lines_per_mm:g} lines per millimetre with the grating "
            f"{_listed(grating)}; the knife-edge pictures for a slit of {slit} with the knife {_listed(knife)}. All "
            "places are from the vertex’s centre of curvature; outside is away from the mirror.")


def _place(at: float, design: Design) -> str:
    if abs(at) < 5e-4:
        return "at the centre"
    length = plain_length(float(f"{abs(at):.2g}"), design.build.readers)
    return f"{length} {'outside' if at > 0 else 'inside'}"


_PRACTICE = (
    "Let the glass come to the room’s temperature, an hour and more after every handling. Read each zone three times, "
    "coming from the same side, and write down the mean. Then turn the mirror by a quarter and read again: readings "
    "that change with the turn are astigmatism or a bent mirror, which no conic describes (common practice, no "
    "source).")


def _handed_in(design: Design) -> str:
    mask = pictures.zone_mask_of(design)
    radii = ", ".join(f"{centre:.1f} mm" for centre in mask.centres_mm)
    empty = ", ".join("0.00 mm" for _ in mask.centres_mm)
    return ("Write what you read into a file, positions away from the mirror positive, and hand it to the program with "
            "`--measured`; the mirror you have then stands for the planned one on every sheet:\n\n"
            f"```yaml\nbench:\n  source: moving   # or: fixed\n  zones: [{radii}]\n  readings: [{empty}]\n```")


def _listed(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}"
