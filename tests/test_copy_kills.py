"""A browser that is killed has kept all that its screen showed, and shows nothing that it has not kept."""

import os
import shutil
from pathlib import Path

import pytest
from conftest import ARGUMENTS, CHROMIUM
from demo_book import replace
from killed_copies import KilledCopy

BROWSER = (CHROMIUM, "--headless", *ARGUMENTS)
#: how often a browser is killed, in all; each time costs 0.7 s of one core
KILLS = int(os.environ.get("TANKSIDE_KILLS", "200"))
#: each with a device of its own and working copies of its own
SEEDS = range(4)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_the_screen_showed_is_kept_whenever_the_browser_is_killed(site: Path, tmp_path: Path, seed: int) -> None:
    with KilledCopy(BROWSER, site, tmp_path, seed) as device:
        for _ in range(KILLS // len(SEEDS)):
            device.kill_once()
        device.opened()
    print(device.outcomes, device.kinds, [len(events) for events in device.known.values()])
    assert device.outcomes.total() == KILLS // len(SEEDS)
    # A third of them came after something had been painted.
    assert device.outcomes["kept, seen"] > 0


#: a page that paints first and writes afterwards
HASTY = "fold(this.copy, event); this.changed(); await new Promise((go) => { setTimeout(go, 9000); });"


def test_page_that_paints_before_it_keeps_is_found_out(site: Path, tmp_path: Path) -> None:
    hasty = Path(shutil.copytree(site, tmp_path / "site", copy_function=os.link))
    script = hasty / "tankside" / "copies.js"
    script.unlink()
    shutil.copy(site / "tankside" / "copies.js", script)
    replace(script, "const head = await write();", f"{HASTY}const head = await write();")
    with KilledCopy(BROWSER, hasty, tmp_path / "profile", 0) as device:
        device.kill_once("painted")
        with pytest.raises(AssertionError, match="start"):
            device.opened()
