"""The dry run in small: claims, what they mean, the ways through a procedure, and what is said of them.

Every plant is a few lines long, so that what is expected can be worked out by hand beside it.
"""

from collections.abc import Iterable
from fractions import Fraction

import pytest
from tiny_plants import (
    MATERIALS,
    PIECES,
    checklist,
    claim,
    codes,
    procedure,
    rehearsal_of_pages,
    run_of,
    said,
    tiny,
    tiny_pages,
    way,
)

from tankside.loading.values import Text
from tankside.model.claims import ClaimUnclearError, kinds_of, read_claim
from tankside.plant.claiming import Claiming
from tankside.plant.effects import Joins, Names, Sets, Wears
from tankside.plant.program import DECIDED, END, program_of
from tankside.plant.running import Run
from tankside.plant.state import State
from tankside.problems import Span

FILL = """\
- open: V1
- move: water
  path: [tap, V1, tank]
  amount: 10 L
- shut: V1
"""
EMPTY_FIRST = """\
- check: The tank is empty.
  step: look
  finds:
    - tank empty
"""
SHUT = "stop_leaves: [V1 shut]"


def volumes(states: Iterable[State], tag: str) -> set[tuple[Fraction, Fraction]]:
    return {(held.volume.low, held.volume.high) for held in (state[tag].contents for state in states) if held}


# --- claims: how they are read


@pytest.mark.parametrize(
    ("text", "subjects", "state"),
    [
        ("V1 shut", ("V1",), "shut"),
        ("V1, V2 and V4 shut", ("V1", "V2", "V4"), "shut"),
        ("V1 and hatch-250 open", ("V1", "hatch-250"), "open"),
        ("tank-250 on hold", ("tank-250",), "on hold"),
        ("tank-250 in process", ("tank-250",), "in process"),
        ("P1 out of order", ("P1",), "out of order"),
        ("line under pressure", ("line",), "under pressure"),
        ("boots, apron on", ("boots", "apron"), "on"),
        ("wear off", ("wear",), "off"),
        ("P1.mains and P1.run-down verified", ("P1.mains", "P1.run-down"), "verified"),
    ],
)
def test_claim_has_subjects_and_a_state(text: str, subjects: tuple[str, ...], state: str) -> None:
    found = claim(text)
    assert (found.subjects, found.state) == (subjects, state)
    assert (found.materials, found.other, found.quantity) == ((), None, None)
    assert found.is_worn == (state in ("on", "off"))


def test_claim_names_materials_a_volume_or_what_is_joined() -> None:
    assert claim("tank holds water, acid and dregs").materials == ("water", "acid", "dregs")
    assert claim("tank at most 40 L").quantity == "40 L"
    assert claim("tank at least 0.5 US gal").quantity == "0.5 US gal"
    assert claim("N1 joined to drum").other == "drum"
    assert claim("N1 and N2 joined to nothing").other is None


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("", "write names and one of: open, shut"),
        ("V1", "write names and one of: open, shut"),
        ("V1 shutt", "did you mean 'shut'?"),
        ("V1 is shut", ""),
        ("V1,V2 shut", ""),
        ("V1 shut now", "end it after 'shut'"),
        ("tank holds", "name materials after 'holds'"),
        ("tank holds 5 L", "name materials"),
        ("tank at most", "name a volume after 'at most'"),
        ("N1 joined to", "name a tag or 'nothing' after 'joined to'"),
        ("N1 joined to drum and pail", "name a tag or 'nothing'"),
        ("P1 verified", "write 'P1.mains verified' for a source of energy, 'P1 stopped' for a machine"),
        ("P1.mains stopped", "write 'P1.mains verified' for a source of energy, 'P1 stopped' for a machine"),
    ],
)
def test_what_is_no_claim_is_refused_with_a_way_out(text: str, hint: str) -> None:
    with pytest.raises(ClaimUnclearError) as refused:
        read_claim(Text(text, Span("tiny.yaml")))
    assert refused.value.hint.startswith(hint)
    assert repr(text) in refused.value.sentence


def test_each_state_is_said_of_its_kinds_only() -> None:
    assert kinds_of("open") == ("valve", "port")
    assert "pail" in kinds_of("holds")
    assert "pail" not in kinds_of("released")
    assert kinds_of("in order") == ()


# --- claims: what they mean for a state


