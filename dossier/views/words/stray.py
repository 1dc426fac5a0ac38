"""Whether the judged field sees anything but the mirror, answered for each way, with the least that shuts it."""

from __future__ import annotations

from dossier.design import Design
from dossier.notation import show

_SHIELD = "stray.shield_half_length"
# Stations nearer than this are one and the same to a builder.
_ONE_PLACE_MM = 0.05


def ways(design: Design) -> str:
    """Past the diagonal, over the sky end, past the primary's rim, through the frame: yes or no, and what shuts it."""
    if _SHIELD not in design.results:
        return ""
    told = (_past_the_diagonal(design), _over_the_front(design), _past_the_rim(design), _through_the_frame(design))
    listed = "\n".join(f"* {way}" for way in told if way)
    return f"Seen from any point of the judged field, outwards:\n\n{listed}\n\n{_cloth(design)}"


def _closed(design: Design) -> bool:
    return design.build.frame is not None and design.build.frame.kind == "tube"


def _station(design: Design, beyond_focuser_mm: float) -> str:
    return show(design.results["focuser.station"].number + beyond_focuser_mm, "mm",
                readers=design.build.readers).plain


def _past_the_diagonal(design: Design) -> str:
    half = design.results[_SHIELD].number
    place = f"from {_station(design, -half)} to {_station(design, half)} from the mirror’s vertex"
    if _closed(design):
        return ("**Past the diagonal: no sky, the tube is in the way.** What is seen of its wall opposite the focuser, "
                f"{{{{ {_SHIELD} }}}} each way along the tube from the focuser’s axis ({place}) and each way round, "
                "must be matt black.")
    return ("**Past the diagonal: yes**, whatever stands opposite the focuser, unless a dark shield stands before it. "
            f"The least shield reaches {{{{ {_SHIELD} }}}} each way along the tube from the focuser’s axis ({place}), "
            "and as far each way across.")


def _over_the_front(design: Design) -> str:
    results = design.results
    beyond = results.get("stray.shield_beyond_front")
    if beyond is None:
        return ""
    if not beyond.number > 0:
        return "**Over the edge of the sky end: no.** It stands far enough beyond the focuser."
    dark, least = results.get("stray.widest_dark_bore"), results.get("focuser.least_bore")
    other = ""
    if dark and least:
        fits = dark.number >= least.number
        other = (" Or stop the drawtube’s end down to {{ stray.widest_dark_bore }}." if fits else
                 " A stop in the drawtube is no way out: it would have to be {{ stray.widest_dark_bore }} wide; the "
                 "judged field needs {{ focuser.least_bore }}.")
    what = "the tube" if _closed(design) else "the shield"
    return ("**Over the edge of the sky end: yes**, open sky, beside the diagonal. "
            f"{what.capitalize()} must stand {{{{ stray.shield_beyond_front }}}} beyond the front.{other}")


def _past_the_rim(design: Design) -> str:
    ring = design.results["stray.mirror_ring"].number
    primary = design.build.primary
    glass = max(primary.aperture, primary.blank_diameter or 0.0)
    if ring <= glass:
        return "**Past the rim of the primary: no.** Nothing beside the glass is seen."
    if _closed(design):
        return ("**Past the rim of the primary: yes**, through the gap between the glass and the tube. Shut it with "
                "something black that lets air through, such as a plate a little behind the mirror.")
    return ("**Past the rim of the primary: yes**, all within a circle of {{ stray.mirror_ring }} in the plane of the "
            "mirror’s rim. A black ring of that diameter there shuts it; farther back it would have to be wider."
            + (" Black walls round the mirror, with what closes the frame, do the same." if design.build.frame else ""))


def _through_the_frame(design: Design) -> str:
    results = design.results
    if "stray.wall_top" in results:
        return ("**Through the tube: no.** By way of the diagonal its inside is seen up to {{ stray.wall_top }} from "
                "the mirror’s vertex, lit by the sky at a grazing angle: black it that far at least, or set rings.")
    top = results.get("stray.shroud_top")
    if top is None:
        return ""
    if top.number <= results["optics.sagitta"].number + _ONE_PLACE_MM:
        return "**Through the open frame: no.** By way of the diagonal nothing outside it is seen above the mirror."
    return ("**Through the open frame: yes**, below {{ stray.shroud_top }} from the mirror’s vertex. "
            f"{_shroud(design)}")


def _shroud(design: Design) -> str:
    results = design.results
    length, upper = results.get("stray.shroud_length"), results.get("frame.upper_fixing")
    if length is None:
        return "Close it from the mirror up to there with a shroud or a box."
    if not length.number > 0:
        return "That is below the frame’s lower fixing: walls round the mirror up to there are enough."
    whole = upper is not None and results["stray.shroud_top"].number > upper.number
    above = (" That is above the upper fixing, so the whole frame must be closed." if whole else
             " Above that a shroud only keeps off dew and breath.")
    return ("The least shroud closes {{ stray.shroud_length }}, from the frame’s lower fixing up to there; below the "
            f"fixing, down to the mirror, the telescope must be closed as well.{above}")


def _cloth(design: Design) -> str:
    """Whether cloth drawn tight round the poles keeps clear of the light."""
    taut, beam = (design.results.get(f"stray.{name}") for name in ("taut_radius", "beam_radius"))
    if taut is None or beam is None or not design.build.frame:
        return ""
    truss = design.build.frame.kind == "truss"
    poles = f"Cloth drawn tight round {'the upper nodes' if truss else f'{design.build.frame.count} poles'}"
    if taut.number >= beam.number:
        return f"{poles} keeps {{{{ stray.taut_radius }}}} from the axis, clear of the light."
    return (f"**{poles} would cut the light**: half-way between two of them it comes to {{{{ stray.taut_radius }}}} "
            "from the axis, and the light of the judged field needs {{ stray.beam_radius }} at the upper end. A shroud "
            "must stand round by its own stiffness, or on hoops.")
