"""What an effect makes of a state: volumes, mixtures, lines, washing, labels, pressure, energy.

Expected values are sums done by hand, beside each.
"""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from random_folds import random_course
from real_liquid import RealPlant
from real_liquid import volume as real_volume

from tankside.loading.values import Text
from tankside.model.facts import Equipment
from tankside.model.facts import Piece as Equipped
from tankside.plant.effects import Effect, Energy, Flows, Joins, Names, Wears, sets
from tankside.plant.fold import Held, Rules, folded
from tankside.plant.parts import Plant
from tankside.plant.portable import needed
from tankside.plant.pressure import PressureRule, Way, pressure_rules, settled
from tankside.plant.state import Piece, State
from tankside.plant.volumes import EMPTY, Contents, Interval, contents, divided, exactly, flushed, poured
from tankside.problems import Span

#: tank -> V1 -> P1 -> line -> V2 -> hose -> pail, and beside it what else liquid comes from and goes to
RULES = Rules(
    held={
        "tank": Held(Fraction(100), Fraction(2)),
        "line": Held(Fraction(4), Fraction(0)),
        "hose": Held(Fraction(1), Fraction(0)),
        "pail": Held(Fraction(10), Fraction(0)),
        "bottles": Held(None, Fraction(0)),
    },
    lines=frozenset({"line", "hose"}),
    supplies=frozenset({"tap"}),
    waters=frozenset({"water"}),
    isolated_at={"switch": (("P1", "mains"), ("mixer", "mains"))},
    pressure=(
        PressureRule("line", (Way("P1", ("V1",), ()),), (Way(None, ("V2",), ()), Way(None, (), (("hose", "pail"),)))),
    ),
)
TAGS = ("tank", "V1", "P1", "line", "V2", "hose", "pail", "bottles", "drain", "tap", "mixer", "switch", "hood")
PATH = ("V1", "P1", "line", "V2", "hose")


def litres(low: float | str, high: float | str | None = None) -> Interval:
    return Interval(Fraction(low), Fraction(low if high is None else high))


def mixed(**parts: float | str) -> Contents:
    return contents(exactly(sum(map(Fraction, parts.values()), Fraction(0))), {n: litres(v) for n, v in parts.items()})


def plant(**pieces: Piece) -> State:
    """Return a state in which nothing stands anywhere, but for some pieces."""
    held = {tag: Piece(contents=EMPTY) for tag in ("tank", "line", "hose", "pail")}
    return State({**dict.fromkeys(TAGS, Piece()), **held, **pieces})


def flow(source: str | None, target: str, amount: Interval | None, through: tuple[str, ...] = (), **what: str) -> Flows:
    return Flows("flows", source, what.get("material", "product"), through, target, amount)


def after(state: State, *effects: Effect) -> State:
    for effect in effects:
        state = folded(RULES, state, effect)
    return state


def held(state: State, tag: str) -> Contents:
    found = state[tag].contents
    assert found is not None
    return found


# --- volumes


def test_what_is_left_is_never_below_nothing() -> None:
    # 2 - 2.5 is below nothing, 3 - 1 = 2
    assert litres(2, 3).less(litres(1, 2.5)) == litres(0, 2)


def test_interval_is_rounded_outward_to_a_millionth() -> None:
    third = Fraction(1, 3)
    assert Interval(third, third).outward() == litres("0.333333", "0.333334")
    assert litres("0.25", "0.5").outward() == litres("0.25", "0.5")


def test_intervals_that_touch_have_one_volume_in_common_and_those_that_do_not_none() -> None:
    assert litres(1, 2).within(litres(2, 3)) == litres(2)
    assert litres(1, 2).within(litres(3, 4)) is None


def test_volumes_and_materials_add_up_when_poured_together() -> None:
    both = mixed(water=3, acid=1).plus(mixed(acid=2, scent="0.5"))
    assert both == mixed(water=3, acid=3, scent="0.5")
    assert both.volume == litres("6.5")


