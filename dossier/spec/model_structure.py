"""What carries the optics: frame, front, mirror cell, cooling and mount."""

from typing import Annotated, Literal

from pydantic import Field

from dossier.spec.base import Model
from dossier.spec.entries import (
    Choice,
    Flag,
    Quantity,
    Section,
    Several,
    ShelfOrMap,
    Text,
    Whole,
    WordOr,
    deg,
    mm,
    pure,
    signed_mm,
)
from dossier.spec.model_material import Material


class Hole(Model):
    """A hole drilled in the tube, or one in each pole."""

    from_end: Annotated[float, mm("Its centre from the end that it is measured from.", "12 mm")]
    end: Annotated[Literal["lower", "upper"] | None, Choice(
        "Which end that is; the lower where left out.", "lower", ("lower", "upper"))] = None
    diameter: Annotated[float, mm("Its diameter.", "6.5 mm")]
    turned: Annotated[float | None, deg(
        "Its angle about the tube’s axis, from the focuser's side, clockwise seen from the sky; about a pole's own "
        "axis, from its outer side.", "90 deg", -360, 360)] = None
    through: Annotated[bool | None, Flag("Whether it goes through both walls.", True)] = None
    for_: Annotated[str | None, Text("What it is for, in a few words.", "M6 bolt", longest=40)] = Field(
        default=None, alias="for")


class Frame(Model):
    """The tube, the poles or the truss between mirror and diagonal."""

    kind: Annotated[Literal["tube", "poles", "truss"], Choice(
        "A solid tube, parallel poles, or a truss.", "poles", ("tube", "poles", "truss"))]
    material: Annotated[str | Material | None, ShelfOrMap(
        "A key of the material shelf, or its properties.", "aluminium-6061", Material)] = None
    outer_diameter: Annotated[float | None, mm("Of one pole; of the tube where kind is tube.", "20 mm")] = None
    inner_diameter: Annotated[float | None, mm(
        "Of one pole, 0 mm where solid; of the tube.", "17 mm", "not negative")] = None
    length: Annotated[float | None, mm("Free length between its fixings.", "900 mm")] = None
    end_fittings: Annotated[float | None, signed_mm(
        "From either end of a pole’s tube out to its fixing, such as a tongue’s bolt; below zero where the tube goes "
        "on past it.", "20 mm")] = None
    count: Annotated[int | None, Whole("Number of poles.", 3, most=64)] = None
    circle_radius: Annotated[float | None, mm(
        "Optical axis to the poles' centres; of a truss, to its lower nodes.", "115 mm")] = None
    upper_circle_radius: Annotated[float | None, mm(
        "Optical axis to a truss's upper nodes; as the lower where left out.", "115 mm")] = None
    upper_mass: Annotated[float | None, Quantity(
        "Mass carried at the upper end; the parts beyond the upper fixing where left out.", "0.9 kg", "kg",
        "not negative")] = None
    lower_fixing: Annotated[float | None, signed_mm("Station of the lower fixing.", "60 mm")] = None
    joint_play: Annotated[float | None, mm("Play of one joint along the pole.", "0.1 mm", "not negative")] = None
    turned: Annotated[float | None, deg(
        "Angle of the first pole, of a truss of its first upper node, about the axis from the focuser's side, "
        "clockwise seen from the sky.", "60 deg", -360, 360)] = None
    holes: Annotated[tuple[Hole, ...], Section("Holes drilled in the tube, or in each pole.", [
        {"end": "lower", "from_end": "12 mm", "diameter": "6.5 mm", "through": True, "for": "M6 bolt"}])] = ()


class Front(Model):
    """The end that looks at the sky."""

    opening: Annotated[float | None, mm("Clear diameter.", "176 mm")] = None
    station: Annotated[float | None, mm("Its station.", "1150 mm")] = None


class Spring(Model):
    """One spring of the cell: its rate, or the wire it is wound from."""

    rate: Annotated[float | None, Quantity("Force for each length of compression.", "1.2 N/mm", "n_per_mm")] = None
    wire: Annotated[float | None, mm("Diameter of the wire.", "1 mm")] = None
    mean_diameter: Annotated[float | None, mm("Mean diameter of the coil.", "9 mm")] = None
    active_coils: Annotated[float | None, pure("Coils that give way.", 6, "above zero", most=200)] = None
    material: Annotated[str | Material | None, ShelfOrMap(
        "A key of the material shelf, or its properties.", "spring-steel", Material)] = None
    count: Annotated[int | None, Whole("Springs side by side at one adjuster.", 1, most=12)] = None
    free_length: Annotated[float | None, mm("Length without load.", "20 mm")] = None
    compressed_to: Annotated[float | None, mm("Length when mounted.", "14 mm")] = None


