"""Facts of the workshop: the book itself, roles, equipment, materials, products."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from tankside.loading.values import Text
from tankside.model.references import BOOKKEEPING, CLAIMS, measures, refers
from tankside.model.sheets import Sheets
from tankside.model.training import Training


@dataclass(frozen=True)
class Variation:
    """A row of a table of allowed variations: up to what content, and by how much a package may be short."""

    up_to: Annotated[Text, measures("volume", sign="above 0")]
    short_by: Annotated[Text, measures("volume", sign="above 0")]


@dataclass(frozen=True)
class RuleException:
    """A finding of the audit that the workshop has decided to live with, until a day."""

    #: the code of the rule
    rule: Text
    #: id of the procedure, else the tag, material or other fact that the finding is about, else "book"
    at: Text
    reason: Text
    since: Text
    until: Text
    approved: Annotated[Text, refers("role")]


@dataclass(frozen=True)
class Drill:
    """An emergency procedure that is practised."""

    #: the day of the next one
    next: Text
    procedure: Annotated[Text, refers("procedure")]
    last: Text | None = None


@dataclass(frozen=True)
class Inspection:
    """Somebody has watched a procedure being followed, and judged it (29 CFR 1910.147(c)(6))."""

    date: Text
    found: Text
    procedure: Annotated[Text, refers("procedure")]
    #: who judged; another than who followed it
    by: Annotated[Text, refers("role")]
    #: who followed it
    of: Annotated[Text, refers("role")]


@dataclass(frozen=True)
class Control:
    """What keeps a hazard from people, before anything is worn."""

    #: elimination, substitution, engineering or administrative
    kind: Text
    says: Text


@dataclass(frozen=True)
class HazardAssessment:
    """The written assessment that protective equipment follows from (29 CFR 1910.132(d))."""

    place: Text
    hazards: tuple[Text, ...]
    controls: tuple[Control, ...]
    #: "This certifies that the hazards of this place were assessed."
    certifies: Text
    date: Text
    procedures: Annotated[tuple[Text, ...], refers("procedure")]
    certified_by: Annotated[Text, refers("role")]
    wear: Annotated[tuple[Text, ...], refers("wearable")] = ()


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
    #: where the site is served, http or https: what a telephone opens from a sheet
    live_address: Text | None = None
    scenario: Text | None = None
    liquid_variations: tuple[Variation, ...] = ()
    #: a working day -> its checklists in order
    days: Annotated[Mapping[Text, tuple[Text, ...]], refers("checklist")] = field(default_factory=dict)
    #: what short forms in the texts stand for
    abbreviations: Mapping[Text, Text] = field(default_factory=dict)
    #: where the written programme for respirators is found
    respirator_programme: Text | None = None
    hazard_assessments: Mapping[Text, HazardAssessment] = field(default_factory=dict)
    drills: tuple[Drill, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    exceptions: tuple[RuleException, ...] = ()


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
    #: electrical, charge, motion, gravity, liquid, pressure or heat; the audit looks for what is missing
    form: Annotated[Text | None, BOOKKEEPING] = None


@dataclass(frozen=True)
class Exemption:
    """Why a machine has no written lockout procedure: the eight conditions of 29 CFR 1910.147(c)(4)(i), yes or no."""

    no_stored_energy: Text
    one_source: Text
    isolating_ends_it: Text
    locked_during_work: Text
    one_lock: Text
    under_own_control: Text
    no_hazard_to_others: Text
    no_accident_before: Text
    date: Text
    decided_by: Annotated[Text, refers("role")]


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
    #: of a machine without a written lockout procedure
    lockout_exemption: Exemption | None = None
    #: what must be worn at the machine itself, whatever is in it
    wear: Annotated[tuple[Text, ...], refers("wearable")] = ()
    #: "yes" when gas gets out of it by itself
    vented: Text | None = None
    #: of a tray: what stands on it
    under: Annotated[tuple[Text, ...], refers("tag")] = ()
    #: of an eyewash: the longest way to it from what it serves
    reach: Annotated[Text | None, measures("time", sign="above 0")] = None
    #: of an eyewash or a shower: "eyes", "body" or "eyes and body"; eyes when it does not say
    flushes: Text | None = None
    #: of an eyewash or exhaust: the day by which it is inspected again
    inspection_due: Text | None = None
    #: of a pail, jug, drum or bottle: what its label says
    label: Text | None = None
    #: of a waste drum: groups that must never come into it, where its start date stands, who takes it away
    never_with: Annotated[tuple[Text, ...], refers("group")] = ()
    start_date_on: Text | None = None
    route: Text | None = None
    note: Text | None = None


@dataclass(frozen=True)
class Resistance:
    """How long a glove holds against a material."""

    material: Annotated[Text, refers("material")]
    for_: Annotated[Text, measures("time", sign="above 0")]


@dataclass(frozen=True)
class Wearable:
    """A piece of protective equipment."""

    name: Text
    sign: Text
    made_of: Text
    look_for: Text
    breakthrough: Text | None = None
    #: of gloves
    holds_against: tuple[Resistance, ...] = ()


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
class PhRange:
    """The lowest and highest pH."""

    from_: Text
    to: Text


#: stands for "yes" in a recipe line of a floor book, and no author can write it there
WITHHELD = "withheld"


@dataclass(frozen=True)
class Confidential:
    """What a material is, is a trade secret (29 CFR 1910.1200(i)); its hazards and effects never are."""

    #: what the floor calls it
    code: Text
    #: who tells a treating doctor or nurse at once what it is
    told_by: Annotated[Text, refers("role")]
    #: words beside its id and name that must not reach the floor: trade names, chemical names, CAS numbers
    also_called: tuple[Text, ...] = ()


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
    #: words for what it eats or is spoilt by: aluminium, zinc, nickel ...
    attacks: tuple[Text, ...] = ()
    #: "yes" when it gives off gas while it is kept
    gives_off_gas: Text | None = None
    ph: PhRange | None = None
    #: "yes" when it is likely hazardous waste
    hazardous_waste: Text | None = None
    limits: Mapping[Text, Limits] = field(default_factory=dict)
    confidential: Confidential | None = None

    @property
    def is_withheld(self) -> bool:
        """Whether this is a material of a floor book, where its code stands for all its names."""
        return self.confidential is not None and self.name == self.confidential.code


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
    #: "yes" when the floor is not told the share; WITHHELD in a floor book
    confidential: Text | None = None

    @property
    def is_withheld(self) -> bool:
        """Whether this is a line of a floor book whose share is not told."""
        return self.confidential == WITHHELD


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
    #: nominal content -> the code on the labels of that bottle
    labels: Mapping[Text, Text] = field(default_factory=dict)


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
    sheets: Sheets = field(default_factory=Sheets)
    training: Training = field(default_factory=Training)
