"""What the telescope shows: tables and sentences tell the truth on both sides of each limit, however much is said."""

from __future__ import annotations

import re

import pytest

from dossier.design.asides import bodies, compare, doubles, shadow, shows
from dossier.design.asides.looking import looking
from dossier.views.words import shows as words
from dossier.working import Given, Result

EYEPIECES = """\
eyepieces:
  - {name: 25 mm, focal_length: 25 mm, apparent_field: 50 deg}
  - {name: 6 mm, focal_length: 6 mm, apparent_field: 50 deg}
"""
EYE_AND_AIR = "conditions: {eye_pupil: 6.5 mm, seeing: 2 arcsec, latitude: 53 deg}"
MAKERS = (shows.power_range, shows.faint, shows.fine, bodies.moon, bodies.planets, doubles.doubles, compare.beside,
          shadow.afforded)
TELLERS = (words.eyepieces, words.limits, words.moon, words.planets, words.doubles, words.beside)


def table(aside):
    """A table's numbers by row and column."""
    heads = [column.title for column in aside.columns]
    return {row.name: {head: entry.value if isinstance(entry, Result | Given) else entry
                       for head, entry in zip(heads, row.entries, strict=True)} for row in aside.rows}


def remarks(aside):
    return {row.name: row.remark for row in aside.rows}


def test_everything_stands_where_nothing_is_said(design):
    bare = design()
    for make in MAKERS:
        aside = make(bare)
        assert aside.rows, make
        assert all(len(row.entries) == len(aside.columns) for row in aside.rows)
    assert shows.eyepieces(bare) is None
    assert bodies.sizes(bare) is None
    for tell in TELLERS:
        text = tell(bare)
        assert text
        assert "usual" not in text
        assert "None" not in text


@pytest.mark.parametrize("said", [(EYE_AND_AIR,), (EYE_AND_AIR, EYEPIECES), (EYEPIECES,),
                                  ("conditions: {latitude: -35 deg}",)])
def test_tables_are_whole_and_sentences_name_only_results(design, said):
    worked = design(*said)
    for make in (*MAKERS, shows.eyepieces, bodies.sizes):
        aside = make(worked)
        assert aside is None or all(len(row.entries) == len(aside.columns) for row in aside.rows)
    for tell in TELLERS:
        for name in re.findall(r"\{\{ (.+?) \}\}", tell(worked)):
            assert re.sub(r"\['(.+?)'\]", r".\1", name) in worked.results


def test_an_eyepiece_whose_beam_is_too_wide(design):
    """A 60 mm eyepiece at f/8: the beam is 7.5 mm, an eye of 5 mm takes (5/7.5)² = 0.444 of it, a mirror of 100 mm."""
    worked = design("conditions: {eye_pupil: 5 mm}",
                    "eyepieces: [{name: 60 mm, focal_length: 60 mm, apparent_field: 40 deg}]")
    assert table(shows.eyepieces(worked))["60 mm"]["Light into the eye"] == pytest.approx(4 / 9)
    assert "56\u202f%" in remarks(shows.eyepieces(worked))["60 mm"]
    assert "with the 60 mm 56\u202f% of the light" in words.eyepieces(worked)
    assert "as one of 100.0\u202fmm" in words.eyepieces(worked)
    assert "no light is wasted" in words.eyepieces(design("conditions: {eye_pupil: 8 mm}", EYEPIECES))


def test_which_eyepiece_the_air_allows(design):
    """Seeing of 2″ looks 4′ at 120 times: 48 times is calm, 200 times wants air of 240/200 = 1.2″."""
    worked = design(EYE_AND_AIR, EYEPIECES)
    made = table(shows.eyepieces(worked))
    assert made["6 mm"]["The usual air’s blur looks"] == pytest.approx(200 * 2 / 60)
    assert made["6 mm"]["Wants air of"] == pytest.approx(1.2)
    assert "keep it for nights steadier than 1.2″" in remarks(shows.eyepieces(worked))["6 mm"]
    assert "The usual air allows it" in remarks(shows.eyepieces(worked))["25 mm"]
    assert "makes the 25 mm" in words.eyepieces(worked)
    calm = design("conditions: {seeing: 0.8 arcsec}", EYEPIECES)
    assert "No eyepiece here asks for better air" in words.eyepieces(calm)
    wild = design("conditions: {seeing: 6 arcsec}", EYEPIECES)
    assert "even the 25 mm is too strong" in words.eyepieces(wild)