@pytest.fixture
def claiming() -> Claiming:
    rehearsal = tiny(procedure("work", FILL, "wear: [goggles, gloves]"))
    return rehearsal.rehearsing.stepping(rehearsal.worked.book.procedures["work"]).claiming


@pytest.fixture
def rest() -> State:
    return tiny(procedure("work", FILL)).setting.at_rest


def narrowed(claiming: Claiming, state: State, *texts: str) -> State:
    for text in texts:
        after = claiming.narrowed(state, claim(text))
        assert after is not None, text
        state = after
    return state


def test_at_rest_all_is_shut_and_stopped_and_nothing_is_known_of_contents(rest: State) -> None:
    assert not any(piece.is_open or piece.is_running or piece.is_under_pressure for piece in rest.pieces.values())
    assert not any(piece.is_locked or piece.joined_to for piece in rest.pieces.values())
    assert rest.worn == frozenset()
    assert (rest["tank"].wash, rest["tank"].label) == ("unknown", "unknown")
    assert volumes([rest], "tank") == {(0, 100)}
    assert rest["tank"].contents is not None
    assert rest["tank"].contents.materials == ("acid", "dregs", "lemonade", "water")


def test_what_is_not_known_becomes_known_and_what_is_known_is_compared(claiming: Claiming, rest: State) -> None:
    clean = narrowed(claiming, rest, "tank clean")
    assert clean["tank"].wash == "clean"
    assert claiming.narrowed(clean, claim("tank dirty")) is None
    assert claiming.narrowed(clean, claim("tank rinsed")) == clean
    assert claiming.narrowed(narrowed(claiming, rest, "tank rinsed"), claim("tank clean")) is None
    assert claiming.narrowed(rest, claim("V1 open")) is None
    assert claiming.narrowed(rest, claim("V1, V2 and V3 shut")) == rest
    assert claiming.narrowed(rest, claim("N1 joined to nothing")) == rest
    assert claiming.narrowed(rest, claim("N1 joined to drum")) is None


def test_volumes_are_narrowed_from_both_sides(claiming: Claiming, rest: State) -> None:
    between = narrowed(claiming, rest, "tank at least 20 L", "tank at most 30 L")
    assert volumes([between], "tank") == {(20, 30)}
    assert claiming.narrowed(between, claim("tank at most 19 L")) is None
    assert claiming.narrowed(between, claim("tank empty")) is None
    # the heel stays
    assert volumes([narrowed(claiming, rest, "tank empty")], "tank") == {(0, 1)}


def test_what_a_vessel_holds_is_narrowed_to_what_is_named(claiming: Claiming, rest: State) -> None:
    full = narrowed(claiming, rest, "tank at least 20 L")
    two = narrowed(claiming, full, "tank holds water and acid")
    assert two["tank"].contents is not None
    assert two["tank"].contents.materials == ("acid", "water")
    # water and acid are all that the recipe of lemonade asks for
    assert claiming.narrowed(two, claim("tank holds lemonade")) is not None
    water = narrowed(claiming, full, "tank holds water")
    assert claiming.narrowed(water, claim("tank holds lemonade")) is None
    assert claiming.narrowed(water, claim("tank holds acid")) is None
    assert claiming.narrowed(water, claim("tank holds dregs")) is not None
    assert claiming.narrowed(full, claim("tank holds water and bleach")) is None


def test_wear_means_what_the_procedure_lists(claiming: Claiming, rest: State) -> None:
    half = rest.with_worn({"goggles"})
    assert claiming.narrowed(half, claim("wear on")) is None
    assert claiming.narrowed(half, claim("gloves off")) == half
    assert claiming.narrowed(half.with_worn({"goggles", "gloves"}), claim("wear on")) is not None


def test_what_is_not_so_is_wrong_in_one_thing_at_a_time(claiming: Claiming, rest: State) -> None:
    opened = [
        {tag for tag, piece in state.pieces.items() if piece.is_open}
        for state in claiming.denied(rest, claim("V1, V2 and V3 shut"))
    ]
    assert opened == [{"V1"}, {"V2"}, {"V3"}]
    dressed = rest.with_worn({"goggles", "gloves"})
    assert [set(state.worn) for state in claiming.denied(dressed, claim("wear on"))] == [{"goggles"}, {"gloves"}]
    empty = narrowed(claiming, rest, "tank empty")
    assert volumes(claiming.denied(empty, claim("tank empty")), "tank") == {(0, 100)}
    # a tail that is not free may be in either of the two that it fits
    assert {state["N1"].joined_to for state in claiming.denied(rest, claim("N1 joined to nothing"))} == {"drum", "pail"}


