"""The light's way: mirror, diagonal, focuser, field and eyepieces."""

from typing import Annotated, Literal

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


class Primary(Model):
    """The primary mirror."""

    aperture: Annotated[float, mm("Clear diameter of the mirror.", "150 mm")]
    focal_length: Annotated[float, mm("Paraxial focal length: half the vertex radius of curvature.", "1200 mm")]
    focal_length_tolerance: Annotated[float | None, mm(
        "How much the focal length may differ, to either side; for the mirror's drawing.", "12 mm",
        "not negative")] = None
    conic: Annotated[float, pure("Conic constant: 0 a sphere, -1 a paraboloid.", -1)] = -1.0
    blank_diameter: Annotated[float | None, mm("Outer diameter of the glass.", "152 mm")] = None
    edge_thickness: Annotated[float | None, mm("Thickness of the glass at its edge.", "25 mm")] = None
    chamfer: Annotated[float | None, mm("Width of the bevel at the rim of its face.", "0.5 mm", "not negative")] = None
    imperfections: Annotated[str | None, Text(
        "Scratches and digs that its face may have, as ISO 10110-7 writes them after 5/.", "3 x 0.4",
        r"[0-9A-Za-z×., ;]+", "a number of imperfections and their grade, such as 3 x 0.4", 60)] = None
    glass: Annotated[str | Material | None, ShelfOrMap(
        "Glass: a key of the material shelf, or its properties.", "borosilicate", Material)] = None
    surface_rms: Annotated[float | None, Quantity(
        "RMS error of the surface, from a test report.", "20 nm", "nm", "not negative")] = None
    reflectivity: Annotated[float | None, pure(
        "Share of the light that the coating reflects.", 0.88, "above zero", most=1)] = None
    tilt: Annotated[float | None, Quantity(
        "How far its axis stands off when it is collimated as well as it will be.", "2 arcmin", "arcmin", "")] = None


class Diagonal(Model):
    """The flat that turns the light out of the tube."""

    minor_axis: Annotated[float, mm("Minor axis of the ellipse.", "35 mm")]
    thickness: Annotated[float | None, mm("Thickness of the glass.", "8 mm")] = None
    holder_diameter: Annotated[float | None, mm(
        "Diameter of its holder, seen along the axis; the minor axis where left out.", "35 mm")] = None
    holder_length: Annotated[float | None, mm(
        "Length of its holder along the axis, from the tip of the sloping face to the end at the sky.", "45 mm")] = None
    reflectivity: Annotated[float | None, pure(
        "Share of the light that the coating reflects.", 0.88, "above zero", most=1)] = None
    offset: Annotated[Literal["full", "none"] | float | None, WordOr(
        "How far it stands towards the primary and away from the focuser: the full offset, none, or a length.", "full",
        ("full", "none"), mm("An offset.", "2 mm", "not negative"))] = None


class Spider(Model):
    """What holds the diagonal."""

    vanes: Annotated[int | None, Whole("Number of vanes.", 3, most=24)] = None
    vane_thickness: Annotated[float | None, mm("Thickness of one vane, seen along the axis.", "0.8 mm")] = None
    vane_depth: Annotated[float | None, mm("Depth of one vane, along the axis.", "25 mm")] = None
    vane_section: Annotated[Literal["strip", "rod"] | None, Choice(
        "A flat strip, or a round rod as thick as it is deep; one rod from wall to wall counts as two vanes.", "strip",
        ("strip", "rod"))] = None
    hub: Annotated[float | None, mm("Diameter of the hub that the vanes are fixed to.", "25 mm")] = None
    turned: Annotated[float | None, deg(
        "Angle of the first vane about the axis, from the focuser's side, clockwise seen from the sky.",
        "60 deg", -360, 360)] = None
    station: Annotated[float | None, mm("Station of the screws that hold the vanes.", "780 mm")] = None
    hole: Annotated[float | None, mm("Diameter of the hole in the tube for a vane's screw.", "4.5 mm")] = None