def test_more_power_than_the_aperture_can_use(design):
    strong = design("eyepieces: [{name: 3 mm, focal_length: 3 mm, apparent_field: 50 deg}]")
    assert "more power than the aperture can use" in remarks(shows.eyepieces(strong))["3 mm"]
    assert "nothing more, only dimmer" in words.eyepieces(strong)
    weak = design("eyepieces: [{name: 25 mm, focal_length: 25 mm, apparent_field: 50 deg}]")
    assert "finer detail than the eye tells apart" in remarks(shows.eyepieces(weak))["25 mm"]
    assert "leaves detail unseen" in words.eyepieces(weak)


def test_powers_are_in_order_and_say_which_eyepiece(design):
    made = table(shows.power_range(design(EYE_AND_AIR)))
    powers = [row["Power"] for row in made.values()]
    assert powers == sorted(powers)
    assert made["Highest useful"]["Power"] == 300
    assert made["Lowest useful"]["Eyepiece"] == pytest.approx(8 * 6.5)
    assert made["The usual air’s blur looks 4′"]["Power"] == pytest.approx(120)


def test_forms_differ_by_more_than_a_magnitude_and_one_is_named(design):
    worked = design(EYE_AND_AIR, EYEPIECES, replace={
        "1200 mm}": "1200 mm, reflectivity: 0.88}", "35 mm}": "35 mm, reflectivity: 0.88}"})
    aside = shows.faint(worked)
    found = [row["Limiting magnitude"] for row in table(aside).values()]
    assert len(found) == 5
    assert max(found) - min(found) > 1
    assert found[0] == worked.results["optics.limiting_magnitude"].number
    assert f"{max(found) - min(found):.1f} magnitudes apart" in aside.notes[0]
    assert "uses the first" in aside.notes[0]
    assert len(shows.faint(design()).rows) == 4


def test_air_or_aperture_decides(design):
    assert "2.2 times as coarse" in words.limits(design("conditions: {seeing: 2 arcsec}"))
    assert "the aperture decides" in words.limits(design("conditions: {seeing: 0.7 arcsec}"))
    assert shows.air_remark(2.0, 0.92).startswith("The air is 2.2 times")
    assert "a larger one shows more" in shows.air_remark(0.7, 0.92)


def test_craters_by_their_elements(design):
    """1″ is 1.864 km: Clavius is 124″, Linné 1.18″, which 0.92″ resolves and 2″ does not."""
    aside = bodies.moon(design("conditions: {seeing: 2 arcsec}"))
    made, said = table(aside), remarks(aside)
    assert made["Clavius"]["On the sky"] == pytest.approx(231 / 1.8636, rel=1e-3)
    assert made["Linné"]["Elements in still air"] == pytest.approx(1.28, abs=0.01)
    assert made["Linné"]["Elements in the usual air"] == pytest.approx(0.59, abs=0.01)
    assert said["Linné"].endswith("in the usual air too small to be told from the ground about it.")
    assert said["Birt"] == "In still air a ring with a floor; the same in the usual air."


@pytest.mark.parametrize(("elements", "said"), [(0.99, "too small"), (1, "a pit"), (2.99, "a pit"), (3, "a ring"),
                                                (14.9, "a ring"), (15, "a landscape")])
def test_where_a_crater_begins_to_be_more(elements, said):
    assert bodies.crater_words(elements).startswith(said)


def test_fine_air_leaves_the_aperture_to_decide(design):
    """In seeing finer than Rayleigh's limit the elements are the aperture's, usual air or still."""
    worked = design("conditions: {seeing: 0.5 arcsec}")
    assert looking(worked).coarser is worked.results["optics.rayleigh_limit"]
    for row in table(bodies.planets(worked)).values():
        assert row["Elements in the usual air"] == row["Elements in still air"]
    assert "in the usual air as in still" in words.moon(worked)


