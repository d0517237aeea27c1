"""How long the work takes on books of several sizes, compared with general-purpose tools on the same content.

Ours and the reference run in turn, in the same minutes on the same machine; what counts is the ratio of their medians.

check   `tankside check` against `check-jsonschema` on the same files. The reference compares shapes and does no more:
        no names, amounts, dates or cautions. It needs one process for each schema. It gets the schemas as our own
        validator uses them, with references written out; with the files as `tankside schema --into` writes them it is
        many times slower, which --shipped-schemas measures in a row of its own.
build   `tankside build` without sheets against `mkdocs build` of a plain mkdocs-material project with the same visible
        content, page for page, with the theme's own search and navigation. Both begin with nothing built.
edit    from the moment a procedure is saved under `tankside serve` until its page, the search index and its sheet are
        right in build/served, against the same `mkdocs build`, which makes no sheets.
sheets  `tankside sheets` for some procedures, which checks the whole book first, against the `weasyprint` command run
        once for each sheet on the same HTML and styles. Both begin with nothing laid out.
"""

import argparse
import json
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

from click.testing import CliRunner

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from benchmark.edits import served
from benchmark.generated import generate
from benchmark.measuring import Row, Timed, in_turn, machine, run, table
from benchmark.plain_site import write_plain_site
from test_build import without_print

from tankside.cli.sheets import sheets as sheets_command
from tankside.render_print import engine, press
from tankside.render_print.draft import Draft
from tankside.schema.shapes import SHAPES, validator
from tankside.starting.schemas import file_name, write_schemas

#: the ratios that are wanted at most
TARGETS = {"check": 0.3, "build": 0.25, "edit": 0.02}


def module(name: str, *arguments: str | Path) -> list[str]:
    """Return the command that runs a program of this Python."""
    return [sys.executable, "-m", name, *map(str, arguments)]


