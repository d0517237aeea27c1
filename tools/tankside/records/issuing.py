"""What a record sheet is issued for: one lot, its size, what was chosen; refused when that does not fit the edition."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from tankside.catalogue.characters import drawn
from tankside.problems import meant, quoted
from tankside.quantities.portable import Portable
from tankside.records.script import Script
from tankside.records.worth import Inputs, is_inside, like
from tankside.units import Quantity, QuantityError, parse_quantity

#: characters of a lot, so that it stands on one line in the head of every page
LONGEST_LOT = 24


class CannotIssueError(Exception):
    """A sheet cannot be issued so; the message is a sentence with the way out."""


@dataclass(frozen=True)
class Issue:
    """What a sheet is for; everything is empty on a blank for the drawer."""

    lot: str = ""
    #: the size of the bottles, as the edition writes it
    bottle: str = ""
    #: procedure -> input -> value
    inputs: Inputs = field(default_factory=dict)

    @property
    def is_blank(self) -> bool:
        """Whether lot, size and amounts are written by hand."""
        return not self.lot


@dataclass(frozen=True)
class Wanted:
    """What was asked for."""

    lot: str | None = None
    #: each ``NAME=VALUE``, or ``PROCEDURE/NAME=VALUE`` where several procedures ask for the same name
    settings: Sequence[str] = ()
    bottle: str | None = None


def issue_for(script: Script, wanted: Wanted) -> Issue:
    """Return what a sheet of an edition is for.

    Raises:
        CannotIssueError: it does not fit the edition.
    """
    if wanted.lot is None:
        _refuse_without_lot(wanted)
        return Issue()
    return Issue(_lot(wanted.lot), _bottle(script, wanted.bottle), _inputs(script, wanted.settings))


def _refuse_without_lot(wanted: Wanted) -> None:
    for option, is_given in (("--set", bool(wanted.settings)), ("--bottle", wanted.bottle is not None)):
        if is_given:
            raise CannotIssueError(f"{option} is for one lot only; add --lot LOT, or leave {option} away for a blank")


def _lot(text: str) -> str:
    lot = " ".join(text.split())
    if not lot:
        raise CannotIssueError("the lot is empty; write --lot with the lot, or leave --lot away for a blank")
    if len(lot) > LONGEST_LOT:
        raise CannotIssueError(f"the lot {quoted(lot)} is longer than {LONGEST_LOT} characters; shorten it")
    for character in lot:
        if ord(character) not in drawn():
            raise CannotIssueError(f"the type has no drawing for '{character}' in the lot {quoted(lot)}; leave it away")
    return lot


def _bottle(script: Script, text: str | None) -> str:
    sizes = script.sizes
    if not sizes:
        if text is not None:
            raise CannotIssueError(f"'{script.id}' changes to no labels, so there is no size; leave --bottle away")
        return ""
    choice = f"add --bottle with one of: {', '.join(sizes)}"
    if text is None:
        raise CannotIssueError(f"'{script.id}' changes to labels, and the size of the bottles is missing; {choice}")
    found = next((size for size in sizes if _value(size) == _value(text)), None)
    if found is None:
        raise CannotIssueError(f"{quoted(text)} is no size of its labels; {choice}")
    return found


def _value(text: str) -> Fraction | None:
    try:
        return parse_quantity(text).value
    except QuantityError:
        return None


def _inputs(script: Script, settings: Sequence[str]) -> Inputs:
    asked = {f"{procedure}/{name}": each for procedure, name, each in script.inputs()}
    chosen: dict[str, str] = {}
    for setting in settings:
        name, value = _split(setting)
        full = _full_name(script, asked, name)
        if full in chosen:
            raise CannotIssueError(f"'{name}' is set twice; keep one --set")
        chosen[full] = _chosen(name, value, asked[full])
    for full, each in asked.items():
        if full not in chosen:
            raise CannotIssueError(_missing(full.partition("/")[2], each))
    return _by_procedure(chosen)


def _split(setting: str) -> tuple[str, str]:
    name, mark, value = setting.partition("=")
    if not mark:
        raise CannotIssueError(f'{quoted(setting)} is not NAME=VALUE; write it like --set batch="150 L"')
    return name.strip(), value.strip()


def _full_name(script: Script, asked: Mapping[str, Portable], name: str) -> str:
    fitting = [full for full in asked if name in (full, full.partition("/")[2])]
    if len(fitting) > 1:
        raise CannotIssueError(f"several procedures ask for '{name}'; write one --set for each: {', '.join(fitting)}")
    if fitting:
        return fitting[0]
    names = [full.partition("/")[2] for full in asked]
    if not names:
        raise CannotIssueError(f"'{script.id}' asks for nothing, so '{name}' cannot be set; leave --set away")
    way_out = meant(name, names, f"it asks for: {', '.join(names)}")
    raise CannotIssueError(f"'{script.id}' does not ask for '{name}'; {way_out}")


def _chosen(name: str, text: str, asked: Portable) -> str:
    low, high = _ends(asked)
    within = f"choose a value from {asked['from']} to {asked['to']}"
    try:
        value = parse_quantity(text)
    except QuantityError as error:
        raise CannotIssueError(f"'{name}': {error.sentence}; {error.hint}") from error
    if not like(value, low) or not is_inside(value.value, low, high):
        raise CannotIssueError(f"'{name}' cannot be {quoted(text)}; {within}")
    return text


def _ends(asked: Portable) -> tuple[Quantity, Quantity]:
    return parse_quantity(asked["from"]), parse_quantity(asked["to"])


def _missing(name: str, asked: Portable) -> str:
    example = f'--set {name}="{asked["usual"]}"'
    return f"'{name}' is missing ({asked['asks']}); add {example}, from {asked['from']} to {asked['to']}"


def _by_procedure(chosen: Mapping[str, str]) -> Inputs:
    inputs: dict[str, dict[str, str]] = {}
    for full, value in chosen.items():
        procedure, _, name = full.partition("/")
        inputs.setdefault(procedure, {})[name] = value
    return inputs
