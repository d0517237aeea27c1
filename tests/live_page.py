"""Typing into the field of a procedure's input, and reading what its amounts say in the same turn of the browser."""

from playwright.sync_api import Page

NONE = "\N{EM DASH} not worked out"

#: the words of every place where an amount stands, in the order of the page
PLACES = """() => [...document.querySelectorAll('[data-amount]')]
  .map((place) => [place.dataset.amount, place.dataset.shows, place.textContent])"""
#: open or shut the folds in which the workings stand
FOLD = """(isOpen) => document.querySelectorAll('details').forEach((fold) => { fold.open = isOpen; })"""
#: the same places, before whoever has typed gets control back; with the workings to be seen
TYPE = """([typed, number]) => {
  document.querySelectorAll('details').forEach((fold) => { fold.open = true; });
  const field = document.querySelectorAll('[data-live-field]')[number];
  field.value = typed;
  field.dispatchEvent(new Event('input', {bubbles: true}));
  return [...document.querySelectorAll('[data-amount]')]
    .map((place) => [place.dataset.amount, place.dataset.shows, place.textContent]);
}"""

#: whether every working that is in view is there
UNFOLDED = "[...document.querySelectorAll('[data-shows=working]')].every((each) => each.textContent)"

Said = dict[tuple[str, str], set[str]]


def typed(page: Page, text: str, number: int = 0) -> Said:
    """Return what the places of each amount say right after something was typed, by amount and way."""
    said: Said = {}
    for amount, way, words in page.evaluate(TYPE, [text, number]):
        said.setdefault((amount, way), set()).add(words)
    return said


def unfold(page: Page) -> None:
    """Open the folds, and wait until what is in them is there."""
    page.evaluate(FOLD, True)
    page.wait_for_function(UNFOLDED)


def refusal(page: Page) -> str:
    """Return the sentence beside the field."""
    return page.locator("[data-live-refusal]").first.inner_text()


def assert_nothing_is_worked_out(page: Page, said: Said) -> None:
    """Hold that each place says so, and looks so."""
    assert said
    assert {way: words for (_, way), words in said.items()} == {
        "both": {NONE},
        "inside": {NONE},
        "working": {NONE},
        "at": {""},
    }
    assert all(words == ({""} if way == "at" else {NONE}) for (_, way), words in said.items())
    assert page.locator("[data-live-field]").first.get_attribute("aria-invalid") == "true"
    assert page.locator("[data-live-status]").first.inner_text() == NONE
    assert page.locator(".amount.not-worked-out").count() == page.locator(".amount[data-amount]").count()