def test_denied_pump_presses_on_its_line(claiming: Claiming, rest: State) -> None:
    (running,) = claiming.denied(rest, claim("P1 stopped"))
    assert running["P1"].is_running
    assert running["line"].is_under_pressure


def test_start_takes_what_is_asked_for_as_so_whatever_was_before(claiming: Claiming, rest: State) -> None:
    state = rest
    for text in ("V1 open", "P1 running", "N1 joined to drum", "tank released", "wear on"):
        state = claiming.assumed(state, claim(text))
    assert state["V1"].is_open
    assert state["P1"].is_running
    assert state["N1"].joined_to == "drum"
    assert state["tank"].label == "released"
    assert state.worn == {"goggles", "gloves"}


def test_what_a_step_leaves_becomes_effects(claiming: Claiming) -> None:
    assert claiming.effects(claim("V1 and V2 shut")) == (
        Sets("sets", "V1", "is_open", False),
        Sets("sets", "V2", "is_open", False),
    )
    assert claiming.effects(claim("N1 joined to nothing")) == (Joins("joins", "N1", None),)
    assert claiming.effects(claim("tank holds dregs")) == (Names("names", "tank", "dregs"),)
    assert claiming.effects(claim("wear on")) == (Wears("wears", ("gloves", "goggles"), True),)


# --- the ways through a procedure


def program(steps: str, only: str | None = None):
    return program_of(tiny(procedure("work", steps)).worked.book.procedures["work"], only)


def test_steps_lead_to_the_next_and_the_last_to_the_end() -> None:
    found = program(FILL)
    names, at = [], found.start
    while at != END:
        names.append(str(found.nodes[at].item.name))
        (only,) = found.nodes[at].exits
        assert isinstance(only.target, int)
        at = only.target
    assert names == ["open-v1", "move-water", "shut-v1"]


CHOICE = """\
- choose: How much?
  step: how-much
  branches:
    - if: A little
      steps:
        - open: V1
          step: open-a-little
        - move: water
          step: a-little
          path: [tap, V1, tank]
          amount: 1 L
        - shut: V1
          step: shut-a-little
    - if: A lot
      steps:
        - open: V1
          step: open-a-lot
        - move: water
          step: a-lot
          path: [tap, V1, tank]
          amount: 20 L
        - shut: V1
          step: shut-a-lot
    - if: Nothing
      go_to: apart
- record: How much
- section: apart
  title: Apart
  entered: when sent here
- do: Go home.
  step: go-home
"""


def test_each_answer_is_a_way_of_its_own_and_they_meet_again() -> None:
    run = run_of(EMPTY_FIRST + CHOICE, SHUT)
    assert codes(run) == []
    # heel 0 to 1 L, and 1 or 20 L
    assert volumes(run.after["record-how-much"], "tank") == {(1, 2), (20, 21)}
    assert volumes(run.ends, "tank") == {(1, 2), (20, 21)}


def test_section_apart_is_reached_when_sent_there_and_by_no_other_way() -> None:
    run = run_of(EMPTY_FIRST + CHOICE, SHUT)
    assert volumes(run.after["go-home"], "tank") == {(0, 1)}
    assert {exit_.target for node in program(CHOICE).nodes if node.item.name == "go-home" for exit_ in node.exits} == {
        DECIDED
    }


def test_answer_that_finds_what_cannot_be_is_not_followed() -> None:
    steps = """\
- choose: Is V1 open?
  step: is-it
  branches:
    - if: yes
      finds:
        - V1 open
      steps:
        - do: Be astonished.
          step: astonished
    - if: no
      finds:
        - V1 shut
      steps:
        - do: Nod.
          step: nod
"""
    run = run_of(steps)
    assert codes(run) == []
    assert set(run.after) == {"nod"}


REPEAT = """\
- repeat: Add 10 L
  step: passes
  until: it is enough
  at_most: 3
  {otherwise}steps:
    - open: V1
    - move: water
      path: [tap, V1, tank]
      amount: 10 L
    - shut: V1
- record: Enough
"""


