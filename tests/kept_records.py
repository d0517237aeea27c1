"""Records put into the store of a page, as the page of a working copy keeps them."""

from collections.abc import Sequence

from playwright.sync_api import Page
from straight_copies import Straight

#: puts whole records into the store of a book
KEEP = """async ([book, records]) => {
  const store = await tankside.copyStore.open(book);
  for (const { edition, hash, shown, events } of records) {
    await store.begin(events[0], { hash, edition, shown }, 'test');
    for (const event of events.slice(1)) await store.append(event, 'test');
  }
  store.close();
}"""


def keep(page: Page, book: str, copies: Sequence[Straight]) -> None:
    """Keep copies in the store of a book; the page must have loaded the store."""
    records = [
        {
            "edition": each.edition,
            "hash": each.events[0]["shown"],
            "shown": each.shown,
            "events": each.events,
        }
        for each in copies
    ]
    page.evaluate(KEEP, [book, records])