class Push(Model):
    """The adjusters that push the mirror or its plate forward."""

    count: Annotated[int | None, Whole("Number of them.", 3, most=60)] = None
    radius: Annotated[float | None, mm("Optical axis to their centres.", "50 mm", "not negative")] = None
    turned: Annotated[float | None, deg("Angle of the first about the axis.", "0 deg", -360, 360)] = None
    pitch: Annotated[float | None, mm(
        "Pitch of the adjusting screws’ thread: how far one turn moves it.", "1 mm")] = None
    diameter: Annotated[float | None, mm("Diameter of the adjusting screws.", "6 mm")] = None
    hole: Annotated[float | None, mm("Diameter of the holes that the adjusting screws pass.", "6.6 mm")] = None
    length: Annotated[float | None, mm(
        "Length of the adjusting screws, from the front face of the plate that they go through.", "60 mm")] = None
    against: Annotated[Literal["glass", "plate"] | None, Choice(
        "What they bear on.", "glass", ("glass", "plate"))] = None
    overhang: Annotated[float | None, signed_mm(
        "Centre of mass of what moves to the plane of the springs.", "15 mm")] = None
    spring: Annotated[Spring | None, Section(
        "The spring of one adjuster.", {"rate": "1.2 N/mm", "free_length": "20 mm", "compressed_to": "14 mm"})] = None
    force: Annotated[float | None, Quantity(
        "Force of one adjuster where no spring sets it, as of a screw turned too far.", "4 N", "n",
        "not negative")] = None


class Clips(Model):
    """What keeps the mirror from falling forward."""

    count: Annotated[int | None, Whole("Number of them.", 3, most=60)] = None
    radius: Annotated[float | None, mm("Optical axis to where they touch.", "72 mm")] = None
    turned: Annotated[float | None, deg("Angle of the first about the axis.", "60 deg", -360, 360)] = None
    clearance: Annotated[float | None, mm("Gap between each and the glass.", "0.3 mm", "not negative")] = None
    thickness: Annotated[float | None, mm("Thickness along the axis.", "3 mm")] = None
    overlap: Annotated[float | None, mm(
        "How far each reaches over the glass; to where it touches where left out.", "2 mm")] = None
    length: Annotated[float | None, mm("From its tip over the glass to its outer end.", "15 mm")] = None
    width: Annotated[float | None, mm("Width along the rim.", "20 mm")] = None


class Plate(Model):
    """The plate that carries the supports: the adjusters push it, and never the glass."""

    thickness: Annotated[float | None, mm("Its thickness.", "12 mm")] = None
    diameter: Annotated[float | None, mm("Across, of a round one.", "180 mm")] = None
    side: Annotated[float | None, mm("Across, of a square one.", "180 mm")] = None
    hole: Annotated[float | None, mm("Diameter of the hole in its middle.", "56 mm")] = None
    pivot_hole: Annotated[float | None, mm(
        "Diameter of the holes for the pivots of bars or triangles.", "6.6 mm")] = None
    behind: Annotated[float | None, mm(
        "From the glass's back to its front face: pads, levers and what they stand on.", "5 mm", "not negative")] = None


class Posts(Model):
    """What the glass leans on when the tube is low."""

    count: Annotated[int | None, Whole("Number of them.", 3, most=60)] = None
    turned: Annotated[float | None, deg("Angle of the first about the axis.", "0 deg", -360, 360)] = None
    clearance: Annotated[float | None, mm("Gap between each, lining and all, and the glass.", "0.5 mm",
                                          "not negative")] = None
    lining: Annotated[float | None, mm("Thickness of what lines each, such as cork.", "2 mm", "not negative")] = None
    reach: Annotated[float | None, mm("Optical axis to the outer face of each.", "90 mm")] = None
    width: Annotated[float | None, mm("Width along the rim.", "20 mm")] = None
    height: Annotated[float | None, mm("Height of each above the plate's front face.", "30 mm")] = None


