"""Sizes that the demos state for their drawings alone are those of their parts’ names, their steps and their meshes."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest

from dossier.design.pictures.cell_plan import cell_plan
from tests.content.conftest import Said, said_of
from tests.content.test_meshes import part


def name_of(build: Said, thing: str) -> str:
    """The name of the one part that is drawn as this."""
    named, = [each["name"] for each in build.parts() if each.get("drawn_as") == thing]
    return str(named)


def steps(build: Said) -> str:
    """All build steps as they are written."""
    return "\n".join(path.read_text("utf-8") for path in sorted((build.folder / "pages" / "steps").glob("*.md")))


def numbers(text: str) -> set[float]:
    return {float(each) for each in re.findall(r"\d+(?:\.\d+)?", text)}


def test_a_rocker_is_as_its_parts_and_steps_have_it(demo: Said) -> None:
    board = numbers(name_of(demo, "rocker"))
    assert {demo.mm(f"mount.rocker.{key}") for key in ("thickness", "width", "height")} <= board
    front = next(numbers(each["name"]) for each in demo.parts() if each["name"].startswith("Rocker front"))
    assert {demo.mm(f"mount.rocker.{key}") for key in ("thickness", "between", "front")} <= front
    floor = next(numbers(each["name"]) for each in demo.parts() if each["name"].startswith("Rocker floor"))
    assert demo.mm("mount.rocker.between") + 2 * demo.mm("mount.rocker.thickness") in floor
    between = re.search(r"Between the (?:rocker's )?sides, [^}]*target: (\d+) mm", steps(demo))
    assert between is not None
    assert float(between[1]) == demo.mm("mount.rocker.between")
    ground = next(numbers(each["name"]) for each in demo.parts() if "round board" in each["name"])
    across = "side" if "side" in demo.at("mount.ground") else "diameter"
    assert {demo.mm("mount.ground.thickness"), demo.mm(f"mount.ground.{across}")} <= ground


def test_the_floor_stands_on_feet_board_pads_and_floor(demo: Said) -> None:
    """Pads of 5 mm, glides of 4 mm; the laminate is at most a millimetre thick."""
    boards = demo.mm("mount.feet_height") + demo.mm("mount.ground.thickness") + demo.mm("mount.rocker.thickness")
    assert demo.mm("mount.floor") - boards == pytest.approx(5, abs=1.01)


def test_a_notch_is_as_the_steps_have_it(demo: Said) -> None:
    """Round ones by their radius and how high their middle lies above the side's lower edge, which stands on the floor;
    the square one by its depth and width."""
    text, bearing = steps(demo), demo.at("mount.bearing")
    middle = demo.mm("mount.pivot_height") - demo.mm("mount.floor")
    if bearing["notch"] == "round":
        radius = demo.mm("mount.bearing.radius") + demo.mm("mount.bearing.pad_thickness")
        assert re.search(rf"notch of {radius:g} (?:mm )?radius", text.replace("\n", " "))
        assert f"{middle:g} mm" in text
        pads = re.search(r"Saw the PTFE into four pieces of (\d+) mm", text)
        assert pads is not None
        assert float(pads[1]) == demo.mm("mount.bearing.pad_length")
        return
    depth, width = map(float, re.findall(r"notch with it, (\d+) mm deep and (\d+) mm wide", text)[0])
    below = middle - demo.mm("mount.rocker.height")
    assert demo.mm("mount.bearing.radius") * 2**0.5 - below == pytest.approx(depth, abs=0.5)
    assert width == pytest.approx(2 * depth, abs=0.5)


def test_a_plate_is_as_its_part_has_it_and_screws_as_theirs(demo: Said) -> None:
    push = numbers(name_of(demo, "push").split(",")[0])
    assert {demo.mm("cell.push.diameter"), demo.mm("cell.push.length")} <= push
    if demo.folder.name == "teasel-150":
        return  # a printed one, measured below
    assert {demo.mm("cell.plate.thickness"), demo.mm("cell.plate.diameter")} <= numbers(name_of(demo, "plate"))


@pytest.fixture
def bramble() -> Said:
    return said_of("bramble-76")


def test_what_lies_on_a_plate_makes_up_its_distance(alder: Said, bramble: Said) -> None:
    """Dome 12 mm and triangle 4 mm as the meshes have them, felt as its part; coins as thick as the step says."""
    felt = next(each["name"] for each in alder.parts() if each["name"].startswith("Pads, felt"))
    triangle = next(each["name"] for each in alder.parts() if each["name"].startswith("Triangles"))
    assert alder.mm("cell.plate.behind") == 12 + max(numbers(triangle)) + min(numbers(felt))
    assert f"coins {bramble.mm('cell.plate.behind')} mm thick" in steps(bramble)


def test_plate_posts_and_clips_are_as_they_are_printed(teasel: Said, alder: Said) -> None:
    plate = part(teasel, "cell-plate").reshape(-1, 3)
    out = np.hypot(plate[:, 0], plate[:, 1])
    assert 2 * out[plate[:, 2] < 12.1].max() == pytest.approx(teasel.mm("cell.plate.diameter"), abs=0.2)
    assert 2 * out.min() == pytest.approx(teasel.mm("cell.plate.hole"), abs=0.2)
    raised = plate[np.abs(plate[:, 2] - 15) < 0.01][:, 2].max()
    assert raised + 2 - teasel.mm("cell.plate.thickness") == pytest.approx(teasel.mm("cell.plate.behind"), abs=0.01)
    high = teasel.mm("cell.plate.thickness") + teasel.mm("cell.posts.height")
    assert plate[:, 2].max() == pytest.approx(high, abs=0.01)
    assert out.max() == pytest.approx(teasel.mm("cell.posts.reach"), abs=0.1)
    for build, post in ((teasel, None), (alder, part(alder, "edge-post").reshape(-1, 3))):
        clip = np.ptp(part(build, "mirror-clip").reshape(-1, 3), axis=0)
        said = [build.mm(f"cell.clips.{key}") for key in ("length", "width", "thickness")]
        assert clip == pytest.approx(said, abs=0.01)
        over = build.mm("cell.posts.height") - build.mm("cell.plate.behind") - build.mm("primary.edge_thickness")
        assert build.mm("cell.clips.clearance") == pytest.approx(over, abs=1e-6)
        if post is not None:
            assert post[:, 2].max() == pytest.approx(build.mm("cell.posts.height"), abs=0.01)
            upper = post[post[:, 2] > 10]
            assert np.ptp(upper[:, 1]) == pytest.approx(build.mm("cell.posts.width"), abs=0.01)
            inner = build.mm("primary.blank_diameter") / 2 + 2.5
            assert inner + post[:, 0].max() == pytest.approx(build.mm("cell.posts.reach"), abs=0.01)


def test_overhang_and_plate_agree_about_where_the_springs_are(demo: Said, worked_out: Any) -> None:
    """To a millimetre and a half: masses are rounded, stations too."""
    plan = cell_plan(worked_out(demo))
    assert plan is not None
    assert plan.disagree_mm == pytest.approx(0, abs=1.5)


def test_feet_are_as_high_as_they_are_printed_or_named(demo: Said) -> None:
    if (demo.folder / "parts" / "foot.stl").exists():
        assert part(demo, "foot").reshape(-1, 3)[:, 2].max() == pytest.approx(demo.mm("mount.feet_height"), abs=0.01)
    else:
        assert demo.mm("mount.feet_height") in numbers(name_of(demo, "foot"))
