"""Pictures in cells: true to scale both ways, told apart without colour, in 7-bit text, and in words where there is no room."""

import re
from itertools import pairwise

import pytest

from shopmate import calc, picture, units
from shopmate.picture import Curve, Label, Picture, Shape, arc, draw, rectangle
from shopmate.units import Quantity

WIDTHS = [40, 56, 80, 101, 120]
ROOMS = [(columns, rows) for columns in WIDTHS for rows in (9, 17, 30)]

SCREW = {"size": "#6", "head": "flat 82", "length": "3/4 in", "holding": "Douglas-fir coast", "top": "aluminium"}
STRUT = {
    "mode": "hinged", "mass": "18 kg", "cg_distance": "0.45 m", "lid_mount": "0.25 m", "body_x": "0.05 m", "body_y": "-0.2 m",
    "open_angle": "60°",
}  # fmt: skip


def drawn(name, **texts):
    """The pictures of a result."""
    result = calc.run(name, texts)
    return calc.find(name).drawn(result.inputs, result.outputs)


def seen(name, **texts):
    """The only picture of a result."""
    (one,) = drawn(name, **texts)
    return one


def of_examples():
    for name in calc.names():
        for number, example in enumerate(calc.find(name).examples if calc.find(name).pictures else ()):
            yield pytest.param(name, dict(example.inputs), id=f"{name}-{number}")


def on_air(*shapes, size=(40.0, 20.0), **more):
    return Picture(shapes, more.pop("labels", ()), "Words.", (0.0, 0.0), size, **more)


def ink(lines, sign):
    """Columns that a sign takes in each line it is in."""
    return [line.count(sign) for line in lines if sign in line]


# Scale


@pytest.mark.parametrize("columns", range(40, 121))
def test_what_is_twice_as_wide_takes_twice_the_columns(columns):
    lines = draw(
        on_air(Shape(rectangle(3, 12, 12, 18), "one", "hatch"), Shape(rectangle(3, 2, 21, 8), "two", "light")), columns, 60
    )
    assert max(ink(lines[:-1], "░")) == pytest.approx(2 * max(ink(lines[:-1], "╱")), abs=1)


@pytest.mark.parametrize("columns", range(40, 121, 3))
def test_a_square_is_twice_as_many_columns_wide_as_rows_high(columns):
    rows = ink(draw(on_air(Shape(rectangle(3, 3, 15, 15), "square", "hatch")), columns, 60)[:-1], "╱")
    assert max(rows) == pytest.approx(2 * len(rows), abs=2)


def test_a_solid_is_drawn_to_half_a_cell():
    lines = draw(on_air(Shape(rectangle(0, 5, 40, 12), "bar", "solid")), 40, 30)
    assert [line[0] for line in lines[4:8]] == ["█", "█", "█", "▀"]


@pytest.mark.parametrize("columns", [40, 80, 120])
def test_the_scale_bar_has_the_length_it_names(columns):
    for system, one in (("metric", 1.0), ("inch", 25.4)):
        lines = draw(on_air(Shape(rectangle(0, 0, 40, 5), "bar", "hatch")), columns, 60, system=system)
        bar, number, unit = re.search(r"(├─*┤) ([0-9./]+) (mm|in)", lines[-1]).groups()
        above, _, below = number.partition("/")
        long = float(above) / float(below or 1) * one
        assert len(bar) == pytest.approx(long * columns / 40, abs=1)
        assert unit == ("in" if system == "inch" else "mm")


@pytest.mark.parametrize("angle", [45, 60, 90, 120])
def test_a_fillet_takes_its_section_in_cells(angle):
    """Section by numerical integration (scipy quad) in the examples of the calculator; here in cells counted [computed]."""
    result = calc.run("fillet", {"length": "1 m", "radius": "12 mm", "angle": f"{angle}°"})
    shown = calc.find("fillet").drawn(result.inputs, result.outputs)[0]
    lines = draw(Picture(shown.shapes, (), "", shown.low, shown.high), 1000, 200)[:-1]
    scale = max(map(len, lines)) / (shown.high[0] - shown.low[0])
    assert sum(ink(lines, "▒")) * 2 / scale**2 == pytest.approx(result.outputs["section"].value, rel=0.05)


@pytest.mark.parametrize("bead", ["4 mm", "5.5 mm", "7 mm"])
def test_adhesive_keeps_its_volume_when_it_is_pressed(bead):
    shown = seen("bondline", width="25 mm", thickness="2 mm", length="1 m", bead=bead)
    lines = draw(Picture(shown.shapes, (), "", shown.low, shown.high), 1000, 400)[:-1]
    counts = [2 * line.count("█") + line.count("▀") + line.count("▄") for line in lines]
    between = next(row for row in range(len(counts)) if sum(counts[:row]) > 0 and counts[row] == 0)
    assert sum(counts[between:]) == pytest.approx(sum(counts[:between]), rel=0.05)


