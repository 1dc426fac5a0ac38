"""The cell in tables and words, on both sides of each limit, and where the spec is silent."""

from __future__ import annotations

import pytest

from dossier import shelf
from dossier.design.asides import cell, pinch, springs
from dossier.views.words import cell as support_words
from dossier.views.words import pinch as pinch_words
from dossier.views.words import springs as spring_words

OPTICS = "primary: {aperture: 150 mm, focal_length: 1200 mm}"
FOCUSER = "focuser: {mounting_radius: 100 mm, height: 50 mm}"
DIAGONAL = "diagonal: {minor_axis: 35 mm}"
CLIPS = "{count: 3, radius: 72 mm, turned: 60 deg}"
SPRING = "{rate: 1.5 N/mm, free_length: 20 mm, compressed_to: 14 mm}"


def push(against="glass", radius=50, turned=0, spring=SPRING, force=""):
    what = f"force: {force}" if force else f"spring: {spring}"
    return f"{{count: 3, radius: {radius} mm, turned: {turned} deg, against: {against}, overhang: 15 mm, {what}}}"


@pytest.fixture
def held(design):
    """A mirror of this size and thickness in this cell; the rest of the telescope is large enough for any."""

    def make(cell_spec="", aperture=150, thickness=25):
        mirror = (f"primary: {{aperture: {aperture} mm, focal_length: {8 * aperture} mm, "
                  f"edge_thickness: {thickness} mm, "
                  "glass: {youngs_modulus: 64 GPa, poissons_ratio: 0.2, density: 2230 kg/m^3}}")
        return design(cell_spec, replace={OPTICS: mirror, DIAGONAL: f"diagonal: {{minor_axis: {aperture / 4} mm}}",
                                          FOCUSER: f"focuser: {{mounting_radius: {aperture} mm, height: 50 mm}}"})

    return make


def test_enough_points_and_too_few(held):
    enough = support_words.supports(held("cell: {points: 3, rings: best}"))
    assert "Three points are enough" in enough
    few = held("cell: {points: 3, rings: best}", aperture=400, thickness=20)
    told = support_words.supports(few)
    assert "Three points are not enough" in told
    assert "Six points at" in told
    chosen = cell.fewest(few, cell.compared(few))
    assert chosen.points == 6
    assert chosen.wavefront.number <= 0.036 < cell.own(few).wavefront.number


def test_glass_too_thin_for_any(held):
    made = held("cell: {points: 18, rings: best}", aperture=1000, thickness=14)
    assert cell.fewest(made, cell.compared(made)) is None
    assert "thicker glass or more points" in support_words.supports(made)


def test_nothing_said_of_the_supports(held, design):
    told = support_words.supports(held())
    assert told.startswith("The plan does not say where the mirror is held. Three points")
    assert support_words.supports(design()) == ""
    assert cell.supports(design()) is None


def test_author_rings_are_judged(held):
    """0.649 of the radius is best with focus left in, 0.401 of it refocused (agreed values)."""
    wide = cell.judged(held("cell: {points: 3, rings: [48.67 mm]}"))
    assert wide.times_left_in == pytest.approx(1, abs=1e-4)
    assert wide.best.numbers == pytest.approx((75 * 0.40136,), abs=2e-3)
    assert wide.best_left_in.numbers == pytest.approx((75 * 0.64888,), abs=2e-3)
    assert wide.for_focus_left_in
    narrow = held("cell: {points: 3, rings: [30.1 mm]}")
    assert cell.judged(narrow).times == pytest.approx(1, abs=1e-3)
    assert "lets it sag no more" in support_words.supports(narrow)
    odd = support_words.supports(held("cell: {points: 3, rings: [70 mm]}"))
    assert "suits neither" in odd
    assert cell.judged(held("cell: {points: 3, rings: best}")) is None


def test_nine_equal_points_are_no_better_than_six(held):
    nine = held("cell: {points: 9, rings: best}", aperture=250)
    told = support_words.supports(nine).replace("\u202f", " ")
    assert "no better than six once the mirror is refocused" in told
    assert "0.88 N on each inner point and 4.0 N on each outer one, at 16.5 mm and 79.1 mm" in told
    assert "no better than six" not in support_words.supports(held("cell: {points: 6, rings: best}", aperture=250))