def test_half_of_a_mixture_is_half_of_each_material() -> None:
    taken, left = divided(mixed(water=6, acid=2), litres(4), Fraction(0))
    assert taken == left == mixed(water=3, acid=1)


def test_heel_stays_as_a_share_of_the_mixture() -> None:
    # 8 L down to 2 L: three quarters of each go
    taken, left = divided(mixed(water=6, acid=2), None, Fraction(2))
    assert taken == mixed(water="4.5", acid="1.5")
    assert left == mixed(water="1.5", acid="0.5")


def test_more_than_is_there_takes_what_is_there() -> None:
    assert divided(mixed(water=3), litres(5), Fraction(0)) == (mixed(water=3), EMPTY)


def test_share_of_what_may_be_there_lies_between_none_and_the_most() -> None:
    # 6 L of water and 0 to 2 L of acid. Of 4 L taken, acid is at most 2 of 8 parts, water at least 6 of 8.
    mixture = contents(litres(6, 8), {"water": litres(6), "acid": litres(0, 2)})
    taken, _ = divided(mixture, litres(4), Fraction(0))
    assert taken.amount("acid") == litres(0, 1)
    assert taken.amount("water") == litres(3, 4)


def test_empty_line_is_filled_before_anything_comes_out() -> None:
    inside, out = flushed(EMPTY, Fraction(4), mixed(product=10), litres(6))
    assert inside == mixed(product=4)
    assert out == mixed(product=6)


def test_flush_leaves_a_little_more_than_a_perfectly_mixed_line_does() -> None:
    # One volume through a full line of 4 L. Perfectly mixed: 4 / e = 4 * 0.36787944117 = 1.47151776468 L is left.
    # Eight terms: 1 / (1 + 1 + 1/2 + ... + 1/40320) = 40320 / 109601, so 161280 / 109601 = 1.471519... L.
    inside, out = flushed(mixed(water=4), Fraction(4), mixed(product=4), litres(4))
    assert inside.volume == out.volume == litres(4)
    assert inside.amount("water") == litres(0, "1.47152")
    assert inside.amount("water").high > Fraction("1.47151776468")


def test_what_comes_out_of_a_line_is_new_but_for_what_the_line_can_keep() -> None:
    # 10 L through a full line of 4 L: at most 4 L of the new stay inside, at most the old 4 L come out.
    _, out = flushed(mixed(water=4), Fraction(4), mixed(product=10), litres(10))
    assert out.amount("product") == litres(6, 10)
    assert out.amount("water") == litres(0, 4)


# --- one effect


@pytest.mark.parametrize(
    ("field", "to"),
    [("is_open", True), ("is_locked", True), ("is_in_order", False), ("wash", "rinsed"), ("label", "on hold")],
)
def test_setting_a_field_sets_that_field_and_nothing_else(field: str, to: bool | str) -> None:
    before = plant()
    assert after(before, sets("V1", field, to)) == before.with_piece("V1", **{field: to})


def test_what_is_clean_has_no_traces() -> None:
    before = plant(tank=Piece(contents=EMPTY, traces=frozenset({"product"}), wash="rinsed"))
    assert after(before, sets("tank", "wash", "clean"))["tank"] == Piece(contents=EMPTY, wash="clean")
    assert after(before, sets("tank", "wash", "dirty"))["tank"].traces == {"product"}


def test_exhaust_that_was_stopped_must_be_proved_again() -> None:
    proved = plant(hood=Piece(is_running=True, is_proved=True))
    stopped = after(proved, sets("hood", "is_running", False))
    assert not stopped["hood"].is_proved
    assert not after(stopped, sets("hood", "is_running", True))["hood"].is_proved


def test_machine_that_starts_has_its_energy_again() -> None:
    before = plant(P1=Piece(dissipated=frozenset({"mains"}), verified=frozenset({"mains"})))
    assert after(before, sets("P1", "is_running", True))["P1"] == Piece(is_running=True)


