"""Facts of the workshop: the book itself, roles, equipment, materials, products."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from tankside.loading.values import Text
from tankside.model.references import CLAIMS, measures, refers


@dataclass(frozen=True)
class Variation:
    """A row of a table of allowed variations: up to what content, and by how much a package may be short."""

    up_to: Annotated[Text, measures("volume", sign="above 0")]
    short_by: Annotated[Text, measures("volume", sign="above 0")]


@dataclass(frozen=True)
class BookFacts:
    """procedures/plant/book.yaml."""

    book: Text
    title: Text
    jurisdiction: Text
    units: Text
    languages: tuple[Text, ...]
    paper: Text
    live_copy: Text
    emergency_number: Text
    meeting_point: Text
    address: Text
    scenario: Text | None = None
    liquid_variations: tuple[Variation, ...] = ()
    #: a working day -> its checklists in order
    days: Annotated[Mapping[Text, tuple[Text, ...]], refers("checklist")] = field(default_factory=dict)


@dataclass(frozen=True)
class Role:
    """Who does something; never a person's name."""

    name: Text
    does: Text


@dataclass(frozen=True)
class Roles:
    """procedures/plant/roles.yaml."""

    roles: Mapping[Text, Role]


@dataclass(frozen=True)
class Limits:
    """The lowest and highest value that is in limits; one may be missing."""

    from_: Annotated[Text | None, measures()] = None
    to: Annotated[Text | None, measures()] = None


@dataclass(frozen=True)
class Run:
    """A straight run of a line."""

    bore: Annotated[Text, measures("length", sign="above 0")]
    length: Annotated[Text, measures("length", sign="above 0")]


@dataclass(frozen=True)
class EnergySource:
    """A source of energy of a machine, for lockout (29 CFR 1910.147)."""

    #: what claims call it: `M1.mains`
    name: Text
    source: Text
    magnitude: Text
    release: Text
    verify: Text
    isolate_at: Annotated[Text, refers("tag", "isolation-point", "valve")]


@dataclass(frozen=True)
class Shape:
    """The inside of a tank."""

    form: Text
    length: Annotated[Text, measures("length", sign="above 0")]
    diameter: Annotated[Text | None, measures("length", sign="above 0")] = None
    cone_depth: Annotated[Text | None, measures("length", sign="above 0")] = None
    width: Annotated[Text | None, measures("length", sign="above 0")] = None
    height: Annotated[Text | None, measures("length", sign="above 0")] = None


@dataclass(frozen=True)
class Air:
    """What an exhaust moves, and the room that it moves it in."""

    flow: Annotated[Text, measures("flow", sign="above 0")]
    room: Annotated[Text, measures("volume", sign="above 0")]
    mixing: Annotated[Text, measures("ratio", sign="above 0")]


@dataclass(frozen=True)
class Piece:
    """A piece of equipment."""

    kind: Text
    name: Text
    where: Text | None = None
    connects: Annotated[tuple[Text, ...], refers("tag")] = ()
    #: what it can be joined to by hand
    joins: Annotated[tuple[Text, ...], refers("tag")] = ()
    #: of an exhaust: whose air it draws
    serves: Annotated[tuple[Text, ...], refers("tag")] = ()
    #: "open" or "running" when that is how it stands while nobody works
    rest: Text | None = None
    #: column and row on the line diagram
    at: tuple[Text, ...] = ()
    holds: Annotated[tuple[Text, ...], refers("material")] = ()
    made_of: Text | None = None
    capacity: Annotated[Text | None, measures("volume", sign="above 0")] = None
    shape: Shape | None = None
    heel: Annotated[Text | None, measures("volume", sign="at least 0")] = None
    air: Air | None = None
    runs: tuple[Run, ...] = ()
    extra: Annotated[Text | None, measures("volume", sign="at least 0")] = None
    graduation: Annotated[Text | None, measures(sign="above 0")] = None
    accuracy: Annotated[Text | None, measures(sign="above 0")] = None
    range: Limits | None = None
    calibration_due: Text | None = None
    energy_sources: tuple[EnergySource, ...] = ()
    note: Text | None = None