def test_repeat_is_done_once_at_least_and_as_often_as_it_says_at_most() -> None:
    run = run_of(EMPTY_FIRST + REPEAT.format(otherwise=""), SHUT)
    assert volumes(run.after["record-enough"], "tank") == {(10, 11), (20, 21), (30, 31)}


def test_repeat_that_was_not_enough_leads_on_after_the_last_pass_only() -> None:
    apart = "- section: apart\n  title: Apart\n  entered: when sent here\n- do: Stop.\n  step: give-up\n"
    run = run_of(EMPTY_FIRST + REPEAT.format(otherwise="if_not: apart\n  ") + apart, SHUT)
    assert volumes(run.after["give-up"], "tank") == {(30, 31)}
    assert volumes(run.after["record-enough"], "tank") == {(10, 11), (20, 21), (30, 31)}


def test_overflow_in_the_last_pass_is_found_and_says_which_pass() -> None:
    steps = EMPTY_FIRST + REPEAT.format(otherwise="").replace("amount: 10 L", "amount: 33 L")
    run = run_of(steps, SHUT)
    # 3 * 33 L = 99 L and up to 1 L of heel just fit, 3 * 34 L do not
    assert codes(run) == []
    run = run_of(steps.replace("33 L", "34 L"), SHUT)
    assert codes(run) == [("move-water", "overflow")]
    assert said(run, "overflow") == "'tank' may come to 103 L, it holds 100 L"
    assert way(run, "overflow") == ("pass 2 of 'passes'", "pass 3 of 'passes'")


READING = """\
- measure: Temperature
  step: reading
  instrument: T1
  limits: water.temperature
  finds:
    - tank at most 50 L
  if_outside: outside
- record: Inside
- section: outside
  title: Outside
  entered: when sent here
- record: Outside
  step: record-outside
"""
THERMOMETER = PIECES + "T1:\n  kind: instrument\n  name: Thermometer\n"


def reading(*parts: str) -> Run:
    limits = "    groups: [waters]\n    limits:\n      temperature:\n        to: 20 degC\n"
    materials = MATERIALS.replace("    groups: [waters]\n", limits, 1)
    return tiny(procedure("work", "".join(parts)), pieces=THERMOMETER, materials=materials).of("work")


def test_reading_leads_both_ways_and_what_it_finds_is_so_inside_only() -> None:
    run = reading(READING)
    assert codes(run) == []
    assert volumes(run.after["record-inside"], "tank") == {(0, 50)}
    assert volumes(run.after["record-outside"], "tank") == {(0, 100)}


def test_check_without_a_way_out_is_taken_as_so() -> None:
    run = run_of(EMPTY_FIRST)
    assert volumes(run.ends, "tank") == {(0, 1)}


def test_check_with_a_way_out_leads_there_with_each_thing_that_may_be_wrong() -> None:
    steps = """\
- check: All is shut.
  step: look
  finds:
    - V1 and V2 shut
  if_not: apart
- record: Shut
- section: apart
  title: Apart
  entered: when sent here
- do: Look.
  step: see
"""
    run = run_of(steps, "stop_leaves: [V1 and V2 shut]")
    assert {state["V1"].is_open or state["V2"].is_open for state in run.after["record-shut"]} == {False}
    assert {(state["V1"].is_open, state["V2"].is_open) for state in run.after["see"]} == {(True, False), (False, True)}
    assert codes(run) == [("see", "left-open")]
    assert way(run, "left-open") == ("'look' is not so",)


def test_section_alone_ends_where_it_ends() -> None:
    sections = "- section: first\n  title: First\n- do: One.\n- section: second\n  title: Second\n- do: Two.\n"
    alone = program(sections, "first")
    (only,) = alone.nodes[alone.start].exits
    assert (str(alone.nodes[alone.start].item.name), only.target) == ("do-one", END)


def test_section_that_leads_back_is_gone_through_until_nothing_new_comes() -> None:
    # Each time round 10 L more: it overflows at last, and the rehearsal ends.
    steps = f"""\
{EMPTY_FIRST}- section: again
  title: Again
{FILL}- choose: Once more?
  step: once-more
  branches:
    - if: yes
      go_to: again
    - if: no
      steps:
        - record: Enough
"""
    run = run_of(steps, SHUT)
    assert codes(run) == [("move-water", "overflow")]
    assert set(way(run, "overflow")) == {"'yes' at 'once-more'"}


