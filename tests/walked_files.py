"""What `tankside training` says of a file that a device saved: now, on later days, after a drill, in a changed book."""

import json
from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path

from click.testing import CliRunner
from demo_book import ROOT, copy_book, replace

from tankside.cli import tankside

BLEED = "procedures/filling/bleed-cleaner-line.yaml"
#: the day of the walk, and days after it: 180 days later, 365 days later (date(1))
WALKED, HALF_A_YEAR, A_YEAR = "2026-12-01", "2027-05-30", "2027-12-01"


def standings(file: Path, day: str, book: Path = ROOT) -> Mapping[str, str]:
    """Return what is said of each procedure."""
    command = ["training", "standing", file, "--book", book, "--on", day, "--format", "json"]
    done = CliRunner().invoke(tankside, [*map(str, command)])
    assert done.exit_code == 0, done.output
    return {row["procedure"]: row["says"] for row in json.loads(done.stdout)["rows"]}


def drilled(file: Path, procedure: str, *days: str) -> Path:
    """Return a file like another one, with drills behind its entries; chained with the standard library alone."""
    whole = json.loads(file.read_text(encoding="utf-8"))
    (signed, *_) = (each for each in whole["events"] if each.get("procedure") == procedure and each["kind"] == "signed")
    for day in days:
        before = whole["events"][-1]
        about = {key: signed[key] for key in ("competence", "person", "device", "build")}
        about |= {key: signed[key] for key in ("procedure", "revision", "edition", "taught")}
        event = {**about, "kind": "drill", "who": "WL", "assessor": "WL", "assessor_role": "workshop-lead"}
        event |= {"at": f"{day}T10:00:00.000+00:00", "seq": before["seq"] + 1, "previous": before["hash"]}
        text = json.dumps(event, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
        whole["events"].append({**event, "hash": sha256(text.encode("utf-8")).hexdigest()})
    made = file.with_name(f"drilled-{file.name}")
    made.write_text(json.dumps(whole, ensure_ascii=False), encoding="utf-8")
    return made


def books(folder: Path) -> Iterator[tuple[str, Path]]:
    """Return books in which one thing of a procedure is another."""
    for name, old, new in (
        ("critical step", "    how: slowly, to the stop\n", "    how: quickly, to the stop\n"),
        ("amount", "      remaining: 5 %\n", "      remaining: 4 %\n"),
        ("spelling", "  - do: Set the red waste pail under N1", "  - do: Set the red watse pail under N1"),
    ):
        book = copy_book(folder / name.replace(" ", "-"))
        replace(book / BLEED, old, new)
        yield name, book


def assert_judged_rightly(file: Path, folder: Path) -> None:
    """Hold what is said of a whole walk against what each day, drill and change must come to."""
    now, later = standings(file, WALKED), standings(file, HALF_A_YEAR)
    assert len(now) >= 15
    read = "lock-out-transfer-pump"
    assert {name: says for name, says in now.items() if name != read} == dict.fromkeys(
        sorted({*now} - {read}), f"valid, lapses on {HALF_A_YEAR}"
    )
    assert now[read] == later[read] == "valid"
    # Nothing was done for 180 days.
    assert later["splash"] == later["bleed-cleaner-line"] == f"lapsed since {HALF_A_YEAR}: not done for too long"
    # 180 days after 2027-05-20 are 2027-11-16, after 2027-11-10 they would be 2028-05-08: the year is over before.
    drill = drilled(file, "splash", "2027-05-20", "2027-11-10")
    assert standings(drill, HALF_A_YEAR)["splash"] == "valid, lapses on 2027-11-16"
    assert standings(drill, A_YEAR)["splash"] == f"lapsed since {A_YEAR}: last seen on {WALKED}"
    said = {name: standings(file, WALKED, book)["bleed-cleaner-line"] for name, book in books(folder)}
    assert said["critical step"].startswith(
        "lapsed: step 8 (Open V2 (outlet of the mixing tank), quickly, to the stop)"
    )
    assert said["amount"].startswith("to be shown before the next time: ")
    # 3.6914 L * ln 25 (3.2189) = 11.88 L, up to 0.5 L
    assert "from 11.5 L" in said["amount"]
    assert "to 12 L" in said["amount"]
    assert said["spelling"] == f"valid, lapses on {HALF_A_YEAR}"