def test_details_of_planets_go_by_their_angles(design):
    """Jupiter at 4.2 au: 16 000 km is 5.2″, Ganymede's shadow 5262 km is 1.7″, Io's 3643 km 1.2″."""
    said = remarks(bodies.planets(design("conditions: {seeing: 2 arcsec}")))
    jupiter = said["Jupiter, mean opposition"]
    assert "room for the Great Red Spot and the two dark belts." in jupiter
    assert "In still moments also for the shadow of Ganymede and the shadow of Io." in jupiter
    wild = remarks(bodies.planets(design("conditions: {seeing: 10 arcsec}")))["Jupiter, mean opposition"]
    assert wild.startswith("A small disc, in still moments a disc large enough for detail. In still moments there is")
    small = design(replace={"aperture: 150 mm": "aperture: 50 mm", "1200 mm": "700 mm", "35 mm": "15 mm"})
    assert "There is none for the shadow of Ganymede" in remarks(bodies.planets(small))["Jupiter, mean opposition"]


def test_a_dark_line_shows_though_it_is_narrow(design):
    """Saturn's division is 0.74″ at 8.55 au: narrower than Rayleigh's 0.92″, and seen in telescopes of this size."""
    ring = remarks(bodies.planets(design()))["Saturn’s ring, mean opposition"]
    assert "the dark division" in ring
    assert "none" not in ring
    assert "disc" not in ring


def test_detail_sentences():
    told = [("a", 5.0), ("b", 1.5), ("c", 0.5)]
    assert bodies.detail_remarks(told, 1.0, 2.0) == [
        "There is room for a.", "In still moments also for b.", "There is none for c."]
    assert bodies.detail_remarks(told, 1.0, None) == [
        "In still moments there is room for a and b.", "There is none for c."]
    assert bodies.detail_remarks([("c", 0.5)], 1.0, None) == ["There is no room for c."]
    assert bodies.disc_remark(4.0, 1.0, 3.0) == "A point, like any star, in still moments a small disc."


def test_planets_in_each_eyepiece(design):
    """Jupiter, 46.88″, at 200 times is 156′, five of the Moon's 31.1′."""
    aside = bodies.sizes(design(EYEPIECES))
    assert table(aside)["Jupiter, mean opposition"]["6 mm"] == pytest.approx(156.25, abs=0.05)
    assert remarks(aside)["Jupiter, mean opposition"] == "In the 6 mm 5.0 times as wide as the Moon by eye."
    assert bodies.moon_words(0.04) == "less than a tenth as wide as the Moon by eye"


def test_pairs_in_still_air_and_in_the_usual(design):
    said = remarks(doubles.doubles(design("conditions: {seeing: 2 arcsec}")))
    assert said["Mizar, ζ Ursae Majoris"] == "Divided in the usual air."
    assert said["ε² Lyrae"] == "A notch in the usual air, a clear gap in still moments."
    assert said["η Orionis"] == "Divided in still moments only; in the usual air one star."
    assert said["7 Tauri"] == "Not divided."
    assert "23 times the light" in said["δ Cygni"]
    assert remarks(doubles.doubles(design()))["η Orionis"] == "Divided in still air."


@pytest.mark.parametrize(("still", "usual", "said"), [
    (0.9, 0.26, "Divided in the usual air."), (0.9, 0.25, "A notch in the usual air"), (0.2, 0.05, "A notch at most."),
    (0.26, 0.0, "Divided in still moments only"), (0.26, None, "Divided in still air."), (0.03, None, "A notch in"),
    (0.02, None, "Not divided."), (0.0, 0.0, "Not divided.")])
def test_verdicts(still, usual, said):
    assert doubles.verdict(still, usual).startswith(said)