def test_unlocking_a_point_makes_what_is_isolated_there_unverified() -> None:
    known = frozenset({"mains", "run-down"})
    before = plant(P1=Piece(verified=known, dissipated=known), switch=Piece(is_locked=True))
    unlocked = after(before, sets("switch", "is_locked", False))
    assert unlocked["P1"] == Piece(verified=frozenset({"run-down"}), dissipated=known)
    assert unlocked["switch"] == Piece()


def test_energy_is_dissipated_and_verified_source_by_source() -> None:
    done = after(plant(), Energy("energy", "P1", "mains", "dissipated"), Energy("energy", "P1", "head", "dissipated"))
    done = after(done, Energy("energy", "P1", "mains", "verified"))
    assert done["P1"] == Piece(dissipated=frozenset({"mains", "head"}), verified=frozenset({"mains"}))


def test_loose_end_is_joined_and_parted() -> None:
    joined = after(plant(), Joins("joins", "hose", "pail"))
    assert joined["hose"].joined_to == "pail"
    assert after(joined, Joins("joins", "hose", None)) == plant()


def test_protective_equipment_is_put_on_and_taken_off() -> None:
    on = after(plant(), Wears("wears", ("apron", "boots"), True))
    assert on.worn == {"apron", "boots"}
    assert after(on, Wears("wears", ("boots", "goggles"), False)).worn == {"apron"}


def test_name_covers_all_that_stands_in_a_vessel() -> None:
    before = plant(tank=Piece(contents=mixed(water=30, acid=10)))
    named = after(before, Names("names", "tank", "product"))
    assert held(named, "tank") == mixed(product=40)
    assert after(plant(), Names("names", "V1", "product")) == plant()


# --- flows


def test_lines_on_the_way_are_filled_first() -> None:
    # 5 L in the pail, 4 L in the line, 1 L in the hose: 50 - 10 = 40 L are left
    done = after(plant(tank=Piece(contents=mixed(product=50))), flow("tank", "pail", litres(5), PATH))
    assert [held(done, tag) for tag in ("tank", "line", "hose", "pail")] == [
        mixed(product=40), mixed(product=4), mixed(product=1), mixed(product=5),
    ]  # fmt: skip


def test_full_line_passes_on_what_comes() -> None:
    full = plant(tank=Piece(contents=mixed(product=50)), line=Piece(contents=mixed(product=4)))
    done = after(full, flow("tank", "pail", litres(5), ("V1", "P1", "line")))
    assert held(done, "tank") == mixed(product=45)
    assert held(done, "line") == mixed(product=4)
    assert held(done, "pail") == mixed(product=5)


def test_source_that_runs_dry_sends_no_more_than_it_had() -> None:
    # 3 L into an empty line of 4 L: nothing comes out at its end
    done = after(plant(tank=Piece(contents=mixed(product=3))), flow("tank", "pail", litres(5), ("V1", "P1", "line")))
    assert [held(done, tag).volume for tag in ("tank", "line", "pail")] == [litres(0), litres(3), litres(0)]


def test_emptied_vessel_keeps_its_heel_and_the_line_stays_full() -> None:
    # 50 - 2 = 48 L go, 4 L of them stay in the line
    done = after(plant(tank=Piece(contents=mixed(product=50))), flow("tank", "pail", None, ("V1", "P1", "line")))
    assert [held(done, tag).volume for tag in ("tank", "line", "pail")] == [litres(2), litres(4), litres(44)]


def test_line_is_full_once_something_has_surely_come_out_of_it() -> None:
    # at least 10 - 2 = 8 L go into a line of which at most 4 L are free
    some, more = poured("water", litres(0, 4)), poured("product", litres(10, 20))
    start = plant(tank=Piece(contents=more), line=Piece(contents=some))
    done = after(start, flow("tank", "pail", None, ("V1", "P1", "line")))
    assert held(done, "line").volume == litres(4)
    # 8 to 18 L, less 0 to 4 L that fill the line
    assert held(done, "pail").volume == litres(4, 18)