@dataclass(frozen=True)
class Benchmark:
    """A book of one size, and a folder for everything made of it."""

    count: int
    folder: Path
    asked: argparse.Namespace

    def rows(self) -> Iterator[Row]:
        """Measure one thing after the other."""
        generate(self.book, self.count)
        yield self.row("check", self.check, self.shapes_written_out())
        if self.asked.shipped_schemas:
            yield self.row("check, shipped schemas", self.check, self.shapes_shipped())
        self.build()
        write_plain_site(self.book / "build" / "site", self.plain)
        yield self.row("build", self.build, self.plain_build)
        yield self.edit()
        laid_out = self.layouts()
        yield self.row(f"sheets of {len(laid_out)}", self.sheets, lambda: sum(map(run, laid_out)))

    def row(self, what: str, ours: Timed, reference: Timed) -> Row:
        """Measure ours and the reference in turn."""
        print(f"N = {self.count}: {what} ...", file=sys.stderr, flush=True)
        return Row(self.count, what, *in_turn(ours, reference, self.asked.seconds), TARGETS.get(what.partition(",")[0]))

    @property
    def book(self) -> Path:
        """The generated book."""
        return self.folder / "book"

    @property
    def plain(self) -> Path:
        """The plain project."""
        return self.folder / "plain"

    @property
    def ids(self) -> list[str]:
        """The procedures whose sheets are made."""
        return [path.stem for path in sorted(self.book.glob("procedures/*/*-[0-9]*.yaml"))[: self.asked.sheets_of]]

    @property
    def without_print(self) -> dict[str, str]:
        """The environment of a computer that cannot make sheets."""
        return {**os.environ, **without_print(self.folder)}

    def check(self) -> float:
        return run(module("tankside", "check", self.book))

    def build(self) -> float:
        shutil.rmtree(self.book / "build", ignore_errors=True)
        return run(module("tankside", "build", self.book), self.without_print)

    def sheets(self) -> float:
        shutil.rmtree(self.book / "build", ignore_errors=True)
        return run(module("tankside", "sheets", "--book", self.book, *self.ids))

    def plain_build(self) -> float:
        shutil.rmtree(self.plain / "site", ignore_errors=True)
        return run(module("mkdocs", "build", "--quiet", "--config-file", self.plain / "mkdocs.yml"))

    def shapes_written_out(self) -> Timed:
        """Return the reference's check with schemas that refer to nothing outside themselves."""
        schemas = self.folder / "written-out"
        schemas.mkdir()
        for shape in SHAPES:
            (schemas / file_name(shape)).write_text(json.dumps(validator(shape).schema), encoding="utf-8", newline="\n")
        return self.shapes(schemas)

    def shapes_shipped(self) -> Timed:
        """Return the reference's check with the schemas as every user gets them."""
        schemas = self.folder / "shipped"
        write_schemas(schemas)
        return self.shapes(schemas, "--base-uri", f"{schemas.as_uri()}/")

    def shapes(self, schemas: Path, *options: str) -> Timed:
        plant = self.book / "procedures" / "plant"
        files = {shape: [plant / f"{shape}.yaml"] for shape in SHAPES}
        files["procedure"] = [path for path in self.book.glob("procedures/*/*.yaml") if path.parent != plant]
        files["checklist"] = list(self.book.glob("checklists/*.yaml"))
        commands = [
            module("check_jsonschema", *options, "--schemafile", schemas / file_name(shape), *found)
            for shape, found in files.items()
        ]
        return lambda: sum(map(run, commands))

    def edit(self) -> Row:
        """Measure edits of the book while it is served."""
        shutil.rmtree(self.book / "build")
        has_sheets = self.asked.edit_with_sheets
        environment = dict(os.environ) if has_sheets else self.without_print
        with served(self.book, environment, has_sheets=has_sheets) as book:
            return self.row("edit" if has_sheets else "edit, no sheets", book.edit, self.plain_build)

    def layouts(self) -> list[list[str]]:
        """Return the commands that lay out what `tankside sheets` lays out."""
        given: list[tuple[str, str]] = []

        def note(_: engine.Engine, draft: Draft) -> bytes:
            given.append((draft.html, draft.style))
            return b""

        shutil.rmtree(self.book / "build", ignore_errors=True)
        # In this process, where what is laid out can be noted.
        with patch.object(engine.Engine, "pdf", note), patch.object(press, "processors", lambda: 1):
            done = CliRunner().invoke(sheets_command, ["--book", str(self.book), *self.ids])
        assert done.exit_code == 0 and len(given) == len(self.ids), done.output
        source = self.folder / "sheets"
        source.mkdir()
        sheet_style = (Path(engine.__file__).parent.parent / "assets" / "print" / "sheet.css").read_text(
            encoding="utf-8"
        )
        (source / "all.css").write_text(engine._font_faces() + sheet_style, encoding="utf-8", newline="\n")
        commands = []
        for number, (html, page_style) in enumerate(given):
            page, style, pdf = (source / f"{number}.{kind}" for kind in ("html", "css", "pdf"))
            page.write_text(html, encoding="utf-8", newline="\n")
            style.write_text(page_style, encoding="utf-8", newline="\n")
            commands.append(module("weasyprint", "--pdf-tags", "-s", source / "all.css", "-s", style, page, pdf))
        return commands


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure, and print what was found."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    add = parser.add_argument
    add("--counts", type=int, nargs="+", default=[10, 100, 1000], help="generated procedures, beside the demo's own")
    add("--sheets-of", type=int, default=10, help="how many sheets are compared")
    add("--seconds", type=float, default=20, help="how long rounds are repeated; at least two are made")
    add("--shipped-schemas", action="store_true", help="compare check with the schema files as they are, too")
    add("--edit-with-sheets", action=argparse.BooleanOptionalAction, default=True, help="wait for the sheet, too")
    add("--json", type=Path, metavar="FILE", help="write the figures into a file as well")
    asked = parser.parse_args(arguments)
    about, rows = machine(), list[Row]()
    for count in asked.counts:
        with TemporaryDirectory(prefix="tankside-benchmark-") as folder:
            rows += Benchmark(count, Path(folder), asked).rows()
    print("\n".join((", ".join(f"{name} {value}" for name, value in about.items()), "", *table(rows))))
    if asked.json is not None:
        found = {"machine": about, "rows": [row.as_data() for row in rows]}
        asked.json.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
