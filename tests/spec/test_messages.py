"""Every problem at once, each with its line, what is wrong, what is wanted and what was probably meant."""

from __future__ import annotations

import pytest

from tests.spec.conftest import Load, Say

LINE_6 = [
    # unknown and misspelt keys
    ("aperture: 150 mm", "aperture: is not a key of the spec; it belongs under primary"),
    ("spidr: {vanes: 3}", "spidr: is not a key of the spec — did you mean 'spider'?"),
    ("spider: {vane: 3}", "spider.vane: is not a key of spider — did you mean 'vanes'?"),
    ("cell: {bore: 3 mm}", "cell.bore: is not a key of cell; it belongs under focuser"),
    ("cell: {zzz: 3}",
     "cell.zzz: is not a key of cell, which has points, rings, push, clips, plate, posts, moving_mass"),
    ("cell: {push: {sprung: {}}}", "cell.push.sprung: is not a key of cell.push — did you mean 'spring'?"),
    ("parts: [{ref: P1, name: A, 1: 2}]", "parts[0].1: is not a key of parts[0]"),
    ("bench: {source: moving}", "bench: belongs in a measured file, not in the spec"),
    # what is not a quantity
    ("front: {station: 1150}", "front.station: needs a unit, such as 1150 mm (got 1150)"),
    ("front: {station: 1150 kg}", "front.station: is a mass, wants a length such as 1150 mm (got 1150 kg)"),
    ("front: {station: long}", "front.station: wants a length such as 1150 mm (got long)"),
    ("front: {station: [1 mm]}", "front.station: wants a length such as 1150 mm (got a list)"),
    ("front: {station: {a: 1}}", "front.station: wants a length such as 1150 mm (got a map)"),
    ("front: {station: true}", "front.station: wants a length such as 1150 mm (got true)"),
    ("front: {station: 2026-09-12}", "front.station: wants a length such as 1150 mm (got 2026-09-12)"),
    ("front: {station: .nan}", "front.station: must be a finite number (got nan)"),
    ("front: {station: -.inf}", "front.station: must be a finite number (got -inf)"),
    ("front: {station: .inf mm}", "front.station: must be a finite number (got .inf mm)"),
    ("front: {station: -5 mm}", "front.station: must be above zero (got -5 mm)"),
    ("front: {opening: 0 mm}", "front.opening: must be above zero (got 0 mm)"),
    ("front: {opening: '1,5 mm'}",
     "front.opening: has a comma in its number; write a decimal point and no mark for thousands (got 1,5 mm)"),
    ("front: {opening: 1,5 mm}",
     "front.5 mm: has no value; give one or remove the key; is a decimal comma meant? write a point"),
    ("frame: {kind: tube, inner_diameter: -1 mm}", "frame.inner_diameter: must not be negative (got -1 mm)"),
    ("conditions: {latitude: 95 deg}", "conditions.latitude: must be at most 90 deg (got 95 deg)"),
    ("conditions: {wavelength: 0.55}", "conditions.wavelength: needs a unit, such as 550 nm (got 0.55)"),
    ("cooling: {front: 8 W/m^2}",
     "cooling.front: is in W/m^2, wants a heat transfer such as 8 W/m^2/K (got 8 W/m^2)"),
    ("compare_apertures: [114 mm, 200]", "compare_apertures[1]: needs a unit, such as 200 mm (got 200)"),
    ("cell: {rings: [40 mm, x]}", "cell.rings[1]: wants a length such as 30 mm (got x)"),
    ("cell: {rings: bst}",
     "cell.rings: wants a list such as [30 mm, 62 mm] (got bst); best will do as well — did you mean 'best'?"),
    # numbers, counts, truths, dates, words
    ("cell: {push: {spring: {active_coils: six}}}",
     "cell.push.spring.active_coils: wants a pure number such as 6 (got six)"),
    ("mount: {bearing: {friction: -0.1}}", "mount.bearing.friction: must not be negative (got -0.1)"),
    ("mount: {bearing: {friction: .nan}}", "mount.bearing.friction: must be a finite number (got nan)"),
    ("spider: {vanes: 2.5}", "spider.vanes: counts whole things, such as 3 (got 2.5)"),
    ("spider: {vanes: -3}", "spider.vanes: must be at least 1 (got -3)"),
    ("spider: {vanes: three}", "spider.vanes: wants a whole number such as 3 (got three)"),
    ("spider: {vanes: 99999999999999999999}", "spider.vanes: is too large to work with (got 1e+20)"),
    ("parts: [{ref: P1, name: A, pack: 0}]", "parts[0].pack: must be at least 1 (got 0)"),
    ("parts: [{ref: P1, name: A, quantity: -2}]", "parts[0].quantity: must be at least 1 (got -2)"),
    ("cell: {points: 4}", "cell.points: wants 3, 6, 9 or 18 (got 4)"),
    ("mount: {tracking: yes}", "mount.tracking: wants true or false (got yes)"),
    ("mount: {tracking: 1}", "mount.tracking: wants true or false (got 1)"),
    ("mount: {kind: altas}", "mount.kind: wants rocker, altaz or equatorial (got altas) — did you mean 'altaz'?"),
    ("readers: {units: Metric}", "readers.units: wants metric or inch (got Metric) — did you mean 'metric'?"),
    ("readers: {paper: letter}", "readers.paper: wants A4 or Letter (got letter) — did you mean 'Letter'?"),
    ("readers: {currency: euro}", "readers.currency: wants three capital letters such as EUR (got euro)"),
    ("parts: [{ref: P1, name: A, priced_on: 12.9.2026}]",
     "parts[0].priced_on: wants a date such as 2026-09-12 (got 12.9.2026)"),
    ("parts: [{ref: P1, name: A, priced_on: 2026-02-30}]",
     "parts[0].priced_on: is no day of the calendar: day is out of range for month (got 2026-02-30)"),
    # texts
    ("parts: [{ref: P1, name: 2026}]", "parts[0].name: wants text; put it in quotes if it is meant so (got 2026)"),
    ('parts: [{ref: P1, name: ""}]',
     "parts[0].name: wants text such as Primary mirror, 150 mm, spherical (got an empty text)"),
    ('parts: [{ref: P1, name: "A\\nB"}]', "parts[0].name: wants one line of text (got A B)"),
    ("parts: [{ref: P 1, name: A}]", "parts[0].ref: wants a short reference such as P1 (got P 1)"),
    ("parts: [{ref: P1, name: A, link: 'javascript:alert(1)'}]",
     "parts[0].link: wants an address that begins with https:// such as https://example.org/tube (got "
     "javascript:alert(1))"),
    ("parts: [{ref: P1, name: A, cad: ../../etc/passwd}]",
     "parts[0].cad: wants a path inside the build's folder such as parts/cell.step (got ../../etc/passwd)"),
    ("parts: [{ref: P1, name: A, cad: /etc/passwd}]",
     "parts[0].cad: wants a path inside the build's folder such as parts/cell.step (got /etc/passwd)"),
    ("parts: [{ref: P1, name: A, cad: 'parts\\x'}]",
     "parts[0].cad: wants a path inside the build's folder such as parts/cell.step (got parts\\x)"),
    ('parts: [{ref: P1, name: "{{ optics.x"}]', "parts[0].name: has an expression whose {{ and }} do not pair"),
    # the wrong shape
    ("spider: [3]", "spider: wants a map of keys, such as {vanes: 3} (got a list)"),
    ("spider: 3", "spider: wants a map of keys, such as {vanes: 3} (got 3)"),
    ("parts: {P1: mirror}",
     "parts: wants a list, such as [{ref: P1, name: Primary mirror, 150 mm, spherical}] (got a map)"),
    ("parts: [mirror]",
     "parts[0]: wants a map of keys, such as {ref: P1, name: Primary mirror, 150 mm, spherical} (got mirror)"),
    ("compare_apertures: 114 mm", "compare_apertures: wants a list such as [114 mm, 200 mm] (got 114 mm)"),
    ("frame: {kind: tube, material: [1]}",
     "frame.material: wants a key of the shelf, in small letters and hyphens such as aluminium-6061 (got a "
     "list)"),
    # what is required
    ("frame: {length: 900 mm}", "frame.kind: is required, such as poles"),
    ("parts: [{name: A}]", "parts[0].ref: is required, such as P1"),
    ("parts: [{ref: P1, name: A, cut: {from: tube}}]", "parts[0].cut.stock_length: is required, such as 2000 mm"),
]


