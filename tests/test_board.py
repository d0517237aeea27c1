"""The board: what working copies say of the plant, and what of it speaks against a start."""

import json
from collections.abc import Mapping
from datetime import timedelta
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest
from board_cases import board_of, cases, copy_of, shortened, started
from straight_copies import MORNING, Straight

from tankside.checkup import check_book
from tankside.loading.values import Text
from tankside.plant.claiming import claim_of
from tankside.plant.portable import read_state
from tankside.problems import Span
from tankside.records.board import Board, board
from tankside.records.board_start import contradictions
from tankside.records.copy import Copy
from tankside.records.part_effects import asked
from tankside.records.script import Script
from tankside.texts import words
from tankside.views.board import board_data, plant_at_rest

ROOT = Path(__file__).parent.parent
CHECKED = check_book(ROOT)
BOARDS, STARTS = cases("boards"), cases("starts")


def named(found: tuple[Any, list[Any]]) -> list[Any]:
    return [pytest.param(case, id=case["name"]) for case in found[1]]


@pytest.mark.parametrize("case", named(BOARDS))
def test_records_fold_into_the_board_that_was_worked_out_by_hand(case: Any) -> None:
    found, _ = board_of(BOARDS[0], case)
    assert shortened(found, BOARDS[0]["rest"]) == case["expected"]


@pytest.mark.parametrize("case", named(STARTS))
def test_what_is_against_a_start_is_what_was_read_by_hand(case: Any) -> None:
    assert started(STARTS[0], case) == case["expected"]


def test_every_code_has_a_case() -> None:
    codes = {reason[0] for case in STARTS[1] for reason in case["expected"]}
    assert codes == {"contradicted", "out-of-order", "locked", "on-hold", "in-use"}
    assert min(len(BOARDS[1]), len(STARTS[1])) >= 15


def test_reference_says_who_was_at_it_and_when() -> None:
    found, _ = board_of(BOARDS[0], next(case for case in BOARDS[1] if "done in another way" in case["name"]))
    (reference,) = found.unsure.values()
    assert (reference.copy, reference.seq, reference.at) == ("a", 1, "2026-12-01T08:01:00.000+00:00")
    assert (reference.lot, reference.id, reference.step) == ("L-7", "fill", "open-v1")


def test_order_in_which_records_are_given_decides_nothing() -> None:
    shared, rest = BOARDS[0], read_state(BOARDS[0]["rest"])
    written = [each for case in BOARDS[1] if len(case["copies"]) > 1 for each in case["copies"]]
    copies = [copy_of(shared, {**each, "copy": str(at)}) for at, each in enumerate(written[-4:])]
    first = board(rest, copies)
    assert len(first.since) > 4
    assert all(board(rest, order) == Board(first.state, first.since, first.unsure) for order in permutations(copies))


def test_copy_that_was_not_begun_says_nothing() -> None:
    rest = read_state(BOARDS[0]["rest"])
    assert board(rest, [Copy(Script(BOARDS[0]["editions"]["fill"]))]).since == {}


# --- the demonstration book


def edition(name: str) -> Any:
    return json.loads(CHECKED.editions[name].canonical)


def begun(name: str, number: int, after: Straight | None = None) -> Straight:
    """Return a copy that has begun, five minutes after another one, everything that is asked for confirmed."""
    at = MORNING if after is None else after.now + timedelta(minutes=5)
    copy = Straight(edition(name), f"{number:016x}", at)
    return copy.start(confirmed=[each for _, each in asked(copy.copy.script)])


def now(copies: list[Straight]) -> Board:
    assert CHECKED.rehearsal is not None
    return board(CHECKED.rehearsal.setting.at_rest, [each.copy for each in copies])


def locks() -> Mapping[str, tuple[str, ...]]:
    assert CHECKED.rehearsal is not None
    found: Mapping[str, tuple[str, ...]] = plant_at_rest(CHECKED.rehearsal.setting)["locks"]
    return found


def against(name: str, copies: list[Straight]) -> list[tuple[str, str, str]]:
    reasons = contradictions(now(copies), Script(edition(name)), [each.copy for each in copies], locks())
    return [(each.code, each.tag, each.condition) for each in reasons]


def days() -> list[Any]:
    assert CHECKED.book is not None
    return [pytest.param(names, id=day) for day, names in CHECKED.book.plant.facts.days.items()]


@pytest.mark.parametrize("names", days())
def test_nobody_who_follows_a_day_of_the_book_is_kept_from_it(names: tuple[str, ...]) -> None:
    copies: list[Straight] = []
    for number, name in enumerate(map(str, names)):
        assert against(name, copies) == []
        copies.append(begun(name, number, copies[-1] if copies else None).through())
    # What a day ends with is known: nothing of it is left to doubt.
    assert now(copies).unsure == {}


def test_second_batch_in_a_tank_that_nobody_cleaned_is_noticed() -> None:
    blended = begun("blend-milk-line-cleaner", 1).through()
    found = against("blend-milk-line-cleaner", [blended])
    assert ("contradicted", "tank-250", "tank-clean") in found
    assert {condition for _, _, condition in found} == {"tank-clean"}


