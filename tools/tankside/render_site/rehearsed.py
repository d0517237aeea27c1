"""What a dry run adds to the page of its procedure: a fold after each step that changes the plant, what was proved."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256

from tankside.drawing.line_diagram import line_diagram_svg
from tankside.memory import remembered
from tankside.plant.running import Run
from tankside.plant.stepping import Stepping
from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.texts import Words
from tankside.views.dry_run import Drawn, DryRunView, PlantAfter, dry_run_view
from tankside.views.plant_pictures import plant_pictures
from tankside.views.states import StateWords

#: digits of the digest by which equal drawings are one file
DIGITS = 16
#: a drawing on a page is smaller than on the page of the line diagram; its letters are still read
SMALLER = 0.75


@dataclass(frozen=True)
class Rehearsed:
    """The dry run of one procedure, in words and drawings."""

    view: DryRunView
    #: step -> the drawing, its address as seen from the site
    drawn: Mapping[str, Drawn]
    #: address -> drawing
    files: Mapping[str, bytes]

    def after(self, page: str) -> Mapping[str, PlantAfter]:
        """Return what a page shows after each step that changes the plant."""
        return dict(self._after(From(page)))

    def _after(self, here: From) -> Iterator[tuple[str, PlantAfter]]:
        for step in self.view.steps:
            if step.changes:
                drawn = self.drawn.get(step.name)
                yield step.name, PlantAfter(step, drawn and _seen_from(here, drawn))


def _seen_from(here: From, drawn: Drawn) -> Drawn:
    return Drawn(here.to(drawn.address), drawn.width, drawn.height, drawn.says)


@remembered
def rehearsed(stepping: Stepping, run: Run, say: Words) -> Rehearsed:
    """Return what is shown of the dry run of a procedure."""
    words = StateWords(stepping.setting, say)
    drawn, files = {}, {}
    for step, picture in plant_pictures(stepping, run, words).items():
        data = line_diagram_svg(picture.diagram).encode("utf-8")
        address = addresses.drawing(sha256(data).hexdigest()[:DIGITS])
        files[address] = data
        width, height = (round(each * SMALLER) for each in (picture.diagram.width, picture.diagram.height))
        drawn[step] = Drawn(address, width, height, picture.says)
    return Rehearsed(dry_run_view(stepping, run, words, run.starts[0]), drawn, files)