def test_amount_that_is_not_known_may_have_filled_the_line_or_not() -> None:
    start = plant(tank=Piece(contents=mixed(product=50)))
    done = after(start, flow("tank", "pail", litres(0, 5), ("V1", "P1", "line")))
    # from nothing to 5 L arrive; what was taken is from nothing, with the line still empty, to 5 L and 4 L
    assert held(done, "tank").volume == litres(41, 50)
    assert held(done, "line").volume == litres(0, 4)
    assert held(done, "pail").volume == litres(0, 5)


def test_supply_gives_what_is_asked_and_never_runs_out() -> None:
    done = after(plant(), flow("tap", "tank", litres(40), material="water"))
    assert held(done, "tank") == mixed(water=40)
    assert done["tap"] == Piece()


def test_what_comes_from_outside_is_added_to_what_is_there() -> None:
    done = after(plant(tank=Piece(contents=mixed(water=40))), flow(None, "tank", litres("2.5"), material="acid"))
    assert held(done, "tank") == mixed(water=40, acid="2.5")


def test_bottles_and_drain_take_what_comes_and_stay_what_they_are() -> None:
    start = plant(tank=Piece(contents=mixed(product=50)))
    for end, wash in (("bottles", "dirty"), ("drain", "unknown")):
        done = after(start, flow("tank", end, litres(20)))
        assert held(done, "tank").volume == litres(30)
        assert done[end] == Piece(traces=frozenset({"product"}), wash=wash)


def test_circulation_moves_nothing_and_wets_its_way() -> None:
    start = plant(tank=Piece(contents=mixed(product=50)))
    done = after(start, flow("tank", "tank", litres(0, 100), ("V1", "P1")))
    assert held(done, "tank") == mixed(product=50)
    assert done["V1"].traces == done["P1"].traces == {"product"}


def test_what_stood_in_a_line_leaves_traces_behind_it_and_not_before_it() -> None:
    start = plant(tank=Piece(contents=mixed(product=50)), line=Piece(contents=mixed(water=4)))
    done = after(start, flow("tank", "pail", litres(1), ("V1", "line", "V2")))
    assert done["V1"].traces == done["tank"].traces == {"product"}
    assert done["line"].traces == done["V2"].traces == done["pail"].traces == {"product", "water"}


@pytest.mark.parametrize(
    ("wash", "material", "expected"),
    [
        ("clean", "product", "dirty"),
        ("clean", "water", "clean"),
        ("rinsed", "water", "rinsed"),
        ("unknown", "product", "dirty"),
    ],
)
def test_anything_but_water_makes_vessel_and_line_dirty(wash: str, material: str, expected: str) -> None:
    start = plant(pail=Piece(contents=EMPTY, wash=wash), line=Piece(contents=EMPTY, wash=wash))
    done = after(start, flow("tap", "pail", litres(1), ("line",), material=material))
    assert (done["pail"].wash, done["line"].wash) == (expected, expected)


def test_dirty_vessel_is_rinsed_when_water_has_been_run_out_of_it() -> None:
    watered = plant(tank=Piece(contents=mixed(water=20, product=2), wash="dirty"))
    assert after(watered, flow("tank", "drain", None))["tank"].wash == "rinsed"
    # not while some of the water is left
    assert after(watered, flow("tank", "drain", litres(5)))["tank"].wash == "dirty"
    # and not by product alone
    product = plant(tank=Piece(contents=mixed(product=20), wash="dirty"))
    assert after(product, flow("tank", "drain", None))["tank"].wash == "dirty"


