"""Tools of all steps, each once with all sizes, and what may be one thing under two names."""

from __future__ import annotations

import pytest

from dossier.design.bench_tools import alike, gathered, parted
from dossier.views.terminal import check_text


@pytest.mark.parametrize(("said", "name", "sizes"), [
    ("drill bits, 2.5 mm, 3.5 mm and 8 mm", "drill bits", ("2.5 mm", "3.5 mm", "8 mm")),
    ("drill bits, 3 mm, and 5 mm", "drill bits", ("3 mm", "5 mm")),
    ("spanner, 10 mm", "spanner", ("10 mm",)), ("sandpaper, 120 and 180", "sandpaper", ("120", "180")),
    ("hacksaw, 32 teeth to the inch", "hacksaw", ("32 teeth to the inch",)),
    ("router with a trammel, or a compass", "router with a trammel, or a compass", ()),
    ("tracing paper, compass", "tracing paper, compass", ()), ("screwdriver", "screwdriver", ()),
])
def test_sizes_stand_after_the_comma(said, name, sizes):
    assert parted(said) == (name, sizes)


def test_each_thing_once_with_all_sizes_and_the_steps_that_want_it():
    found = gathered([(2, ["drill bits, 4 mm and 6.5 mm", "try square"]),
                      (5, ["Drill bit, 4.5 mm", "spanners, 2 × 13 mm"]),
                      (7, ["try square", "spanner, 8 mm", "drill bits, 4 mm and 10 mm"])])
    assert [(each.text, each.steps) for each in found] == [
        ("drill bits, 4 mm, 4.5 mm, 6.5 mm and 10 mm", (2, 5, 7)), ("try square", (2, 7)),
        ("spanners, 8 mm and 2 × 13 mm", (5, 7))]


@pytest.mark.parametrize(("one", "other"), [
    ("square", "try square"), ("spanner", "spanners 7 mm and 8 mm"), ("drill press", "drill press with a vice"),
    ("clamps", "four long clamps"), ("steel rule", "steel rule of 1 m"),
])
def test_one_thing_under_two_names_is_found(one, other):
    assert [(a.name, b.name) for a, b in alike(gathered([(1, [other]), (2, [one])]))] == [(one, other)]


@pytest.mark.parametrize(("one", "other"), [("hacksaw", "tin snips or hacksaw"), ("drill press", "hand drill")])
def test_what_is_not_one_thing_is_left(one, other):
    assert not list(alike(gathered([(1, [other]), (2, [one])])))


def test_check_says_so(design):
    files = {"pages/steps/01-saw.md": "---\ntitle: Saw\ntools: [try square]\n---\nSaw.\n",
             "pages/steps/02-glue.md": "---\ntitle: Glue\ntools: [square]\n---\nGlue.\n"}
    assert "one thing under two names? square (step 2), try square (step 1)" in check_text(design("", files=files))
