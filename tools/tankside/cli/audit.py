"""`tankside audit`."""

from datetime import datetime
from pathlib import Path

import click

from tankside.audit import RULES, Audit, Family, Rule, audit_of
from tankside.audit.day import today
from tankside.audit.earlier import new_since
from tankside.checkup import read_book
from tankside.cli.audit_forms import FORMS, explanation, list_of_rules
from tankside.cli.showing import folder_argument, show_problems, summary
from tankside.history import is_known
from tankside.problems import meant

FAMILIES = [family.value for family in Family]
BY_CODE = {rule.code: rule for rule in RULES}
EPILOG = """
\b
Examples:
  tankside audit .
  tankside audit --family lockout --family emergencies
  tankside audit --since main
  tankside audit --explain exposure-not-covered

\b
The JSON has:
  day, is_clean  the day that it is about, and whether no 'must' is open
  rules         code, family, weight, summary, sources of each rule applied
  findings      rule, family, weight, at, path, line, column, message, hint
  exceptions    rule, at, reason, approved, since, until, is_expired, count
  not_checked   in words, what no rule can know
"""


def _rules(ctx: click.Context, param: click.Parameter, codes: tuple[str, ...]) -> tuple[Rule, ...]:
    for code in codes:
        if code not in BY_CODE:
            known = meant(code, BY_CODE, "'tankside audit --explain all' lists them")
            raise click.BadParameter(f"there is no rule '{code}'; {known}", ctx, param)
    return tuple(BY_CODE[code] for code in codes)


def _explain(ctx: click.Context, param: click.Parameter, code: str | None) -> None:
    if code is None:
        return
    if code == "all":
        click.echo(list_of_rules())
    else:
        (rule,) = _rules(ctx, param, (code,))
        click.echo(explanation(rule))
    ctx.exit()


@click.command(epilog=EPILOG)
@folder_argument
@click.option("--format", "form", type=click.Choice([*FORMS]), default="text", help="How it is printed.")
@click.option("--rule", "rules", metavar="CODE", multiple=True, callback=_rules, help="Apply only this rule.")
@click.option("--family", "families", type=click.Choice(FAMILIES), multiple=True, help="Apply only this family.")
@click.option("--since", metavar="REVISION", help="Show only what was not found in this git commit.")
@click.option("--on", type=click.DateTime(["%Y-%m-%d"]), help="The day that it is about.  [default: today]")
@click.option(
    "--explain", metavar="CODE", is_eager=True, expose_value=False, callback=_explain, help="Explain a rule, or 'all'."
)
@click.pass_context
def audit(
    ctx: click.Context,
    folder: Path,
    form: str,
    rules: tuple[Rule, ...],
    families: tuple[str, ...],
    since: str | None,
    on: datetime | None,
) -> None:
    """Find what a book lacks in safety: each finding with its rule and the published source of it.

    Leaves with 1 when a 'must' is open. It looks at presence, order and the model of the plant, never at the truth of
    a text. Local codes, the data sheets and licensed practice come first.
    """
    if since is not None and not is_known(folder, since):
        raise click.UsageError(f"git knows no commit '{since}' in {folder}")
    read = read_book(folder)
    if read.rehearsal is None:
        show_problems(read.problems, err=True)
        click.echo(f"{summary(read)}. It cannot be audited before that is mended.", err=True)
        ctx.exit(1 if read.count else 2)
    chosen = [rule for rule in RULES if (not rules or rule in rules) and (not families or rule.family in families)]
    found = audit_of(read.rehearsal, on.date() if on else today(), chosen)
    if since is not None:
        found = new_since(found, folder, since)
    click.echo(FORMS[form](found))
    ctx.exit(_exit_code(found))


def _exit_code(found: Audit) -> int:
    return 1 if found.has_must else 0
