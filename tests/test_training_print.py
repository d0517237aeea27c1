"""`tankside training print`: the list that hangs in the office, read back from its PDF."""

import json
from collections.abc import Iterator
from pathlib import Path

import pdfplumber
import pytest
from click.testing import CliRunner, Result
from competence_making import Making, written
from demo_book import ROOT
from sheet_reading import squeezed

from tankside.checkup import check_book
from tankside.cli import tankside
from tankside.cli.training_book import TaughtBook


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    checkup = check_book(ROOT)
    assert checkup.book is not None
    procedures = TaughtBook(ROOT, checkup.book, checkup.editions).procedures
    taught = json.loads(json.dumps(procedures["bleed-cleaner-line"].taught.portable))
    folder = tmp_path_factory.mktemp("competences")
    for person, day in (("TA", "2026-09-01"), ("TB", "2026-01-05")):
        making = Making(person)
        making.signed(day, taught=taught)
        written(folder, making.file, f"{person}.json")
    return folder


def printed(files: Path, target: Path) -> Result:
    command = ["training", "print", files, "--book", ROOT, "--on", "2026-12-01", "--to", target]
    return CliRunner().invoke(tankside, [*map(str, command)])


def tables(pdf: pdfplumber.PDF) -> Iterator[list[list[str | None]]]:
    return (table for page in pdf.pages for table in page.extract_tables())


def test_list_says_of_each_person_how_it_stands_on_the_day(files: Path, tmp_path: Path) -> None:
    target = tmp_path / "office" / "list.pdf"
    done = printed(files, target)
    assert (done.exit_code, done.stdout.splitlines()[-1]) == (0, str(target)), done.output
    with pdfplumber.open(target) as pdf:
        pages = [page.extract_text() for page in pdf.pages]
        assert pdf.metadata["Title"] == "Who may do what on 2026-12-01"
        rows = [[" ".join((cell or "").split()) for cell in row] for table in tables(pdf) for row in table]
    bleeding = [row for row in rows if row[0] == "Bleed the filling line, milk-line cleaner"]
    # 180 days after 2026-09-01 are 2027-02-28, after 2026-01-05 they are 2026-07-04 (date(1)).
    assert [row[1:] for row in bleeding] == [
        ["alone", "valid, lapses on 2027-02-28"],
        ["alone", "lapsed since 2026-07-04: not done for too long"],
    ]
    assert [row[1:] for row in rows if row[0] == "Splash in the eyes or on the skin"] == [["alone", "never"]] * 2
    assert all(squeezed(f"Page {number} of {len(pages)}") in squeezed(page) for number, page in enumerate(pages, 1))
    text = squeezed(" ".join(pages))
    assert squeezed("Initials are claims, no signatures. A lapse stops no work that is going on") in text
    assert squeezed("Of 2026-12-01. It is out of date as soon as anything happens.") in text
    # Names stand in the files, and nowhere else.
    assert "Trainee" not in "".join(pages)


def test_nothing_is_written_over(files: Path, tmp_path: Path) -> None:
    target = tmp_path / "list.pdf"
    target.write_bytes(b"mine")
    done = printed(files, target)
    assert (done.exit_code, target.read_bytes()) == (2, b"mine")
    assert "is there already, and nothing is overwritten" in done.output
