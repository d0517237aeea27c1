"""Small plants of our own for tests of the line diagram."""

from collections.abc import Iterable, Mapping

from tankside.loading.values import Text
from tankside.model.facts import Equipment, Material, Materials, Piece, Shape
from tankside.problems import Span
from tankside.texts import Words


def text(words: str) -> Text:
    return Text(words, Span("plant.yaml"))


def piece(
    kind: str,
    at: tuple[int, int],
    connects: Iterable[str] = (),
    joins: Iterable[str] = (),
    *,
    name: str = "",
    form: str | None = None,
    rest: str | None = None,
    graduation: str | None = None,
) -> Piece:
    """Return a piece of equipment that stands somewhere on the diagram."""
    return Piece(
        kind=text(kind),
        name=text(name or f"The {kind}"),
        at=(text(str(at[0])), text(str(at[1]))),
        connects=tuple(map(text, connects)),
        joins=tuple(map(text, joins)),
        shape=None if form is None else Shape(form=text(form), length=text("1 m")),
        rest=None if rest is None else text(rest),
        graduation=None if graduation is None else text(graduation),
    )


def equipment(pieces: Mapping[str, Piece]) -> Equipment:
    return Equipment({text(tag): each for tag, each in pieces.items()}, {}, {})


def materials(*names: str) -> Materials:
    """Return materials with the ids m1, m2 and so on."""
    made = {
        text(f"m{number}"): Material(text(name), text("raw"), text("clear"), text("1 kg/L"))
        for number, name in enumerate(names, 1)
    }
    return Materials(made, {}, ())


#: three tanks, a drum and a pail, filled from a supply and from each other, with all that stands between them
FIVE_VESSELS = {
    "water-supply": piece("supply", (0, 0), ["meter-1"]),
    "meter-1": piece("measure", (1, 0), ["V1"], graduation="0.5 L"),
    "V1": piece("valve", (2, 0), ["tank-a"]),
    "V1-lock": piece("isolation-point", (2, 1), ["V1"]),
    "M1": piece("mixer", (2, 2), ["tank-a"]),
    "tank-a": piece("tank", (3, 2), ["V1", "hatch-a", "V2"], form="cone-bottom"),
    "hatch-a": piece("port", (4, 1)),
    "T1": piece("instrument", (4, 2), ["tank-a"], graduation="1 degC"),
    "V2": piece("valve", (3, 3), ["P1"]),
    "P1": piece("pump", (3, 4), ["V2", "long-line", "V4"], name="Transfer pump"),
    "long-line": piece("line", (4, 4), ["V3"]),
    "V3": piece("valve", (5, 4), ["tank-b"]),
    "tank-b": piece("tank", (6, 3), ["V5"], form="upright"),
    "V4": piece("valve", (3, 5), ["tank-c"]),
    "tank-c": piece("tank", (3, 6), form="lying"),
    "V5": piece("valve", (6, 4), ["N1"]),
    "N1": piece("nozzle", (6, 5), joins=["waste-pail-20-l", "alkaline-waste-drum-200-l", "bottles-1"]),
    "waste-pail-20-l": piece("pail", (5, 5)),
    "bottles-1": piece("bottles", (6, 6)),
    "alkaline-waste-drum-200-l": piece("drum", (7, 5)),
    "hose-1": piece("hose", (2, 3), ["P2"], joins=["tank-a"]),
    "P2": piece("pump", (1, 3), ["bleach-drum"]),
    "bleach-drum": piece("drum", (0, 3)),
    "exhaust-1": piece("exhaust", (6, 0)),
    "jug-5-l": piece("measure", (7, 1)),
    "far-away": piece("eyewash", (40, 30)),
}
#: five tanks, each joined to each: no such plant can be drawn without a crossing (Kuratowski 1930)
ALL_TO_ALL = {
    f"tank-{number}": piece("tank", at, [f"tank-{other}" for other in range(number + 1, 6)], form="box")
    for number, at in enumerate([(1, 0), (3, 0), (0, 2), (4, 2), (2, 4)], 1)
}
#: words that say which key they stand under, so that nothing here depends on how the interface words it
WORDS = Words(
    {
        "diagram-title": "title",
        "diagram-part-title": "part-title",
        "diagram-says": "says",
        "diagram-key": "key",
        "diagram-piece": "{tag}: {name}",
        "diagram-leads-to": "leads to {tags}",
        "diagram-material": "{number} {name}",
        "diagram-joined-to": "joined to {tags}",
        "diagram-holds": "holds {materials}",
        "diagram-full": "{share} % full",
        "diagram-full-between": "{low} to {high} % full",
    }
    | {
        f"diagram-{word}": word
        for word in (
            *("open", "shut", "either", "running", "stopped", "either-drive", "locked", "pressure", "empty"),
            *("out-of-order", "between", "not-known", "unknown", "changed"),
            *("line-pipe", "line-fixed", "line-joined", "line-joinable"),
            *(f"symbol-{kind}" for kind in ("tank", "drum", "pail", "jug", "bottles", "valve", "port", "line", "hose")),
            *(f"symbol-{kind}" for kind in ("pump", "meter", "instrument", "mixer", "nozzle", "supply", "drain")),
            *(f"symbol-{kind}" for kind in ("scale", "isolation-point", "exhaust", "eyewash", "spill-kit", "tray")),
        )
    }
)