def test_compared_agrees(held):
    """250 × 25 mm, computed independently: 0.775 nm on nine equal points, 0.422 nm with free loads."""
    rows = {(each.points, each.forces is not None): each for each in cell.compared(held(aperture=250))}
    assert rows[9, False].sag.number == pytest.approx(0.775, abs=6e-4)
    assert rows[9, True].sag.number == pytest.approx(0.422, abs=6e-4)
    assert cell.supports(held()).rows[0].name == "Three points"


def test_levers_for_those_that_need_them(held):
    assert cell.lever_sizes(held("cell: {points: 3, rings: best}")) is None
    for points, pieces in ((6, 2), (9, 4), (18, 6)):
        table = cell.lever_sizes(held(f"cell: {{points: {points}, rings: best}}", aperture=250))
        assert len(table.rows) == pieces
        assert len(table.columns) == (1 if points == 6 else 2)
    advised = cell.lever_sizes(held("cell: {points: 3, rings: best}", aperture=400, thickness=20))
    assert advised.title == "Levers for six points"


def test_pinch_in_other_arrangements_agrees(held):
    """Thin 150 × 25 mm, computed independently: 0.47490 and 1.21844 nm/N, 20.87 and 8.135 N; 1.3 to 1.6 times worse."""
    known = {each.key: each for each in pinch.arrangements(held(
        f"cell: {{points: 3, rings: best, push: {push()}, clips: {CLIPS}}}"))}
    assert known["own"].surface.number == pytest.approx(1.21844, abs=1e-5)
    assert known["own"].limit.number == pytest.approx(8.135, rel=3e-4)
    assert known["onto"].surface.number == pytest.approx(0.47490, abs=1e-5)
    assert known["onto"].limit.number == pytest.approx(20.87, rel=3e-4)
    for key in ("own", "onto"):
        assert 1.3 <= known[key].factor.number <= 1.6
        assert known[key].solid_limit.number == pytest.approx(known[key].limit.number / known[key].factor.number)
    assert not known["behind"].bends
    assert not known["plate"].bends
    assert "between" not in known


def test_soft_enough_and_too_hard(held):
    hard = pinch_words.tell(held(f"cell: {{points: 3, rings: best, push: {push()}, clips: {CLIPS}}}"))
    assert "too hard" in hard
    assert "from the springs" in hard
    soft = pinch_words.tell(held(f"cell: {{points: 3, rings: best, push: {push(force='4 N')}, clips: {CLIPS}}}"))
    assert "soft enough" in soft
    assert "from a screw" in soft
    stiff = push(spring="{rate: 9 N/mm, free_length: 20 mm, compressed_to: 19.5 mm}")
    assert "which is not soft" in pinch_words.tell(held(
        f"cell: {{points: 3, rings: best, push: {stiff}, clips: {CLIPS}}}"))


def test_plate_takes_the_pushes(held):
    made = held(f"cell: {{points: 3, rings: best, push: {push('plate')}, clips: {CLIPS}}}")
    assert made.results["cell.pinch_wavefront_rms"].number == 0
    told = pinch_words.tell(made)
    assert "not pinched at all, whatever their force" in told
    assert "too hard" not in told
    assert "the pushes bend a plate" in support_words.supports(made)


def test_pushes_on_a_plate_wider_than_the_glass(held):
    made = held(f"cell: {{points: 3, rings: best, push: {push('plate', radius=90)}, clips: {CLIPS}}}")
    assert made.results["cell.pinch_wavefront_rms"].number == 0
    assert made.left_out["cell.pinch_share"] == "the pushes bear on a plate, outside the glass"
    assert "cannot reach it" in pinch_words.tell(made)
    assert pinch.table(made) is None


def test_a_turn_is_told_of_the_authors_own_screw(held):
    """ISO 261 gives 0.5 mm to M3 and 0.8 mm to M5, the usual one."""
    pushed = push("plate")
    fine = held(f"cell: {{points: 3, rings: best, push: {pushed[:-1]}, pitch: 0.5 mm}}, clips: {CLIPS}}}")
    assert "an M3 screw" in pinch_words.tell(fine)
    assert [row.name for row in pinch.screws(fine).rows] == ["M3", "M4", "M5", "M6"]
    unsaid = held(f"cell: {{points: 3, rings: best, push: {pushed}, clips: {CLIPS}}}")
    assert "an M5 screw" in pinch_words.tell(unsaid)
    assert [row.name for row in pinch.screws(unsaid).rows] == ["M4", "M5", "M6"]


