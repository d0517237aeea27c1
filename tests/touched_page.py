"""A tablet on which a working copy is carried out as people do: fingers on the glass, keys, and time that passes."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from playwright.sync_api import Browser, Locator, Page
from work_page import TABLET, listened_to

#: two touches within 400 ms are a slip, and a press that asks to be held takes 800 ms [ms]
APART, LONG = 420, 850
#: what changes when something is kept, and not while it is typed
SEEN = """() => {
  const now = document.querySelector('[data-now], [data-now-end]');
  const parts = now === null ? [] : [...now.querySelectorAll('[data-part-state]')];
  return [document.querySelector('[data-rest]').innerText, now === null ? '' : now.dataset.row,
    ...parts.map((each) => each.dataset.partState),
    document.querySelectorAll('[data-event]').length].join();
}"""
#: the step to be done
NOW = "[data-now] "


class Tablet:
    """A browser with a profile that outlives it, on a tablet that is touched."""

    def __init__(self, browser: Browser, profile: Path, own: str) -> None:
        """Note where its profile is, and the address of the site."""
        self.type, self.profile, self.own = browser.browser_type, profile, own
        self.complaints: list[str] = []

    def open(self, executable: Path, arguments: Sequence[str], at: datetime) -> None:
        """Open the browser at a time of day."""
        self.context = self.type.launch_persistent_context(
            self.profile,
            executable_path=executable,
            args=arguments,
            viewport=TABLET,  # type: ignore[arg-type]
            has_touch=True,
            reduced_motion="reduce",
        )
        self.page: Page = listened_to(self.context, self.own, self.complaints)
        self.page.set_default_timeout(10_000)
        self.page.clock.install(time=at)

    def close(self) -> None:
        """Close the browser, in the middle of whatever is done."""
        self.context.close()

    def there(self, what: str | Locator) -> Locator:
        return (self.page.locator(what) if isinstance(what, str) else what).first

    def touch(self, what: str | Locator) -> None:
        """Touch something, no sooner after the last touch than counts."""
        self.page.clock.fast_forward(APART)
        self.there(what).tap()

    def hold(self, what: str | Locator) -> None:
        """Lay a finger on something, leave it there, lift it."""
        found = self.there(what)
        found.scroll_into_view_if_needed()
        box = found.bounding_box()
        assert box is not None
        finger = {"x": box["x"] + box["width"] / 2, "y": box["y"] + box["height"] / 2}
        glass = self.context.new_cdp_session(self.page)
        glass.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [finger]})
        self.page.clock.fast_forward(LONG)
        glass.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        glass.detach()

    def has_keyboard(self) -> bool:
        """Whether the keyboard stands on a press of the step to be done."""
        return bool(self.page.evaluate("document.activeElement.closest('[data-now]') !== null"))

    def keys(self, typed: str, text: str) -> None:
        """Press the large keys of a field."""
        self.page.clock.fast_forward(APART)
        pad = self.page.locator(f'.work-typing:has([data-typed="{typed}"])')
        for key in text:
            pad.locator(f'[data-key="{key}"]').tap()

    def typed(self, within: str) -> str:
        """Return the name of the field into which is typed now."""
        return str(self.there(f"{within} input[data-typed]:visible").get_attribute("data-typed"))

    def goes_on(self, act: Callable[[], None]) -> None:
        """Do something, and wait until the page shows what came of it."""
        before = self.page.evaluate(SEEN)
        act()
        self.page.wait_for_function(f"(before) => ({SEEN})() !== before", arg=before)

    def now(self) -> tuple[str, str]:
        """Return the name and the kind of the step to be done, both empty when there is none."""
        found = self.page.evaluate(
            "() => { const now = document.querySelector('[data-now]');"
            " return now === null ? ['', ''] : [now.dataset.step, now.dataset.kind]; }"
        )
        return found[0], found[1]

    def said(self) -> str:
        """Return what the foot of the page says."""
        return self.page.locator("[data-foot-said]").inner_text()


@dataclass
class Doing:
    """What is entered at which step; each list from its first to its last time."""

    pours: Mapping[str, str] = field(default_factory=dict)
    #: material and lot that the label says
    labels: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    readings: Mapping[str, list[str]] = field(default_factory=dict)
    answers: Mapping[str, list[str]] = field(default_factory=dict)
    code: str = ""
    counts: Mapping[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    #: who releases and looks: whoever of them is offered
    others: Sequence[str] = ("CD", "EF")
    #: what happens before a step is done, once
    before: dict[str, Callable[[], None]] = field(default_factory=dict)


class Worker:
    """Somebody who does what the step to be done asks, until nothing is left."""

    def __init__(self, tablet: Tablet, doing: Doing) -> None:
        """Note what is to be done."""
        self.tablet, self.doing = tablet, doing
        #: whether each step was marked with a key
        self.by_key: list[bool] = []
        #: how often a mark was pressed
        self.marks = 0

    def carry_out(self) -> list[str]:
        """Do everything; return the steps in the order in which they came up, each once in a row."""
        came: list[str] = []
        for _ in range(600):
            step, kind = self.tablet.now()
            if step == "":
                break
            if came[-1:] != [step]:
                came.append(step)
            happens = self.doing.before.pop(step, None)
            if happens is not None:
                happens()
            else:
                self.tablet.goes_on(lambda step=step, kind=kind: self.do(step, kind))  # type: ignore[misc]
        return came

    def do(self, step: str, kind: str) -> None:
        """Do the next thing that a step asks for."""
        page = self.tablet.page
        if page.locator(f"{NOW}[data-awaits]").count():
            self.tablet.hold(page.locator(",".join(f"{NOW}.press[data-hold={who}]" for who in self.doing.others)))
        elif page.locator(f"{NOW}[data-take]").count():
            self.tablet.touch(f"{NOW}[data-take]")
        elif kind in ("add", "measure", "labels"):
            {"add": self.add, "measure": self.measure, "labels": self.count}[kind](step)
        elif kind == "wait":
            self.wait()
        elif kind == "sent":
            self.again()
        elif page.locator(f"{NOW}[data-answer]").count():
            self.answer(step, kind)
        else:
            self.mark()

    def mark(self) -> None:
        """Mark a step: with a key where the last one was marked with a finger, and the other way round."""
        self.marks += 1
        if self.by_key[-1:] == [False] and self.tablet.has_keyboard():
            self.tablet.page.keyboard.press("Enter")
            self.by_key.append(True)
        else:
            self.tablet.touch(f"{NOW}[data-press]")
            self.by_key.append(False)

    def answer(self, step: str, kind: str) -> None:
        self.marks += 1
        usual = "enough" if kind == "question" else "yes"
        answer = self.doing.answers[step].pop(0) if self.doing.answers.get(step) else usual
        self.tablet.touch(f"{NOW}[data-answer='{answer}']")

    def again(self) -> None:
        """Begin the step again from which one was sent away."""
        self.tablet.touch(f"{NOW}[data-then=again]")
        self.tablet.touch("[data-panel] [data-offered]")
        self.tablet.touch("[data-confirm=decide]")

    def wait(self) -> None:
        page = self.tablet.page
        if page.locator(f"{NOW}[data-begin]").count():
            self.tablet.touch(f"{NOW}[data-begin]")
        else:
            minutes, seconds = page.locator(f"{NOW}.timer-figures").inner_text().split(":")
            page.clock.fast_forward((60 * int(minutes) + int(seconds) + 1) * 1000)
            self.marks += 1
            self.tablet.touch(f"{NOW}[data-waited]")

    def add(self, step: str) -> None:
        if self.tablet.page.locator(f"{NOW}[data-enter=pour]").count():
            self.pour(self.doing.pours[step])
        else:
            self.look(*self.doing.labels[step])

    def pour(self, value: str) -> None:
        """Enter how much is in."""
        self.tablet.keys(self.tablet.typed(NOW), value)
        self.tablet.touch(f"{NOW}[data-enter=pour]")

    def look(self, material: str, lot: str) -> None:
        """Read a label back."""
        self.tablet.touch(f"{NOW}[data-tile={material}]")
        self.tablet.keys(self.tablet.typed(NOW), lot)
        self.tablet.touch(f"{NOW}[data-enter=look]")

    def measure(self, step: str) -> None:
        if self.tablet.page.locator(f"{NOW}[data-checked]").count():
            self.tablet.touch(f"{NOW}[data-checked]")
        else:
            self.tablet.keys(self.tablet.typed(NOW), self.doing.readings[step].pop(0))
            self.tablet.touch(f"{NOW}[data-enter=read]")
            self.tablet.touch(f"{NOW}[data-keep]")

    def count(self, step: str) -> None:
        """Read the code on a label, then count."""
        if self.tablet.page.locator(f"{NOW}[data-enter=look]").count():
            self.code(self.doing.code)
            return
        for name, number in self.doing.counts[step]:
            there = self.tablet.there(f"{NOW}input[data-typed$='-{name}']")
            there.tap()
            self.tablet.keys(str(there.get_attribute("data-typed")), number)
        self.tablet.touch(f"{NOW}[data-enter=count]")

    def code(self, code: str) -> None:
        self.tablet.keys(self.tablet.typed(NOW), code)
        self.tablet.touch(f"{NOW}[data-enter=look]")
