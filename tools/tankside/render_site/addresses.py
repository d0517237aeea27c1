"""Where everything stands in the site, and how one page points to another from a file or a server alike."""

import posixpath
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from tankside.catalogue import Book

#: the folder of our own assets in the site
OWN = "tankside"
ICON = f"{OWN}/icon.svg"
HOME = "index.html"
EMERGENCY = "emergency/index.html"
#: the working copies on this device, and the record of one of them: a name that no procedure can have
WORKING, RECORD = "copies/index.html", "copies/copy.record.html"
#: the paths of training, and the people whose competence is kept on this device
TRAINING = "training/index.html"
CHECKLISTS = "checklists/index.html"
MATERIALS = "materials/index.html"
EQUIPMENT = "equipment/index.html"
CHARTS = "charts/index.html"
FORMULAS = "formulas/index.html"
LINE_DIAGRAM = "line-diagram/index.html"
MEETING = "what-meets-what/index.html"
AUDIT = "audit/index.html"
RULES = "audit/rules.html"
STANDARDS = "audit/standards.html"
ASSESSMENTS = "audit/assessments.html"
SHEETS = "sheets/index.html"
SIGNS = "signs/index.html"
#: a name that no procedure can have
AUDIT_SHEET = "audit.statement"


def family(name: str) -> str:
    """Return the address of the page of a family."""
    return f"procedures/{name}/index.html"


def checklist(name: str) -> str:
    """Return the address of a checklist."""
    return f"checklists/{name}.html"


def material(name: str) -> str:
    """Return the address of a material."""
    return f"materials/{name}.html"


def piece(tag: str) -> str:
    """Return the address of a piece of equipment; tags differ in more than capitals."""
    return f"equipment/{tag.lower()}.html"


def chart(name: str) -> str:
    """Return the address of a chart."""
    return f"charts/{name.lower()}.html"


def sheet(name: str) -> str:
    """Return the address of the sheet of a procedure or checklist."""
    return f"sheets/{name}.pdf"


def sign(code: str) -> str:
    """Return the address of a safety sign."""
    return f"{OWN}/signs/{code}.svg"


def mark(name: str) -> str:
    """Return the address of a mark."""
    return f"{OWN}/marks/{name}.svg"


def drawing(digest: str) -> str:
    """Return the address of a drawing of the plant after a step."""
    return f"{OWN}/plant/{digest}.svg"


def picture(name: str) -> str:
    """Return the address of a picture of the book."""
    return f"pictures/{name}"


def emergency(name: str) -> str:
    """Return the address of an emergency procedure."""
    return f"emergency/{name}.html"


def work(name: str) -> str:
    """Return the address of the page on which a procedure or checklist is carried out."""
    return f"copies/{name}.html"


def path(name: str) -> str:
    """Return the address of a path of training."""
    return f"training/{name}.html"


def lesson(path: str, procedure: str) -> str:
    """Return the address of the page on which a procedure is learnt within a path."""
    return f"training/{path}/{procedure}.html"


def path_script(path: str) -> str:
    """Return the address of the script that holds the questions of a path."""
    return f"training/{path}/questions.js"


def procedures(book: Book) -> Mapping[str, str]:
    """Return the address of every procedure, by id; emergencies stand apart from the theme."""
    return {
        name: emergency(name) if each.is_emergency else f"procedures/{each.family}/{name}.html"
        for name, each in book.procedures.items()
    }


@dataclass(frozen=True)
class From:
    """Addresses as seen from one page."""

    page: str

    def to(self, address: str) -> str:
        """Return the way from this page to an address of the site."""
        return _relative(address, posixpath.dirname(self.page))


def rule_link(page: str) -> Callable[[str], str]:
    """Return how one finds the manual page of a rule from a page, by its code."""
    here = From(page).to(RULES)
    return lambda code: f"{here}#rule-{code}"


@cache
def _relative(address: str, folder: str) -> str:
    return posixpath.relpath(address, folder or ".")
