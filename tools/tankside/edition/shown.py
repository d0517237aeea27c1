"""What an edition shows of the plant: only what reaches a reader, so that nothing else changes a hash."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from tankside.catalogue.links import PLACEHOLDER
from tankside.edition.programs import program_shown
from tankside.loading.values import Text
from tankside.memory import remembered
from tankside.model.facts import BookFacts, EnergySource, FirstAid, Hazard, Limits, Plant
from tankside.model.steps import Add, Move, Step, every
from tankside.plant.claiming import claim_of
from tankside.plant.effects import Effect
from tankside.plant.portable import needed, portable_effect, portable_rules
from tankside.plant.stepping import Stepping
from tankside.problems import Span
from tankside.quantities.portable import Portable
from tankside.units import Quantity


@dataclass(frozen=True)
class PieceShown:
    """What an edition shows of a piece of equipment."""

    kind: str
    name: str
    where: str | None
    #: only in a lockout, and only those isolated at a point that it locks
    energy_sources: tuple[EnergySource, ...]


@dataclass(frozen=True)
class WearableShown:
    """What an edition shows of a piece of protective equipment."""

    name: str
    sign: str
    made_of: str
    breakthrough: str | None
    look_for: str


@dataclass(frozen=True)
class MaterialShown:
    """What an edition shows of a material that is met."""

    name: str
    look: str
    signal_word: str | None
    pictograms: tuple[str, ...]
    hazards: tuple[Hazard, ...]
    first_aid: FirstAid | None
    #: "yes" while nobody has compared it with a dated data sheet
    unconfirmed: str | None
    #: what it must never meet -> what happens then
    never_with: Mapping[str, str]
    #: where only its code is shown: the name of the role that tells a treating doctor or nurse what it is
    told_by: str | None = None


@dataclass(frozen=True)
class CallShown:
    """Whom to call in an emergency, and what to say."""

    number: str
    address: str
    meeting_point: str


@dataclass(frozen=True)
class ConditionShown:
    """What an edition shows of a condition."""

    says: str
    #: the procedure that brings it about, whole or in a section
    procedure: str | None


@dataclass(frozen=True)
class LabelsShown:
    """What an edition shows of a product whose labels are changed to."""

    #: of the product
    name: str
    #: nominal content -> the code on the labels
    codes: Mapping[str, str]


@dataclass(frozen=True)
class EffectsShown:
    """What an edition says of what its steps do to the plant: enough to fold finished steps into what is where."""

    #: step -> its effects, in order; a step that has none is left out
    effects: Mapping[str, tuple[Portable, ...]]
    #: what stopping safely does
    stopping: tuple[Portable, ...]
    #: what a fold must know of the pieces that are touched. Nothing of all others: who reads this procedure gets
    #: nothing of them, and a change there must not change its hash. None when nothing is touched.
    fold_rules: Portable
    #: step that adds or moves a named amount -> {"amount": its name, "litres": how much one base unit of it is [L]}
    volumes: Mapping[str, Portable]
    #: which step leads on to which; see `program_shown`
    program: Portable
    #: prerequisite -> what is known of the plant when it is so
    seen: Mapping[str, tuple[Portable, ...]]


def key(name: str) -> Text:
    """Return an id as the tables of a book are asked for it."""
    return Text(name, Span(""))


@remembered
def effects_shown(stepping: Stepping) -> EffectsShown:
    """Return what is shown of what a procedure does to the plant."""
    steps = tuple(item for item in every(stepping.procedure.steps) if isinstance(item, Step))
    effects = {str(step.name): done for step in steps if (done := stepping.effects(step))}
    stopping = stepping.stopping()
    found = {str(name): tuple(_seen(stepping, name)) for name in stepping.procedure.prerequisites}
    looked_at = (stepping.seen(step) for step in steps)
    touching = tuple(effect for done in (*effects.values(), stopping, *found.values(), *looked_at) for effect in done)
    return EffectsShown(
        effects={name: tuple(map(portable_effect, done)) for name, done in effects.items()},
        stopping=tuple(map(portable_effect, stopping)),
        fold_rules=portable_rules(needed(stepping.setting.rules, touching)) if touching else None,
        volumes={str(step.name): volume for step in steps if (volume := _volume(stepping, step)) is not None},
        program=program_shown(stepping, None),
        seen={name: tuple(map(portable_effect, each)) for name, each in found.items()},
    )


def _seen(stepping: Stepping, condition: Text) -> Iterator[Effect]:
    for text in stepping.setting.facts.equipment.conditions[condition].means:
        yield from stepping.claiming.seen(claim_of(text))


def _volume(stepping: Stepping, step: Step) -> Portable:
    if not isinstance(step, (Add, Move)):
        return None
    named = PLACEHOLDER.search(" ".join(filter(None, (step.amount, getattr(step, "until", None)))))
    amount = None if named is None else stepping.amounts.get(named[1])
    if amount is None:
        return None
    one = Quantity(Fraction(1), amount.usual.shown.unit)
    return {"amount": amount.name, "litres": str(stepping.litres(one, str(step.material)))}


def call_shown(facts: BookFacts) -> CallShown:
    """Return whom to call in an emergency, and what to say."""
    return CallShown(str(facts.emergency_number), str(facts.address), str(facts.meeting_point))


def condition_shown(plant: Plant, name: str) -> ConditionShown:
    """Return what is shown of a condition."""
    found = plant.equipment.conditions[key(name)]
    return ConditionShown(found.says, None if found.from_ is None else found.from_.partition("/")[0])


def wearable_shown(plant: Plant, name: str) -> WearableShown:
    """Return what is shown of a piece of protective equipment."""
    found = plant.equipment.protective_equipment[key(name)]
    return WearableShown(found.name, found.sign, found.made_of, found.breakthrough, found.look_for)


def material_shown(plant: Plant, name: str) -> MaterialShown:
    """Return what is shown of a material."""
    found = plant.materials.materials[key(name)]
    return MaterialShown(
        name=found.name,
        look=found.look,
        signal_word=found.signal_word,
        pictograms=found.pictograms,
        hazards=found.hazards,
        first_aid=found.first_aid,
        unconfirmed=found.unconfirmed,
        never_with=never_with(plant, name),
        told_by=told_by(plant, name),
    )


def told_by(plant: Plant, name: str) -> str | None:
    """Return the name of the role that tells a treating doctor or nurse what a withheld material is."""
    material = plant.materials.materials[key(name)]
    if material.confidential is None or not material.is_withheld:
        return None
    return str(plant.roles.roles[material.confidential.told_by].name)


def labels_shown(plant: Plant, name: str) -> LabelsShown:
    """Return what is shown of a product whose labels are changed to."""
    product = plant.products.products[key(name)]
    return LabelsShown(str(product.name), {str(size): str(code) for size, code in product.labels.items()})


def never_with(plant: Plant, name: str) -> dict[str, str]:
    """Return the names of the groups that a material must never meet, each with what happens then."""
    own = plant.materials.materials[key(name)].groups
    found = {}
    for pair in plant.materials.never_meet:
        first, second = pair.groups
        for mine, other in ((first, second), (second, first)):
            if mine in own:
                found[str(plant.materials.groups[other].name)] = str(pair.consequence)
    return found


def limits_of(plant: Plant, name: str) -> Limits:
    """Return the limits written `material.name`."""
    material, _, limit = name.partition(".")
    return plant.materials.materials[key(material)].limits[key(limit)]
