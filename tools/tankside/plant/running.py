"""The dry run: sets of states, merged when equal, carried through every way that a procedure can take."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from heapq import heappop, heappush
from itertools import count

from tankside.model.procedures import Procedure
from tankside.model.steps import Choose, Hold, Step
from tankside.plant.claiming import claim_of
from tankside.plant.effects import Effect
from tankside.plant.fold import folded
from tankside.plant.gathering import Gathered
from tankside.plant.judging.exposure import Exposure
from tankside.plant.judging.faults import Fault, listed
from tankside.plant.judging.rest import UNREST, loose_ends, unrest
from tankside.plant.judging.steps import take
from tankside.plant.program import END, Exit, Follows, Node, Program, Target, every_way, program_of
from tankside.plant.setting import Setting
from tankside.plant.state import State
from tankside.plant.stepping import Stepping
from tankside.problems import Span


@dataclass(frozen=True)
class Finding:
    """A fault at its place, with the way that leads there in words."""

    span: Span
    procedure: str
    step: str
    fault: Fault
    #: what was decided on the way, in order; empty when it was straight on
    way: tuple[str, ...]
    #: the checklist in which it came about; none when the procedure was rehearsed by itself
    within: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Point:
    """A place in a program."""

    procedure: str
    node: int
    #: False after something has turned out not to be so
    is_straight: bool


@dataclass(frozen=True)
class _Came:
    """From where a state came to a point."""

    point: _Point | None
    state: State
    label: str
    is_straight: bool


@dataclass
class Run:
    """What a dry run of a procedure gave."""

    #: the states that it began in
    starts: tuple[State, ...] = ()
    findings: list[Finding] = field(default_factory=list)
    #: step of the procedure -> each state in which it was taken, with the one that it made of it
    taken: dict[str, dict[tuple[State, State], None]] = field(default_factory=dict)
    #: step of the procedure -> the states right after it, when what it looks at was so
    after: dict[str, dict[State, None]] = field(default_factory=dict)
    #: step -> the states that stopping safely right after it leads to
    stopped: dict[str, dict[State, None]] = field(default_factory=dict)
    exposed: dict[str, set[Exposure]] = field(default_factory=dict)
    #: (tag, material) -> the procedure and step that first brought it there
    reached: dict[tuple[str, str], tuple[str, str]] = field(default_factory=dict)
    #: states at the last step's end
    ends: dict[State, None] = field(default_factory=dict)
    #: how many different states were looked at, at all places together
    visited: int = 0
    #: how many ways on were followed where there is more than one
    ways: int = 0
    #: of a checklist or day: its items in order
    legs: list["Leg"] = field(default_factory=list)


@dataclass(frozen=True)
class Leg:
    """A procedure within a checklist or day, or one section of it, with its own dry run."""

    checklist: str
    procedure: Procedure
    section: str | None
    run: Run


@dataclass(frozen=True)
class Rehearsing:
    """Knows the procedures of a book and how their steps act."""

    setting: Setting
    procedures: Mapping[str, Procedure]
    stepping: Callable[[Procedure], Stepping]

    def capacity(self, tag: str) -> Fraction | None:
        """Return what a piece holds [L]; None without end."""
        return self.setting.plant.parts[tag].capacity

    def start_of(self, procedure: Procedure, state: State | None = None) -> State:
        """Return the state that a procedure may count on: rest, and what its prerequisites say."""
        state = self.setting.at_rest if state is None else state
        claiming = self.stepping(procedure).claiming
        for name in procedure.prerequisites:
            for text in self.setting.facts.equipment.conditions[name].means:
                state = claiming.assumed(state, claim_of(text))
        return state

    def run(
        self,
        procedure: Procedure,
        starts: tuple[State, ...],
        section: str | None = None,
        follows: Follows = every_way,
    ) -> Run:
        """Carry the states through a procedure, or through one section of it, along the ways that `follows` allows."""
        return _Walk(self, procedure, section, follows).walk(starts)


class _Walk:
    """One dry run in progress."""

    def __init__(self, rehearsing: Rehearsing, procedure: Procedure, section: str | None, follows: Follows) -> None:
        self.rehearsing = rehearsing
        self.follows = follows
        self.setting = rehearsing.setting
        self.own = str(procedure.procedure)
        self.programs: dict[str, Program] = {self.own: program_of(procedure, section).along(follows)}
        self.seen: dict[_Point, dict[State, _Came]] = {}
        self.gathered: dict[_Point, Gathered] = {}
        #: what comes first in the program is looked at first, so that all has come to a place before it is
        self.todo: list[tuple[bool, int, int, _Point, State]] = []
        self.arrivals = count()
        self.effects: dict[_Point, tuple[Effect, ...]] = {}
        self.stops: dict[str, tuple[Effect, ...]] = {}
        self.stopped: dict[tuple[str, State], State] = {}
        self.passed: set[_Point] = set()
        self.ways: set[tuple[_Point, Exit]] = set()
        self.found: dict[tuple[Span, str], Finding] = {}
        self.given = Run()

    def walk(self, starts: tuple[State, ...]) -> Run:
        program = self.programs[self.own]
        self.given.starts = starts
        for state in starts:
            self._arrive(program, program.start, _Came(None, state, "", is_straight=True), state)
        while self.todo:
            *_, point, state = heappop(self.todo)
            if self.gathered[point].keeps(state):
                self.given.visited += 1
                self._visit(point, state)
        self._never_so()
        self.given.findings = list(self.found.values())
        self.given.ways = len(self.ways)
        return self.given

    def _program(self, name: str) -> Program:
        if name not in self.programs:
            self.programs[name] = program_of(self.rehearsing.procedures[name]).along(self.follows)
        return self.programs[name]

    def _arrive(self, program: Program, target: Target, came: _Came, state: State) -> None:
        name = str(program.procedure.procedure)
        while isinstance(target, str) and target in program.entries:
            target = program.entries[target]
        if isinstance(target, str):
            self._sent_away(target, came, state)
        elif target >= 0:
            point = _Point(name, target, came.is_straight)
            gathered = self.gathered.setdefault(point, Gathered(self.rehearsing.capacity))
            kept = gathered.taken_in(state)
            if kept is not None:
                self.seen.setdefault(point, {})[kept] = came
                heappush(self.todo, (not point.is_straight, -point.node, next(self.arrivals), point, kept))
        elif came.point is not None:
            self._finished(target, name, came, state)

    def _sent_away(self, name: str, came: _Came, state: State) -> None:
        """Go on in another procedure; an emergency leaves everything as it is."""
        other = self.rehearsing.procedures[name]
        if other.is_emergency or came.point is None:
            return
        claiming = self.rehearsing.stepping(other).claiming
        for condition in other.prerequisites:
            for text in self.setting.facts.equipment.conditions[condition].means:
                narrowed = claiming.narrowed(state, claim_of(text))
                if narrowed is None:
                    message = f"it sends to '{name}', which asks for '{condition}', and '{text}' is not so"
                    hint = "bring it about before, or do not ask for it there"
                    self._say(came, Fault("prerequisite-unmet", message, hint))
                state = narrowed or state
        program = self._program(name)
        self._arrive(program, program.start, came, state)

    def _finished(self, target: int, name: str, came: _Came, state: State) -> None:
        if target == END:
            faults = [*unrest(self.setting, state), *loose_ends(self.setting, state)]
            if name == self.own:
                self.given.ends[state] = None
        else:
            assert came.point is not None, "an end is reached from somewhere"
            last = self.programs[name].nodes[came.point.node].item
            faults = list(self._unrest(last, state))
        for fault in faults:
            self._say(came, Fault(fault.code, f"{fault.message} at the end", fault.hint))

    def _visit(self, point: _Point, state: State) -> None:
        program = self.programs[point.procedure]
        node = program.nodes[point.node]
        here = _Came(point, state, "", point.is_straight)
        after = state if node.is_question else self._taken(point, node.item, here)
        ways = tuple(self._ways(program.procedure, node, here, after))
        for exit_, onward in ways:
            if len(node.exits) > 1:
                self.ways.add((point, exit_))
            is_straight = point.is_straight and not exit_.is_denied
            self._arrive(program, exit_.target, _Came(point, state, exit_.label, is_straight), onward)

    def _taken(self, point: _Point, step: Step, here: _Came) -> State:
        procedure = self.programs[point.procedure].procedure
        if point not in self.effects:
            self.effects[point] = self.rehearsing.stepping(procedure).effects(step)
        taken = take(self.setting, here.state, step, self.effects[point])
        for fault in taken.faults:
            self._say(here, fault)
        if isinstance(step, Hold):
            self._held(step, here)
        for touched in taken.touched:
            self.given.reached.setdefault(touched, (point.procedure, str(step.name)))
        if point.procedure == self.own:
            self.given.taken.setdefault(str(step.name), {})[here.state, taken.after] = None
            self.given.exposed.setdefault(str(step.name), set()).add(taken.exposed)
        if not procedure.is_emergency:
            self._stop(procedure, step, here, taken.after)
        return taken.after

    def _held(self, step: Hold, here: _Came) -> None:
        for fault in self._unrest(step, here.state):
            self._say(here, Fault(fault.code, f"{fault.message} at this hold", fault.hint))

    def _unrest(self, step: Step, state: State) -> Iterator[Fault]:
        """Return what is not at rest; a hold may find something as it is, and name pressure that nobody can let go."""
        if not isinstance(step, Hold):
            return unrest(self.setting, state)
        found = (claim_of(text) for text in step.finds)
        intended = {str(tag) for claim in found if claim.state in UNREST for tag in claim.subjects}
        return unrest(self.setting, state, intended, step.text)

    def _stop(self, procedure: Procedure, step: Step, here: _Came, state: State) -> None:
        """Stop after this step, and see whether that leaves the plant safe."""
        name = str(procedure.procedure)
        if name not in self.stops:
            self.stops[name] = self.rehearsing.stepping(procedure).stopping()
        before = state
        if (name, before) not in self.stopped:
            for effect in self.stops[name]:
                state = folded(self.setting.rules, state, effect)
            self.stopped[name, before] = state
            self._unsafe(procedure, step, here, state)
        if name == self.own:
            self.given.stopped.setdefault(str(step.name), {})[self.stopped[name, before]] = None

    def _unsafe(self, procedure: Procedure, step: Step, here: _Came, state: State) -> None:
        for fault in unrest(self.setting, state):
            if fault.code == "left-pressure":
                # Pressure stays behind a safe stop; pages and the command name it beside each step.
                continue
            message = f"stopped after '{step.name}', {fault.message.replace(' is ', ' stays ', 1)}"
            hint = "let 'stop_safely' say it in words, and 'stop_leaves' as claims"
            self._say(here, Fault("stop-unsafe", message, hint), procedure.stop_safely.span)

    def _ways(self, procedure: Procedure, node: Node, here: _Came, after: State) -> Iterator[tuple[Exit, State]]:
        claiming = self.rehearsing.stepping(procedure).claiming
        is_looked_at = any(each.is_denied for each in node.exits)
        some = False
        for exit_ in node.exits:
            if exit_.is_denied:
                states = [after] if not exit_.finds else list(self._denied(procedure, exit_, after))
                yield from ((exit_, state) for state in states)
                continue
            state = self._narrowed(procedure, exit_, after)
            if state is None and not is_looked_at and not isinstance(node.item, Choose):
                self._say(here, _contradicted(exit_, after, claiming.narrowed))
                state = after
            if state is not None:
                some = True
                self.passed.update(filter(None, [here.point]))
                if not node.is_question and not isinstance(node.item, Choose):
                    self._note(procedure, node.item, state)
                yield exit_, state
        if isinstance(node.item, Choose) and not some:
            message = "none of the answers agrees with what the plant is like here"
            self._say(here, Fault("not-as-believed", message, "correct what the answers find, or the steps before"))

    def _note(self, procedure: Procedure, step: Step, state: State) -> None:
        if str(procedure.procedure) == self.own:
            self.given.after.setdefault(str(step.name), {})[state] = None

    def _narrowed(self, procedure: Procedure, exit_: Exit, state: State) -> State | None:
        claiming = self.rehearsing.stepping(procedure).claiming
        found: State | None = state
        for text in exit_.finds:
            found = None if found is None else claiming.narrowed(found, claim_of(text))
        return found

    def _denied(self, procedure: Procedure, exit_: Exit, state: State) -> Iterator[State]:
        claiming = self.rehearsing.stepping(procedure).claiming
        for text in exit_.finds:
            yield from claiming.denied(state, claim_of(text))

    def _never_so(self) -> None:
        """Say of each check that it cannot be passed when all went as it should, or not at all."""
        for point, states in self.seen.items():
            node = self.programs[point.procedure].nodes[point.node]
            if {replace(point, is_straight=True), point} & self.passed or not _is_look(node):
                continue
            state = next(iter(states))
            claiming = self.rehearsing.stepping(self.programs[point.procedure].procedure).claiming
            exit_ = next(each for each in node.exits if not each.is_denied)
            self._say(_Came(point, state, "", point.is_straight), _contradicted(exit_, state, claiming.narrowed))

    def _say(self, here: _Came, fault: Fault, span: Span | None = None) -> None:
        assert here.point is not None
        step = self.programs[here.point.procedure].nodes[here.point.node].item
        key = (span or step.span, fault.code)
        if key not in self.found:
            way = self._way(here)
            self.found[key] = Finding(key[0], here.point.procedure, str(step.name), fault, way)

    def _way(self, here: _Came) -> tuple[str, ...]:
        """Return what was decided on the way to a point, in words."""
        words = [here.label] if here.label else []
        point, state = here.point, here.state
        while point is not None:
            came = self.seen[point].get(state)
            if came is None:
                break
            if came.label:
                words.append(came.label)
            point, state = came.point, came.state
        return tuple(reversed(words))


def _is_look(node: Node) -> bool:
    """Return whether a node asks whether something is so, and leads on either way."""
    return {each.is_denied for each in node.exits} == {True, False}


def _contradicted(exit_: Exit, state: State, narrowed: Callable[..., State | None]) -> Fault:
    wrong = [str(text) for text in exit_.finds if narrowed(state, claim_of(text)) is None]
    message = f"{listed(map(repr, wrong))} cannot be so here"
    return Fault("not-as-believed", message, "correct the steps before it, or what it says that is found")
