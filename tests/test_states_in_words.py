"""The plant in words and as looks: several states of one moment are told as what may be so, never as one of them."""

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from tankside.catalogue import load
from tankside.loading.sources import Folder
from tankside.plant.setting import Setting, setting_of
from tankside.plant.state import State
from tankside.plant.volumes import Contents, Interval, contents, exactly
from tankside.texts import words
from tankside.units import UNITS, Quantity
from tankside.views.numbers import range_text
from tankside.views.state_looks import look_of
from tankside.views.states import Aspect, StateWords

BASE = Path(__file__).parent / "base"
SAY = words("en")


@pytest.fixture(scope="module")
def setting() -> Setting:
    book = load(Folder(BASE)).book
    assert book is not None
    return setting_of(book.plant)


@pytest.fixture(scope="module")
def told(setting: Setting) -> StateWords:
    return StateWords(setting, SAY)


@pytest.fixture
def rest(setting: Setting) -> State:
    return setting.at_rest


def held(low: float, high: float, parts: Mapping[str, tuple[float, float]]) -> Contents:
    within = {name: Interval(Fraction(least), Fraction(most)) for name, (least, most) in parts.items()}
    return contents(Interval(Fraction(low), Fraction(high)), within)


def changes(told: StateWords, rest: State, *states: State) -> list[str]:
    return list(told.changes([(rest, each) for each in states]))


# --- one state


@pytest.mark.parametrize(
    ("tag", "change", "said"),
    [
        ("V1", {"is_open": True}, "V1 open"),
        ("P1", {"is_running": True}, "P1 runs"),
        ("switch-1", {"is_locked": True}, "switch-1 locked"),
        ("R1", {"is_in_order": False}, "R1 out of order"),
        ("line-1", {"is_under_pressure": True}, "line-1 under pressure"),
        ("hood-1", {"is_proved": True}, "hood-1 proved"),
        ("N1", {"joined_to": "bucket-1"}, "N1 joined to bucket-1"),
        ("tank-1", {"wash": "clean"}, "tank-1 clean"),
        ("tank-1", {"label": "on hold"}, "tank-1 on hold"),
        ("M1", {"dissipated": frozenset({"mains"})}, "M1.mains dissipated"),
        ("tank-1", {"contents": contents(exactly(Fraction(0)), {})}, "tank-1 empty"),
        ("tank-1", {"contents": held(95, 190, {"water": (95, 190)})}, "tank-1 holds 95 to 190 L of water"),
        ("tank-1", {"contents": held(20, 20, {"water": (20, 20)})}, "tank-1 holds 20 L of water"),
        (
            "tank-1",
            {"contents": held(20, 20, {"water": (5, 6), "acid": (14, 15), "descaler": (0, 1)})},
            "tank-1 holds 20 L of acid and water, with no more than 1 L of descaler",
        ),
        (
            "tank-1",
            {"contents": held(0, 9, {"water": (0, 9), "acid": (0, 9)})},
            "tank-1 holds 0 to 9 L of acid or water",
        ),
        ("tank-1", {"contents": held(0, 1, {"acid": (0, 1)})}, "tank-1 holds 0 to 1 L of acid, no more than the heel"),
    ],
)
def test_each_thing_that_differs_has_its_words(
    told: StateWords, rest: State, tag: str, change: dict[str, object], said: str
) -> None:
    assert changes(told, rest, rest.with_piece(tag, **change)) == [said]


def test_what_is_worn_is_said_of_all_of_it_at_once(told: StateWords, rest: State) -> None:
    dressed = rest.with_worn(["gloves", "goggles"])
    assert changes(told, rest, dressed) == ["gloves, goggles on"]
    assert list(told.changes([(dressed, rest)])) == ["gloves, goggles off"]


def test_pieces_of_which_the_same_is_said_are_named_together(told: StateWords, rest: State) -> None:
    state = rest.with_piece("V1", is_open=True).with_piece("R1", is_open=True).with_piece("P1", is_running=True)
    assert changes(told, rest, state) == ["V1, R1 open", "P1 runs"]


def test_step_that_changes_nothing_says_nothing(told: StateWords, rest: State) -> None:
    assert changes(told, rest, rest) == []


# --- several states


def test_valve_that_may_be_either_is_said_and_drawn_as_either(told: StateWords, setting: Setting, rest: State) -> None:
    states = [rest, rest.with_piece("V1", is_open=True)]
    assert list(told.now(states, ["V1"])) == ["V1 open or shut"]
    look = look_of(setting.plant.parts["V1"], states)
    assert look.position is None


