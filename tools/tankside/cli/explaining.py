"""What a helper is and takes, for people; and all of them by task."""

from itertools import groupby
from typing import Final

from tankside.quantities.documentation import Documentation
from tankside.quantities.helper import Helper
from tankside.quantities.infix import infix
from tankside.quantities.registry import NAMED
from tankside.quantities.report import Report

#: Sections of the documentation shown to people, under the words used for them.
_SHOWN: Final = {
    "Args": "Arguments",
    "Returns": "Results",
    "Limits": "Limits",
    "Example": "Example",
    "Source": "Source",
}


def list_of_helpers() -> str:
    width = max(map(len, NAMED))
    blocks = []
    for task, helpers in groupby(sorted(NAMED.values(), key=lambda helper: helper.task), lambda helper: helper.task):
        lines = [f"  {helper.name:{width}}  {_gist(helper.documentation)}" for helper in helpers]
        blocks.append("\n".join((task, *lines)))
    closing = 'tankside calc NAME explains one; tankside calc NAME ARGUMENT="VALUE UNIT" ... works it out.'
    return "\n\n".join((*blocks, closing))


def explanation(helper: Helper | Report) -> str:
    text = helper.documentation
    formulas = _formulas(helper) if isinstance(helper, Helper) else text.formula
    shown = [("Formula", formulas), *((title, text.sections[heading]) for heading, title in _SHOWN.items())]
    blocks = [f"{title}\n{_indented(body)}" for title, body in shown]
    return "\n\n".join((f"{helper.name}: {_gist(text)}", *blocks))


def _formulas(helper: Helper) -> str:
    """Return each form of each formula once, written as the working writes it."""
    forms = (
        f"{name} = {infix(tree, str)}" for variant in helper.variants for name, tree in helper.trees(variant).items()
    )
    return "\n".join(dict.fromkeys(forms))


def _gist(text: Documentation) -> str:
    return text.summary.removeprefix("Return ").removesuffix(".")


def _indented(body: str) -> str:
    return "\n".join(f"  {line}".rstrip() for line in body.splitlines())
