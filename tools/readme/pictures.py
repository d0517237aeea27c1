#!/usr/bin/env python3
"""Make the pictures of README.md from the built demonstration book.

usage: .venv/bin/python tools/readme/pictures.py [--site build/site] [--into tools/readme]

Pages are opened as files in Chromium, the one named by TANKSIDE_CHROMIUM or /usr/bin/chromium; sheets are drawn from
their PDF. The same site and the same Chromium give the same bytes.
"""

import argparse
import io
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

try:
    import pdfplumber
    from PIL import Image
    from playwright.sync_api import Browser, Locator, Page, ViewportSize, sync_playwright
except ModuleNotFoundError as missing:
    sys.exit(f"{missing.name} is not installed; run `python3 tools/start.py test` once, which installs it")

ROOT = Path(__file__).resolve().parent.parent.parent
CHROMIUM = Path(os.environ.get("TANKSIDE_CHROMIUM", "/usr/bin/chromium"))
ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

#: dots of a picture for each CSS pixel: sharp on a dense screen
SCALE = 2
#: widths of a tablet held upright, of a phone, and of a sheet of paper, in CSS pixels
TABLET, PHONE, PAPER = 800, 390, 394
#: what is seen around and between screens and sheets, in dots
GROUND, GAP = (208, 208, 208), 12 * SCALE
#: pages have few colours; the rest are the soft edges of letters
COLOURS = 128
#: white left under the element that a screen is scrolled down to, in CSS pixels
FOOT = 12
#: milliseconds in which a page finishes what scrolling and typing set off
SETTLED = 400


@dataclass(frozen=True)
class Screen:
    """A page as it is seen on a screen."""

    #: its file in the site
    file: str
    #: size of the screen, in CSS pixels
    width: int
    height: int
    #: what is touched on it first, and typed into its search
    touched: str | None = None
    typed: str | None = None
    #: the element whose lower end is scrolled to the lower end of the screen
    down_to: str | None = None


@dataclass(frozen=True)
class Sheet:
    """The first page of a sheet."""

    #: its file in the site
    file: str


View = Screen | Sheet

BLEED, SPLASH = "procedures/filling/bleed-cleaner-line.html", "emergency/splash.html"
#: what each picture shows, from left to right
PICTURES: Mapping[str, Sequence[View]] = {
    "home.png": (Screen("index.html", TABLET, 752),),
    "amount.png": (Screen(BLEED, TABLET, 587, touched="summary", down_to=".amount-shown + .detail"),),
    "caution.png": (Screen(BLEED, TABLET, 972, down_to="#step-start-p1"),),
    "search.png": (Screen("index.html", TABLET, 670, typed="conductivity"),),
    "phones.png": (Screen(SPLASH, PHONE, 844), Screen(BLEED, PHONE, 888, down_to=".step-hold")),
    "sheets.png": (Sheet("sheets/bleed-cleaner-line.pdf"), Sheet("sheets/splash-wall.pdf")),
}


def main(arguments: Sequence[str]) -> int:
    """Make every picture, then write them; return the exit code."""
    options = asked(arguments)
    needed = [CHROMIUM, *(options.site / view.file for views in PICTURES.values() for view in views)]
    absent = next((path for path in needed if not path.is_file()), None)
    if absent is not None:
        remedy = "name yours in TANKSIDE_CHROMIUM" if absent == CHROMIUM else "run `python3 tools/start.py build` first"
        print(f"{absent} is not there; {remedy}", file=sys.stderr)
        return 2
    with chromium() as browser:
        made = {name: picture([seen(browser, options.site, view) for view in PICTURES[name]]) for name in PICTURES}
    options.into.mkdir(parents=True, exist_ok=True)
    for name, data in made.items():
        (options.into / name).write_bytes(data)
    print(f"{len(made)} pictures, {sum(map(len, made.values())) / 1000:.0f} kB, in {options.into}")
    return 0


def asked(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Make the pictures of README.md from the built demonstration book.")
    parser.add_argument("--site", type=Path, default=ROOT / "build" / "site", help="the built site")
    parser.add_argument("--into", type=Path, default=Path(__file__).resolve().parent, help="where the pictures go")
    return parser.parse_args(arguments)


@contextmanager
def chromium() -> Iterator[Browser]:
    with sync_playwright() as running, running.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS) as browser:
        yield browser


def seen(browser: Browser, site: Path, view: View) -> Image.Image:
    return on_paper(site / view.file) if isinstance(view, Sheet) else on_screen(browser, site / view.file, view)


def on_paper(file: Path) -> Image.Image:
    with pdfplumber.open(file) as sheet:
        return sheet.pages[0].to_image(width=PAPER * SCALE, antialias=True).original


def on_screen(browser: Browser, file: Path, screen: Screen) -> Image.Image:
    size = ViewportSize(width=screen.width, height=screen.height)
    with browser.new_context(offline=True, viewport=size, device_scale_factor=SCALE, has_touch=True) as context:
        page = context.new_page()
        page.goto(file.resolve().as_uri())
        if screen.touched is not None:
            piece(page, screen.touched).tap()
        if screen.typed is not None:
            page.get_by_role("searchbox").fill(screen.typed)
        if screen.down_to is not None:
            down = f"(end) => scrollBy(0, end.getBoundingClientRect().bottom + {FOOT} - innerHeight)"
            piece(page, screen.down_to).evaluate(down)
        page.wait_for_timeout(SETTLED)
        return Image.open(io.BytesIO(page.screenshot(animations="disabled"))).convert("RGB")


def piece(page: Page, selector: str) -> Locator:
    """Return the first element that fits; without one the book has changed, and `PICTURES` has to follow."""
    found = page.locator(selector)
    if found.count() == 0:
        sys.exit(f"nothing fits '{selector}' in {page.url}; correct PICTURES in {__file__}")
    return found.first


def picture(parts: Sequence[Image.Image]) -> bytes:
    """Return a PNG of these side by side on a grey ground."""
    width = GAP + sum(part.width + GAP for part in parts)
    ground = Image.new("RGB", (width, 2 * GAP + max(part.height for part in parts)), GROUND)
    left = GAP
    for part in parts:
        ground.paste(part, (left, GAP))
        left += part.width + GAP
    packed = io.BytesIO()
    ground.quantize(COLOURS, dither=Image.Dither.NONE).save(packed, "PNG", optimize=True)
    return packed.getvalue()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
