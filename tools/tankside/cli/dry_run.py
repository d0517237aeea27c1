"""`tankside dry-run`."""

import shutil
from collections.abc import Iterable
from pathlib import Path
from textwrap import fill

import click

from tankside.checkup import read_book
from tankside.cli.dry_run_forms import as_json, table, views
from tankside.cli.rehearsing import Rehearsed, rehearsed
from tankside.cli.showing import book_option, counted, show_problems, summary
from tankside.plant.rehearsal import Rehearsal, as_problem
from tankside.plant.running import Finding
from tankside.problems import Span
from tankside.texts import Words, words

#: lines longer than this are not read
WIDEST = 120
EPILOG = """
\b
Examples:
  tankside dry-run bleed-cleaner-line
  tankside dry-run clean-mixing-tank --branch "look-inside=no"
  tankside dry-run hold-a-lot --from "tank-250 released; V2 open"

\b
The JSON has:
  id, sort        sort is procedure, checklist or day
  start, ends     states: before the first step, after the last
  steps           for each: checklist, procedure, section, number, step;
                  changes, seen, left, exposed: in words, as in the table;
                  states: right after it; stopped: after stop_safely there
  findings        as 'check --format json' has them, with procedure, step,
                  within (checklists) and way (what was decided)
  visited, ways   how many states were looked at, ways on followed
A state is {worn, pieces}; a piece that is as at rest is left out, and of a
piece each field that is as at rest. Volumes are litres, "from" and "to".
"""


@click.command("dry-run", epilog=EPILOG)
@click.argument("name", metavar="ID")
@book_option
@click.option(
    "--from", "start", metavar="CLAIMS", help="Start at rest with these claims, ';' between them, and no others."
)
@click.option("--branch", "branches", metavar="STEP=ANSWER", multiple=True, help="Follow only this answer there.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", help="How it is printed.")
@click.pass_context
def dry_run(
    ctx: click.Context, name: str, folder: Path, start: str | None, branches: tuple[str, ...], form: str
) -> None:
    """Rehearse a procedure, checklist or day on a model of the plant, step by step.

    It starts at rest, with what its prerequisites mean, and follows every way. The answer of a check is yes or no, of
    a measurement inside or outside, of a choice its words or its letter. The model knows what the book says. It sees
    no leak, dead leg or wrong label, and never replaces looking.
    """
    checkup = read_book(folder)
    if checkup.rehearsal is None:
        show_problems(checkup.problems, err=True)
        click.echo(f"{summary(checkup)}. Nothing was rehearsed.", err=True)
        # A folder that holds no book was named by mistake.
        ctx.exit(1 if checkup.count else 2)
    found = rehearsed(checkup.rehearsal, name, start, branches)
    findings = _each_once(found.run.findings)
    say = words(str(checkup.rehearsal.facts.facts.languages[0]))
    if form == "json":
        click.echo(as_json(checkup.rehearsal, found, findings, say))
    else:
        _show(checkup.rehearsal, found, findings, say)
    ctx.exit(1 if findings else 0)


def _each_once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    first: dict[tuple[Span, str], Finding] = {}
    for finding in findings:
        first.setdefault((finding.span, finding.fault.code), finding)
    return tuple(first.values())


def _show(rehearsal: Rehearsal, found: Rehearsed, findings: tuple[Finding, ...], say: Words) -> None:
    width = min(shutil.get_terminal_size().columns, WIDEST)
    taken = 0
    for leg, view in views(rehearsal, found, say):
        place = "/".join(filter(None, (leg.checklist, str(leg.procedure.procedure), leg.section)))
        click.secho(fill(f"{place}: {leg.procedure.title}", width, break_on_hyphens=False), bold=True)
        for line in table(view, width):
            click.echo(line)
        click.echo()
        taken += len(view.steps)
    show_problems(tuple(map(as_problem, findings)))
    run, what = found.run, counted(len(findings), "finding") if findings else "no findings"
    looked_at = f"{counted(run.visited, 'state')} looked at, {counted(run.ways, 'way')} on followed"
    click.echo(f"{counted(taken, 'step')} taken, {looked_at}: {what}")
