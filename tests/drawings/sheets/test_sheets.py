"""The demos' sheets, each read back: nothing lies over anything, every field says something, the scale is true."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from itertools import pairwise

import pytest
from pypdf import PdfReader

from dossier.drawings import scales
from dossier.drawings.sheets import SHEETS
from dossier.drawings.sheets.compose import sheets_of
from dossier.drawings.sheets.projection import FOLLOWING
from dossier.drawings.sheets.revision_rows import MOST, revision_rows
from dossier.publish.drawings import drawn
from dossier.views.drawings import SET
from tests.drawings.sheets.conftest import distance
from tests.strokes import cross, enters

# Upright, in mm: ISO 216, and the trade size of North America; the drawing space of A4 after ISO 5457:1999 (recalled).
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
# Data fields that ISO 7200:2004 requires (read, as listed by others), by the words that stand for them here.
MANDATORY = ("Legal owner", "Identification number", "Date of issue", "Sheet", "Title", "Approved by", "Created by",
             "Document type")


def test_nothing_lies_over_anything(demo_sheets):
    _, sheets = demo_sheets
    assert {"general-arrangement", "optical-layout", "mirror-blank", "mirror-cell"} <= set(sheets)
    for read in sheets.values():
        read.clear()


def test_all_of_it_is_inside_the_frame(demo_sheets):
    """Figure, balloons, tables, title block. The border holds the grid's signs, its measure and its words."""
    _, sheets = demo_sheets
    for read in sheets.values():
        left, top, right, bottom = read.frame
        border = {"".join(text.itertext()) for name in ("grid", "measure", "edition", "size")
                  for text in read.group("border", name).iter() if text.tag.endswith("text")}
        for plain, box in read.texts:
            inside = left <= box[0] and top <= box[1] and box[2] <= right and box[3] <= bottom
            assert inside or plain in border, plain
        for stroke in read.strokes:
            if stroke.kind not in ("frame", "centring-mark", "grid", "measure"):
                for x, y in (stroke.start, stroke.end):
                    assert left <= x <= right, stroke
                    assert top <= y <= bottom, stroke


def test_the_frame_is_that_of_its_paper(demo_sheets):
    design, sheets = demo_sheets
    width, height = SIZES[design.build.readers.paper]
    for read in sheets.values():
        assert (read.root.get("width"), read.root.get("height")) == (f"{width:g}mm", f"{height:g}mm")
        assert read.root.get("viewBox") == f"0 0 {width:g} {height:g}"
        assert read.frame == pytest.approx((20, 10, width - 10, height - 10))
        marks = [end for line in read.part("centring-mark") for end in line]
        assert len(marks) == 8
        assert all(x == pytest.approx(width / 2) or y == pytest.approx(height / 2) for x, y in marks)


def test_centring_marks_are_10_mm_long_where_nothing_stands_in_their_way(demo_sheets):
    """ISO 5457:1999 (recalled): from the outer edge of the grid to 5 mm inside of the frame. The lowest would cut the
    title block, and ends at the frame as any other that would touch something."""
    _, sheets = demo_sheets
    whole = 0
    for read in sheets.values():
        lengths = [math.dist(*line) for line in read.part("centring-mark")]
        assert all(length in (pytest.approx(5), pytest.approx(10)) for length in lengths)
        whole += sum(length > 9 for length in lengths)
        for line in read.part("centring-mark"):
            for plain, box in read.texts:
                assert not enters(box, *line), plain
            for stroke in read.strokes:
                if stroke.kind not in ("centring-mark", "frame", "grid", "rule", "measure"):
                    assert not cross(tuple(line), stroke.ends), stroke
    assert whole >= 2 * len(sheets)


def test_the_border_says_size_and_edition(demo_sheets):
    """ISO 5457 (recalled) has the size's designation in the border at the lower right; it knows no Letter."""
    design, sheets = demo_sheets
    paper = design.build.readers.paper
    for read in sheets.values():
        box, = (box for plain, box in read.texts if plain == paper)
        assert box[1] > read.frame[3]
        assert box[2] == pytest.approx(read.frame[2], abs=0.01)
        said = "".join(read.group("border", "edition").itertext()).strip()
        assert said == {"A4": "ISO 5457:1999", "Letter": "after ISO 5457:1999"}[paper]


def test_no_sign_is_lost(demo_sheets):
    """A sign that the typeface of the drawings lacks is printed as a question mark: none is but what the author typed.
    """
    design, sheets = demo_sheets
    typed = (design.loaded.folder / "build.yaml").read_text("utf-8")
    for key, read in sheets.items():
        for plain, _ in read.texts:
            assert all(word in typed for word in plain.split() if "?" in word), (key, plain)
    assert "R\u202f∞" in [plain for plain, _ in sheets["mirror-blank"].texts]