@dataclass(frozen=True)
class Wearable:
    """A piece of protective equipment."""

    name: Text
    sign: Text
    made_of: Text
    look_for: Text
    breakthrough: Text | None = None


@dataclass(frozen=True)
class Condition:
    """What must be true before a start; `from_` is the procedure or procedure/section that brings it about."""

    says: Text
    from_: Annotated[Text | None, refers("procedure-part")] = None
    means: Annotated[tuple[Text, ...], CLAIMS] = ()


@dataclass(frozen=True)
class Equipment:
    """procedures/plant/equipment.yaml."""

    equipment: Mapping[Text, Piece]
    protective_equipment: Mapping[Text, Wearable]
    conditions: Mapping[Text, Condition]


@dataclass(frozen=True)
class Hazard:
    """A hazard statement of a label."""

    code: Text
    says: Text


@dataclass(frozen=True)
class FirstAid:
    """First aid, as the data sheet says it."""

    eyes: Text
    skin: Text
    breathed: Text
    swallowed: Text


@dataclass(frozen=True)
class Material:
    """Anything handled: raw material, product, water, waste."""

    name: Text
    kind: Text
    look: Text
    density: Annotated[Text, measures("mass concentration", sign="above 0")]
    #: what it is diluted to with water, by volume
    dilutions: Annotated[tuple[Text, ...], measures("volume fraction", sign="above 0")] = ()
    groups: Annotated[tuple[Text, ...], refers("group")] = ()
    data_sheet: Text | None = None
    data_sheet_at: Text | None = None
    signal_word: Text | None = None
    pictograms: tuple[Text, ...] = ()
    hazards: tuple[Hazard, ...] = ()
    wear: Annotated[tuple[Text, ...], refers("wearable")] = ()
    first_aid: FirstAid | None = None
    keep: Text | None = None
    spill: Text | None = None
    unconfirmed: Text | None = None
    limits: Mapping[Text, Limits] = field(default_factory=dict)


@dataclass(frozen=True)
class NeverMeet:
    """Two reactivity groups that must never meet."""

    consequence: Text
    source: Text
    groups: Annotated[tuple[Text, ...], refers("group")] = ()


@dataclass(frozen=True)
class MayMeet:
    """Two reactivity groups that may meet; a pair that is not listed may not."""

    why: Text
    source: Text
    groups: Annotated[tuple[Text, ...], refers("group")] = ()


@dataclass(frozen=True)
class Group:
    """A reactivity group."""

    name: Text
    #: kinds of the published table that it belongs to
    stands_for: tuple[Text, ...] = ()


@dataclass(frozen=True)
class Materials:
    """procedures/plant/materials.yaml."""

    materials: Mapping[Text, Material]
    groups: Mapping[Text, Group]
    never_meet: tuple[NeverMeet, ...]
    may_meet: tuple[MayMeet, ...] = ()


@dataclass(frozen=True)
class RecipeLine:
    """An ingredient of a recipe."""

    share: Annotated[Text, measures("mass fraction", sign="above 0")]
    ingredient: Annotated[Text, refers("material")]
    why: Text | None = None


@dataclass(frozen=True)
class Product:
    """What is made."""

    name: Text
    cap: Text
    recipe: tuple[RecipeLine, ...]
    bottles: Annotated[tuple[Text, ...], measures("volume", sign="above 0")]
    material: Annotated[Text, refers("material")]
    made_in: Annotated[tuple[Text, ...], refers("tag", "tank")] = ()
    claim: Text | None = None
    illustration: Text | None = None


@dataclass(frozen=True)
class Products:
    """procedures/plant/products.yaml."""

    products: Mapping[Text, Product]


@dataclass(frozen=True)
class Plant:
    """All that procedures/plant/ says of the workshop."""

    facts: BookFacts
    roles: Roles
    equipment: Equipment
    materials: Materials
    products: Products