# --- what is said of it


def test_way_says_which_answers_led_there_and_nothing_of_those_that_did_not() -> None:
    run = run_of(CHOICE.replace("        - shut: V1\n          step: shut-a-lot\n", ""), SHUT)
    assert [each.fault.code for each in run.findings if each.step == "record-how-much"] == ["left-open"]
    assert [each.way for each in run.findings if each.fault.code == "left-open"] == [("'A lot' at 'how-much'",)]


def test_fault_is_said_once_at_its_step_though_two_ways_lead_there() -> None:
    steps = EMPTY_FIRST + CHOICE.replace("- record: How much\n", "- open: V2\n")
    run = run_of(steps, "stop_leaves: [V1 and V2 shut]")
    assert len(run.taken["open-v2"]) == 2
    assert codes(run) == [("open-v2", "left-open")]


def test_check_that_can_never_be_so_is_refuted_though_it_has_a_way_out() -> None:
    apart = "- section: apart\n  title: Apart\n  entered: when sent here\n- do: Stop.\n"
    look = "- check: V1 is open.\n  step: look\n  finds:\n    - V1 open\n  if_not: apart\n- record: It is\n"
    run = run_of(look + apart)
    assert codes(run) == [("look", "not-as-believed")]
    assert said(run, "not-as-believed") == "'V1 open' cannot be so here"


def test_check_that_is_so_on_one_way_of_two_is_not_refuted() -> None:
    steps = """\
- choose: Open it?
  step: open-it
  branches:
    - if: yes
      steps:
        - open: V2
    - if: no
      steps:
        - do: Leave it.
- check: V2 is open.
  step: look
  finds:
    - V2 open
  if_not: apart
- shut: V2
- section: apart
  title: Apart
  entered: when sent here
- do: Stop.
"""
    run = run_of(steps, "stop_leaves: [V2 shut]")
    assert [each for each in codes(run) if each[1] == "not-as-believed"] == []


def test_check_that_is_so_only_after_something_went_wrong_is_refuted() -> None:
    # Sent apart at the first look, somebody shuts V2 and comes back; when all goes well it stays open.
    steps = """\
- check: V1 is shut.
  step: first-look
  finds:
    - V1 shut
  if_not: apart
- open: V2
- section: again
  title: Again
- check: V2 is shut.
  step: second-look
  finds:
    - V2 shut
  if_not: apart
- section: apart
  title: Apart
  entered: when sent here
- shut: V1
- shut: V2
- choose: Go on?
  step: go-on
  branches:
    - if: yes
      go_to: again
    - if: no
      steps:
        - do: Stop.
"""
    run = run_of(steps, "stop_leaves: [V1 and V2 shut]")
    assert codes(run) == [("second-look", "not-as-believed")]
    assert way(run, "not-as-believed") == ()


def test_line_that_a_supply_always_presses_on_is_at_rest_under_pressure() -> None:
    main = """\
main:
  kind: line
  name: Main
  connects: [tap]
  runs:
    - bore: 20 mm
      length: 1 m
"""
    run = run_of("- open: V2\n- shut: V2\n", "stop_leaves: [V2 shut]", pieces=PIECES + main)
    assert [state["main"].is_under_pressure for state in run.ends] == [True]
    assert codes(run) == []


def test_check_without_a_way_out_is_refuted_on_the_one_way_where_it_is_not_so() -> None:
    steps = """\
- choose: Open it?
  step: open-it
  branches:
    - if: yes
      steps:
        - open: V2
    - if: no
      steps:
        - do: Leave it.
- check: V2 is open.
  step: look
  finds:
    - V2 open
- shut: V2
"""
    run = run_of(steps, "stop_leaves: [V2 shut]")
    assert codes(run) == [("look", "not-as-believed")]
    assert way(run, "not-as-believed") == ("'no' at 'open-it'",)


def test_choice_none_of_whose_answers_can_be_is_refuted() -> None:
    branch = "    - if: {0}\n      finds:\n        - V{0} open\n      steps:\n        - do: Shut V{0}.\n"
    run = run_of("- choose: Which is open?\n  step: which\n  branches:\n" + branch.format(1) + branch.format(2))
    assert codes(run) == [("which", "not-as-believed")]


