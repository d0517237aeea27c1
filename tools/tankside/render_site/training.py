"""Pages on which somebody is trained: our own HTML, complete without a script; with one, competence is kept."""

from collections.abc import Collection, Iterator

from markupsafe import Markup

from tankside.drawing.line_diagram import line_diagram_svg
from tankside.model.training import METHODS
from tankside.plant.parts import plant_of
from tankside.plant.sides import sides
from tankside.render_site import addresses
from tankside.render_site.addresses import From
from tankside.render_site.content import Content
from tankside.render_site.scripts import TRAIN
from tankside.render_site.training_data import anchor, around, in_page, learnt_first
from tankside.render_site.work import framed
from tankside.views.line_diagram import LineDiagram, line_diagram
from tankside.views.training.paths import PathView

STYLES = ("fonts.css", "pieces.css", "work.css", "work-list.css", "work-forms.css", "training.css")


def training_pages(content: Content) -> Iterator[tuple[str, str]]:
    """Return the address and the whole HTML of the list of paths, of each path, and of each procedure in one.

    A book without paths has none.
    """
    if not content.paths:
        return
    yield addresses.TRAINING, _index(content)
    for path in content.paths.values():
        yield addresses.path(path.id), _path(content, path)
        for procedure in dict.fromkeys(item.procedure for item in path.items if item.procedure):
            yield addresses.lesson(path.id, procedure), _lesson(content, path, procedure)


def _index(content: Content) -> str:
    paths = [
        {"id": path.id, "title": path.title, "role": path.role[0], "address": f"{path.id}.html"}
        for path in content.paths.values()
    ]
    data = in_page({**around(content), "page": "people", "root": "../", "paths": paths})
    given = {"paths": content.paths.values(), "to": From(addresses.TRAINING).to, "address_of": addresses.path}
    return framed(content, addresses.TRAINING, "training.html", TRAIN, styles=STYLES, data=data, **given)


def _path(content: Content, path: PathView) -> str:
    address = addresses.path(path.id)
    data = in_page({**around(content), "page": "path", "root": "../", "path": path.id})
    diagram = From(address).to(addresses.LINE_DIAGRAM)
    given = {
        "path": path,
        "lesson_of": lambda procedure: f"{path.id}/{procedure}.html",
        "diagram": diagram,
        "drawings": {item.key: tuple(_drawings(content, item.tags)) for item in path.items if item.tags},
    }
    return framed(content, address, "training-path.html", _scripts(path), styles=STYLES, data=data, **given)


def _drawings(content: Content, tags: Collection[str]) -> Iterator[tuple[LineDiagram, Markup]]:
    """Return the line diagram of each side of the plant on which something is to be found."""
    plant = content.book.plant
    for side in sides(plant_of(plant.equipment)):
        if not side.isdisjoint(tags):
            diagram = line_diagram(plant.equipment, plant.materials, content.say, only=side)
            yield diagram, Markup(line_diagram_svg(diagram))


def _lesson(content: Content, path: PathView, procedure: str) -> str:
    address, lesson = addresses.lesson(path.id, procedure), content.lessons[procedure]
    items = [item for item in path.items if item.procedure == procedure]
    goal = max((item.goal for item in items), key=METHODS.index)
    data = {**around(content), "page": "lesson", "root": "../../", "path": path.id, "procedure": procedure}
    data |= {"goal": goal, "aside": list(lesson.aside), "first": [name for name, _ in learnt_first(path, procedure)]}
    at = From(address).to(content.site.addresses[procedure])
    given = {
        "path": path,
        "path_at": From(address).to(addresses.path(path.id)),
        "lesson": lesson,
        "items": items,
        "first": learnt_first(path, procedure),
        "at": at,
        "place_at": lambda about: f"{at}{anchor(lesson, about)}",
        "data": in_page(data),
    }
    return framed(content, address, "training-lesson.html", _scripts(path), styles=STYLES, **given)


def _scripts(path: PathView) -> tuple[str, ...]:
    return (addresses.path_script(path.id), *TRAIN)
