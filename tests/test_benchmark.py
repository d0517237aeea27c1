"""The benchmark: its book is sound and always the same, what it compares is equal, it runs. No time is judged."""

import json
import re
import subprocess
import sys
from argparse import Namespace
from html.parser import HTMLParser
from pathlib import Path

import pdfplumber
import pytest
from benchmark.generated import generate
from benchmark.measuring import run
from benchmark.plain_site import content, write_plain_site
from benchmark.run import Benchmark
from demo_book import COMMAND, built, hashes, replace
from test_build import without_print

RUN = Path(__file__).parent / "benchmark" / "run.py"
GENERATED = "procedures/*/*-[0-9]*.yaml"
#: tags that do not part two words
INLINE = {"a", "b", "code", "span", "strong"}


class _Words(HTMLParser):
    """Reads what a page says."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.said += [] if tag in INLINE else [" "]

    def handle_endtag(self, tag: str) -> None:
        self.said += [] if tag in INLINE else [" "]

    def handle_data(self, data: str) -> None:
        self.said.append(data)


def words(page: Path) -> list[str]:
    reader = _Words()
    reader.feed(content(page.read_text(encoding="utf-8")))
    return "".join(reader.said).split()


def pages(sheet: Path) -> list[str]:
    with pdfplumber.open(sheet) as document:
        return [page.extract_text() for page in document.pages]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A generated book, built without sheets."""
    folder = tmp_path_factory.mktemp("generated")
    book = generate(folder / "book", 30)
    assert built(book, **without_print(folder)).returncode == 0
    return book


def test_generated_book_is_sound(book: Path) -> None:
    done = subprocess.run([*COMMAND, "check", str(book)], capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0
    assert len(list(book.glob(GENERATED))) == 30
    assert not re.findall(r"-[0-9]+\.yaml:", done.stdout), "a generated procedure has a remark"


#: a claim of a condition, a weaker one, and what is then found in generated procedures of a family
COUNTED_ON = (
    ("tank-250 released", "tank-250 in process", "filling", "not-released"),
    ("tank-250 and cleaner-line clean", "cleaner-line clean", "batch", "vessel-dirty"),
    ("waste-drum-alkaline at most 40 L", "waste-drum-alkaline at most 150 L", "cleaning", "receiver-too-full"),
    ("exhaust-1 proved", "exhaust-1 in order", "lockout", "air-not-proved"),
)


def test_dry_run_follows_what_generated_procedures_do(tmp_path: Path) -> None:
    book = generate(tmp_path / "book", 30)
    for claim, weaker, _, _ in COUNTED_ON:
        replace(book / "procedures/plant/equipment.yaml", f"      - {claim}\n", f"      - {weaker}\n")
    for path in book.glob("procedures/lockout/*-[0-9]*.yaml"):
        path.write_text(re.sub(r"  - lock: V1-lock\n.*\n", "", path.read_text(encoding="utf-8")), encoding="utf-8")
    done = subprocess.run([*COMMAND, "check", str(book)], capture_output=True, encoding="utf-8", check=False)
    found = set(re.findall(r"^procedures/(\w+)/[\w-]+-[0-9]+\.yaml:.* \[([a-z-]+)\]$", done.stdout, re.MULTILINE))
    assert found >= {("lockout", "not-isolated"), *((family, code) for _, _, family, code in COUNTED_ON)}


def test_same_seed_same_bytes_and_a_larger_book_begins_with_the_smaller(tmp_path: Path) -> None:
    small, again, other, large = (
        hashes(generate(tmp_path / f"{number}", count, seed))
        for number, (count, seed) in enumerate(((30, 1), (30, 1), (30, 2), (40, 1)))
    )
    assert small == again
    assert small != other
    assert small.items() < large.items()
    assert len(large) - len(small) == 10


def test_vocabulary_grows_with_the_book(tmp_path: Path) -> None:
    written = [path.read_text(encoding="utf-8") for path in generate(tmp_path / "book", 100).glob(GENERATED)]
    each = [set(re.findall(r"[a-z]+", text.lower())) for text in written]
    # Keys, names and claims are counted with the words here. The demo book's own procedures have from 180 to 510.
    assert all(200 < len(own) < 400 for own in each)
    assert len(set.union(*each)) > 2 * len(set.union(*each[:10]))


def test_plain_site_says_the_same_words_on_every_page(book: Path, tmp_path: Path) -> None:
    ours = book / "build" / "site"
    config = write_plain_site(ours, tmp_path)
    command = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(config)]
    subprocess.run(command, capture_output=True, check=True)
    pages = sorted(path.relative_to(ours) for path in ours.rglob("*.html"))
    assert len(pages) > 100
    assert [words(ours / page) for page in pages] == [words(tmp_path / "site" / page) for page in pages]


def test_reference_lays_out_the_same_sheets(tmp_path: Path) -> None:
    measured = Benchmark(2, tmp_path, Namespace(sheets_of=2))
    generate(measured.book, 2)
    for command in measured.layouts():
        run(command)
    measured.sheets()
    ours = [measured.book / "build" / "sheets" / f"{name}.pdf" for name in measured.ids]
    assert [pages(path) for path in ours] == [pages(tmp_path / "sheets" / f"{number}.pdf") for number in range(2)]


def test_benchmark_prints_and_writes_a_row_for_each_comparison(tmp_path: Path) -> None:
    found = tmp_path / "found.json"
    options = ["--counts", "3", "--sheets-of", "1", "--seconds", "0", "--json", str(found)]
    done = subprocess.run([sys.executable, str(RUN), *options], capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    _, _, headings, *rows = done.stdout.splitlines()
    assert headings.split() == ["N", "what", "ours", "reference", "ratio", "target", "rounds"]
    assert [line[3:14].strip() for line in rows] == ["check", "build", "edit", "sheets of 1"]
    for row in json.loads(found.read_text(encoding="utf-8"))["rows"]:
        assert row["ours"] > 0
        assert row["ratio"] == row["ours"] / row["reference"]