# --- amounts and materials


def test_amount_with_its_tolerance_must_be_there_above_the_heel() -> None:
    steps = """\
- check: There is enough.
  step: look
  finds:
    - tank at least {least}
    - tank holds water
    - drum empty
- do: Put the tail into the drum.
  step: tail
  leaves:
    - N1 joined to drum
- open: V2
- open: V3
- start: P1
- move: water
  path: [tank, V2, P1, line, V3, N1, drum]
  amount: 20 L
- stop: P1
- shut: V2
- shut: V3
- do: Take it out.
  step: out
  leaves:
    - N1 joined to nothing
"""
    stop = "stop_leaves:\n  - P1 stopped\n  - V2 and V3 shut"
    # 20 L arrive, 1 L of heel stays, and the line of 20 mm by 1 m takes 0.3142 L first
    assert codes(run_of(steps.format(least="21.32 L"), stop)) == []
    run = run_of(steps.format(least="21.31 L"), stop)
    assert codes(run) == [("move-water", "runs-dry")]
    assert "'tank' may have 20.31 L to give" in said(run, "runs-dry")


POUR = """\
- do: Dress.
  step: dress
  leaves:
    - wear on
- check: The pail is at hand.
  step: look
  finds:
    - pail empty
"""


def add(material: str, name: str) -> str:
    return f"- add: {material}\n  step: {name}\n  to: pail\n  amount: <some>\n"


SOME = """\
wear: [goggles, gloves]
amounts:
  some:
    title: Some
    calculate: dilute
    with:
      stock: 100 %v/v
      target: 50 %v/v
      make: 2 L
    result: stock_volume"""


def test_two_that_must_not_meet_are_refuted_in_either_order() -> None:
    for first, second in (("acid", "bleach"), ("bleach", "acid")):
        run = run_of(POUR + add(first, "one") + add(second, "two"), SOME)
        assert [each for each in codes(run) if each[1] == "never-meet"] == [("two", "never-meet")]
        assert said(run, "never-meet") == f"'{second}' meets '{first}' in 'pail': chlorine gas"


def test_what_was_poured_out_is_still_on_the_wall_and_water_does_not_take_it_off() -> None:
    pour_out = "- move: acid\n  step: pour\n  path: [pail, drum]\n  leaves:\n    - pail empty\n"
    rinse = add("water", "rinse") + pour_out.replace("acid", "water").replace("pour", "pour-rinse")
    pieces = PIECES.replace("holds: [water, dregs]", "holds: [water, acid]")
    run = run_of(POUR + add("acid", "one") + pour_out + rinse * 1 + add("bleach", "two"), SOME, pieces=pieces)
    assert [each for each in codes(run) if each[1] == "never-meet"] == [("two", "never-meet")]
    assert "what is left of 'acid'" in said(run, "never-meet")


def test_pair_of_which_nobody_has_spoken_is_not_allowed() -> None:
    run = run_of(POUR + add("water", "one") + add("bleach", "two"), SOME)
    assert codes(run) == [("two", "pair-unknown")]


def test_product_without_one_of_its_ingredients_may_not_be_called_so() -> None:
    named = "- do: Stir.\n  step: stir\n  leaves:\n    - pail holds lemonade\n"
    assert codes(run_of(POUR + add("water", "one") + add("acid", "two") + named, SOME)) == []
    assert codes(run_of(POUR + add("water", "one") + named, SOME)) == [("stir", "not-what-it-says")]


def test_product_with_something_foreign_in_it_may_not_be_called_so() -> None:
    named = "- do: Stir.\n  step: stir\n  leaves:\n    - pail holds lemonade\n"
    parts = add("water", "one") + add("acid", "two") + add("dregs", "three")
    assert codes(run_of(POUR + parts + named, SOME)) == [("stir", "not-what-it-says")]


def test_waste_may_be_water_and_what_is_of_its_groups_and_nothing_else() -> None:
    named = "- do: Label it.\n  step: label\n  leaves:\n    - pail holds dregs\n"
    assert codes(run_of(POUR + add("water", "one") + add("lemonade", "two") + named, SOME)) == []
    assert codes(run_of(POUR + add("bleach", "one") + named, SOME)) == [("label", "not-what-it-says")]


