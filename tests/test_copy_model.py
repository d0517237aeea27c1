"""A working copy does what a model of it does that shares none of its code, and nothing gets round what must hold."""

from collections import Counter
from functools import cache
from random import Random
from typing import Any, ClassVar

from carried_copies import Carried, Person
from copy_invariants import as_it_stands, broken
from copy_model import CopyModel
from copy_model_reasons import ON_A_STEP
from followed_editions import followed_editions
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test
from random_actions import correction, likely_action, on_step, random_action, taking_back
from random_copies import snapshot
from small_copies import small_editions

from tankside.records.chain import broken_links, chained
from tankside.records.copy import Copy
from tankside.records.folding import KINDS, fold
from tankside.records.refusing import refusal
from tankside.records.script import Script

#: what is tried in a run of the suite, at least
ACTIONS = 10_000
#: what nobody may be kept from while a copy is at work
NEVER_REFUSED = (
    {"kind": "stop"},
    {"kind": "note", "text": "It leaks."},
    {"kind": "redline", "about": "near-miss", "text": "It leaks."},
)
#: what chance would seldom come to by itself
SELDOM: dict[str, dict[str, Any]] = {
    **{kind: {"reason": "it was so"} for kind in ("abandon", "skip", "deviate", "alone")},
    "join": {"by": ("NO", "anyone")},
    "leave": {},
    "redline": {"about": "wrong", "text": ""},
}
STRANGER: Person = ("ZZ", "anyone")
#: what is carried out, and how often: each small edition on its own, and one drawn from the demonstration book
GROUPS = (
    *(((name,), 60) for name in sorted(small_editions().keys() - {"elsewhere"})),
    (tuple(sorted(followed_editions().keys() - small_editions())), 70),
)
#: actions that are tried on a working copy after its end
AFTER_THE_END = 6
SEEDS = st.integers(0, 10**6)


@cache
def script_of(name: str) -> Script:
    return Script(followed_editions()[name])


