"""What the scripts of the pages of training must know, as JSON and as a classic script for each path."""

import json
from collections.abc import Iterator
from importlib.metadata import version

from tankside.memory import remembered
from tankside.quantities.portable import Portable
from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.search import GLOBAL
from tankside.views.training.lessons import Lesson, in_days
from tankside.views.training.paths import ItemView, PathView
from tankside.views.training.question import Question


def path_scripts(content: Content) -> Iterator[tuple[str, str]]:
    """Return the address and the text of a classic script for each path: its items, questions and what is taught."""
    for name, path in content.paths.items():
        procedures = dict.fromkeys(item.procedure for item in path.items if item.procedure)
        found = {
            **around(content),
            "id": name,
            "title": path.title,
            "role": path.role[0],
            "items": [_item(item) for item in path.items],
            "lessons": {each: _lesson(content.lessons[each], content.site.addresses[each]) for each in procedures},
        }
        yield addresses.path_script(name), _script(found)


def around(content: Content) -> Portable:
    """Return what every page of training must know: ``{"book", "build", "roles": {id: name}}``."""
    plant = content.book.plant
    roles = {str(name): str(role.name) for name, role in plant.roles.roles.items()}
    return {"book": str(plant.facts.book), "build": f"tankside {version('tankside')}", "roles": roles}


def in_page(value: Portable) -> str:
    """Return JSON that can stand in an element of a page: nothing in it ends that element."""
    return _json(value).replace("<", "\\u003c")


def learnt_first(path: PathView, procedure: str) -> tuple[tuple[str, str], ...]:
    """Return what one must be competent in before a procedure of a path, id and title, each once."""
    items = (item for item in path.items if item.procedure == procedure)
    return tuple(dict.fromkeys(each for item in items for each in item.after))


def _script(found: Portable) -> str:
    return f"'use strict';\nvar {GLOBAL} = window.{GLOBAL} || {{}};\n{GLOBAL}.trainingPath = {_json(found)};\n"


def _json(value: Portable) -> str:
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False)


def _item(item: ItemView) -> Portable:
    return {
        "key": item.key,
        "title": item.title,
        "procedure": item.procedure,
        "goal": item.goal,
        "after": [name for name, _ in item.after],
    }


@remembered
def _lesson(lesson: Lesson, address: str) -> Portable:
    return {
        "title": lesson.shown.control.title,
        "address": address,
        "hash": lesson.taught.hash,
        "taught": lesson.taught.portable,
        "rules": in_days(lesson.rules),
        "questions": [_question(lesson, each) for each in lesson.questions],
    }


def anchor(lesson: Lesson, about: str) -> str:
    """Return where on the page of a procedure stands what a question is about; "" for the top."""
    is_step = any(each.key == f"step:{about}" for each in lesson.taught.elements)
    return f"#step-{about}" if is_step else ""


def _question(lesson: Lesson, question: Question) -> Portable:
    return {
        "id": question.id,
        "asks": question.asks,
        "place": question.place,
        "anchor": anchor(lesson, question.about),
        "choices": [{"says": each.says, "why": each.why, "right": each.is_right} for each in question.choices],
    }
