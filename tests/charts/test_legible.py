"""Every picture of every telescope in both forms: it can be read, stands alone, and comes out the same each time."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from itertools import combinations
from pathlib import Path

import pytest

from dossier.charts import PICTURES
from dossier.drawings.palette import PAPER, SCREEN
from dossier.views.questions import QUESTIONS
from tests.strokes import enters

NAMES = ("demo", "bare", "paraboloid on poles", "fast sphere in a tube", "inches", "large truss",
         "small sphere", "tested", "held", "pinched")
# What a picture needs that the least of specs does not say.
NEEDS_MORE = {"stray-light", "sight", "cost-by-group", "cut-plan", "printed-parts", "frame-sag", "frame-materials",
              "field-rotation", "cooling",
              "bench-profile", "cell-deflection", "pinch-strehl", "pinched-star"}
# Of a telescope that is another's with readings of the bench or a cell, only what those change in kind.
_CELL = {"cell-deflection", "pinch-strehl", "pinched-star"}
ONLY = {"tested": {"bench-profile", "ronchi", "knife-edge"}, "held": _CELL, "pinched": _CELL}
SVG = "{http://www.w3.org/2000/svg}"
every_telescope = pytest.mark.parametrize("name", NAMES)
every_form = pytest.mark.parametrize("form", ["wide", "upright"])


@pytest.fixture
def all_of(design_of, picture):
    """``all_of(telescope, form)``: every picture that its spec says enough of."""
    return lambda name, form: [(key, picture(key, name, form)) for key, each in PICTURES.items()
                               if key in ONLY.get(name, PICTURES)
                               and each.make(design_of(name), PAPER, form) is not None]



@every_form
@every_telescope
def test_lettering_touches_nothing(all_of, name, form):
    for key, read in all_of(name, form):
        for one, other in combinations(read.texts, 2):
            apart = (one.box[2] <= other.box[0] or other.box[2] <= one.box[0]
                     or one.box[3] <= other.box[1] or other.box[3] <= one.box[1])
            assert apart, f"{key}: {one.plain!r} overlaps {other.plain!r}"
        strokes = list(read.strokes())
        for text in read.texts:
            for start, end in strokes:
                assert not enters(text.box, start, end), f"{key}: {text.plain!r} is touched by {start} {end}"


@every_form
@every_telescope
def test_everything_lies_in_the_picture(all_of, name, form):
    for key, read in all_of(name, form):
        left, top, right, bottom = read.frame
        for text in read.texts:
            assert left - 0.05 <= text.box[0], (key, text)
            assert text.box[2] <= right + 0.05, (key, text)
            assert top - 0.05 <= text.box[1], (key, text)
            assert text.box[3] <= bottom + 0.05, (key, text)
        for ends in read.strokes():
            for x, y in ends:
                assert left - 0.3 <= x <= right + 0.3, key
                assert top - 0.3 <= y <= bottom + 0.3, key


@every_form
def test_lettering_is_large_enough(all_of, form):
    for key, read in all_of("demo", form):
        width = read.frame[2] - read.frame[0]
        if form == "upright":
            assert read.size >= 11, key
            assert width == pytest.approx(328, abs=4), key
        else:
            # Capitals of this typeface are 0.66 of its size high.
            assert read.size * 0.66 >= 2.5, key
            assert width == pytest.approx(180, abs=2), key
            assert read.root.attrib["width"].endswith("mm"), key
        assert all("font-size" not in element.attrib for element in read.root.iter() if element is not read.root)


@every_telescope
def test_text_alternative_carries_the_numbers(all_of, name):
    for key, read in all_of(name, "wide"):
        title, desc = (read.root.find(f"{SVG}{tag}") for tag in ("title", "desc"))
        assert title.text, key
        assert desc.text == read.rendered.alt
        assert len(re.findall(r"\d", read.rendered.alt)) >= 2, key
        assert len(read.rendered.caption) > 40, key
        assert read.root.attrib["aria-labelledby"] == f"{title.attrib['id']} {desc.attrib['id']}"


def test_ids_are_unique_among_all_pictures(design_of):
    ids = []
    for picture in PICTURES.values():
        for form in ("wide", "upright"):
            if made := picture.make(design_of("demo"), SCREEN, form):
                ids += [element.attrib["id"] for element in ET.fromstring(made.svg).iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids))


def test_colours_follow_the_theme_on_screen_and_stand_alone_on_paper(design_of):
    for key, picture in PICTURES.items():
        if picture.make(design_of("demo"), PAPER, "wide") is None:
            continue
        screen, paper = (picture.make(design_of("demo"), palette, "wide").linked for palette in (SCREEN, PAPER))
        assert "var(" not in paper, key
        bare = re.sub(r"var\(--starlight, #ffffff\)|fill=\"#000000\"", "", screen)
        assert not re.search(r"#[0-9a-f]{6}", bare), key
        assert "stroke=" in screen


def test_nothing_is_made_up_where_nothing_is_said(design_of):
    made = {key for key, picture in PICTURES.items() if picture.make(design_of("bare"), PAPER, "wide") is None}
    assert made == NEEDS_MORE
    assert {key for key, picture in PICTURES.items()
            if picture.make(design_of("demo"), PAPER, "wide") is None} == {"bench-profile"}  # of a measured build


def test_every_picture_belongs_to_a_question():
    for picture in PICTURES.values():
        assert any(question.heading.startswith(picture.question) for question in QUESTIONS), picture.key


def test_pictures_are_the_same_in_every_run(design_of):
    code = ("import hashlib; from pathlib import Path; from dossier.charts import PICTURES; "
            "from dossier.design import work_out; from dossier.drawings.palette import SCREEN; "
            "from dossier.spec.load import load_build; "
            "design = work_out(load_build(Path('content/teasel-150'))); "
            "print(hashlib.sha256(''.join(made.svg for p in PICTURES.values() "
            "for f in ('wide', 'upright') if (made := p.make(design, SCREEN, f))).encode()).hexdigest())")
    here = "".join(made.svg for picture in PICTURES.values() for form in ("wide", "upright")
                   if (made := picture.make(design_of("demo"), SCREEN, form)))
    other = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True,
                           cwd=Path(__file__).parents[2], env={**os.environ, "PYTHONHASHSEED": "77"})
    assert other.stdout.strip() == hashlib.sha256(here.encode()).hexdigest()
    assert not re.search(r"<metadata|<!--|20\d\d-\d\d", here)


def test_nothing_heavy_is_loaded_before_a_picture_is_made():
    code = "import sys, dossier.charts; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"PIL", "matplotlib", "weasyprint", "scipy", "jinja2"} & set(loaded)
