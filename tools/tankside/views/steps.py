"""The steps of a procedure as they are read: numbered, each with its cautions before it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from string import ascii_uppercase

from tankside.edition import Edition
from tankside.model.steps import (
    Add,
    Branch,
    Caution,
    Check,
    Choose,
    Do,
    Drive,
    Hold,
    Isolate,
    Item,
    Labels,
    Measure,
    Move,
    Note,
    Notify,
    Record,
    Repeat,
    Section,
    Step,
    TurnValve,
    Wait,
)
from tankside.texts import Words
from tankside.views.amounts import AmountTexts
from tankside.views.numbers import limits_text, primary_text
from tankside.views.wording import Run, Sentence, sentence


@dataclass(frozen=True)
class Detail:
    """A line under a step: what it is about, and the words."""

    label: str
    words: Sentence


@dataclass(frozen=True)
class BranchView:
    """One answer of a choice."""

    letter: str
    answer: Sentence
    go_to: Sentence | None
    entries: tuple["Entry", ...]


@dataclass(frozen=True)
class Entry:
    """Anything in the list of steps, ready to be shown; what it is not is empty."""

    #: caution, note or step
    form: str
    #: the kind of step, or the signal word's key
    kind: str
    words: Sentence = ()
    #: "3" or "5.2" or "7B.1"
    number: str = ""
    name: str = ""
    #: on what is laminated: (the input's value, the amount of this step) for each value that is listed
    by_input: tuple[tuple[str, str], ...] = ()
    #: where labels are taken out: (a bottle, the code on its labels) for each one
    codes: tuple[tuple[str, str], ...] = ()
    details: tuple[Detail, ...] = ()
    picture: str | None = None
    picture_says: str | None = None
    branches: tuple[BranchView, ...] = ()
    entries: tuple["Entry", ...] = ()
    #: of a caution: the steps that it is about
    covers: tuple[str, ...] = ()


@dataclass(frozen=True)
class SectionView:
    """A section with what stands in it; the first one may have no heading."""

    name: str
    title: str
    #: it is only entered when a step sends one there
    is_sent_to: bool
    entries: tuple[Entry, ...]


#: what the answers of a choice are called, behind its number
LETTERS = ascii_uppercase


def numbered(items: Iterable[Item], prefix: str = "") -> Iterator[tuple[str, Step]]:
    """Return every step with its number, in reading order: "3", "5.2" inside a repetition, "7B.1" inside an answer."""
    for count, step in enumerate((item for item in items if isinstance(item, Step)), 1):
        number = f"{prefix}{count}"
        yield number, step
        if isinstance(step, Repeat):
            yield from numbered(step.steps, f"{number}.")
        elif isinstance(step, Choose):
            for at, branch in enumerate(step.branches):
                yield from numbered(branch.steps, f"{number}{LETTERS[at]}.")


class StepTexts:
    """Turns the steps of one edition into entries."""

    def __init__(self, edition: Edition, amounts: AmountTexts, say: Words, units: str) -> None:
        """Speak `say`, with the amounts as `amounts` words them."""
        self.edition = edition
        self.amounts = amounts
        self.say = say
        self.units = units
        self.tags = frozenset(edition.equipment)
        self.numbers = {str(step.name): number for number, step in numbered(self._items())}
        self.titles = {str(item.section): str(item.title) for item in self._items() if isinstance(item, Section)}

    def _items(self) -> tuple[Item, ...]:
        return getattr(self.edition.written, "steps", ())

    def sections(self) -> tuple[SectionView, ...]:
        """Return all sections, their steps numbered from 1 throughout."""
        return tuple(_section(heading, tuple(self._entries(items))) for heading, items in _by_section(self._items()))

    def words(self, text: str) -> Sentence:
        """Return a text of the book as runs."""
        return sentence(text, self.amounts.inside, self.tags)

    def go_to(self, place: str) -> Sentence:
        """Return the words that send a reader to a section of this procedure or to another procedure."""
        if place in self.titles:
            return (Run(self.say("go-to-section", title=self.titles[place]), "link", ("section", place)),)
        title = self.edition.procedures[place]
        return (Run(self.say("go-to-procedure", title=title), "link", ("procedure", place)),)

    def _entries(self, items: tuple[Item, ...]) -> Iterator[Entry]:
        return (self._step(item) if isinstance(item, Step) else self._other(item) for item in items)

    def _other(self, item: Item) -> Entry:
        if isinstance(item, Caution):
            return self._caution(item)
        assert isinstance(item, Note)
        return Entry("note", "note", self.words(item.note))

    def _caution(self, item: Caution) -> Entry:
        details = [Detail(self.say("harm"), self.words(item.harm)), Detail(self.say("avoid"), self.words(item.avoid))]
        if item.if_it_happens is not None:
            details.append(Detail(self.say("if-it-happens"), self.go_to(item.if_it_happens)))
        covers = tuple(map(str, item.covers))
        return Entry("caution", item.kind, self.words(item.hazard), details=tuple(details), covers=covers)

    def _step(self, step: Step) -> Entry:
        details = list(self._details(step))
        if step.second_person == "yes":
            details.append(self._detail("detail-second", self.say("second-looks")))
        return Entry(
            form="step",
            kind=step.kind,
            words=self.action(step),
            number=self.numbers[str(step.name)],
            name=str(step.name),
            by_input=self._by_input(step),
            codes=self._codes(step),
            details=tuple(details),
            picture=step.picture,
            picture_says=step.picture_says,
            branches=self._branches(step),
            entries=tuple(self._entries(step.steps)) if isinstance(step, Repeat) else (),
        )

    def action(self, step: Step) -> Sentence:
        """Return the one action of a step, verb first."""
        match step:
            case TurnValve() | Drive() | Isolate():
                what = self.say(f"step-{step.kind}", tag=step.target)
                name = self.edition.equipment[step.target].name
                return self._with_how(f"{what} ({_inside_sentence(name)})", step.how)
            case Move():
                return self._with_how(self.say("step-move", material=self._material(step.material)), step.how)
            case Add():
                added = self.say("step-add", material=self._material(step.material), tag=step.to)
                return self._with_how(added, step.how)
            case Do():
                return self.words(step.text)
            case Labels():
                name = self.edition.labels[step.product].name
                return self.words(self.say(f"step-labels-{step.counted}", product=_inside_sentence(name)))
            case Notify():
                role = _inside_sentence(self.edition.roles[step.role])
                return self.words(self.say("step-notify", role=role, about=step.about))
            case Wait():
                return self.words(self.say("step-wait", **{"time": step.time, "for": step.for_}))
            case Check() | Measure() | Record() | Choose() | Repeat() | Hold():
                return self.words(self.say(f"step-{step.kind}", text=step.text))
        raise AssertionError(f"no words for a step of kind {step.kind}")

    def _with_how(self, action: str, how: str | None) -> Sentence:
        return self.words(action if how is None else f"{action}, {how}")

    def _material(self, name: str) -> str:
        found = self.edition.materials[name]
        # A code is written as it stands on the label.
        return found.name if found.told_by else _inside_sentence(found.name)

    def _details(self, step: Step) -> Iterator[Detail]:
        match step:
            case Move():
                first, *rest = step.path
                yield self._detail("detail-path", self.say("path", first=first, rest=", ".join(rest)))
                if step.amount is not None and not self._by_input(step):
                    yield self._detail("detail-amount", step.amount)
                if step.until is not None:
                    yield self._detail("detail-until", step.until)
            case Add():
                yield from self._addition(step)
            case Measure():
                yield self._detail("detail-instrument", step.instrument)
                yield self._detail("detail-limits", limits_text(self.edition.limits[step.limits], self.say))
                yield Detail(self.say("detail-outside"), self.go_to(step.if_outside))
            case Check(if_not=str() as place):
                yield Detail(self.say("detail-if-not"), self.go_to(place))
            case Record(where=str() as where):
                yield self._detail("detail-where", where)
            case Labels(counted="out"):
                yield self._detail("detail-read-back", self.say("read-back-code"))
                yield self._detail("detail-count", self.say("count-out"))
            case Labels():
                yield self._detail("detail-count", self.say("count-in"))
            case Wait():
                yield self._detail("detail-due", self.say("due"))
                yield self._detail("detail-late", step.if_late)
            case Repeat():
                yield self._detail("detail-until", step.until)
                yield self._detail("detail-at-most", self.say("times", count=step.at_most))
                if step.if_not is not None:
                    yield Detail(self.say("detail-if-not"), self.go_to(step.if_not))
            case Hold():
                yield self._detail("detail-released", self.edition.roles[step.released_by])

    def _addition(self, step: Add) -> Iterator[Detail]:
        amount = self.edition.amounts[step.amount.strip("<>")]
        assert amount.measure_in is not None
        assert amount.tolerance is not None
        tolerance = primary_text(amount.tolerance, self.units, self.say)
        if not self._by_input(step):
            yield self._detail("detail-amount", step.amount)
        yield self._detail("detail-tolerance", self.say("either-way", tolerance=tolerance, tag=amount.measure_in))
        if self.edition.materials[step.material].signal_word is not None:
            yield self._detail("detail-read-back", self.say("read-back"))

    def _by_input(self, step: Step) -> tuple[tuple[str, str], ...]:
        match step:
            case Add(amount=str() as text) | Move(amount=str() as text):
                return self.amounts.by_input(text.strip("<>"))
        return ()

    def _codes(self, step: Step) -> tuple[tuple[str, str], ...]:
        if isinstance(step, Labels) and step.counted == "out":
            return tuple(self.edition.labels[step.product].codes.items())
        return ()

    def _detail(self, label: str, text: str) -> Detail:
        return Detail(self.say(label), self.words(text))

    def _branches(self, step: Step) -> tuple[BranchView, ...]:
        if not isinstance(step, Choose):
            return ()
        return tuple(self._branch(LETTERS[at], branch) for at, branch in enumerate(step.branches))

    def _branch(self, letter: str, branch: Branch) -> BranchView:
        return BranchView(
            letter=letter,
            answer=self.words(self.say("branch", answer=branch.if_)),
            go_to=None if branch.go_to is None else self.go_to(branch.go_to),
            entries=tuple(self._entries(branch.steps)),
        )


def _by_section(items: tuple[Item, ...]) -> Iterator[tuple[Section | None, tuple[Item, ...]]]:
    heading: Section | None = None
    inside: list[Item] = []
    for item in items:
        if isinstance(item, Section):
            if heading is not None or inside:
                yield heading, tuple(inside)
            heading, inside = item, []
        else:
            inside.append(item)
    yield heading, tuple(inside)


def _section(heading: Section | None, entries: tuple[Entry, ...]) -> SectionView:
    if heading is None:
        return SectionView("", "", False, entries)
    return SectionView(str(heading.section), str(heading.title), heading.entered is not None, entries)


def _inside_sentence(name: str) -> str:
    """Return a name as it stands inside a sentence: a first capital that only begins it is lowered."""
    first, *rest = name.split(" ")
    return " ".join((first.lower() if first[1:].islower() else first, *rest))