def test_pushes_right_behind_the_clips(held):
    made = held(f"cell: {{points: 3, rings: best, push: {push(radius=72, turned=60)}, clips: {CLIPS}}}")
    assert "stand right behind the clips" in pinch_words.tell(made)
    assert [each.key for each in pinch.arrangements(made)] == ["own", "between", "plate"]


def test_no_clips_no_pinch(held):
    made = held(f"cell: {{points: 3, rings: best, push: {push()}}}")
    assert pinch_words.tell(made) == ""
    assert pinch.table(made) is None
    assert pinch.screws(made) is None


def test_springs_seated_or_not(held):
    def told(compressed):
        spring = f"{{rate: 1.5 N/mm, free_length: 20 mm, compressed_to: {compressed} mm}}"
        return spring_words.tell(held(f"cell: {{points: 3, rings: best, push: {push('plate', spring=spring)}}}"))

    assert "That is enough" in told(14)
    assert "It holds while nobody knocks it" in told(16.5)
    assert "slumps" in told(19)


def test_coils_that_touch(held):
    def told(compressed):
        spring = ("{wire: 0.8 mm, mean_diameter: 8 mm, active_coils: 5.5, material: spring-steel, free_length: 20 mm, "
                  f"compressed_to: {compressed} mm}}")
        return spring_words.tell(held(f"cell: {{points: 3, rings: best, push: {push('plate', spring=spring)}}}"))

    assert "stay clear of that" in told(14)
    assert "all but solid" in told(7)
    assert "pushes like a screw" in told(5.5)
    assert "it keeps its length" in told(14)


def test_springs_side_by_side(held):
    """Two springs at each adjuster press twice as hard, and each wire bears its own half."""
    spring = ("{{wire: 0.8 mm, mean_diameter: 8 mm, active_coils: 5.5, material: spring-steel, free_length: 20 mm, "
              "compressed_to: 14 mm{more}}}")
    pushes = [push("plate", spring=spring.format(more=more)) for more in ("", ", count: 2")]
    one, two = (held(f"cell: {{points: 3, rings: best, push: {each}}}").results for each in pushes)
    assert two["cell.push_force"].number == pytest.approx(2 * one["cell.push_force"].number)
    assert two["cell.spring_margin"].number == pytest.approx(2 * one["cell.spring_margin"].number)
    assert two["cell.floating_shift"].number == pytest.approx(one["cell.floating_shift"].number / 2)
    assert two["cell.wire_stress"].number == pytest.approx(one["cell.wire_stress"].number)


def test_springs_of_the_shelf_do_what_they_should(held):
    """Each presses with the wanted force at its length, has travel to spare and is mounted softly."""
    made = held(f"cell: {{points: 3, rings: best, push: {push('plate')}}}")
    wanted, known = springs.job(made), springs.fittings(made)
    assert wanted.force_n == pytest.approx(1.5 * made.results["cell.seating_force"].number)
    assert 3 <= len(known) < len(shelf.springs().sizes)
    for each in known:
        used = each.size.free_length - each.mounted.number
        assert used * each.rate.number == pytest.approx(wanted.force_n)
        assert used >= 3
        assert each.mounted.number > each.size.wire * (each.size.active_coils + 2)
        assert 0 < each.stress_share.number <= 1
    rates = [each.rate.number for each in known]
    assert rates == sorted(rates)


def test_no_spring_of_the_shelf_for_a_heavy_mirror(held):
    made = held(f"cell: {{points: 3, rings: best, moving_mass: 300 kg, push: {push('plate')}}}")
    assert springs.table(made) is None
    assert "None of the common sizes" in spring_words.tell(made)


def test_springs_that_hold_a_light_mirror_need_none_of_the_shelf(held):
    """A mirror of some grams asks for less than the softest spring of the shelf gives, and its own springs hold it."""
    soft = push("plate", spring="{rate: 0.1 N/mm, free_length: 20 mm, compressed_to: 14 mm}")
    made = held(f"cell: {{points: 3, rings: best, moving_mass: 0.05 kg, push: {soft}}}")
    assert springs.table(made) is None
    assert "None of the common sizes" not in spring_words.tell(made)


def test_nothing_known_of_springs(design):
    assert spring_words.tell(design()) == ""
    assert springs.table(design()) is None
