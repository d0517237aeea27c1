"""A piece that is eaten, or spoils what is in it."""

from collections.abc import Iterable, Iterator, Mapping

from tankside.audit.audited import Audited
from tankside.audit.reading.construction import attacked_in
from tankside.audit.reading.substances import by_id
from tankside.audit.rule import Family, Found, Weight, practice, read, rule
from tankside.loading.values import Text
from tankside.model.facts import Piece
from tankside.plant.everywhere import arrivals
from tankside.problems import quoted

#: what dips into the liquid of a piece that it is joined to
DIPPING = ("mixer", "instrument")


@rule(
    Family.SUBSTANCES,
    Weight.MUST,
    read("40 CFR 265", "App. V", "aluminium, zinc and other reactive metals give hydrogen with acid and with alkali"),
    practice("nickel, copper, cobalt and iron let hypochlorite break down into oxygen, which bursts what is closed"),
)
def material_of_construction(audited: Audited) -> Iterator[Found]:
    """What holds or leads a material is made of nothing that the material attacks, and says what it is made of.

    Looked at is each piece that lists the material under `holds`, into which a dry run brings it, or that dips into
    one of these: a mixer or an instrument. Each word under `attacks` of the material is looked for in `made_of`, the
    metals that are in steel, brass and other alloys with it. Only words before a negation count: what stands after no,
    not, never, none, without or free of in the same sentence is taken as not there, so `no metal in the liquid` is
    right, and a metal part belongs in a sentence of its own. The rule reads words, it does not look at the piece.

    Fails:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
            attacks: [nickel, iron]
        # procedures/plant/equipment.yaml
        equipment:
          bleach-can:
            kind: drum
            name: Bleach can
            holds: [bleach]
            made_of: HDPE with a bung of stainless steel
        # procedures/filling/example.yaml
        needs: [bleach-can]

    Passes:
        # procedures/plant/materials.yaml
        materials:
          bleach:
            name: Bleach
            kind: raw
            look: Yellow-green.
            density: 1.1 kg/L
            groups: [bleaches]
            attacks: [nickel, iron]
        # procedures/plant/equipment.yaml
        equipment:
          bleach-can:
            kind: drum
            name: Bleach can
            holds: [bleach]
            made_of: HDPE with a bung of PP. No steel touches the liquid
        # procedures/filling/example.yaml
        needs: [bleach-can]
    """
    inside = _inside(audited)
    for tag, piece in audited.plant.equipment.equipment.items():
        wetted = (str(tag), *_dips_into(audited, str(tag), piece))
        attacked = _attacked(audited, (name for each in wetted for name in inside[each]))
        if attacked and piece.made_of is None:
            because = next(iter(attacked.values()))
            message = f"{quoted(tag)} does not say what it is made of, and {quoted(because)} is in it"
            yield Found(str(tag), tag.span, message, "write it under 'made_of'")
        elif piece.made_of is not None:
            yield from _eaten(tag, piece.made_of, attacked)


def _eaten(tag: Text, made_of: Text, attacked: Mapping[str, str]) -> Iterator[Found]:
    for word, material in attacked.items():
        if attacked_in(made_of, word):
            message = f"{quoted(tag)} is made of {quoted(made_of)}, and {quoted(material)} attacks {word}"
            yield Found(str(tag), made_of.span, message, "use another piece, or write that it is not in the liquid")


def _dips_into(audited: Audited, tag: str, piece: Piece) -> tuple[str, ...]:
    """Return the pieces whose liquid it reaches into."""
    return tuple(sorted(audited.rehearsal.setting.plant.fixed[tag])) if piece.kind in DIPPING else ()


def _attacked(audited: Audited, names: Iterable[str]) -> Mapping[str, str]:
    """Return what is attacked by any of these materials, each with the first that does."""
    found: dict[str, str] = {}
    known = by_id(audited.plant.materials)
    for name in names:
        for word in known[name].attacks:
            found.setdefault(str(word).lower(), name)
    return found


def _inside(audited: Audited) -> Mapping[str, tuple[str, ...]]:
    """Return which materials are in which piece: those that it is meant for, then those that a dry run brings there."""
    found = {str(tag): [*map(str, piece.holds)] for tag, piece in audited.plant.equipment.equipment.items()}
    for tag, material in arrivals(audited.rehearsal.all()):
        found[tag].append(material)
    return {tag: tuple(dict.fromkeys(names)) for tag, names in found.items()}