@pytest.mark.parametrize(("line", "message"), LINE_6)
def test_one_fault(problems: Say, least: str, line: str, message: str) -> None:
    said = problems(f"{least}{line}\n")
    assert any(text.startswith(f"x/build.yaml:6: {message}") for text in said), said


@pytest.mark.parametrize(("old", "new", "message"), [
    ("format: 1\n", "", "1: format: is required, such as 1"),
    ("format: 1", "format: 2", "1: format: wants 1 (got 2)"),
    ("about: {name: Least}", "about: {summary: A}", "2: about.name: is required, such as Teasel 150"),
    ("about: {name: Least}\n", "", "1: about: is required, such as {name: Teasel 150}"),
    ("aperture: 150 mm, ", "", "3: primary.aperture: is required, such as 150 mm"),
    ("focal_length: 1200 mm", "focal_lenght: 1200 mm",
     "3: primary.focal_lenght: is not a key of primary — did you mean 'focal_length'?"),
    ("minor_axis: 35 mm", "thickness: 8 mm", "4: diagonal.minor_axis: is required, such as 35 mm"),
    ("height: 50 mm", "travel: 30 mm", "5: focuser.height: is required, such as 50 mm"),
    ("mounting_radius: 100 mm, ", "", "5: focuser.mounting_radius: is required, such as 100 mm"),
    ("primary: {aperture: 150 mm, focal_length: 1200 mm}", "primary: 150 mm",
     "3: primary: wants a map of keys, such as {aperture: 150 mm, focal_length: 1200 mm} (got 150 mm)"),
])
def test_required_keys(problems: Say, least: str, old: str, new: str, message: str) -> None:
    assert old in least
    assert f"x/build.yaml:{message}" in problems(least.replace(old, new))


