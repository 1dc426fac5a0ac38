"""The trade's usual limits speak of results and keys that exist, in units that fit."""

from __future__ import annotations

from fnmatch import fnmatchcase

import pytest

from dossier import shelf
from dossier.design.plan import plan_for
from dossier.shelf import Limit
from dossier.spec.keys import find, unit_of_key
from dossier.spec.load import load_build
from tests.conftest import TEASEL

LIMITS = [pytest.param(limit, id=f"{limit.result}-{limit.sense}") for limit in shelf.limits()]


@pytest.fixture(scope="module")
def known() -> set[str]:
    """Every result that the demo may have."""
    return set(plan_for(load_build(TEASEL)))


@pytest.mark.parametrize("limit", LIMITS)
def test_a_limit_is_on_a_known_result(limit: Limit, known: set[str]) -> None:
    assert any(fnmatchcase(result, limit.result) for result in known)
    assert not limit.other or limit.other in known


@pytest.mark.parametrize("limit", LIMITS)
def test_a_limit_is_one_thing_with_a_reason_and_a_source(limit: Limit) -> None:
    assert sum((limit.number is not None, bool(limit.key), bool(limit.other))) == 1
    assert limit.sense in ("at_least", "at_most")
    assert limit.because.endswith(".")
    assert limit.source in shelf.sources()


@pytest.mark.parametrize("limit", LIMITS)
def test_a_limit_speaks_of_known_keys(limit: Limit) -> None:
    for key in (*limit.cures, *limit.when, *([limit.key] if limit.key else [])):
        assert find(key)
    if limit.key:
        assert unit_of_key(limit.key) == "mm", "every limit taken from the spec so far is a length"


def test_a_pattern_speaks_of_every_eyepiece() -> None:
    exit_pupils = [limit for limit in shelf.limits() if limit.speaks_of("eyepiece.25-mm-plossl.exit_pupil")]
    assert {limit.sense for limit in exit_pupils} == {"at_least", "at_most"}
    assert not any(limit.speaks_of("eyepiece.25-mm-plossl.true_field") for limit in shelf.limits())


# Limit, what it must be, where that is published and how it is known. None is computed here by the program.
PUBLISHED = {
    ("figure.strehl", "at_least"): 0.80,  # Sacek, Notes on Amateur Telescope Optics, after eq. 70: read
    ("figure.wavefront_pv", "at_most"): 0.25,  # Rayleigh 1879, Philosophical Magazine 8: recalled
    ("optics.obstruction", "at_most"): 0.26,  # Sacek, table to eq. 62, Strehl 0.90 adjusted: read
}


@pytest.mark.parametrize(("which", "expected"), PUBLISHED.items(), ids=str)
def test_published_limits(which: tuple[str, str], expected: float) -> None:
    assert [limit.number for limit in shelf.limits() if (limit.result, limit.sense) == which] == [expected]
