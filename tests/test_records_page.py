"""A record that the page saves is one that the command reads, and finds sound."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from work_page import BOOK, at_work, looked_at, press, walked

from tankside.records.checking import check_files
from tankside.records.folding import KINDS

#: what a walk that puts the clock forward at each wait may raise, and no more
REMARKS = {"record-clock", "record-not-finished"}


@pytest.fixture
def own(site: Path) -> str:
    return site.as_uri()


@pytest.fixture
def page(browser: Browser, own: str) -> Iterator[Page]:
    with looked_at(browser, own, accept_downloads=True) as (page, _):
        yield page


def saved(page: Page, folder: Path) -> Path:
    press(page, "[data-aside-open]")
    with page.expect_download() as download:
        press(page, "[data-panel] [data-save]")
    path = folder / "record.json"
    download.value.save_as(path)
    return path


@pytest.mark.parametrize("name", ["bleed-cleaner-line", "blend-descaler", "make-descaler"])
def test_record_that_the_page_saves_is_sound(page: Page, own: str, tmp_path: Path, name: str) -> None:
    copy = at_work(page, own, name, until="end")
    found = check_files([saved(page, tmp_path)])
    assert [each.as_text() for each in found.problems if each.code not in REMARKS] == []
    (record,) = found.records
    assert (record.name, record.is_whole) == (copy, True)
    kinds = {entry.event["kind"] for entry in record.entries}
    assert {"start", "mark", "read", "second", "release", "pause", "resume"} <= kinds <= set(KINDS)


def test_file_of_several_copies_that_the_page_saves_is_sound(page: Page, own: str, tmp_path: Path) -> None:
    copies = [walked(page, own, "bleed-cleaner-line", until=step) for step in ("open-v2", "end")]
    save = "async ([book, copies]) => tankside.copyFile.saveAll(await tankside.copyStore.open(book), copies)"
    with page.expect_download() as download:
        page.evaluate(save, [BOOK, copies])
    download.value.save_as(tmp_path / "records.json")
    found = check_files([tmp_path / "records.json"])
    assert {each.code for each in found.problems} <= REMARKS, [each.as_text() for each in found.problems]
    assert {record.name for record in found.records} == set(copies)