def test_every_problem_at_once(problems: Say) -> None:
    """Form, agreement and geometry in one run, although the first would keep the others from being seen."""
    said = problems("""\
format: 1
about: {name: Bad, sumary: x}
primary: {aperture: 150, focal_length: 1200 mm, conic: -11}
diagonal: {minor_axis: 35 mm, holder_diameter: 2 kg}
focuser: {mounting_radius: 100 mm, height: 50 mm, travel: 30 mm, drawn_out: 40 mm}
frame: {kind: polls, outer_diameter: 17 mm, inner_diameter: 20 mm, count: 3, circle_radius: 115 mm}
goals: [just text]
parts:
  - {ref: P1, name: A, price: 3}
  - {ref: P1, name: B, get: bye}
  - {name: C}
""")
    assert said == [
        "x/build.yaml:2: about.sumary: is not a key of about — did you mean 'summary'?",
        "x/build.yaml:3: primary.aperture: needs a unit, such as 150 mm (got 150)",
        "x/build.yaml:3: primary.conic: is -11: no mirror that focuses starlight lies outside -10 to 2 (0 is a sphere, "
        "-1 a paraboloid); is a sign or a decimal point wrong?",
        "x/build.yaml:4: diagonal.holder_diameter: is a mass, wants a length such as 35 mm (got 2 kg)",
        "x/build.yaml:5: focuser.drawn_out: 40 mm is more than the travel, 30 mm",
        "x/build.yaml:6: frame.inner_diameter: 20 mm is not less than the outer diameter, 17 mm",
        "x/build.yaml:6: frame.kind: wants tube, poles or truss (got polls) — did you mean 'poles'?",
        "x/build.yaml:7: goals[0]: wants a map of keys, such as {result: figure.strehl} (got just text)",
        "x/build.yaml:9: parts[0].price: is a price, so readers.currency must say in what, such as EUR",
        "x/build.yaml:10: parts[1].get: wants buy, print, make or have (got bye) — did you mean 'buy'?",
        "x/build.yaml:10: parts[1].ref: is used twice, first at parts[0].ref (got P1)",
        "x/build.yaml:11: parts[2].ref: is required, such as P1",
    ]


def test_a_long_or_broken_value_stays_one_short_line(problems: Say, least: str) -> None:
    said = problems(f'{least}spider: {{"{"k" * 500}": 1, "a\\nb": 2, vanes: "{"x" * 500}"}}\n')
    assert len(said) == 3
    assert all(len(line) < 250 and "\n" not in line for line in said)


def test_a_value_that_fits_both_ways(load: Load, least: str) -> None:
    build = load(least + "frame: {kind: tube, material: {density: 2.23 g/cm^3}}\ncell: {rings: best}\n").build
    assert build.frame is not None
    assert build.frame.material is not None
    assert not isinstance(build.frame.material, str)
    assert build.frame.material.density == 2230.0
    assert build.cell is not None
    assert build.cell.rings == "best"