def test_tolerance_of_an_amount_counts_both_ways() -> None:
    jug = "jug:\n  kind: measure\n  name: Jug\n  graduation: 0.1 L\n  range:\n    from: 0.5 L\n    to: 5 L\n"
    measured = f"{SOME}\n    measure_in: jug\n    tolerance: 0.2 L"
    run = run_of(POUR + add("water", "one"), measured, pieces=PIECES + jug)
    # half of 2 L, and 0.2 L less or more
    assert volumes(run.ends, "pail") == {(Fraction("0.8"), Fraction("1.2"))}


WATER_ONLY = PIECES.replace("holds: [water, acid, lemonade, dregs]", "holds: [water]")


def test_lock_that_keeps_an_open_valve_isolates_nothing() -> None:
    pieces = WATER_ONLY.replace(
        "  name: Pump\n",
        "  name: Pump\n  energy_sources:\n    - name: head\n      source: Liquid\n      magnitude: 100 L\n"
        "      isolate_at: V2\n      release: It is shut.\n      verify: Nothing drips.\n",
    )
    steps = """\
- {turn}: V2
  step: turn
- lock: V2
- do: Let it run off, and look.
  step: prove
  leaves:
    - P1.head dissipated
    - P1.head verified
- do: Open the pump.
  step: work
  works_on: [P1]
- unlock: V2
- shut: V2
"""
    assert codes(run_of(steps.format(turn="shut"), pieces=pieces)) == []
    run = run_of(steps.format(turn="open"), "stop_leaves: [V2 shut]", pieces=pieces)
    assert codes(run) == [("work", "not-isolated")]
    assert said(run, "not-isolated") == "hands go into 'P1', and 'P1.head' is not shut at 'V2'"


def test_lock_taken_off_takes_the_proof_with_it() -> None:
    pieces = WATER_ONLY.replace(
        "  name: Pump\n",
        "  name: Pump\n  energy_sources:\n    - name: mains\n      source: Electrical\n      magnitude: 120 V\n"
        "      isolate_at: switch\n      release: It is off.\n      verify: Nothing moves.\n",
    )
    pieces += "switch:\n  kind: isolation-point\n  name: Switch\n  connects: [P1]\n"
    prove = "- do: Try it.\n  step: prove\n  leaves:\n    - P1.mains dissipated\n    - P1.mains verified\n"
    work = "- do: Open it.\n  step: work\n  works_on: [P1]\n"
    again = "- unlock: switch\n- lock: switch\n  step: lock-again\n"
    assert codes(run_of(f"- lock: switch\n{prove}{work}", pieces=pieces)) == []
    run = run_of(f"- lock: switch\n{prove}{again}{work}", pieces=pieces)
    assert codes(run) == [("work", "not-isolated")]
    assert said(run, "not-isolated") == "hands go into 'P1', and 'P1.mains' is not verified"


def test_machine_that_was_started_has_its_energy_again() -> None:
    steps = """\
- do: Let it run down, and look.
  step: look
  leaves:
    - P1.run-down dissipated
    - P1.run-down verified
- start: P1
- stop: P1
"""
    pieces = WATER_ONLY.replace(
        "  name: Pump\n",
        "  name: Pump\n  energy_sources:\n    - name: run-down\n      source: Rotation\n      magnitude: 5 s\n"
        "      isolate_at: V2\n      release: It runs down.\n      verify: It stands still.\n",
    )
    run = run_of(steps, "stop_leaves: [P1 stopped]", pieces=pieces)
    (before,), (after,) = run.after["look"], run.after["stop-p1"]
    assert (before["P1"].dissipated, before["P1"].verified) == ({"run-down"}, {"run-down"})
    assert (after["P1"].dissipated, after["P1"].verified) == (set(), set())


# --- stopping


def test_every_step_is_stopped_after_and_the_first_that_is_not_safe_is_named() -> None:
    run = run_of(EMPTY_FIRST + FILL)
    assert list(run.stopped) == ["look", "open-v1", "move-water", "shut-v1"]
    assert codes(run) == [("open-v1", "stop-unsafe")]
    assert said(run, "stop-unsafe") == "stopped after 'open-v1', 'V1' stays open"
    (found,) = run.findings
    _, text = procedure("work", EMPTY_FIRST + FILL)
    assert text.splitlines()[found.span.line - 1] == "stop_safely: Step back."


