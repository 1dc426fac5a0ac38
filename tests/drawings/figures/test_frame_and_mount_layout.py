"""Frame member, upper end, stand and exploded view: legible on paper and phone, with their numbers in words too."""

from __future__ import annotations

import time

import pytest

from dossier.drawings.figures import exploded, members, rocker, upper_end
from dossier.drawings.scene import ON_PAPER, ON_PHONE, Text, leaves

MAKERS = {"members": members.make, "upper-end": upper_end.make, "rocker": rocker.make, "exploded": exploded.make}
every_maker = pytest.mark.parametrize("maker", MAKERS)
every_medium = pytest.mark.parametrize("where", ["paper", "phone"])


SPECS = [(76, 4, "tube", "rocker", "inch"), (76, 10, "poles", "altaz", "metric"), (114, 7.9, "tube", None, "metric"),
         (150, 8, "poles", "rocker", "metric"), (200, 6, "tube", "rocker", "inch"),
         (250, 5, "truss", "rocker", "metric"), (250, 5, None, "altaz", "inch"), (400, 4, "truss", "altaz", "metric"),
         (400, 10, "tube", "equatorial", "metric")]


@every_medium
@every_maker
@pytest.mark.parametrize("spec", SPECS, ids=str)
def test_nothing_touches_lettering_and_all_lies_on_the_sheet(drilled, drawn_page, spec, maker, where):
    page = drawn_page(MAKERS[maker], drilled(*spec), where)
    if maker == "members" and spec[2] is None:
        assert page is None
        return
    assert page is not None
    page.legible()
    assert page.words


AWKWARD = {
    "from behind the mirror": ("poles", {"frame": {"lower_fixing": "-40 mm"}}),
    "poles past the focuser": ("poles", {"frame": {"length": "1010 mm"}}),
    "one short pole": ("poles", {"frame": {"length": "60 mm", "count": 1}}),
    "solid poles": ("poles", {"frame": {"inner_diameter": "0 mm"}}),
    "truss of six": ("truss", {"frame": {"count": 6, "lower_fixing": "-15 mm"}}),
    "tube past the focus": ("tube", {"frame": {"lower_fixing": "-90 mm", "length": "1400 mm"}}),
    "tube in front of the mirror": ("tube", {"frame": {"lower_fixing": "8 mm", "length": "1120 mm"}}),
    "no front": ("truss", {"front": None}), "front at the focuser": ("poles", {"front": {"station": "1060 mm"}}),
    "no spider": ("tube", {"spider": None}), "angles not said": ("poles", {"spider": {"turned": None}}),
    "no cell": ("poles", {"cell": None}), "thin mirror": ("poles", {"primary": {"edge_thickness": None}}),
    "pivot behind the mirror": ("tube", {"mount": {"pivot": "-30 mm"}}),
    "tail that strikes the floor": ("poles", {"mount": {"tail": "-400 mm"}}),
    "six feet, no bearing": ("poles", {"mount": {"feet": 6, "bearing": None}}),
    "nothing said of the ground": ("tube", {"mount": {"pivot_height": None, "floor": None, "feet": None}}),
    "holder": ("poles", {"diagonal": {"holder_diameter": "36 mm"}}),
}


@every_medium
@pytest.mark.parametrize("case", AWKWARD)
def test_awkward_builds_are_legible_too(drilled, drawn_page, case, where):
    kind, changes = AWKWARD[case]
    design = drilled(150, 8, kind, "rocker", **changes)
    for make in MAKERS.values():
        page = drawn_page(make, design, where)
        if page is not None:
            page.legible()


def test_nothing_is_drawn_of_what_is_not_said(telescope, worked):
    bare = worked({key: value for key, value in telescope(150, 8).items()
                   if key in ("format", "about", "primary", "diagonal", "focuser")})
    for make in MAKERS.values():
        assert make(bare, ON_PAPER, 0.1, 180.0) is None
    poles = telescope(150, 8, "poles")
    del poles["frame"]["outer_diameter"]
    assert members.make(worked(poles), ON_PAPER, 0.1, 180.0) is None


def test_what_is_assumed_is_said(drilled, telescope, worked):
    """Poles and vanes whose angles nobody says have chain outlines and a note; nothing of the kind where they are."""
    unsaid = upper_end.make(worked(telescope(150, 8, "poles")), ON_PAPER, 0.2, 180.0)
    said = upper_end.make(drilled(150, 8, "poles"), ON_PAPER, 0.2, 180.0)
    assert unsaid.description.count("is not said") == 2
    assert "not said" not in said.description
    assert not [text for text in leaves(unsaid.shapes) if isinstance(text, Text) and "°" in text.plain]


@every_maker
def test_the_text_alternative_carries_the_numbers(drilled, maker):
    """Every figure with a result or key is in the description, which screens read instead of the drawing."""
    design = drilled(150, 8, "poles", "rocker")
    for medium, width in ((ON_PAPER, 180.0), (ON_PHONE, 328.0)):
        figure = MAKERS[maker](design, medium, 0.2, width)
        runs = [run for text in leaves(figure.shapes) if isinstance(text, Text) for run in text.runs]
        runs += [run for note in figure.notes for run in note]
        wanted = {run.text for run in runs if (run.result or run.key) and not run.text.endswith("°")}
        if maker != "exploded":
            assert wanted
        assert [text for text in wanted if text not in figure.description] == []


@every_maker
def test_every_result_that_is_printed_is_one(drilled, maker):
    """A number points at its working: the name behind it is a result of the build, or a key of the spec."""
    design = drilled(200, 6, "tube", "rocker")
    figure = MAKERS[maker](design, ON_PAPER, 0.1, 180.0)
    runs = [run for text in leaves(figure.shapes) if isinstance(text, Text) for run in text.runs]
    runs += [run for note in figure.notes for run in note]
    for run in runs:
        assert not run.result or run.result in design.results
        section = run.key.partition(".")[0].partition("[")[0]
        assert not run.key or getattr(design.build, section) is not None


def test_drawing_all_four_is_fast(drilled):
    design = drilled(250, 5, "truss", "rocker")
    start = time.process_time()
    for make in MAKERS.values():
        for _ in range(5):
            make(design, ON_PAPER, 0.1, 180.0)
    assert time.process_time() - start < 0.6
