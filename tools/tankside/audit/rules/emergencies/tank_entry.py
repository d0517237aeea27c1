"""A step that lets somebody into a tank."""

from collections.abc import Iterator

from tankside.audit.audited import Audited, placed
from tankside.audit.reading.entry import Spaces
from tankside.audit.reading.wording import in_english, texts_of
from tankside.audit.rule import Family, Found, Weight, memory, read, rule
from tankside.loading.values import Text
from tankside.model.procedures import Procedure
from tankside.problems import quoted


@rule(
    Family.EMERGENCIES,
    Weight.MUST,
    read(
        "29 CFR 1910.146",
        "(b)",
        "entry has happened as soon as any part of the body is behind the plane of the opening",
    ),
    memory("29 CFR 1910.146", "(c)", "where people do not go in, it is prevented; where they do, there is a permit"),
)
def tank_entry(audited: Audited) -> Iterator[Found]:
    """No step lets anybody enter, climb, lean or reach into a tank.

    Looked at are the sentences of all steps and of what is done when it goes wrong. A sentence is found when it
    says enter, climb into, step into, lean into, reach into or the like, or puts a head, an arm, a hand or a foot
    in, and names a tank, a vessel or a hatch. It is not found when it forbids it, or says that it is done from
    outside.

    The air in a tank can kill within minutes, and whoever goes in to help dies as well. Work from outside: a long
    brush, a dipper, a lamp. What cannot be done from outside needs an entry permit, and that is no job of this
    book.

    Fails:
        # procedures/cleaning/example.yaml
        steps:
          - do: Reach into the tank and wipe the wall.

    Passes:
        # procedures/cleaning/example.yaml
        steps:
          - do: Wipe the wall of the tank with the long brush, from outside.
          - do: Never reach into the tank.
    """
    pieces = audited.plant.equipment.equipment.items()
    spaces = Spaces(str(tag) for tag, piece in pieces if piece.kind == "tank")
    for procedure in in_english(audited):
        for text in _told(procedure):
            found = spaces.let_in(text)
            if found is not None:
                message = f"somebody, or a part of a person, goes into a tank: {quoted(found)}"
                hint = "let it be done from outside, with a long tool, or leave it to people with an entry permit"
                yield Found(str(procedure.procedure), text.span, message, hint)


def _told(procedure: Procedure) -> Iterator[Text]:
    for each in placed(procedure):
        yield from texts_of(each.step)
    yield from (remedy.do for remedy in procedure.if_it_goes_wrong)