def test_stop_that_shuts_what_was_open_is_safe() -> None:
    run = run_of(EMPTY_FIRST + FILL, SHUT)
    assert codes(run) == []
    assert {state["V1"].is_open for states in run.stopped.values() for state in states} == {False}


# --- conditions, checklists, days

FILLED = """\
conditions:
  filled:
    says: The tank is full enough.
    from: fill
    means:
      - tank at least 10 L
"""
USE = procedure("use", "- record: Level\n", "prerequisites: [filled]")
DAY = "days:\n  one: [{}]\n"
LISTS = (checklist("first", "fill"), checklist("second", "use"))


#: file, line and code
UNMET = ("procedures/plant/equipment.yaml", "- tank at least 10 L", "prerequisite-unmet")


def found(*parts: tuple[str, str], conditions: str = FILLED, days: str = "") -> list[tuple[str, str, str]]:
    pages = tiny_pages(*parts, conditions=conditions, days=days)
    problems = rehearsal_of_pages(pages).problems()
    lines = {path: text.splitlines() for path, text in pages.texts.items()}
    return [(each.span.path, lines[each.span.path][each.span.line - 1].strip(), each.code) for each in problems]


def test_procedure_counts_on_what_it_asks_for() -> None:
    run = tiny(procedure("fill", EMPTY_FIRST + FILL, SHUT), USE, conditions=FILLED).of("use")
    assert volumes(run.ends, "tank") == {(10, 100)}


def test_condition_must_be_brought_about_by_what_it_names() -> None:
    assert found(procedure("fill", EMPTY_FIRST + FILL, SHUT), USE) == []
    less = FILL.replace("amount: 10 L", "amount: 9 L")
    assert found(procedure("fill", EMPTY_FIRST + less, SHUT), USE) == [UNMET]


def test_condition_that_nothing_brings_about_is_refuted() -> None:
    nobody = FILLED.replace("    from: fill\n", "")
    fill = procedure("fill", EMPTY_FIRST + FILL, SHUT)
    assert found(fill, USE, conditions=nobody) == [UNMET]


def test_condition_may_be_brought_about_by_one_section() -> None:
    sections = f"- section: in\n  title: In\n{EMPTY_FIRST}{FILL}- section: later\n  title: Later\n- record: Level\n"
    fill = procedure("fill", sections, SHUT)
    assert found(fill, USE, conditions=FILLED.replace("from: fill", "from: fill/in")) == []


def test_day_in_its_order_brings_about_what_it_asks_for() -> None:
    room = EMPTY_FIRST.replace("tank empty", "tank at most 50 L")
    fill = procedure("fill", room + FILL, SHUT)
    assert found(fill, USE, *LISTS, days=DAY.format("first, second")) == []
    wrong = found(fill, USE, *LISTS, days=DAY.format("second, first"))
    assert wrong == [("checklists/second.yaml", "- procedure: use", "prerequisite-unmet")]


def test_checklist_by_itself_may_count_on_what_it_asks_for() -> None:
    assert found(procedure("fill", EMPTY_FIRST + FILL, SHUT), USE, *LISTS) == []


def test_checklist_goes_on_where_the_procedure_before_it_ended() -> None:
    twice = checklist("twice", "fill", "fill")
    fill = procedure("fill", FILL, SHUT, "prerequisites: [half-empty]")
    half = (
        FILLED.replace("filled:", "half-empty:")
        .replace("    from: fill\n", "")
        .replace("at least 10 L", "at most 95 L")
    )
    run = tiny(fill, twice, conditions=half).of_checklists(("twice",), is_day=False)
    # by itself 95 L and 10 L run over; the second time as well
    assert {each.fault.code for each in run.findings} == {"overflow"}
    assert all(each.within == ("twice",) for each in run.findings)


def test_procedure_sent_to_must_find_what_it_asks_for() -> None:
    asks = """\
conditions:
  inlet-open:
    says: V1 is open.
    means:
      - V1 open
"""
    other = procedure("other", "- shut: V1\n", "prerequisites: [inlet-open]", SHUT)
    sends = procedure("work", "- check: It is warm.\n  step: look\n  if_not: other\n- record: Warm\n")
    run = tiny(sends, other, conditions=asks).of("work")
    assert codes(run) == [("look", "prerequisite-unmet")]
    assert "'V1 open' is not so" in said(run, "prerequisite-unmet")