LINE = 4.6  # of lettering, in mm


def slack(read):
    """How much higher notes and tables could be before the figure had no room: it keeps 3 mm from the frame."""
    texts = [float(text.attrib["y"]) for group in read.root.iter() for text in group.iter()
             if group.get("data-part") in ("notes", "parts-table", "revisions-table") and text.tag.endswith("text")]
    figure = read.sheet.figure.box
    return min(texts) - 0.66 * read.size - 2 - (read.frame[1] + 3) - (figure.bottom - figure.top)


def test_the_authors_words_are_whole(demo_sheets):
    """Names of parts and the first sentences of revisions: wrapped, and cut only where not a line more has room beside
    the figure at its scale."""
    design, sheets = demo_sheets
    known = {part.ref: part.name for part in design.build.parts}
    for key, read in sheets.items():
        if any("…" in plain for plain, _ in read.texts):
            assert slack(read) < 2 * LINE, key
            continue
        for row in read.rows("parts") if read.circles else ():
            assert " ".join(row[1:-1]) == known[row[0]], key
        for row, revision in zip(read.rows("revisions"), revision_rows(design), strict=True):
            assert " ".join(row[2:]) == revision.note.partition(". ")[0].rstrip("."), key


# ISO 2768-1, table 1, class c (recalled): up to and including so many mm, so many mm either way.
COARSE = {3: 0.2, 6: 0.3, 30: 0.5, 120: 0.8, 400: 1.2, 1000: 2, 2000: 3}


def test_general_tolerances_are_named_and_told(demo_sheets):
    design, sheets = demo_sheets
    for key, read in sheets.items():
        assert read.fields["General tolerances"] == design.build.about.general_tolerances == "ISO 2768-c"
        said = " ".join(plain for plain, _ in read.texts)
        measured = any(group.get("data-dimension") for group in read.root.iter())
        told = "ISO 2768-c allows, in mm: " in said
        # It makes room for the author's own words.
        assert told == measured or (measured and slack(read) < 3 * LINE), key
        if told:
            sizes = dict(reversed(pair) for pair in re.findall(r"±([\d.]+) to (\d+)", said.partition("allows")[2]))
            assert {int(limit): float(size) for limit, size in sizes.items()} == COARSE, key


def test_a_tolerance_of_the_spec_stands_with_its_dimension(demo_sheets):
    """Each demo says how exact its frame's length and its mirror's edge have to be, in mm."""
    design, sheets = demo_sheets
    for key, sheet in (("frame.length", "frame-members"), ("primary.edge_thickness", "mirror-blank")):
        size = float(design.build.tolerances[key].removesuffix(" mm"))
        dimensions = ["".join(group.itertext()).strip() for group in sheets[sheet].root.iter()
                      if group.get("data-dimension")]
        assert sum(said.endswith(f"\u00a0±\u202f{size:g}") for said in dimensions) == 1, (sheet, dimensions)


@pytest.mark.parametrize("key", ["general-arrangement", "mirror-blank", "frame-members", "upper-end", "diagonal-spider",
                                 "pivot-and-balance"])
def test_lengths_are_written_alike(demo_sheets, key):
    """Worked out or typed, a metric length has no zeros at its end, which would promise what nobody has measured."""
    _, sheets = demo_sheets
    said = ["".join(group.itertext()) for group in sheets[key].root.iter() if group.get("data-dimension")]
    assert said
    assert [words for words in said if re.search(r"\d\.\d*0(?!\d)", words)] == []


def test_sections_of_the_grid_are_50_mm_from_the_middle(demo_sheets):
    """ISO 5457:1999 (recalled): numbers along the top, letters down the right without I and O."""
    design, sheets = demo_sheets
    width, height = SIZES[design.build.readers.paper]
    read = sheets["general-arrangement"]
    grid = read.group("border", "grid")
    signs = [text.text for text in grid.iter() if text.tag.endswith("text")]
    assert "".join(signs) == "1234ABCDEF"
    ticks = [line for line in read.part("grid", grid) if math.dist(*line) == pytest.approx(5)]
    across = {round(line[0][0] - width / 2, 3) for line in ticks if line[0][0] == line[1][0]}
    down = {round(line[0][1] - height / 2, 3) for line in ticks if line[0][1] == line[1][1]}
    assert {-50, 50} <= across
    assert {-100, -50, 50, 100} <= down


