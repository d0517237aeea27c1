"""Print how many breakages of the demo book the audit catches, family by family, and what harmless changes raise."""

import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parent))

from audit_breakages import BREAKAGES, HARMLESS
from audit_breakages.judging import findings, is_caught, raised
from demo_book import copy_book

from tankside.memory import Memory


def main() -> int:
    """Print, and return 1 when one was missed or a harmless one raised something."""
    with TemporaryDirectory() as folder, Memory().in_use():
        book = copy_book(Path(folder) / "book")
        known = {each.same for each in findings(book)}
        missed = [(family, each) for family, each in BREAKAGES if not is_caught(book, each, known)]
        noisy = [each for _, each in HARMLESS if raised(book, each, known)]
    totals, misses = Counter(family for family, _ in BREAKAGES), Counter(family for family, _ in missed)
    for family, total in sorted(totals.items()):
        print(f"{family:12}  {total - misses[family]:3} of {total:3} caught")
    print(f"{'together':12}  {len(BREAKAGES) - len(missed):3} of {len(BREAKAGES):3} caught")
    changes = {(each.path, each.old, each.new) for _, each in BREAKAGES}
    print(f"{len(changes)} different changes, of {len({each.code for _, each in BREAKAGES})} rules")
    print(f"{'harmless':12}  {len(HARMLESS) - len(noisy):3} of {len(HARMLESS):3} raise nothing")
    for _, each in missed:
        print(f"missed: {each.what} [{each.code}]")
    for harmless in noisy:
        print(f"raises something: {harmless.what}")
    return 1 if missed or noisy else 0


if __name__ == "__main__":
    sys.exit(main())
