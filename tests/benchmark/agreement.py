"""Put 100,000 random inputs over all helpers to Python and to Chromium, and print how many were answered alike."""

import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parent.parent))
from conftest import ARGUMENTS, CHROMIUM
from evaluator_page import evaluator_page
from random_inputs import compared

INPUTS = 100_000
SEED = 1


def main() -> int:
    with sync_playwright() as playwright, TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        started = time.perf_counter()
        tally = compared(evaluator_page(browser, Path(folder)), INPUTS, SEED)
        print(f"{tally}; {time.perf_counter() - started:.0f} s")
        print("\n".join(tally.differences[:20]), end="")
        browser.close()
    return 1 if tally.differences else 0


if __name__ == "__main__":
    sys.exit(main())