def test_every_mandatory_field_says_something(demo_sheets):
    design, sheets = demo_sheets
    about = design.build.about
    for number, (key, read) in enumerate(sheets.items(), start=1):
        fields = read.fields
        assert [name for name in MANDATORY if not fields.get(name)] == []
        assert fields["Title"] == SHEETS[key].title
        assert fields["Document type"] == SHEETS[key].document_type
        assert fields["Supplementary title"] == about.name
        assert fields["Sheet"] == f"{number}/{len(sheets)}"
        assert (fields["Revision"], fields["Date of issue"]) == (design.revision, design.date)
        assert fields["Lang."] == (about.language or design.build.readers.language)
        assert fields["Dimensions in"] == ("inches" if design.build.readers.units == "inch" else "millimetres")
        assert fields["Licence"] == about.licence
        assert ", ".join(about.authors).startswith(fields["Created by"].rstrip("…"))


def symbol_of(read):
    """Where the cone's ends and the circles of the symbol stand, and how high the ends are."""
    cone, = read.part("cone")
    (cx, cy, large), = read.round("large-end")
    assert read.round("small-end") == [(cx, cy, pytest.approx(large / 2))]
    ends = sorted({x for x, _ in cone})
    high = [max(y for x, y in cone if x == end) - min(y for x, y in cone if x == end) for end in ends]
    assert high == pytest.approx([large, 2 * large], abs=1e-3)
    return ends, cx, large


def test_the_symbol_is_that_of_first_angle_projection(demo_sheets):
    """ISO 5456-2 (recalled): the cone on the left, its small end away from the two circles."""
    _, sheets = demo_sheets
    for read in sheets.values():
        ends, circles, large = symbol_of(read)
        assert ends[1] < circles - large


@pytest.mark.parametrize(("name", "paper"), [("alder-250", "Letter"), ("bramble-76", "A4"), ("teasel-150", "A4")])
def test_the_symbol_of_third_angle_projection_is_on_the_sheets_that_follow_it(demo, reader, name, paper):
    """ISO 5456-2 (recalled): the circles beside the small end that they are seen from. Views that stand elsewhere lie
    over nothing either."""
    design = demo(name)
    about = design.build.about.model_copy(update={"projection": "third"})
    third = reader(replace(design, build=design.build.model_copy(update={"about": about})), paper)
    assert set(third) <= FOLLOWING
    for key, read in third.items():
        read.clear()
        ends, circles, large = symbol_of(read)
        assert circles + large < ends[0], key
        assert read.group("projection", "third-angle") is not None


def test_the_scale_is_a_preferred_one_and_said(demo_sheets):
    """ISO 5455 (recalled): 1, 2, 5 and their tens."""
    _, sheets = demo_sheets
    for read in sheets.values():
        figure = next(each for each in read.root.iter() if each.get("data-figure"))
        assert float(figure.get("data-scale")) == read.scale == read.sheet.scale
        one, other = (float(part) for part in re.split(r"\s?:\s?", read.fields["Scale"]))
        assert one / other == pytest.approx(read.scale)
        assert re.fullmatch(r"[125]0*", f"{max(one, other):g}")
        assert min(one, other) == 1
    assert all(scales.ratio(scale).count(":") == 1 for scale in scales.PREFERRED)


def test_the_measure_in_the_border_is_as_long_as_it_says(demo_sheets):
    design, sheets = demo_sheets
    inches = design.build.readers.units == "inch"
    length, step, words = (101.6, 6.35, "4\u202fin in print") if inches else (100, 10, "100\u202fmm in print")
    for read in sheets.values():
        measure = read.group("border", "measure")
        line, *ticks = read.part("measure", measure)
        assert math.dist(*line) == pytest.approx(length, abs=0.001)
        assert "".join(measure.itertext()).strip() == words
        steps = sorted(tick[0][0] for tick in ticks)
        assert min(later - sooner for sooner, later in pairwise(steps)) == pytest.approx(step, abs=0.002)


def test_every_part_that_is_shown_has_a_balloon_and_a_row(demo_sheets):
    design, sheets = demo_sheets
    known = {part.ref: part for part in design.build.parts}
    for key, read in sheets.items():
        shown = {balloon.ref for balloon in read.sheet.figure.balloons}
        assert set(read.circles) == shown, key
        rows = {row[0]: row for row in read.rows("parts")} if shown else {}
        assert set(rows) == shown, key
        for ref, row in rows.items():
            assert row[-1] == f"{known[ref].quantity:g}"
    assert sum(len(read.circles) for read in sheets.values()) > 20


