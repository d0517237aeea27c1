"""The line diagram, read back from its SVG by geometry of the tests' own."""

import hashlib
import json
import logging
import os
import re
import subprocess
import sys
from collections.abc import Mapping
from fractions import Fraction
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
import weasyprint
from diagram_plants import ALL_TO_ALL, FIVE_VESSELS, WORDS, equipment, materials, piece, text
from diagram_reading import (
    SVG,
    DrawnDiagram,
    bends,
    crossing_count,
    meeting_points,
    stretches,
    tag_text,
    width_in_type,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser

from tankside.catalogue import load
from tankside.drawing.line_diagram import line_diagram_svg
from tankside.drawing.line_diagram_parts import line_svg
from tankside.loading.sources import Folder
from tankside.model.facts import Piece
from tankside.texts import words
from tankside.views.line_diagram import DiagramLine, LineDiagram, crossings, line_diagram
from tankside.views.line_diagram_looks import PieceLook
from tankside.views.line_diagram_places import text_width

ROOT = Path(__file__).parent.parent
TWO = materials("Water", "Lye & <salt>")
HALF, FULL, EMPTY = Fraction(1, 2), Fraction(1), Fraction(0)


def view(
    pieces: Mapping[str, Piece],
    state: Mapping[str, PieceLook] | None = None,
    only: set[str] | None = None,
    changed: set[str] | frozenset[str] = frozenset(),
) -> LineDiagram:
    return line_diagram(equipment(pieces), TWO, WORDS, state=state, only=only, changed=changed)


def drawn(*arguments: object, **named: object) -> DrawnDiagram:
    return DrawnDiagram(line_diagram_svg(view(*arguments, **named)))  # type: ignore[arg-type]


def demo() -> LineDiagram:
    loaded = load(Folder(ROOT))
    assert loaded.book is not None, loaded.problems
    return line_diagram(loaded.book.plant.equipment, loaded.book.plant.materials, words("en"))


@pytest.fixture(scope="module", params=["five vessels", "demonstration book"])
def plant(request: pytest.FixtureRequest) -> LineDiagram:
    """A plant that can be drawn without a crossing."""
    return view(FIVE_VESSELS) if request.param == "five vessels" else demo()


def assert_readable(diagram: LineDiagram) -> None:
    """No tag touches a line, another tag or another piece; each tag is there once."""
    read = DrawnDiagram(line_diagram_svg(diagram))
    boxes = read.boxes
    for one, other in combinations(boxes, 2):
        assert not one.meets(other), (one, other)
    for box in boxes:
        assert not any(box.is_met_by(stretch) for way in read.ways for stretch in way), box
        for each in diagram.pieces:
            left, right = each.x - each.half_width, each.x + each.half_width
            top, bottom = each.y - each.half_height, each.y + each.half_height
            apart = box.right <= left or box.left >= right or box.bottom <= top or box.top >= bottom
            assert apart, (box, each.tag)
    texts = ["".join(each.itertext()) for each in read.root.iter(f"{SVG}text")]
    for each in diagram.pieces:
        assert texts.count(each.tag) == 1, each.tag


# Lines


def test_plant_reads_without_crossing_lines(plant: LineDiagram) -> None:
    read = DrawnDiagram(line_diagram_svg(plant))
    assert len(read.ways) == len(plant.lines) > 20
    assert crossing_count(read.ways) == 0
    assert crossings(plant) == 0


def test_no_line_runs_through_a_piece_that_it_does_not_end_at(plant: LineDiagram) -> None:
    read = DrawnDiagram(line_diagram_svg(plant))
    for line, way in zip(plant.lines, read.ways, strict=True):
        for each in plant.pieces:
            if each.tag not in (line.first, line.second):
                left, right = each.x - each.half_width, each.x + each.half_width
                top, bottom = each.y - each.half_height, each.y + each.half_height
                for (ax, ay), (bx, by) in way:
                    apart = max(ax, bx) < left or min(ax, bx) > right or max(ay, by) < top or min(ay, by) > bottom
                    assert apart, (line.first, line.second, each.tag)


def test_each_line_ends_in_the_two_pieces_that_it_joins(plant: LineDiagram) -> None:
    places = {each.tag: each for each in plant.pieces}
    read = DrawnDiagram(line_diagram_svg(plant))
    for line, way in zip(plant.lines, read.ways, strict=True):
        for tag, (x, y) in ((line.first, way[0][0]), (line.second, way[-1][1])):
            assert abs(x - places[tag].x) <= places[tag].half_width
            assert abs(y - places[tag].y) <= places[tag].half_height


def test_neighbours_in_a_row_or_column_are_joined_by_a_straight_line() -> None:
    diagram = view(FIVE_VESSELS)
    ways = DrawnDiagram(line_diagram_svg(diagram)).ways
    at = {(line.first, line.second): bends(way) for line, way in zip(diagram.lines, ways, strict=True)}
    straight = {pair for pair in at if at[pair] == 0}
    assert {("water-supply", "meter-1"), ("meter-1", "V1"), ("V2", "P1"), ("P1", "V4"), ("tank-a", "V2")} <= straight
    assert {("P1", "long-line"), ("long-line", "V3"), ("tank-b", "V5"), ("V5", "N1"), ("N1", "bottles-1")} <= straight
    assert at["V3", "tank-b"] == 1


def test_lines_that_must_cross_go_over_each_other_with_a_hop() -> None:
    diagram = view(ALL_TO_ALL)
    svg = line_diagram_svg(diagram)
    read = DrawnDiagram(svg)
    points = meeting_points(read.ways)
    assert len(points) >= 1
    assert crossings(diagram) == len(points)
    hops = re.findall(r"H(-?[0-9]+)A6 6 0 0 [01] (-?[0-9]+) ([0-9]+)", svg)
    assert {((float(start) + float(end)) / 2, float(y)) for start, end, y in hops} == points


@pytest.mark.parametrize(
    ("start", "end", "way"),
    [
        (0, 100, "M0 50H24A6 6 0 0 1 36 50H64A6 6 0 0 1 76 50H100"),
        (100, 0, "M100 50H76A6 6 0 0 0 64 50H36A6 6 0 0 0 24 50H0"),
    ],
)
def test_hops_come_in_order_and_rise_whichever_way_a_line_is_drawn(start: int, end: int, way: str) -> None:
    # SVG: an arc from left to right rises with sweep 1, one from right to left with sweep 0
    line = DiagramLine("a", "b", "pipe", ((start, 50), (end, 50)), ((30, 50), (70, 50)))
    assert f'd="{way}"' in line_svg(line)


def test_pieces_in_a_row_stay_joined_straight_where_others_want_the_same_end() -> None:
    # the drum would reach the left side of the lock with one bend less, were the hatch not in line with it
    diagram = view(
        {
            "tank-a": piece("tank", (1, 4), ["L1", "drum-1"], form="cone-bottom"),
            "hatch-a": piece("port", (0, 3), ["tank-a"]),
            "L1": piece("isolation-point", (4, 3), ["hatch-a", "tank-a"]),
            "drum-1": piece("drum", (2, 2), ["L1"]),
        }
    )
    ways = DrawnDiagram(line_diagram_svg(diagram)).ways
    at = {(line.first, line.second): bends(way) for line, way in zip(diagram.lines, ways, strict=True)}
    assert at["L1", "hatch-a"] == 0
    assert crossing_count(ways) == 0


def test_ten_lines_to_a_small_symbol_do_not_meet_under_it() -> None:
    ring = [(x, y) for x in range(5) for y in range(5) if x in (0, 4) or y in (0, 4)]
    drums = {f"drum-{at}": piece("drum", place) for at, place in enumerate(ring[:10])}
    read = drawn({"P1": piece("pump", (2, 2), drums), **drums})
    assert len(read.ways) == 10
    assert crossing_count(read.ways) == 0


def test_what_holds_no_liquid_is_joined_by_a_line_of_its_own_kind_beside_the_pipe() -> None:
    diagram = view(FIVE_VESSELS)
    lock = next(line for line in diagram.lines if "V1-lock" in (line.first, line.second))
    assert 'stroke-dasharray="9 3 2 3"' in line_svg(lock)
    valve = next(each for each in diagram.pieces if each.tag == "V1")
    assert not valve.is_upright
    assert {x for x, _ in lock.corners} == {valve.x}
    fixed = {line.first for line in diagram.lines if 'stroke-dasharray="9 3 2 3"' in line_svg(line)}
    assert fixed == {"V1-lock", "M1", "T1"}


# Tags


def test_no_tag_overlaps_a_line_a_piece_or_another_tag(plant: LineDiagram) -> None:
    assert_readable(plant)


def test_tags_stay_clear_when_everything_is_said_under_them() -> None:
    look = PieceLook(
        position=None,
        drive=None,
        is_locked=True,
        is_in_order=False,
        is_under_pressure=True,
        volume=(EMPTY, FULL),
        materials=("m1", "m2"),
    )
    assert_readable(view(FIVE_VESSELS, dict.fromkeys(FIVE_VESSELS, look), changed=set(FIVE_VESSELS)))


def test_room_is_kept_for_the_width_of_the_type() -> None:
    # against the advance widths of the type itself
    letters = "".join(map(chr, range(32, 127))) + "…°"
    for each in letters:
        assert text_width(each * 10, 100) >= width_in_type(each * 10, 100, is_bold=True), each


def test_state_moves_no_piece_and_no_line() -> None:
    full = dict.fromkeys(FIVE_VESSELS, PieceLook(position="open", drive="running", volume=(HALF, HALF), materials=()))
    before, after = view(FIVE_VESSELS), view(FIVE_VESSELS, full)
    assert [(each.tag, each.x, each.y) for each in before.pieces] == [
        (each.tag, each.x, each.y) for each in after.pieces
    ]
    assert [line.corners for line in before.lines] == [line.corners for line in after.lines]


def test_tags_are_large_enough_on_paper(plant: LineDiagram) -> None:
    # 210 mm of an A4 sheet less 12 on each side; 6 points, the small print of a data sheet, are 6 / 72 * 25.4 = 2.12 mm
    read = DrawnDiagram(line_diagram_svg(plant))
    sizes = {float(text.attrib["font-size"]) for text in map(tag_text, read.pieces)}
    assert min(sizes) * 186 / float(read.root.attrib["width"]) >= 2.12


# What is drawn at all


def test_every_kind_of_the_schema_has_a_symbol_of_its_own() -> None:
    schema = json.loads((ROOT / "tools/tankside/schema/equipment.schema.json").read_text(encoding="utf-8"))
    kinds = schema["$defs"]["piece"]["properties"]["kind"]["enum"]
    pieces = {f"{kind}-1": piece(kind, (number, 0)) for number, kind in enumerate(kinds)}
    read = drawn(pieces)
    assert len({read.drawing(tag) for tag in pieces}) == len(kinds) > 15


def test_tanks_show_their_shape() -> None:
    forms = ("upright", "cone-bottom", "lying")
    read = drawn({form: piece("tank", (at, 0), form=form) for at, form in enumerate(forms)})
    assert len({read.drawing(form) for form in forms}) == 3


def test_piece_without_a_place_is_not_drawn() -> None:
    homeless = Piece(kind=text("pail"), name=text("Pail"), connects=(text("tank-a"),))
    diagram = view({"tank-a": piece("tank", (0, 0)), "pail-1": homeless})
    assert [each.tag for each in diagram.pieces] == ["tank-a"]
    assert diagram.lines == ()


def test_empty_columns_and_rows_take_no_room() -> None:
    near = view(FIVE_VESSELS | {"far-away": piece("eyewash", (8, 7))})
    far = view(FIVE_VESSELS)
    assert (near.width, near.height) == (far.width, far.height)


def test_meter_shows_the_letter_of_what_it_measures() -> None:
    # ISA-5.1: F flow, T temperature, P pressure, W weight
    units = {"F": "0.5 L", "T": "1 degC", "P": "0.1 bar", "W": "5 g"}
    read = drawn(
        {
            f"x-{letter}": piece("instrument", (at, 0), graduation=unit)
            for at, (letter, unit) in enumerate(units.items())
        }
    )
    for letter in units:
        assert f">{letter}</" in read.drawing(f"x-{letter}")


@pytest.mark.parametrize(("to", "apex"), [((2, 1), "20 0"), ((0, 1), "-20 0"), ((1, 0), "0 -20"), ((1, 2), "0 20")])
def test_pump_points_away_from_what_it_draws_from(to: tuple[int, int], apex: str) -> None:
    # the triangle's middle corner lies on the circle, in the direction of flow
    opposite = (2 - to[0], 2 - to[1])
    read = drawn(
        {"from": piece("tank", opposite), "P1": piece("pump", (1, 1), ["from", "to"]), "to": piece("drum", to)}
    )
    assert f"L{apex}L" in read.drawing("P1")


def test_pump_with_one_pipe_points_to_where_its_hose_goes() -> None:
    read = drawn({"from": piece("drum", (0, 0)), "P1": piece("pump", (1, 0), ["from"])})
    assert "L20 0L" in read.drawing("P1")


# States


def state(tag: str, **look: object) -> DrawnDiagram:
    return drawn(FIVE_VESSELS, {tag: PieceLook(**look)})  # type: ignore[arg-type]


def test_open_valve_is_hollow_and_shut_one_filled() -> None:
    opened, shut, either = (state("V2", position=each) for each in ("open", "shut", None))
    assert 'fill="#000"' not in opened.drawing("V2")
    assert 'd="M-12 -18L12 -18L0 0ZM-12 18L12 18L0 0Z" fill="#000"' in shut.drawing("V2")
    assert len({read.drawing("V2") for read in (opened, shut, either)}) == 3
    for read, word in ((opened, "open"), (shut, "shut"), (either, "either")):
        assert word in read.title("V2").split("; ")
        assert word in read.key_texts


def test_without_a_state_the_plant_stands_as_at_rest() -> None:
    resting = FIVE_VESSELS | {"V3": piece("valve", (5, 4), ["tank-b"], rest="open")}
    read = drawn(resting)
    assert "shut" in read.title("V2").split("; ")
    assert "open" in read.title("V3").split("; ")
    assert "stopped" in read.title("P1").split("; ")


@pytest.mark.parametrize("tag", ["P1", "M1", "exhaust-1"])
def test_running_drive_says_so(tag: str) -> None:
    running, stopped, either = (state(tag, drive=each) for each in ("running", "stopped", None))
    assert (running.infos(tag), stopped.infos(tag), either.infos(tag)) == (["running"], [], ["?"])
    assert running.drawing(tag) != stopped.drawing(tag)
    assert "running" in running.title(tag).split("; ")
    assert "stopped" in stopped.title(tag).split("; ")
    assert "running" in running.key_texts
    assert "running" not in stopped.key_texts


@pytest.mark.parametrize("tag", ["V1", "V1-lock"])
def test_locked_piece_shows_a_padlock_and_the_word(tag: str) -> None:
    locked, free = state(tag, position="shut", is_locked=True), state(tag, position="shut")
    assert (locked.infos(tag), free.infos(tag)) == (["locked"], [])
    shackle = "A4 4 0 0 1"
    in_group = [ElementTree.tostring(read.group(tag), encoding="unicode").count(shackle) for read in (locked, free)]
    assert in_group[0] >= 1
    assert in_group[1] == 0
    assert "locked" in locked.title(tag).split("; ")


def test_piece_out_of_order_is_crossed_out() -> None:
    broken, whole = state("P1", is_in_order=False), state("P1")
    cross = "M-20 -20L20 20M20 -20L-20 20"
    assert cross in broken.drawing("P1")
    assert cross not in whole.drawing("P1")
    assert "out-of-order" in broken.title("P1").split("; ")


@pytest.mark.parametrize("tag", ["long-line", "hose-1"])
def test_line_under_pressure_has_thick_walls_and_the_word(tag: str) -> None:
    pressed, free = state(tag, is_under_pressure=True), state(tag)
    assert pressed.infos(tag) == ["pressure"]
    assert 'stroke-width="5"' in pressed.drawing(tag)
    assert 'stroke-width="5"' not in free.drawing(tag)
    assert "pressure" in pressed.title(tag).split("; ")


def test_joint_by_hand_is_whole_while_joined_and_dashed_while_it_only_could_be() -> None:
    def styles(read: DrawnDiagram) -> list[str | None]:
        return [path.get("stroke-dasharray") for path in read.lines]

    apart, joined = state("N1"), state("N1", joined=("bottles-1",))
    assert styles(apart).count("7 5") == 4
    assert styles(joined).count("7 5") == 3
    # two walls: a broad stroke with a white one in it
    assert sum(path.get("stroke-width") == "7" for path in joined.lines) == 1
    assert "line-joined" in joined.key_texts
    assert "line-joined" not in apart.key_texts
    assert "joined to bottles-1" in joined.title("N1").split("; ")


def test_joint_may_be_told_from_either_end() -> None:
    assert "line-joined" in state("bottles-1", joined=("N1",)).key_texts


def test_changed_piece_has_a_second_outline() -> None:
    read = drawn(FIVE_VESSELS, changed={"V2"})
    assert 'stroke-width="13"' in read.drawing("V2")
    assert 'stroke-width="13"' not in read.drawing("V1")
    assert "changed" in read.title("V2").split("; ")
    assert "changed" in read.key_texts


# Contents


def pattern(read: DrawnDiagram, tag: str) -> list[tuple[float, float]]:
    """The ends of all strokes with round caps: those of patterns."""
    symbol = read.group(tag).find(f"{SVG}g")
    assert symbol is not None
    paths = [each.attrib["d"] for each in symbol.iter(f"{SVG}path") if each.get("stroke-linecap") == "round"]
    return [point for data in paths for stretch in stretches(data) for point in stretch]


@pytest.mark.parametrize("share", [Fraction(1, 10), Fraction(1, 2), Fraction(9, 10)])
def test_liquid_stands_as_high_as_its_share(share: Fraction) -> None:
    # tank-b is drawn 100 high, from -50 to 50; strokes of m1 lie 7 apart and swing by 1.6
    heights = [y for _, y in pattern(state("tank-b", volume=(share, share), materials=("m1",)), "tank-b")]
    level = 50 - 100 * float(share)
    assert level - 0.1 <= min(heights) <= level + 7 + 1.6
    assert 50 - 7 <= max(heights) <= 50


def test_what_may_be_there_is_drawn_half_as_wide() -> None:
    read = state("tank-b", volume=(Fraction(1, 4), Fraction(3, 4)), materials=("m1",))
    points = pattern(read, "tank-b")
    # up to a quarter (25 above the bottom at 50) as wide as the tank, from there to three quarters only its left half
    assert max(x for x, y in points if y > 26) > 30
    assert max(x for x, y in points if y < 24) <= 0
    assert min(y for _, y in points) < -17
    assert "25 to 75 % full" in read.title("tank-b").split("; ")
    assert "between" in read.key_texts


@pytest.mark.parametrize("form", ["upright", "cone-bottom", "lying"])
def test_pattern_stays_inside_its_vessel(form: str) -> None:
    look = {"tank-1": PieceLook(volume=(FULL, FULL), materials=("m1", "m2"))}
    read = drawn({"tank-1": piece("tank", (0, 0), form=form)}, look)
    for x, y in pattern(read, "tank-1"):
        assert abs(x) <= 36.05
        assert abs(y) <= 50.05
        if form == "cone-bottom" and y > 28:
            # the cone goes from 36 wide at 28 to 5 wide at 50
            assert abs(x) <= 36 - (y - 28) * 31 / 22 + 0.15


def test_materials_are_told_by_number_pattern_and_name() -> None:
    read = state("tank-a", volume=(HALF, HALF), materials=("m2", "m1"))
    assert read.infos("tank-a") == ["1+2"]
    assert {"1 Water", "2 Lye & <salt>"} <= set(read.key_texts)
    assert "holds Lye & <salt>, Water" in read.title("tank-a").split("; ")
    assert "50 % full" in read.title("tank-a").split("; ")


def test_more_materials_than_can_be_told_apart_are_in_the_key_and_the_title() -> None:
    five = materials("A", "B", "C", "D", "E")
    looks = {"tank-a": PieceLook(volume=(HALF, HALF), materials=("m1", "m2", "m3", "m4", "m5"))}
    read = DrawnDiagram(line_diagram_svg(line_diagram(equipment(FIVE_VESSELS), five, WORDS, state=looks)))
    assert read.infos("tank-a") == ["1+2+3…"]
    assert {"4 D", "5 E"} <= set(read.key_texts)
    assert "holds A, B, C, D, E" in read.title("tank-a")


def test_pattern_of_a_material_is_the_same_in_every_vessel_and_different_from_all_others() -> None:
    names = [f"Material {number}" for number in range(1, 25)]
    looks = {f"tank-{n}": PieceLook(volume=(FULL, FULL), materials=(f"m{n}",)) for n in range(1, 25)}
    tanks = {tag: piece("tank", (at % 6, at // 6), form="box") for at, tag in enumerate(looks)}
    read = DrawnDiagram(line_diagram_svg(line_diagram(equipment(tanks), materials(*names), WORDS, state=looks)))
    assert len({read.drawing(tag) for tag in tanks}) == 24
    samples = [
        (path.attrib["d"], path.get("stroke-width"))
        for path in read.key.iter(f"{SVG}path")
        if path.get("stroke-linecap") == "round"
    ]
    assert len(set(samples[:24])) == 24
    again = DrawnDiagram(
        line_diagram_svg(line_diagram(equipment(tanks), materials(*names), WORDS, state={"tank-1": looks["tank-5"]}))
    )
    assert again.drawing("tank-1") == read.drawing("tank-5")


def test_what_is_not_known_is_said_and_not_drawn() -> None:
    unknown, empty, unsaid = (
        state("tank-b", volume=(EMPTY, FULL), materials=None),
        state("tank-b", volume=(EMPTY, EMPTY), materials=()),
        state("tank-b"),
    )
    assert (unknown.infos("tank-b"), empty.infos("tank-b"), unsaid.infos("tank-b")) == (["?"], ["empty"], [])
    assert pattern(unknown, "tank-b") == pattern(empty, "tank-b") == pattern(unsaid, "tank-b") == []
    assert "unknown" in unknown.title("tank-b").split("; ")
    assert "not-known" in unknown.key_texts


# A part of the plant


def test_part_shows_what_was_asked_for_and_what_lies_between() -> None:
    part = view(FIVE_VESSELS, only={"tank-a", "P1", "tank-c"})
    assert {each.tag for each in part.pieces} == {"tank-a", "V2", "P1", "V4", "tank-c"}
    assert {(line.first, line.second) for line in part.lines} == {
        ("tank-a", "V2"), ("V2", "P1"), ("P1", "V4"), ("V4", "tank-c"),
    }  # fmt: skip


def test_part_keeps_left_and_right_and_is_smaller() -> None:
    whole, part = view(FIVE_VESSELS), view(FIVE_VESSELS, only={"V1", "T1", "tank-b"})
    assert part.width < whole.width / 1.2
    order = {each.tag: (each.x, each.y) for each in whole.pieces}
    for one, other in combinations(part.pieces, 2):
        for axis in (0, 1):
            before = order[one.tag][axis] - order[other.tag][axis]
            after = (one.x, one.y)[axis] - (other.x, other.y)[axis]
            assert before * after > 0 or before == after == 0


def test_part_follows_what_is_joined_by_hand_now_and_not_what_could_be() -> None:
    asked = {"V5", "waste-pail-20-l"}
    assert {each.tag for each in view(FIVE_VESSELS, only=asked).pieces} == asked
    joined = {"N1": PieceLook(joined=("waste-pail-20-l",))}
    assert {each.tag for each in view(FIVE_VESSELS, joined, only=asked).pieces} == asked | {"N1"}


def test_part_explains_no_symbols_that_it_does_not_need() -> None:
    part = drawn(FIVE_VESSELS, only={"V2", "P1"})
    assert not any(each.startswith("symbol-") for each in part.key_texts)
    assert any(each == "symbol-eyewash" for each in drawn(FIVE_VESSELS).key_texts)


def test_part_of_nothing_is_an_empty_drawing() -> None:
    assert drawn(FIVE_VESSELS, only=set()).root.findall(f".//{SVG}text") == []


# The document


def test_every_character_of_a_book_is_escaped() -> None:
    hostile = '</title><script>alert(1)</script>&amp;"\'<g onload="x">]]>'
    pieces = {"tank-1": piece("tank", (0, 0), name=hostile)}
    looks = {"tank-1": PieceLook(volume=(HALF, HALF), materials=("m1",))}
    svg = line_diagram_svg(line_diagram(equipment(pieces), materials(hostile), WORDS, state=looks))
    read = DrawnDiagram(svg)
    assert read.title("tank-1").startswith(f"tank-1: {hostile}")
    assert f"1 {hostile}" in read.key_texts
    assert {each.tag.removeprefix(SVG) for each in read.root.iter()} <= {
        "svg", "title", "desc", "rect", "g", "path", "circle", "text", "tspan",
    }  # fmt: skip


def test_hostile_tags_are_escaped_too() -> None:
    tag = "<b>&'\"-V2"
    read = drawn({tag: piece("valve", (0, 0), ["V1"]), "V1": piece("valve", (1, 0))})
    assert "".join(read.group(tag).itertext()).count(tag) == 2  # its title and its text
    assert (read.group("V1").findtext(f"{SVG}desc") or "") == f"leads to {tag}"


def test_drawing_has_no_styles_scripts_ids_or_addresses(plant: LineDiagram) -> None:
    svg = line_diagram_svg(plant)
    attributes = {name for each in DrawnDiagram(svg).root.iter() for name in each.attrib}
    assert attributes & {"style", "class", "id", "href", "onload", "clip-path", "filter", "mask"} == set()
    assert "url(" not in svg
    assert "http" not in svg.removeprefix('<svg xmlns="http://www.w3.org/2000/svg"')


def test_drawing_is_black_and_white(plant: LineDiagram) -> None:
    read = DrawnDiagram(line_diagram_svg(plant))
    inks = {each.attrib[name] for each in read.root.iter() for name in ("fill", "stroke") if name in each.attrib}
    assert inks <= {"none", "#000", "#fff"}


def test_drawing_is_a_group_whose_pieces_have_names(plant: LineDiagram) -> None:
    # role img would hide the texts inside from those who do not see them
    read = DrawnDiagram(line_diagram_svg(plant))
    assert read.root.attrib["role"] == "group"
    assert [each.tag for each in read.root][:2] == [f"{SVG}title", f"{SVG}desc"]
    for each, group in zip(plant.pieces, read.pieces, strict=True):
        assert group.attrib["role"] == "group"
        assert (group.findtext(f"{SVG}title") or "").startswith(f"{each.tag}: ")


def test_box_of_the_drawing_holds_everything(plant: LineDiagram) -> None:
    read = DrawnDiagram(line_diagram_svg(plant))
    _, _, width, height = (float(each) for each in read.root.attrib["viewBox"].split())
    assert (float(read.root.attrib["width"]), float(read.root.attrib["height"])) == (width, height)
    for box in (*read.boxes, *read.key_boxes):
        assert box.left >= 0
        assert box.right <= width
        assert box.top >= 0
        assert box.bottom <= height


def test_same_plant_gives_the_same_bytes_in_every_process() -> None:
    code = (
        "from diagram_plants import *; from tankside.drawing.line_diagram import *; "
        "from tankside.views.line_diagram import *; import sys; "
        "sys.stdout.buffer.write(line_diagram_svg(line_diagram(equipment(FIVE_VESSELS | ALL_TO_ALL), "
        "materials('Water'), WORDS)).encode('utf-8'))"
    )
    found = set()
    for seed in ("0", "1", "2"):
        environment = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT / "tests")}
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, env=environment)
        found.add(hashlib.sha256(done.stdout).hexdigest())
    assert len(found) == 1


def test_printer_takes_the_drawing_without_a_warning(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        weasyprint.HTML(string=line_diagram_svg(view(FIVE_VESSELS))).write_pdf()
    assert [record.getMessage() for record in caplog.records] == []


def test_search_of_the_browser_finds_a_tag_that_is_broken_in_two(browser: Browser) -> None:
    diagram = view(FIVE_VESSELS)
    assert len(next(each for each in diagram.pieces if each.tag == "waste-pail-20-l").label.lines) > 1
    page = browser.new_page()
    page.set_content(f"<!doctype html><title>x</title>{line_diagram_svg(diagram)}")
    for tag in ("waste-pail-20-l", "alkaline-waste-drum-200-l", "V2"):
        assert page.evaluate("tag => { getSelection().removeAllRanges(); return find(tag) }", tag), tag
    assert not page.evaluate("find('V99')")
    page.close()


KINDS = (
    "tank",
    "drum",
    "pail",
    "valve",
    "port",
    "pump",
    "mixer",
    "line",
    "hose",
    "nozzle",
    "measure",
    "instrument",
    "isolation-point",
)


@st.composite
def plants(draw: st.DrawFn) -> dict[str, Piece]:
    """Return any few pieces, anywhere, joined anyhow."""
    places = draw(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=1, max_size=7, unique=True))
    tags = [
        f"{draw(st.sampled_from(('V', 'tank-number-', 'a-very-long-tag-of-a-piece-')))}{at}"
        for at in range(len(places))
    ]
    some = st.lists(st.sampled_from(tags), max_size=2, unique=True)
    return {
        tag: piece(
            draw(st.sampled_from(KINDS)), at, draw(some), draw(some), form=draw(st.sampled_from((None, "cone-bottom")))
        )
        for tag, at in zip(tags, places, strict=True)
    }


@settings(max_examples=30)
@given(plants())
def test_any_plant_is_drawn_with_readable_tags_and_every_crossing_counted(pieces: dict[str, Piece]) -> None:
    diagram = view(pieces)
    assert_readable(diagram)
    assert crossings(diagram) == len(meeting_points(DrawnDiagram(line_diagram_svg(diagram)).ways))