class Board(Model):
    """The board that the focuser is screwed to, seen from outside."""

    length: Annotated[float | None, mm("Along the optical axis.", "130 mm")] = None
    width: Annotated[float | None, mm("Across the optical axis.", "90 mm")] = None
    below: Annotated[float | None, mm(
        "From the middle of its hole to its end nearer to the mirror; half its length where left out.", "65 mm")] = None
    thickness: Annotated[float | None, mm("Its thickness.", "8 mm")] = None


class FocuserScrews(Model):
    """The holes for the focuser's screws about the middle of its own, on a circle or at a rectangle's corners."""

    count: Annotated[int | None, Whole("Number of them; four where they stand at corners.", 4, most=24)] = None
    circle_radius: Annotated[float | None, mm("Middle of the hole to their centres.", "34 mm")] = None
    turned: Annotated[float | None, deg(
        "Angle of the first on that circle, from the sky's side, clockwise seen from outside.", "45 deg",
        -360, 360)] = None
    along: Annotated[float | None, mm("Between two of them along the optical axis.", "48 mm")] = None
    across: Annotated[float | None, mm("Between two of them across the optical axis.", "48 mm")] = None
    diameter: Annotated[float | None, mm("Diameter of their holes.", "4.5 mm")] = None


class Focuser(Model):
    """The focuser, measured from the optical axis outwards."""

    mounting_radius: Annotated[float, mm("Optical axis to the face that the focuser is screwed to.", "100 mm")]
    height: Annotated[float, mm("That face to the eyepiece shoulder, racked fully in.", "50 mm")]
    travel: Annotated[float | None, mm("How far it racks out.", "30 mm")] = None
    drawn_out: Annotated[float | None, mm(
        "How far it is drawn out when the focal plane is at the shoulder; half the travel where left out.", "12 mm",
        "not negative")] = None
    bore: Annotated[float | None, mm("Clear inner diameter of the drawtube.", "31.75 mm")] = None
    drawtube: Annotated[float | None, mm("Shoulder to the drawtube's inner end.", "60 mm")] = None
    hole: Annotated[float | None, mm("Diameter of the hole in tube or board that the drawtube passes.", "42 mm")] = None
    board: Annotated[Board | None, Section("The board that it is screwed to, where there is one.")] = None
    screws: Annotated[FocuserScrews | None, Section(
        "The holes for its screws.", {"along": "48 mm", "across": "48 mm", "diameter": "4.5 mm"})] = None


class Field(Model):
    """Diameters in the focal plane that the design must serve."""

    full: Annotated[float | None, mm("Diameter to be fully lit.", "8 mm", "not negative")] = None
    judged: Annotated[float | None, mm(
        "Diameter to be judged; the largest field stop where left out, else 12 mm.", "24 mm")] = None


class Eyepiece(Model):
    """One eyepiece that the telescope is used with."""

    name: Annotated[str, Text("Its name.", "25 mm Plössl", longest=80)]
    focal_length: Annotated[float | None, mm("Focal length.", "25 mm")] = None
    apparent_field: Annotated[float | None, deg("Apparent field of view.", "50 deg", 1, 150)] = None
    field_stop: Annotated[float | None, mm("Diameter of the field stop.", "21.2 mm")] = None
    stop_shift: Annotated[float | None, signed_mm(
        "How far the field stop lies inside the shoulder, towards the diagonal.", "0 mm")] = None
    mass: Annotated[float | None, Quantity("Mass, for balance.", "0.11 kg", "kg")] = None
    shared: Annotated[bool | None, Flag(
        "Whether several telescopes share it, so that it does not go out with each.", True)] = None


class Bench(Model):
    """Knife-edge readings of the finished mirror, from a measured file."""

    source: Annotated[Literal["moving", "fixed"], Choice(
        "Whether the light source moves with the knife.", "moving", ("moving", "fixed"))]
    zones: Annotated[tuple[float, ...], Several(
        "Radii of the zones, inner first.", ["30 mm", "50 mm", "70 mm"], mm("One radius.", "30 mm"), 3)]
    readings: Annotated[tuple[float, ...], Several(
        "Position of the knife for each zone, positive away from the mirror.", ["0 mm", "0.16 mm", "0.35 mm"],
        signed_mm("One position.", "0.16 mm"), 3)]