def test_volumes_of_several_states_are_told_from_the_least_to_the_most(
    told: StateWords, setting: Setting, rest: State
) -> None:
    states = [rest.with_piece("tank-1", contents=held(n, n, {"water": (n, n)})) for n in (0, 20, 100)]
    # In one of them nothing is there, so no material is sure.
    assert list(told.now(states, ["tank-1"])) == ["tank-1 holds 0 to 100 L of water"]
    look = look_of(setting.plant.parts["tank-1"], states)
    assert (look.volume, look.materials) == ((0, 1), ("water",))


def test_material_is_sure_only_when_it_is_in_every_state(told: StateWords, rest: State) -> None:
    one = rest.with_piece("tank-1", contents=held(10, 10, {"water": (10, 10)}))
    other = rest.with_piece("tank-1", contents=held(10, 10, {"water": (9, 9), "acid": (1, 1)}))
    assert list(told.now([one, other], ["tank-1"])) == ["tank-1 holds 10 L of water, with no more than 1 L of acid"]


def test_vessel_of_which_nothing_is_known_is_not_said_to_hold_any_one_thing(
    told: StateWords, setting: Setting, rest: State
) -> None:
    # At rest tank-1 may hold any of water, acid and descaler; the bucket, for which the book names nothing, is empty.
    narrowed = rest.with_piece("tank-1", contents=held(0, 40, dict.fromkeys(("water", "acid", "descaler"), (0, 40))))
    assert changes(told, rest, narrowed) == ["tank-1 holds 0 to 40 L of anything it may hold"]
    assert look_of(setting.plant.parts["tank-1"], [rest]).materials is None
    assert look_of(setting.plant.parts["bucket-1"], [rest]).volume == (0, 0)


def test_pressure_in_one_state_is_drawn_and_lock_only_when_it_is_in_all(setting: Setting, rest: State) -> None:
    pressed = rest.with_piece("line-1", is_under_pressure=True)
    assert look_of(setting.plant.parts["line-1"], [rest, pressed]).is_under_pressure
    locked = rest.with_piece("switch-1", is_locked=True)
    assert not look_of(setting.plant.parts["switch-1"], [rest, locked]).is_locked
    assert look_of(setting.plant.parts["switch-1"], [locked, locked]).is_locked


def test_what_a_look_tells_is_not_counted_as_a_change(told: StateWords, rest: State) -> None:
    after = rest.with_piece("tank-1", contents=held(0, 1, {"acid": (0, 1)}))
    assert list(told.seen([rest], [after])) == ["tank-1 holds 0 to 1 L of acid, no more than the heel"]
    assert list(told.changes([(rest, rest)])) == []


# --- what stays behind


def test_only_what_steps_have_touched_and_what_others_would_find_stays_behind(told: StateWords, rest: State) -> None:
    poured = held(10, 10, {"acid": (10, 10)})
    state = rest.with_piece("bucket-1", contents=poured).with_piece("V1", is_open=True).with_worn(["gloves"])
    touched = [Aspect("bucket-1", "contents"), Aspect("gloves", "worn")]
    # V1 was not touched: it was found so. Gloves are on a person, not in the plant.
    assert list(told.left(rest, [state], touched)) == ["bucket-1 holds 10 L of acid"]
    assert list(told.left(state, [state], touched)) == []


def test_vessel_that_only_gave_leaves_nothing_behind(told: StateWords, rest: State) -> None:
    full = rest.with_piece("drum-1", contents=held(60, 60, {"acid": (60, 60)}))
    less = rest.with_piece("drum-1", contents=held(40, 40, {"acid": (40, 40)}))
    touched = [Aspect("drum-1", "contents")]
    assert list(told.left(full, [less], touched)) == []
    assert list(told.left(less, [full], touched)) == ["drum-1 holds 60 L of acid"]


# --- numbers


@pytest.mark.parametrize(
    ("low", "high", "system", "said"),
    [
        # Rounded outward to three digits: what is said covers what is so.
        ("4.8575", "95.8575", "metric", "4.85 to 95.9 L"),
        ("0", "250", "metric", "0 to 250 L"),
        ("3.6913", "3.6913", "metric", "about 3.69 L"),
        ("12", "12", "metric", "12 L"),
        # 10 L / 3.785411784 L = 2.64172 US gal, 100 L = 26.4172 US gal
        ("10", "100", "customary", "2.64 to 26.5 US gal"),
        # 1 L = 33.814 US fl oz
        ("1", "100", "customary", "33.8 US fl oz to 26.5 US gal"),
    ],
)
def test_range_has_its_unit_once_and_is_never_too_narrow(low: str, high: str, system: str, said: str) -> None:
    first, last = (Quantity(UNITS["L"].to_base(Fraction(each)), UNITS["L"]) for each in (low, high))
    assert range_text(first, last, system, SAY) == said