# What is to be seen


def countersunk(thickness, columns, rows=24):
    lines = draw(seen("screw", **SCREW, top_thickness=thickness), columns, rows)
    return [line for line in lines if "█" in line and "screw" not in line]


def solid(line):
    return sum(map(line.count, "█▀▄"))


@pytest.mark.parametrize("columns", WIDTHS)
def test_a_knife_edge_comes_out_of_the_back_of_the_sheet_and_a_thick_sheet_has_a_bore(columns):
    # 1/16 in under a head of 0.083 in is a knife edge, 1/8 in is not: ASME B18.6.1 head heights [read].
    for thickness, comes_out in (("1/16 in", True), ("1/8 in", False)):
        rows = countersunk(thickness, columns)
        back = max(number for number, row in enumerate(rows) if "╱" in row)
        assert (solid(rows[back]) > solid(rows[back + 2])) == comes_out
        assert any(re.search("[╱░] █+ [╱░]", row) for row in rows[: back + 1]) != comes_out
        assert solid(rows[0]) > solid(rows[back])


def test_the_head_tapers_at_the_angle_of_the_cutter():
    rows = countersunk("1/8 in", 120, 60)
    widths = [row.count("█") for row in rows if "╱" in row][:6]
    # A cone of 82° narrows by 2 tan 41° = 1.74 heights, and a cell is two columns high: trigonometry [computed].
    assert (widths[0] - widths[-1]) / (2 * (len(widths) - 1)) == pytest.approx(1.74, abs=0.2)


def test_a_dry_strip_stays_empty_and_squeeze_out_stands_over_the_edges():
    dry = draw(seen("bondline", width="30 mm", thickness="2 mm", length="1 m", bead="5 mm"), 80, 30)
    full = draw(seen("bondline", width="20 mm", thickness="2 mm", length="1 m", bead="9 mm"), 80, 30)
    full = [line for line in full if "adhesive" not in line]
    assert any(re.search("^ +█+", line) for line in dry[16:])
    assert any("dry" in line for line in dry)
    assert min(len(line) - len(line.lstrip()) for line in full if "█" in line) < min(
        len(line) - len(line.lstrip()) for line in full if "╲" in line
    )


def test_forces_of_a_strut_lie_above_one_another_by_temperature():
    lines = draw(drawn("strut", **STRUT)[-1], 80, 24)
    order = [re.search(r"●─ (\w+)", line)[1] for line in lines if "●─" in line]
    assert order == ["hot", "at", "cold", "needed"]
    assert lines[-2].split() == ["closed", "open"]


ROOF = {
    "mass": "100 kg", "cg": "1.2 m", "front_at": "300 mm", "rear_at": "2.1 m", "rear_struts": "2", "front_force": "700 N",
    "rear_force": "700 N", "strut_offset": "450 mm", "height_closed": "150 mm", "rise": "600 mm",
}  # fmt: skip
LID = {
    "mode": "hinged", "mass": "100 kg", "cg": "1.2 m", "front_struts": "4", "front_force": "700 N", "lid_x": "800 mm",
    "body_x": "100 mm", "body_y": "-700 mm", "angle_open": "50°",
}  # fmt: skip


@pytest.mark.parametrize("texts", [ROOF, LID])
@pytest.mark.parametrize("room", [(78, 20), (56, 20), (118, 30)])
def test_a_roof_of_full_size_is_seen_open_over_closed_with_its_struts(texts, room):
    lines = draw(drawn("roof", **texts)[0], *room)
    body = lines[: next(row for row, line in enumerate(lines) if "roof, open" in line)]
    rows = {sign: [row for row, line in enumerate(body) if sign in line] for sign in "░○•×"}
    assert min(rows["░"]) < min(row for row, line in enumerate(body) if solid(line))
    assert min(rows["░"]) < min(rows["○"]) < min(rows["•"]) <= max(rows["•"])
    assert len(rows["×"]) == 2
    assert any("hand pulls down, closed, hot" in line for line in lines)


def test_a_strut_whose_travel_is_not_known_has_no_picture():
    assert drawn("strut", mode="hinged", mass="20 kg", cg_distance="0.5 m", arm="0.15 m") == ()


def test_legs_that_do_not_lap_leave_a_gap_between_them():
    for legs, lap in (("14 mm", True), ("8 mm", False)):
        lines = draw(seen("gap", gap="20 mm", leg_a=legs, leg_b=legs), 80, 40)
        tips = (
            max(len(re.match("╱*", line)[0]) for line in lines[:-1]),
            min(line.index("╲") for line in lines[:-1] if "╲" in line),
        )
        assert (tips[0] > tips[1]) == lap


# On every calculator that has one