class Cell(Model):
    """What holds the primary."""

    points: Annotated[Literal[3, 6, 9, 18] | None, Whole(
        "Number of supports under the mirror.", 3, among=(3, 6, 9, 18))] = None
    rings: Annotated[Literal["best"] | tuple[float, ...] | None, WordOr(
        "Radii of the supports, inner first; or best.", "best", ("best",),
        Several("Radii of the supports.", ["30 mm", "62 mm"], mm("One radius.", "30 mm"), 1))] = None
    push: Annotated[Push | None, Section(
        "The sprung adjusters.", {"count": 3, "radius": "50 mm", "turned": "0 deg", "against": "glass",
        "overhang": "15 mm", "spring": {"rate": "1.2 N/mm", "free_length": "20 mm", "compressed_to": "14 mm"}})] = None
    clips: Annotated[Clips | None, Section("The clips or stops at the front.")] = None
    plate: Annotated[Plate | None, Section("The plate between adjusters and supports.")] = None
    posts: Annotated[Posts | None, Section("The posts at the glass's edge.")] = None
    moving_mass: Annotated[float | None, Quantity(
        "Mirror and what moves with it; the parts marked on_springs, else the mirror, where left out.", "1.1 kg",
        "kg")] = None


class Cooling(Model):
    """Heat that the mirror's faces give to the air."""

    front: Annotated[float | None, Quantity(
        "Heat transfer of the front face.", "8 W/m^2/K", "w_per_m2_k", "not negative")] = None
    back: Annotated[float | None, Quantity(
        "Heat transfer of the back face; a fan raises it.", "8 W/m^2/K", "w_per_m2_k", "not negative")] = None


class Bearing(Model):
    """The altitude bearings of a rocker."""

    radius: Annotated[float | None, mm("Radius of the bearing.", "120 mm")] = None
    friction: Annotated[float | None, pure("Coefficient of friction.", 0.12, "not negative", most=2)] = None
    pad_angle: Annotated[float | None, deg("Each pad's angle from straight below the axis.", "35 deg", 0, 89)] = None
    pad_length: Annotated[float | None, mm("Length of a pad along the bearing's rim.", "20 mm")] = None
    pad_thickness: Annotated[float | None, mm("Thickness of a pad, from the board to the bearing.", "5 mm")] = None
    notch: Annotated[Literal["round", "square"] | None, Choice(
        "Shape of the notch that it lies in: round, or two straight sides that it touches.", "round",
        ("round", "square"))] = None


class Rocker(Model):
    """The box of boards in which a telescope rocks: two sides, a front between them, a floor under all three."""

    thickness: Annotated[float | None, mm("Thickness of its boards.", "12 mm")] = None
    width: Annotated[float | None, mm("Width of a side, across the altitude axis.", "300 mm")] = None
    height: Annotated[float | None, mm("Height of a side, from the floor's upper face.", "390 mm")] = None
    between: Annotated[float | None, mm("Clear width between the sides.", "268 mm")] = None
    front: Annotated[float | None, mm("Height of the front, from the floor's upper face.", "300 mm")] = None


class Ground(Model):
    """The board that stays on the ground while the rocker turns on it."""

    thickness: Annotated[float | None, mm("Its thickness.", "12 mm")] = None
    diameter: Annotated[float | None, mm("Across, of a round one.", "400 mm")] = None
    side: Annotated[float | None, mm("Across, of a square one.", "340 mm")] = None


class Mount(Model):
    """What points the telescope."""

    kind: Annotated[Literal["rocker", "altaz", "equatorial"] | None, Choice(
        "Kind of mount.", "altaz", ("rocker", "altaz", "equatorial"))] = None
    tracking: Annotated[bool | None, Flag("Whether it follows the sky by itself.", True)] = None
    capacity: Annotated[float | None, Quantity("Mass that its maker allows.", "6 kg", "kg")] = None
    pivot: Annotated[float | None, signed_mm("Station of the altitude axis.", "420 mm")] = None
    pivot_height: Annotated[float | None, mm("Altitude axis above the ground.", "900 mm")] = None
    offset: Annotated[float | None, mm(
        "Upright axis to the tube's axis, as on a mount with one arm; 0 mm for a rocker where left out.", "150 mm",
        "not negative")] = None
    feet_radius: Annotated[float | None, mm("Upright axis to the feet.", "300 mm")] = None
    feet: Annotated[int | None, Whole("Number of feet.", 3, 3, 12)] = None
    feet_height: Annotated[float | None, mm("Height of a foot, from the ground to the board on it.", "24 mm")] = None
    floor: Annotated[float | None, mm("Rocker's floor, or whatever the tube swings over, above the ground.", "50 mm",
                                      "not negative")] = None
    tail: Annotated[float | None, signed_mm(
        "Station of the hindmost edge that swings; the tube's lower end where left out.", "-100 mm")] = None
    tail_radius: Annotated[float | None, mm(
        "How far that edge stands from the optical axis; the tube's radius where left out.", "131 mm")] = None
    bearing: Annotated[Bearing | None, Section("The altitude bearings of a rocker.")] = None
    rocker: Annotated[Rocker | None, Section("The rocker's boards.")] = None
    ground: Annotated[Ground | None, Section("The ground board.")] = None
