"""Make a page of all sheets of a book at their real size, to be looked at: build/gallery/index.html.

    .venv/bin/python tests/gallery.py [BOOK] [--kind KIND] [--dots 110]

Each page of each sheet is a picture as wide as its paper, on a screen that shows a millimetre as a millimetre. Training
sheets are among them; record sheets and binders are not.
"""

import argparse
import html
import shutil
from collections.abc import Iterator
from pathlib import Path

import pypdfium2

from tankside.audit import audit_of
from tankside.audit.day import today
from tankside.checkup import check_book
from tankside.edition.sheets import sheet_editions
from tankside.loading.sources import picture_data
from tankside.render_print.engine import Engine
from tankside.render_print.press import Job, lay_out
from tankside.render_print.sheets import SheetMaker
from tankside.views.audit import stamps

MM_PER_POINT = 25.4 / 72
HEAD = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Sheets at real size</title>
<style>
body { background: #888; font-family: sans-serif }
h2 { clear: both; color: #fff }
img { margin: 2mm; float: left }
</style>
</head><body>
"""


def pictures(pdf: Path, folder: Path, dots: int) -> Iterator[tuple[str, float]]:
    """Draw each page of a sheet; return the name of its picture and how wide its paper is, in mm."""
    document = pypdfium2.PdfDocument(pdf)
    for number, page in enumerate(document, 1):
        name = f"{pdf.stem}-{number:03}.png"
        page.render(scale=dots / 72).to_pil().save(folder / name, optimize=True)
        yield name, page.get_width() * MM_PER_POINT


def laid_out(book: Path, kind: str | None, folder: Path) -> list[Path]:
    """Lay out the sheets of a book into a folder."""
    checkup = check_book(book)
    assert checkup.book is not None
    assert checkup.rehearsal is not None
    plant = checkup.book.plant
    stamped = stamps(audit_of(checkup.rehearsal, today()))
    maker = SheetMaker(Engine(), picture_data(book), plant, str(plant.facts.languages[0]), stamped)
    sheets = sheet_editions(plant, checkup.editions).values()
    drafts = [maker.draft(each) for each in sheets if each.kind != "binder" and kind in (None, each.kind)]
    jobs = [Job(draft, folder / f"{draft.name}.pdf") for draft in drafts]
    for failure in lay_out(jobs, maker.engine, print).values():
        print(failure.message)
    return sorted(job.place for job in jobs if job.place.is_file())


def main() -> None:
    """Make the page."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("book", type=Path, nargs="?", default=Path())
    parser.add_argument("--kind", help="only sheets of this kind")
    parser.add_argument("--dots", type=int, default=110, help="dots an inch")
    given = parser.parse_args()
    folder = given.book / "build" / "gallery"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    parts = [HEAD]
    for pdf in laid_out(given.book, given.kind, folder):
        parts.append(f"<h2>{html.escape(pdf.stem)}</h2>\n")
        for name, width in pictures(pdf, folder, given.dots):
            parts.append(f'<img src="{name}" alt="{html.escape(name)}" style="width: {width:.1f}mm">\n')
    (folder / "index.html").write_text("".join((*parts, "</body></html>\n")), encoding="utf-8")
    print(folder / "index.html")


if __name__ == "__main__":
    main()
