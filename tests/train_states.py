"""States in which the pages of training stand before somebody, and how one comes there from an empty browser."""

from collections.abc import Callable

from playwright.sync_api import Page
from trained_pages import (
    PATH,
    answer,
    begin,
    fill,
    lesson,
    on_day,
    opened,
    path_page,
    read,
    right_choice,
    signed,
    wait,
)

SHORT, LONG = "two-sides", "bleed-cleaner-line"


def begun(page: Page, own: str) -> str:
    """Begin on a day that is always the same."""
    on_day(page, "2026-12-01")
    return begin(page, own)


# The list, and a path.


def nobody(page: Page, own: str) -> None:
    page.goto(f"{own}/training/index.html")
    wait(page, "[data-train-people] > *")


def people(page: Page, own: str) -> None:
    begun(page, own)
    nobody(page, own)
    wait(page, "[data-train-person]")


def choosing(page: Page, own: str) -> None:
    people(page, own)
    page.goto(f"{own}/training/{PATH}.html")
    wait(page, "[data-train-choose]")


def path(page: Page, own: str) -> None:
    path_page(page, own, begun(page, own))


def finding(page: Page, own: str) -> None:
    path(page, own)
    opened(page, str(page.locator("[data-train-fold^=find-]").get_attribute("data-train-fold")))


def coming_back(page: Page, own: str) -> None:
    competence = begun(page, own)
    lesson(page, own, SHORT, competence)
    answer(page, is_right=False)
    path_page(page, own, competence)


# A procedure.


def learning(page: Page, own: str) -> None:
    lesson(page, own, LONG, begun(page, own))


def explained(page: Page, own: str) -> None:
    """Come to a wrong answer, with the reasons and the place."""
    learning(page, own)
    place, count = right_choice(page, "[data-train-ask]")
    page.locator("[data-train-ask] input[type=radio]").nth((place + 1) % count).check()
    page.locator("[data-train-answer]").press("Enter")
    wait(page, "[data-train-explained]")


def watched(page: Page, own: str) -> None:
    learning(page, own)
    fill(page, "alone", "competent", {"stop": "needs-more"})


def entered(page: Page, own: str) -> None:
    """Come to what was entered, with one of it about to be struck out."""
    lesson(page, own, SHORT, begun(page, own))
    read(page)
    signed(page, "alone", "needs-more", {"stop": "needs-more"})
    opened(page, "strike-2")


def drill(page: Page, own: str) -> None:
    lesson(page, own, "splash", begun(page, own))
    opened(page, "drill")


def unkept(page: Page, own: str) -> None:
    page.add_init_script(
        "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } });"
    )
    page.goto(f"{own}/training/{PATH}/{SHORT}.html")
    wait(page, "[data-train-storage] [role=alert]")


STATES: dict[str, Callable[[Page, str], None]] = {
    each.__name__: each
    for each in (
        *(nobody, people, choosing, path, finding, coming_back),
        *(learning, explained, watched, entered, drill, unkept),
    )
}