@pytest.mark.parametrize(("name", "texts"), [*of_examples()])
def test_a_picture_fits_every_room_and_says_itself_in_words(name, texts):
    for shown in drawn(name, **texts):
        assert 20 < len(shown.words) < 400
        assert shown.words.endswith(".")
        assert all(
            shown.low[0] <= label.at[0] <= shown.high[0] and shown.low[1] <= label.at[1] <= shown.high[1]
            for label in shown.labels
        )
        for columns, rows in ROOMS:
            for ascii_only in (False, True):
                fits(shown, columns, rows, ascii_only)


def fits(shown, columns, rows, ascii_only):
    """Fail where a picture is wider or higher than its room, loses a label or has a sign that the terminal lacks."""
    system = "inch" if rows == 17 else "metric"
    lines = draw(shown, columns, rows, ascii_only, system)
    assert max(map(len, lines)) <= columns
    if " ".join(lines) == shown.said(system):
        return
    assert len(lines) <= rows
    text = "\n".join(lines)
    assert not ascii_only or not set(picture.SIGNS) - {" ", "+"} & set(text)
    for label in shown.labels:
        assert " ".join(units.in_system(label.text, system).split()) in " ".join(text.split())


@pytest.mark.parametrize(("name", "texts"), [*of_examples()])
def test_no_two_materials_look_alike(name, texts):
    for shown in drawn(name, **texts):
        for place in (0, 1):
            names = picture._materials(shown)
            assert len({signs[place] for signs in names.values()}) == len(names)


def test_every_calculator_that_people_look_at_has_a_picture():
    assert {name for name in calc.names() if calc.find(name).pictures} >= {
        "screw", "fillet", "bondline", "bead", "gap", "strut",
    }  # fmt: skip


# Labels, words


def labelled(*labels):
    return on_air(Shape(rectangle(0, 0, 40, 20), "board", "hatch"), labels=labels)


def test_a_label_stands_at_the_end_of_a_line_from_its_place():
    lines = draw(labelled(Label("top", (30, 18)), Label("low", (10, 3), Quantity(3.0, "mm"))), 80, 20)
    (top,), (low,) = [line for line in lines if "top" in line], [line for line in lines if "low" in line]
    assert re.search("●─+ top$", top)
    assert re.search("●─+ low 3[.0]* mm$", low)
    assert lines.index(top) < lines.index(low)
    assert top.index("●") == pytest.approx(3 * low.index("●"), abs=2)


def test_labels_of_one_place_are_numbered_side_by_side():
    line = Curve(((0.0, 10.0), (40.0, 10.0)), "edge", "rule")
    lines = draw(on_air(labels=(Label("here", (20, 10)), Label("there", (20, 10))), curves=(line,)), 80, 20)
    assert any("12" in line or "21" in line for line in lines)
    assert any("1 here" in line for line in lines)
    assert any("2 there" in line for line in lines)


@pytest.mark.parametrize("room", [(40, 2), (9, 20), (1, 1), (30, 3)])
def test_a_picture_too_small_to_tell_anything_is_told_in_words(room):
    shown = seen("screw", **SCREW, top_thickness="1/16 in")
    assert " ".join("".join(draw(shown, *room)).split()).replace(" ", "") == shown.words.replace(" ", "")
    assert draw(shown, *room, words=False) == []


def test_a_bond_line_too_thin_to_be_seen_is_told_in_words():
    shown = seen("bondline", width="150 mm", thickness="0.2 mm", length="1 m", bead="4 mm")
    assert " ".join(draw(shown, 80, 24)) == shown.words


def test_curves_fill_the_room_and_keep_their_ends():
    rising = Curve(((0.0, 1000.0), (10.0, 2000.0)), "force", "dot")
    lines = draw(Picture((), (), "Words.", (0.0, 1000.0), (10.0, 2000.0), curves=(rising,), to_scale=False), 60, 20)[:-1]
    assert lines[0].rstrip().endswith("•")
    assert lines[-1].startswith("•")
    columns = [line.index("•") for line in lines]
    assert all(upper > lower for upper, lower in pairwise(columns))


def test_an_arc_is_round():
    assert all((x - 3) ** 2 + (y - 4) ** 2 == pytest.approx(25) for x, y in arc((3.0, 4.0), 5.0, 0, 360))


def test_shapes_that_meet_are_filled_apart_and_only_one_stands_in_the_legend():
    outlines = [
        picture.rectangle(0, 0, 1218, 608), picture.rectangle(0, 611, 1218, 1219), picture.rectangle(1221, 0, 1821, 300),
        picture.rectangle(1221, 303, 1821, 603), picture.rectangle(1221, 606, 1821, 906),
    ]  # fmt: skip
    shapes = picture.told_apart(outlines, "parts")
    fills = [shape.texture for shape in shapes]
    for one, other in ((0, 1), (0, 2), (0, 3), (1, 4), (2, 3), (3, 4)):
        assert fills[one] != fills[other], (one, other)
    assert {shape.material for shape in shapes if shape.texture == fills[0]} == {"parts"}
    assert {shape.material for shape in shapes if shape.texture != fills[0]} == {""}