@pytest.mark.parametrize(
    ("label", "expected"),
    [
        ("released", "unlabelled"),
        ("unlabelled", "unlabelled"),
        ("in process", "in process"),
        ("on hold", "on hold"),
        ("unknown", "unknown"),
    ],
)
def test_released_lot_is_released_no_more_once_something_was_put_in(label: str, expected: str) -> None:
    start = plant(tank=Piece(contents=mixed(product=20), label=label))
    assert after(start, flow(None, "tank", litres(1)))["tank"].label == expected
    assert after(start, flow(None, "tank", litres(0)))["tank"].label == label
    assert after(start, flow("tank", "drain", litres(1)))["tank"].label == label


# --- pressure


def test_line_is_under_pressure_until_it_is_opened_to_somewhere() -> None:
    running = after(plant(), sets("V1", "is_open", True), sets("P1", "is_running", True))
    assert running["line"].is_under_pressure
    stopped = after(running, sets("P1", "is_running", False), sets("V1", "is_open", False))
    assert stopped["line"].is_under_pressure
    assert not after(stopped, sets("V2", "is_open", True))["line"].is_under_pressure
    assert not after(stopped, Joins("joins", "hose", "pail"))["line"].is_under_pressure
    assert after(stopped, Joins("joins", "hose", "bottles"))["line"].is_under_pressure


def test_pump_behind_a_shut_valve_presses_on_nothing() -> None:
    assert not after(plant(), sets("P1", "is_running", True))["line"].is_under_pressure


def test_line_that_is_fed_stays_under_pressure_though_it_is_open() -> None:
    fed = after(plant(), sets("V1", "is_open", True), sets("P1", "is_running", True), sets("V2", "is_open", True))
    assert fed["line"].is_under_pressure
    assert after(fed, sets("line", "is_under_pressure", False))["line"].is_under_pressure


def said(word: str) -> Text:
    return Text(word, Span(""))


def piece(kind: str, *connects: str) -> Equipped:
    return Equipped(kind=said(kind), name=said(kind), connects=tuple(map(said, connects)))


def rule_of_line(**pieces: Equipped) -> PressureRule:
    """Return the rule of the piece `line` among these."""
    equipment = Equipment({said(tag): each for tag, each in pieces.items()}, {}, {})
    (rule,) = pressure_rules(Plant(equipment))
    assert rule.line == "line"
    return rule


def test_line_is_fed_by_pump_and_supply_and_relieved_by_open_end_and_vessel() -> None:
    rule = rule_of_line(
        tank=piece("tank", "V1"), V1=piece("valve", "P1"), P1=piece("pump", "V1", "line", "V4"),
        line=piece("line", "V2"), V2=piece("valve", "N1"), N1=piece("nozzle"),
        tap=piece("supply", "V3"), V3=piece("valve", "line"),
        V4=piece("valve", "drum"), drum=piece("drum"),
    )  # fmt: skip
    assert set(rule.fed) == {Way("P1", (), ()), Way(None, ("V3",), ())}
    # Through the pump it is one room with the branch to the drum; back through it, to the tank, nothing runs.
    assert set(rule.relieved) == {Way(None, ("V2",), ()), Way(None, ("V4",), ())}


def test_way_by_hand_counts_while_the_ends_are_joined() -> None:
    hose = Equipped(kind=said("hose"), name=said("Hose"), joins=(said("line"), said("tap")))
    rules = pressure_rules(
        Plant(Equipment({said("line"): piece("line"), said("hose"): hose, said("tap"): piece("supply")}, {}, {}))
    )
    assert {rule.line: rule.fed for rule in rules} == {
        "line": (Way(None, (), (("hose", "line"), ("hose", "tap"))),),
        "hose": (Way(None, (), (("hose", "tap"),)),),
    }