def test_batch_that_is_not_mixed_yet_goes_by_no_single_name() -> None:
    # 'tank-250 holds softened-water, ... and hypochlorite-solution' is looked at before: that names none of them alone.
    blending = begun("blend-milk-line-cleaner", 1).before("wait-for-mixing")
    held = now([blending]).state["tank-250"].contents
    assert held is not None
    sure = {name for name, part in held.parts if part.low > 0}
    assert sure >= {"potassium-hydroxide-solution", "hypochlorite-solution", "softened-water", "scale-inhibitor"}


def test_tank_holds_what_was_poured_and_no_more_than_its_heel_beside_it() -> None:
    blending = begun("blend-milk-line-cleaner", 1).before("wait-for-mixing")
    held = now([blending]).state["tank-250"].contents
    assert held is not None
    script = blending.copy.script
    poured = [visit for visit in blending.copy.trail if visit.kind == "add"]
    # base units are m3 and kg; density of each material that is weighed, as the book writes it [kg/L]
    facts = CHECKED.book.plant.materials.materials if CHECKED.book else {}
    litres = 0.0
    for visit in poured:
        step = script.parts[0].steps[visit.name]
        density = facts[Text(step["material"], Span(""))].density
        is_volume = step["material"] == "softened-water"
        litres += float(visit.total) * 1000 if is_volume else float(visit.total) / float(str(density).split()[0])
    assert len(poured) == 5
    # the heel of 1.5 L may have been there before
    assert float(held.volume.low) == pytest.approx(litres, rel=1e-9)
    assert float(held.volume.high) == pytest.approx(litres + 1.5, rel=1e-9)


def test_claim_of_several_materials_is_seen_without_a_name_for_all() -> None:
    assert CHECKED.rehearsal is not None
    procedure = CHECKED.rehearsal.worked.book.procedures["blend-milk-line-cleaner"]
    claiming = CHECKED.rehearsal.rehearsing.stepping(procedure).claiming
    several, one = (
        claiming.seen(claim_of(Text(f"tank-250 holds {held}", Span(""))))
        for held in ("softened-water and milk-line-cleaner", "milk-line-cleaner")
    )
    assert several == ()
    assert [(each.kind, getattr(each, "material", "")) for each in one] == [("names", "milk-line-cleaner")]


def test_lockout_keeps_its_machine_from_being_started() -> None:
    locked = begun("lock-out-mixer", 1).before("unlock-m1-plug")
    locked.enter("abandon", reason="The lock hangs on.")
    assert ("locked", "M1-plug", "") in against("blend-milk-line-cleaner", [locked])
    # Who takes the lock off again before anything starts is not kept from it.
    assert [each for each in against("lock-out-mixer", [locked]) if each[0] == "locked"] == []


def test_held_lot_leaves_its_tank_by_nobody_but_who_releases_it() -> None:
    blended = begun("blend-milk-line-cleaner", 1).through()
    held = begun("hold-a-lot", 2, blended).before("decision")
    held.enter("abandon", reason="The lead is away.")
    assert ("on-hold", "tank-250", "") in against("clean-mixing-tank", [blended, held])
    assert ("contradicted", "tank-250", "tank-lot-released") in against("bleed-cleaner-line", [blended, held])
    assert against("hold-a-lot", [blended, held]) == []


def test_work_that_something_is_wrong_with_does_not_keep_the_remedy_back() -> None:
    blending = begun("blend-milk-line-cleaner", 1).before("add-alkali")
    assert [each for each in against("hold-a-lot", [blending]) if each[0] == "in-use"] == []
    assert ("in-use", "tank-250", "") in against("clean-mixing-tank", [blending])


# --- what the page is given


def test_page_is_given_the_plant_at_rest_and_the_locks_of_its_pieces() -> None:
    assert CHECKED.rehearsal is not None
    setting = CHECKED.rehearsal.setting
    data = board_data(setting, words("en"))
    assert read_state(data["rest"]) == setting.at_rest
    assert data["locks"]["V1"] == ["V1-lock"]
    assert "P1-switch" in data["locks"]["P1"]
    assert data["pieces"]["tank-250"] == {
        "symbol": "tank",
        "name": "Mixing tank, cleaner side",
        "where": "Centre of the room, under the hood of exhaust-1",
        "asks": ["contents"],
        "heel": "3/2",
        "capacity": "250",
    }
    assert data["pieces"]["V1"]["asks"] == ["is_open"]
    assert data["pieces"]["P2"]["asks"] == ["is_running", "joined_to"]
    assert data["pieces"]["N1"]["asks"] == ["joined_to"]
    assert data["pieces"]["V1-lock"]["asks"] == ["is_locked"]
    assert data["pieces"]["eyewash-1"]["asks"] == []


def test_words_are_given_with_their_gaps() -> None:
    assert CHECKED.rehearsal is not None
    found = board_data(CHECKED.rehearsal.setting, words("en"))["words"]
    assert found["board-since"] == "{fact}, since {time}, by {title}"
    assert found == {key: words("en").table[key] for key in found}
