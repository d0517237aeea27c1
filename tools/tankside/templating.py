"""Templates: loops and ifs over views, escaped; the same pieces for screen and paper."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from tankside.drawing.signs import SIGNS, Sign, row_of
from tankside.texts import Words
from tankside.views.dry_run import PlantAfter
from tankside.views.wording import Run


@dataclass(frozen=True)
class Medium:
    """How a piece of template finds what differs between a page, an emergency page and a sheet."""

    say: Words
    #: code of a sign -> where its picture is
    sign: Callable[[str], str]
    #: name of a mark -> where its picture is
    mark: Callable[[str], str]
    #: name of a picture of the book -> where it is
    picture: Callable[[str], str]
    #: target of a link -> address; None where nothing can be followed, as on paper
    link: Callable[[tuple[str, str]], str | None]
    is_paper: bool = False
    #: whether each step has a box to tick
    has_boxes: bool = False
    #: before the ids of steps, where one page shows steps of several procedures
    prefix: str = ""
    #: step -> the plant after it, on the page of a procedure that was rehearsed
    plant: Mapping[str, PlantAfter] = field(default_factory=dict)

    def sign_name(self, code: str) -> str:
        """Return the short meaning of a sign."""
        return SIGNS[code].name

    def row(self, codes: Iterable[str]) -> tuple[Sign, ...]:
        """Return the signs of one row; refuses to put two families into it. Every row of signs is made by this."""
        return row_of(codes)

    def href(self, run: Run) -> str | None:
        """Return the address of a run that is a link."""
        return None if run.target is None else self.link(run.target)


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("tankside", "assets/templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


def rendered(template: str, **given: object) -> Markup:
    """Return a template of the package, filled."""
    return Markup(_environment().get_template(template).render(**given))
