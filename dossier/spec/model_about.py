"""Who publishes the build, for whom, under what conditions it is used, and what its author wants of it."""

import datetime
from typing import Annotated, Literal

from dossier.spec.base import Model
from dossier.spec.entries import (
    Choice,
    Day,
    Limit,
    Quantity,
    Several,
    Text,
    deg,
    inside,
    mm,
    prose,
    web_address,
)

_SPDX = r"[A-Za-z0-9][A-Za-z0-9.+-]*(?: (?:AND|OR|WITH) [A-Za-z0-9][A-Za-z0-9.+-]*)*"
_LANGUAGE = r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*"
RESULT_ID = r"[a-z0-9_-]+(?:\.[a-z0-9_-]+)+"


class About(Model):
    """The build and the people behind it."""

    name: Annotated[str, Text("Name of the build, as it stands in every title block.", "Teasel 150", longest=120)]
    summary: Annotated[str | None, prose("What it is, in one sentence.", "A 150 mm reflector on three poles.")] = None
    authors: Annotated[tuple[str, ...], Several(
        "The people or the club who publish it.", ["Saltmarsh Night Sky Group"], Text("One author.", "A club"))] = ()
    licence: Annotated[str | None, Text(
        "Licence of the plans, as an SPDX identifier.", "CERN-OHL-S-2.0", _SPDX, "an SPDX licence identifier")] = None
    prose_licence: Annotated[str | None, Text(
        "Licence of text and pictures, as an SPDX identifier.", "CC-BY-SA-4.0", _SPDX,
        "an SPDX licence identifier")] = None
    site: Annotated[str | None, web_address("Address of the pages.", "https://example.org/teasel/")] = None
    date: Annotated[datetime.date | None, Day("Date of this draft.", "2026-09-12")] = None
    drawing_number: Annotated[str | None, Text("Identification number in the title block.", "TZ-150")] = None
    approved_by: Annotated[str | None, Text("Who approves the drawings, for the title block.", "R. Teasel")] = None
    general_tolerances: Annotated[str | None, Text(
        "Tolerances of every dimension that has none of its own, for the title block.", "ISO 2768-m",
        longest=40)] = None
    projection: Annotated[Literal["first", "third"], Choice(
        "Projection of the drawings: first-angle, or third-angle as North America has it.", "first",
        ("first", "third"))] = "first"
    language: Annotated[str | None, Text(
        "Language of the prose, as a BCP 47 tag.", "en", _LANGUAGE, "a language tag")] = None
    picture: Annotated[str | None, inside("Picture of the build for its overview.", "images/overview.jpg")] = None


class Readers(Model):
    """How numbers and sheets are shown."""

    units: Annotated[Literal["metric", "inch"], Choice(
        "Units that readers are shown first.", "metric", ("metric", "inch"))] = "metric"
    paper: Annotated[Literal["A4", "Letter"], Choice("Paper of the packet.", "A4", ("A4", "Letter"))] = "A4"
    currency: Annotated[str | None, Text(
        "Currency of every price, as an ISO 4217 code.", "EUR", r"[A-Z]{3}", "three capital letters")] = None
    language: Annotated[str, Text("Language of the pages, as a BCP 47 tag.", "en", _LANGUAGE, "a language tag")] = "en"


class Conditions(Model):
    """Where and how the telescope is used."""

    wavelength: Annotated[float, Quantity("Wavelength that optical results hold for.", "550 nm", "nm")] = 550.0
    stored_at: Annotated[float | None, Quantity("Temperature where it is kept.", "20 degC", "degc", "")] = None
    used_at: Annotated[float | None, Quantity("Temperature of the night air.", "5 degC", "degc", "")] = None
    latitude: Annotated[float | None, deg("Latitude of the site, north positive.", "53 deg", -90, 90)] = None
    eye_pupil: Annotated[float | None, mm("Diameter of the dark-adapted eye's pupil.", "6.5 mm")] = None
    seeing: Annotated[float | None, Quantity(
        "Size of a star's image made by the air, full width at half height.", "2 arcsec", "arcsec")] = None
    wind: Annotated[float | None, Quantity(
        "Wind in which it must stay steady.", "4 m/s", "m_per_s", "not negative")] = None


class Goal(Model):
    """A limit that the author sets on one result; exactly one of at_least and at_most."""

    result: Annotated[str, Text("ID of the result.", "figure.strehl", RESULT_ID, "the ID of a result")]
    at_least: Annotated[float | str | None, Limit(
        "Least good value: a number in the result's own unit, or a text with a unit.", 0.8)] = None
    at_most: Annotated[float | str | None, Limit(
        "Greatest good value: a number in the result's own unit, or a text with a unit.", "30 mm")] = None
    because: Annotated[str | None, prose("Why it matters.", "planets at 200x")] = None


class Note(Model):
    """A flaw or a plan that readers must know of."""

    id: Annotated[str, Text("Short name that stays the same.", "N1", r"[A-Za-z0-9][A-Za-z0-9_-]*", "a short name")]
    title: Annotated[str, Text("The flaw in a few words.", "The focuser board flexes")]
    text: Annotated[str | None, prose("What happens, and to whom.", "With a heavy eyepiece the board bows.")] = None
    touches: Annotated[tuple[str, ...], Several(
        "Revisions that have it.", ["A", "B"], Text("One revision.", "A", r"[A-Z]{1,2}", "a revision letter"))] = ()
    parts: Annotated[tuple[str, ...], Several(
        "References of the parts it concerns.", ["P1"], Text("One reference.", "P1"))] = ()
    steps: Annotated[tuple[str, ...], Several(
        "Build steps it concerns, by file name without ending.", ["04-focuser"], Text("One step.", "04-focuser"))] = ()
    workaround: Annotated[str | None, prose("What a builder can do meanwhile.", "Add a second screw.")] = None
    planned: Annotated[str | None, prose("What the author intends.", "A thicker board.")] = None
    as_built: Annotated[str | None, prose(
        "How the author's own telescope differs from what is drawn.", "Mine still has the thin board.")] = None
    closed_by: Annotated[str | None, Text("Revision that mends it.", "C", r"[A-Z]{1,2}", "a revision letter")] = None
