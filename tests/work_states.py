"""States in which the page of a working copy stands before somebody, and how one comes there from an empty browser."""

from collections.abc import Callable

from copies_in_browser import FULL
from playwright.sync_api import Page
from work_page import at_work, hold, press, walked

SHORT = "two-sides"
BLEED = "bleed-cleaner-line"
BLEND = "blend-milk-line-cleaner"
DESCALER = "blend-descaler"

# Before the first step.


def starting(page: Page, own: str) -> None:
    page.goto(f"{own}/copies/{BLEND}.html")
    page.locator("[data-missing]").wait_for(state="attached")


def from_paper(page: Page, own: str) -> None:
    starting(page, own)
    press(page, "[data-fold=start-paper-open] summary")


def refused(page: Page, own: str) -> None:
    """Come to a start that is refused: the equipment is in use."""
    walked(page, own, DESCALER, "add-water")
    page.goto(f"{own}/copies/index.html")
    page.goto(f"{own}/copies/{DESCALER}.html")
    page.locator("[data-look-again]").wait_for()


def unkept(page: Page, own: str) -> None:
    """Come to a start that is refused: the browser keeps nothing."""
    page.add_init_script(
        "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } });"
    )
    page.goto(f"{own}/copies/{SHORT}.html")
    page.locator("[data-start] [role=alert]").wait_for()


# At a step.


def working(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "run-off")


def writing(page: Page, own: str) -> None:
    at_work(page, own, SHORT, "record-shown-and-said")


def second(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "right-drum")
    press(page, "[data-now] [data-answer=yes]")
    page.locator("[data-awaits=second]").wait_for()


def alone(page: Page, own: str) -> None:
    second(page, own)
    press(page, "[data-now] [data-alone]")


def holding(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "hold-the-reading-is")


def waiting(page: Page, own: str) -> None:
    at_work(page, own, "lock-out-mixer", "wait-the-shaft-to")
    press(page, "[data-now] [data-begin]")
    page.locator("[data-timer]").wait_for()


def choosing(page: Page, own: str) -> None:
    at_work(page, own, "hold-a-lot", "decision")


def any_order(page: Page, own: str) -> None:
    at_work(page, own, "open-the-workshop")


def pouring(page: Page, own: str) -> None:
    at_work(page, own, BLEND, "add-alkali")
    press(page, "[data-form] [data-tile=potassium-hydroxide-solution]")
    page.locator("[data-form] [data-typed^=look]").fill("B-7")
    press(page, "[data-enter=look]")
    page.locator("[data-enter=pour]").wait_for()


def reading(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "last-conductivity")
    press(page, "[data-now] [data-checked]")
    page.locator("[data-now] [data-typed]").first.wait_for()


def out_of_limits(page: Page, own: str) -> None:
    reading(page, own)
    page.locator("[data-now] [data-typed]").first.fill("100")
    press(page, "[data-now] [data-enter]")
    press(page, "[data-now] [data-keep]")
    page.locator("[data-take]").wait_for()


def counting(page: Page, own: str) -> None:
    at_work(page, own, "fill-cleaner-bottles", "labels-out")


def sent(page: Page, own: str) -> None:
    """Come to where somebody is sent away to another procedure."""
    at_work(page, own, "last-look", "no-smell")
    press(page, "[data-now] [data-answer=no]")
    page.locator("[data-away]").wait_for()


def back_again(page: Page, own: str) -> None:
    """Come back from the other procedure: the reason for which one begins the step again is asked."""
    sent(page, own)
    press(page, "[data-now] [data-then=again]")
    page.locator("[data-confirm=decide]").wait_for()


# Beside the way.


def aside(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "record-reading-lot-and")
    press(page, "[data-more='0/last-conductivity']")


def correcting(page: Page, own: str) -> None:
    aside(page, own)
    press(page, "[data-correct]")


def taking_back(page: Page, own: str) -> None:
    at_work(page, own, SHORT, "read-red-labels")
    press(page, "[data-more='0/point-red']")
    press(page, "[data-unmark]")


def left_out(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    press(page, "[data-aside-open]")
    press(page, "[data-instead=skip]")


def redline(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    press(page, "[data-aside-open]")
    press(page, "[data-redline=wrong]")
    page.locator("[data-text=note]").wait_for()


def people(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    press(page, "[data-aside-open]")
    press(page, "[data-aside=people]")


def giving(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    press(page, "[data-aside-open]")
    press(page, "[data-aside=give]")


def wrong(page: Page, own: str) -> None:
    at_work(page, own, BLEED)
    press(page, "[data-wrong]")


# While it rests.


def resting(page: Page, own: str) -> None:
    """Come back: was the last step really done?"""
    walked(page, own, SHORT, "read-red-labels")


def doubted(page: Page, own: str) -> None:
    """Come back: it was not done, and its mark cannot be taken back."""
    at_work(page, own, "hold-a-lot", "decision")
    press(page, "[data-now] [data-answer='It is waste']")
    page.locator('[data-step=decision][data-state="complete"]').wait_for()
    page.reload()
    press(page, "[data-sure=no]")
    page.locator("[data-sure=now]").wait_for()


def stopped(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "run-off")
    press(page, "[data-stop]")
    page.locator("[data-rest] h2").wait_for()


def given(page: Page, own: str) -> None:
    giving(page, own)
    hold(page, "[data-confirm=give]")
    page.locator("[data-rest] h2").wait_for()


def reader(page: Page, own: str) -> None:
    """Come to where another tab has the work, and this one reads."""
    at_work(page, own, SHORT)
    other = page.context.new_page()
    other.goto(page.url)
    press(other, "[data-take-here]")
    page.locator("[data-rest] [data-take-here]").wait_for()
    # Behind another tab, no frame is drawn, and the head is not fitted.
    page.bring_to_front()


def unsaved(page: Page, own: str) -> None:
    at_work(page, own, SHORT)
    page.evaluate(FULL, True)
    press(page, "[data-now] [data-press]")
    page.locator("[data-kept=no]").wait_for()


# The end.


def ending(page: Page, own: str) -> None:
    at_work(page, own, SHORT, "hold-the-new-hire")
    hold(page, "[data-now] [data-hold=EF]")
    page.locator("[data-finish]").wait_for()


def ended(page: Page, own: str) -> None:
    ending(page, own)
    hold(page, "[data-finish]")
    page.locator("[data-rest] [data-save]").wait_for()


def abandoning(page: Page, own: str) -> None:
    at_work(page, own, BLEED, "run-off")
    press(page, "[data-aside-open]")
    press(page, "[data-aside=abandon]")
    press(page, "[data-offered]")


def abandoned(page: Page, own: str) -> None:
    abandoning(page, own)
    hold(page, "[data-confirm=abandon]")
    page.locator("[data-rest] [data-save]").wait_for()


STATES: dict[str, Callable[[Page, str], None]] = {
    each.__name__: each
    for each in (
        *(starting, from_paper, refused, unkept),
        *(working, writing, second, alone, holding, waiting, choosing, any_order, pouring, reading, out_of_limits),
        *(counting, sent, back_again, aside, correcting, taking_back, left_out, redline, people, giving, wrong),
        *(resting, doubted, stopped, given, reader, unsaved, ending, ended, abandoning, abandoned),
    )
}