def test_a_leader_ends_on_its_part(demo_sheets):
    """At the point that the figure gives, on a line that is drawn for the same part, or beside one with nothing
    between; where words have a leader already the balloon stands behind them."""
    _, sheets = demo_sheets
    for key, read in sheets.items():
        for balloon in read.sheet.figure.balloons:
            x, y, radius = read.circles[balloon.ref]
            if balloon.after is not None:
                assert (x - radius, y) == pytest.approx(balloon.after, abs=0.01)
                continue
            end, points = read.leaders[balloon.ref].end, (balloon.at, *balloon.also)
            given = min(math.dist(end, at) for at in points) < 0.75
            between = [stroke for stroke in read.outlines if cross((balloon.at, end), stroke.ends)]
            near = {stroke.part for stroke in read.outlines if distance(balloon.at, stroke) < 0.8} - {""}
            there = {stroke.part for stroke in read.outlines if distance(end, stroke) < 0.15}
            assert given or near & there or not between, (key, balloon.ref)


def test_revisions_are_told_newest_first(demo_sheets):
    design, sheets = demo_sheets
    for read in sheets.values():
        rows, wanted = read.rows("revisions"), revision_rows(design)
        assert [(row[0], row[1]) for row in rows] == [(each.letter, each.date) for each in wanted]
        assert all(each.note.startswith(" ".join(row[2:]).rstrip("…")) for row, each in zip(rows, wanted, strict=True))
        dates = [row[1] for row in rows]
        assert dates == sorted(dates, reverse=True)


def test_a_draft_says_so_and_old_revisions_make_room(demo):
    design = demo("teasel-150")
    draft = replace(design, revision=f"draft after {design.issued[-1].letter}", date="2027-01-01")
    first, *others = revision_rows(draft)
    assert (first.letter, first.date) == ("draft", "2027-01-01")
    assert [row.letter for row in others] == [each.letter for each in reversed(design.issued)][:MOST - 1]
    assert revision_rows(replace(draft, issued=()))[0].note == "Not issued yet"


def test_the_pdf_is_the_sheet(demo):
    """Read back by a general library: as large as the paper, its words as text, the typeface inside, not to be
    scaled; the set in one file with all of them."""
    design = demo("alder-250")
    made, sheets = drawn(design, "A4"), sheets_of(design, "A4")
    files = {address: PdfReader(io.BytesIO(data)) for address, data in made.files.items() if address.endswith(".pdf")}
    assert len(files) == len(sheets) + 1
    assert len(files[SET].pages) == len(sheets)
    for number, sheet in enumerate(sheets):
        single = files[f"drawings/{sheet.kind.key}.pdf"]
        assert len(single.pages) == 1
        assert single.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
        for page in (single.pages[0], files[SET].pages[number]):
            assert [float(side) * 25.4 / 72 for side in page.mediabox] == pytest.approx([0, 0, 210, 297], abs=0.001)
            said = page.extract_text()
            for words in (sheet.fields.owner, sheet.fields.date, sheet.fields.scale, "Legal owner",
                          *(part.ref for part in sheet.parts)):
                assert words in said
            font = page["/Resources"]["/Font"]["/DossierSans"]["/DescendantFonts"][0].get_object()
            assert font["/FontDescriptor"]["/FontFile2"].get_data()
    assert {f"drawings/{sheet.kind.key}.svg" for sheet in sheets} < set(made.files)


def test_the_same_design_gives_the_same_bytes(demo):
    design = demo("bramble-76")
    assert drawn(design, "Letter").files == drawn(design, "Letter").files


def test_what_the_author_says_of_tolerances_and_approval_is_printed(demo, reader):
    design = demo("teasel-150")
    about = design.build.about.model_copy(update={"general_tolerances": "ISO 2768-m", "approved_by": "R. Teasel",
                                                  "authors": ("A society with a name that is far too long for it",),
                                                  "name": "Ω 150 – a name with a 🔭", "drawing_number": "TZ-150"})
    named = replace(design, build=design.build.model_copy(update={"about": about}))
    for read in reader(named, "A4").values():
        read.clear()
        assert read.fields["General tolerances"] == "ISO 2768-m"
        assert read.fields["Approved by"] == "R. Teasel"
        assert read.fields["Identification number"] == "TZ-150"
        assert read.fields["Legal owner"] == "A society with a name that is far too long for it"
        assert "…" in read.fields["Created by"]
        assert "🔭" not in read.svg.partition("<g")[2]