class CarryingOut(RuleBasedStateMachine):
    """A working copy and its model; every action is tried on both."""

    tried: ClassVar[Counter[str]] = Counter()
    accepted: ClassVar[Counter[str]] = Counter()
    refused: ClassVar[Counter[str]] = Counter()

    #: what may be carried out
    names: ClassVar[tuple[str, ...]] = ()

    @initialize(data=st.data())
    def take_an_edition(self, data: st.DataObject) -> None:
        name = data.draw(st.sampled_from(self.names))
        self.carrying = Carried(Copy(script_of(name)), Random(0))
        self.model = CopyModel(followed_editions()[name])
        self.log: list[dict[str, Any]] = []
        self.left = AFTER_THE_END

    def attempt(self, event: dict[str, Any]) -> None:
        self.left -= 1 if self.carrying.copy.ended else 0
        if self.left < 0:
            return
        copy, before = self.carrying.copy, snapshot(self.carrying.copy)
        stood = as_it_stands(self.model, before["trail"])
        linked = chained(event, copy.events[-1] if copy.events else None)
        code, reasons = refusal(copy, linked), self.model.reasons(linked)
        assert snapshot(copy) == before
        assert copy.events == self.log
        self.carrying.tried.append(event)
        self.tried[event["kind"]] += 1
        if code:
            self.refused[code] += 1
            assert code in reasons, (code, reasons, linked)
            return
        assert reasons == set(), (reasons, linked)
        self.accepted[event["kind"]] += 1
        self.log.append(linked)
        fold(copy, linked)
        self.model.do(linked)
        after = snapshot(copy)
        self.compare(after)
        assert broken(self.model, after["trail"], stood) == []
        self.check_what_is_never_refused()

    def compare(self, after: dict[str, Any]) -> None:
        model, copy = self.model, self.carrying.copy
        ways = [(each["kind"], each["name"], each["state"], each["exit"], each["isAside"]) for each in after["trail"]]
        assert ways == [(each.kind, each.name, each.state, each.way, each.is_left) for each in model.way]
        assert [each.is_open for each in copy.trail] == [each.is_due for each in model.way]
        assert copy.people == model.present
        assert (copy.is_paused, copy.given_by, copy.ended) == (model.is_paused, model.handed_over_by, model.ended)
        assert (copy.is_through, copy.is_cut_short) == (model.is_through, model.is_cut_short)

    def check_what_is_never_refused(self) -> None:
        copy = self.carrying.copy
        for said in NEVER_REFUSED if copy.is_started and not copy.ended else ():
            event = self.carrying.propose(**said, by=STRANGER)
            assert refusal(copy, chained(event, copy.events[-1])) == ""

    def draw(self, seed: int) -> None:
        """Let chance go on from a seed; the same one at another time leads to something else."""
        self.carrying.chance = Random(f"{seed} {len(self.carrying.tried)}")

    @rule(seed=SEEDS, times=st.integers(1, 12))
    def go_on(self, seed: int, times: int) -> None:
        self.draw(seed)
        for _ in range(times):
            if not self.carrying.copy.ended:
                self.carrying.wait(60_000)
                self.attempt(likely_action(self.carrying))

    @rule(seed=SEEDS, times=st.integers(1, 6))
    def do_something(self, seed: int, times: int) -> None:
        for _ in range(times):
            self.draw(seed)
            self.attempt(random_action(self.carrying))

    @rule(seed=SEEDS, back=st.integers(-1, 6))
    def do_something_to_a_step(self, seed: int, back: int) -> None:
        self.draw(seed)
        copy = self.carrying.copy
        place = len(copy.trail) - 1 - back
        if copy.is_started and 0 <= place < len(copy.trail):
            self.attempt(self.carrying.propose(**{**on_step(self.carrying, copy.trail[place]), "visit": place}))

    @rule(seed=SEEDS, is_begun=st.booleans())
    def do_something_that_is_due(self, seed: int, is_begun: bool) -> None:
        self.draw(seed)
        due = self.carrying.copy.open_visits
        if due and not self.carrying.copy.is_paused:
            visit = self.carrying.chance.choice(due)
            own = {"kind": "begin"} if is_begun else on_step(self.carrying, visit)
            self.attempt(self.carrying.propose(**{**own, "visit": self.carrying.copy.trail.index(visit)}))

    @rule(seed=SEEDS, is_paused=st.booleans())
    def hand_over(self, seed: int, is_paused: bool) -> None:
        self.draw(seed)
        if self.carrying.copy.is_started:
            if is_paused:
                self.attempt(self.carrying.propose("stop"))
            self.attempt(self.carrying.propose("give", text=""))
            self.attempt(likely_action(self.carrying))

    @rule(seed=SEEDS)
    def take_back_or_correct(self, seed: int) -> None:
        self.draw(seed)
        if self.carrying.copy.is_started:
            said = self.carrying.chance.choice((taking_back, correction))(self.carrying)
            self.attempt(self.carrying.propose(**said))

    @rule(seed=SEEDS, kind=st.sampled_from(sorted(SELDOM)))
    def do_what_is_seldom_done(self, seed: int, kind: str) -> None:
        self.draw(seed)
        copy = self.carrying.copy
        # To give the work up ends it: only now and then, so that enough is done before.
        if copy.is_started and (kind != "abandon" or seed % 4 == 3):
            place = {"visit": copy.trail.index(copy.now)} if kind in ON_A_STEP and copy.now is not None else {}
            if place or kind not in ON_A_STEP:
                self.attempt(self.carrying.propose(kind, **SELDOM[kind], **place))

    @rule(hours=st.sampled_from((1, 30)))
    def load_the_page_anew(self, hours: int) -> None:
        self.carrying.wait(hours * 3_600_000)
        self.carrying.reload()

    def teardown(self) -> None:
        if hasattr(self, "carrying"):
            assert list(broken_links(self.carrying.copy.events)) == []


def test_working_copy_does_what_the_model_does_and_nothing_is_got_round() -> None:
    for names, times in GROUPS:
        chosen = settings(max_examples=times, stateful_step_count=60, derandomize=True)
        run_state_machine_as_test(type("CarryingOutOne", (CarryingOut,), {"names": names}), settings=chosen)
    assert CarryingOut.tried.total() >= ACTIONS
    assert CarryingOut.accepted.keys() == set(KINDS)
    # Enough of both kinds, so that neither is only thought to be right.
    assert min(CarryingOut.accepted.total(), CarryingOut.refused.total()) >= ACTIONS / 5