def test_only_what_rises(design):
    """Acrux, 63° south, rises nowhere in Europe; Mizar, 55° north, not at 35° south."""
    north = {pair.name for pair in doubles.seen_from(53)}
    south = {pair.name for pair in doubles.seen_from(-35)}
    assert "Mizar" in north - south
    assert "Acrux" in south - north
    assert len(doubles.seen_from(None)) > max(len(north), len(south))
    assert doubles.doubles(design("conditions: {latitude: 53 deg}")).notes[-1].startswith("Pairs that never rise 15°")


def test_words_count_what_the_table_says(design):
    worked = design("conditions: {seeing: 2 arcsec, latitude: 53 deg}")
    said = list(remarks(doubles.doubles(worked)).values())
    usual = sum(remark.startswith("Divided in the usual") for remark in said)
    still = usual + sum("clear gap in still moments" in remark or "still moments only" in remark for remark in said)
    text = words.doubles(worked)
    assert f"Of {len(said)} well-known pairs it divides {still}," in text
    assert f"it divides {usual}," in text
    beside = table(compare.beside(worked))
    assert beside["Double stars divided in still air"]["This telescope"] == f"{still} of {len(said)}"
    assert beside["Double stars divided in the usual air"]["This telescope"] == f"{usual} of {len(said)}"


def test_other_apertures(design):
    """Twice the aperture: four times the light, half the angle, 5 log 2 = 1.505 magnitudes."""
    aside = compare.beside(design("compare_apertures: [300 mm, 75 mm]", EYE_AND_AIR))
    assert [column.title for column in aside.columns] == ["This telescope", "300\u202fmm", "75\u202fmm"]
    made = table(aside)
    own, larger, smaller = (
        {name: row[column.title] for name, row in made.items()} for column in aside.columns)
    assert (own["Light gathered"], larger["Light gathered"], smaller["Light gathered"]) == (1, 4, 0.25)
    assert larger["Limiting magnitude"] - own["Limiting magnitude"] == pytest.approx(1.505, abs=1e-3)
    assert larger["Resolution after Rayleigh"] == pytest.approx(own["Resolution after Rayleigh"] / 2)
    assert larger["Least crater in the usual air"] == own["Least crater in the usual air"]
    assert int(larger["Double stars divided in still air"].split()[0]) > int(
        smaller["Double stars divided in still air"].split()[0])
    assert remarks(aside)["Least crater in the usual air"].startswith("The air sets the same limit")


def test_air_that_lets_the_larger_gain(design):
    aside = compare.beside(design("compare_apertures: [300 mm, 75 mm]", "conditions: {seeing: 0.9 arcsec}"))
    assert remarks(aside)["Least crater in the usual air"] == (
        "The air limits the larger ones and the aperture the smaller.")
    assert "the larger shows more" in words.beside(
        design("compare_apertures: [300 mm]", "conditions: {seeing: 0.3 arcsec}"))


def test_other_apertures_in_inches(design):
    aside = compare.beside(design("compare_apertures: [10 in]", "readers: {units: inch}"))
    assert [column.title for column in aside.columns] == ["This telescope", "10\u202fin"]


def test_nothing_to_compare_with(design):
    same = design("compare_apertures: [150 mm]")
    assert compare.beside(same) is None
    assert words.beside(same) == ""


def test_shadow_that_a_mirror_can_afford(design):
    """A perfect mirror may have 0.32, 0.35 and 0.45 by Sacek's forms, √0.1, √0.12, √0.2; one below 0.80 nothing."""
    perfect = design()
    aside = shadow.afforded(perfect)
    own, *most = [next(iter(row.values())) for row in table(aside).values()]
    assert own == pytest.approx(35 / 150)
    assert most == pytest.approx([0.3162, 0.3464, 0.4472], abs=2e-4)
    assert all("within it" in row.remark for row in aside.rows[1:])
    sphere = design(replace={"focal_length: 1200 mm": "focal_length: 900 mm, conic: 0"})
    assert all("below 0.80" in row.remark for row in shadow.afforded(sphere).rows[1:])
    large = design(replace={"minor_axis: 35 mm": "minor_axis: 60 mm"})
    assert "larger" in shadow.afforded(large).rows[1].remark