def test_line_with_more_ways_than_are_looked_for_is_fed_when_a_pump_runs() -> None:
    # three times eight valves side by side between line and pump: 8 * 8 * 8 = 512 ways
    stages = (("A", "line", "m1"), ("B", "m1", "m2"), ("C", "m2", "P1"))
    valves = {f"{row}{n}": piece("valve", one, other) for row, one, other in stages for n in range(8)}
    rule = rule_of_line(
        **valves, line=piece("line"), m1=piece("measure", "A1"), m2=piece("measure", "B1"),
        P1=piece("pump", "tank"), tank=piece("tank"),
    )  # fmt: skip
    state = State(dict.fromkeys((*valves, "line", "m1", "m2", "P1", "tank"), Piece()))
    for tag in ("A7", "B7", "C7"):
        state = state.with_piece(tag, is_open=True)
    assert not settled((rule,), state)["line"].is_under_pressure
    assert settled((rule,), state.with_piece("P1", is_running=True))["line"].is_under_pressure


# --- whatever happens

TENTHS = st.integers(0, 400).map(lambda tenths: Fraction(tenths, 10))
MATERIALS = ("water", "acid", "product")


def standing(most: int) -> st.SearchStrategy[Contents]:
    """Return mixtures of known volumes that come to `most` litres in all, or less."""
    return st.lists(st.integers(0, most * 10 // 3), min_size=3, max_size=3).map(
        lambda tenths: mixed(**{name: str(Fraction(each, 10)) for name, each in zip(MATERIALS, tenths, strict=True)})
    )


STATES = st.builds(
    lambda tank, line, hose, pail: plant(
        **{tag: Piece(contents=each) for tag, each in (("tank", tank), ("line", line), ("hose", hose), ("pail", pail))}
    ),
    standing(60), standing(4), standing(1), standing(10),
)  # fmt: skip
THROUGH = st.sampled_from(((), ("V1", "P1"), ("V1", "P1", "line"), ("hose",), PATH))


def volume(state: State, tag: str) -> Fraction:
    low, high = held(state, tag).volume
    assert low == high
    return low


def total(state: State) -> Fraction:
    return sum((volume(state, tag) for tag in ("tank", "line", "hose", "pail")), Fraction(0))


def room(state: State, through: tuple[str, ...]) -> Fraction:
    full = {"line": Fraction(4), "hose": Fraction(1)}
    return sum((full[tag] - volume(state, tag) for tag in through if tag in full), Fraction(0))


@given(STATES, THROUGH, st.none() | TENTHS)
def test_no_volume_is_lost_or_made_between_two_vessels(
    state: State, through: tuple[str, ...], amount: Fraction | None
) -> None:
    done = after(state, flow("tank", "pail", None if amount is None else exactly(amount), through))
    assert total(done) == total(state)


@given(STATES, THROUGH, TENTHS, st.sampled_from((None, "tap")))
def test_what_came_from_outside_is_in_the_plant_to_the_last_drop(
    state: State, through: tuple[str, ...], amount: Fraction, source: str | None
) -> None:
    done = after(state, flow(source, "pail", exactly(amount), through))
    assert total(done) == total(state) + amount + room(state, through)


@given(STATES, THROUGH, st.none() | TENTHS, st.sampled_from(("bottles", "drain")))
def test_what_has_left_is_what_was_sent_and_did_not_stay_in_a_line(
    state: State, through: tuple[str, ...], amount: Fraction | None, end: str
) -> None:
    done = after(state, flow("tank", end, None if amount is None else exactly(amount), through))
    there = volume(state, "tank")
    sent = max(there - 2, Fraction(0)) if amount is None else min(amount + room(state, through), there)
    assert total(done) == total(state) - max(sent - room(state, through), Fraction(0))


LINES = {"line": Fraction(4), "hose": Fraction(1)}
RUNS = st.tuples(st.sampled_from((("tank", "pail"), ("pail", "tank"))), THROUGH, TENTHS)


@given(STATES, st.lists(RUNS, max_size=4))
def test_what_is_said_to_be_there_holds_what_is_really_there(
    state: State, runs: list[tuple[tuple[str, str], tuple[str, ...], Fraction]]
) -> None:
    standing = {tag: {n: part.low for n, part in held(state, tag).parts} for tag in ("tank", "line", "hose", "pail")}
    real = RealPlant(dict(standing), LINES)
    for (source, target), through, amount in runs:
        state = after(state, flow(source, target, exactly(amount), through))
        real.run(source, [tag for tag in through if tag in LINES], target, amount)
        for tag, liquid in real.standing.items():
            assert volume(state, tag) == real_volume(liquid)
            for name, part in liquid.items():
                said = held(state, tag).amount(name)
                assert said.low <= part <= said.high


def widened(held: Contents, down: Fraction, up: Fraction, most: Fraction) -> Contents:
    """Return contents that may be less or more, and may have a little of anything in them."""
    whole = Interval(max(held.volume.low - down, Fraction(0)), min(held.volume.high + up, most))
    said = {name: held.amount(name) for name in (*MATERIALS, "scent")}
    return contents(whole, {n: Interval(max(p.low - down, Fraction(0)), p.high + up) for n, p in said.items()})


def is_inside(narrow: Interval, wide: Interval) -> bool:
    return wide.low <= narrow.low and narrow.high <= wide.high


@given(STATES, THROUGH, TENTHS, st.lists(TENTHS, min_size=2, max_size=2))
def test_who_knows_less_of_the_plant_is_told_nothing_that_is_not_so(
    state: State, through: tuple[str, ...], amount: Fraction, off: list[Fraction]
) -> None:
    # enough is there, whatever arrives: a pump that runs dry is a fault of its own
    assume(volume(state, "tank") >= amount + 5)
    down, up = off
    wide = state
    for tag in ("tank", "line", "hose", "pail"):
        vague = widened(held(state, tag), down, up, LINES.get(tag, Fraction(1000)))
        wide = wide.with_piece(tag, contents=vague)
    roughly = Interval(max(amount - down, Fraction(0)), amount + up)
    known = after(state, flow("tank", "pail", exactly(amount), through))
    told = after(wide, flow("tank", "pail", roughly, through))
    for tag in ("tank", "line", "hose", "pail"):
        assert is_inside(held(known, tag).volume, held(told, tag).volume)
        for name in held(known, tag).materials:
            assert is_inside(held(known, tag).amount(name), held(told, tag).amount(name))
        assert known[tag].traces <= told[tag].traces


# --- what a fold must know


@given(st.randoms(use_true_random=False))
def test_one_effect_is_folded_as_well_by_what_it_needs_as_by_all_the_rules(chance: Random) -> None:
    course = random_course(chance)
    state = course.before
    for effect, expected in zip(course.effects, course.states(), strict=True):
        assert folded(needed(course.rules, (effect,)), state, effect) == expected
        state = expected


def test_effects_need_what_they_touch_and_nothing_else() -> None:
    through = flow("tap", "pail", litres(1), ("V1", "hose"))
    assert needed(RULES, (through,)) == Rules(
        held={"hose": Held(Fraction(1), Fraction(0)), "pail": Held(Fraction(10), Fraction(0))},
        lines=frozenset({"hose"}),
        supplies=frozenset({"tap"}),
        waters=frozenset({"water"}),
        isolated_at={},
        pressure=(),
    )
    nothing = Rules({}, frozenset(), frozenset(), frozenset(), {}, ())
    assert needed(RULES, (sets("V9", "is_open", True), sets("V1", "is_locked", False))) == nothing
    assert needed(RULES, (sets("tank", "label", "released"), Names("names", "tank", "product"))) == nothing
    for turned in (sets("V2", "is_open", True), sets("P1", "is_running", False), Joins("joins", "hose", None)):
        assert needed(RULES, (turned,)) == replace(nothing, pressure=RULES.pressure)
    unlocked = needed(RULES, (sets("switch", "is_locked", False),))
    assert unlocked == replace(nothing, isolated_at=RULES.isolated_at)
