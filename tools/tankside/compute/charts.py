"""What charts of the plant show: numbers worked out once by a helper and read off for years."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from tankside.compute.facts import hold_up, quantity, sizes_of
from tankside.compute.trouble import NotResolvedError, standing_at
from tankside.model.facts import Air, Material, Piece, Plant, Product, Shape
from tankside.quantities.calculation import calculate
from tankside.quantities.given import Given
from tankside.quantities.registry import HELPERS
from tankside.units import UNITS, Quantity

#: a chart has at most this many rows; more cannot be read from where one stands
MOST_ROWS = 40
#: from one row to the next, in units of the graduation
STRIDES = (1, 2, 5, 10, 20, 50, 100, 200, 500)
#: levels are read on a stick to this
STICK = Quantity(Fraction(1, 100), UNITS["cm"])
#: points of a drawn curve
CURVE_POINTS = 60
#: finished volumes that a dilution chart lists, in litres
MAKES = (1, 2, 5, 10, 20, 50)
#: shares that a purge chart lists, in per cent
REMOVALS = ("90", "95", "99", "99.9")
#: shares of the old liquid that a flush chart lists, in per cent
REMAININGS = ("10", "5", "2", "1", "0.1")
#: temperatures of a filling chart in degC; the law measures at the middle one (Directive 76/211/EEC, annex I, 2.2)
TEMPERATURES = ("15", "20", "25")
LAW_TEMPERATURE = "20"


@dataclass(frozen=True)
class DipChart:
    """What a tank holds at each level, and where each volume stands."""

    tag: str
    #: level and volume; in steps of the tank's graduation, and in steps of a stick
    by_volume: tuple[tuple[Quantity, Quantity], ...]
    by_level: tuple[tuple[Quantity, Quantity], ...]
    #: the same at every step of a drawing
    curve: tuple[tuple[Quantity, Quantity], ...]
    capacity: Quantity

    @property
    def id(self) -> str:
        """What its page and sheet are called."""
        return f"dip-{self.tag}"


@dataclass(frozen=True)
class DilutionChart:
    """How much of a stock makes a finished volume."""

    material: str
    targets: tuple[Quantity, ...]
    #: finished volume, and the stock for each target
    rows: tuple[tuple[Quantity, tuple[Quantity, ...]], ...]

    @property
    def id(self) -> str:
        """What its page and sheet are called."""
        return f"dilute-{self.material}"


@dataclass(frozen=True)
class FlushChart:
    """How much to run through a line until little of the old liquid is left."""

    tag: str
    hold_up: Quantity
    #: share of the old liquid left, volume to run through
    rows: tuple[tuple[Quantity, Quantity], ...]

    @property
    def id(self) -> str:
        """What its page and sheet are called."""
        return f"flush-{self.tag}"


@dataclass(frozen=True)
class PurgeChart:
    """How long an exhaust takes to thin out what is in the air."""

    tag: str
    air_changes: Quantity
    mixing: Quantity
    #: share removed, time
    rows: tuple[tuple[Quantity, Quantity], ...]

    @property
    def id(self) -> str:
        """What its page and sheet are called."""
        return f"purge-{self.tag}"


@dataclass(frozen=True)
class FillRow:
    """What one bottle is filled with."""

    nominal: Quantity
    #: net weights: to fill to, at T1, at T2
    target: Quantity
    warning: Quantity
    limit: Quantity
    #: the volume of the target at each temperature
    volumes: tuple[Quantity, ...]


@dataclass(frozen=True)
class FillChart:
    """The fill weights of a product."""

    product: str
    density: Quantity
    rows: tuple[FillRow, ...]

    @property
    def id(self) -> str:
        """What its page and sheet are called."""
        return f"fill-{self.product}"


def _worked(helper: str, given: Given) -> Mapping[str, Quantity]:
    return calculate(HELPERS[helper], given).results


def capacity_of(shape: Shape) -> Quantity:
    """Return what a tank of this shape holds to the rim.

    Raises:
        CannotWorkOutError: sizes are missing, too many or out of their range.
    """
    given = sizes_of(shape)
    with standing_at(shape.form.span):
        top = _worked("tank-volume", {**given, "level": Quantity(Fraction(0), UNITS["cm"])})["freeboard"]
        return _worked("tank-volume", {**given, "level": top})["volume"]


def dip_chart(tag: str, piece: Piece) -> DipChart | None:
    """Return the dip chart of a tank, None when the book does not say its shape and graduation.

    Raises:
        CannotWorkOutError: its sizes are missing, too many or out of their range.
    """
    if piece.shape is None or piece.graduation is None:
        return None
    given = sizes_of(piece.shape)
    full = capacity_of(piece.shape)
    top = _worked("tank-level", {**given, "volume": full})["level"]
    step = quantity(piece.graduation, "volume", sign="above 0")
    fine = tuple(Quantity(top.value * number / CURVE_POINTS, top.unit) for number in range(CURVE_POINTS + 1))

    def at_levels(levels: Sequence[Quantity]) -> tuple[tuple[Quantity, Quantity], ...]:
        return tuple((each, _worked("tank-volume", {**given, "level": each})["volume"]) for each in levels)

    return DipChart(
        tag=tag,
        by_volume=tuple(
            (_worked("tank-level", {**given, "volume": each})["level"], each) for each in _steps(step, full)
        ),
        by_level=at_levels(_steps(STICK, top)),
        curve=at_levels(fine),
        capacity=full,
    )


def _steps(step: Quantity, end: Quantity) -> tuple[Quantity, ...]:
    """Return the multiples of a step up to an end, as many as a chart can show."""
    stride = next(stride for stride in STRIDES if end.value / (step.value * stride) <= MOST_ROWS)
    count = int(end.value // (step.value * stride))
    return tuple(Quantity(step.value * stride * number, step.unit) for number in range(1, count + 1))


def dilution_chart(name: str, material: Material) -> DilutionChart | None:
    """Return the dilution chart of a material, None when it is not diluted."""
    if not material.dilutions:
        return None
    targets = tuple(quantity(each, "volume fraction", sign="above 0") for each in material.dilutions)
    makes = tuple(Quantity(litres * UNITS["L"].factor, UNITS["L"]) for litres in MAKES)
    with standing_at(material.dilutions[0].span):
        rows = tuple((make, tuple(_stock(target, make) for target in targets)) for make in makes)
    return DilutionChart(name, targets, rows)


def _stock(target: Quantity, make: Quantity) -> Quantity:
    """Return how much of a liquid as it is goes into a finished volume."""
    whole = Quantity(Fraction(1), UNITS["%v/v"])
    return _worked("dilute", {"stock": whole, "target": target, "make": make})["stock_volume"]


def purge_chart(tag: str, air: Air) -> PurgeChart:
    """Return the purge chart of an exhaust.

    Raises:
        CannotWorkOutError: the factor for mixing is out of its range.
    """
    flow, room = quantity(air.flow, "flow"), quantity(air.room, "volume")
    with standing_at(air.flow.span):
        changes = _worked("air-changes", {"flow": flow, "room": room})["air_changes"]
    mixing = quantity(air.mixing, "ratio")
    rows = []
    with standing_at(air.mixing.span):
        for text in REMOVALS:
            removal = Quantity(Fraction(text) / 100, UNITS["%"])
            time = _worked("purge-time", {"air_changes": changes, "removal": removal, "mixing": mixing})["time"]
            rows.append((removal, time))
    return PurgeChart(tag, changes, mixing, tuple(rows))


def flush_chart(tag: str, held: Quantity) -> FlushChart:
    """Return the flush chart of a line that holds so much."""
    rows = []
    for text in REMAININGS:
        left = Quantity(Fraction(text) / 100, UNITS["%"])
        rows.append((left, _worked("flush-volume", {"volume": held, "remaining": left})["flush_volume"]))
    return FlushChart(tag, held, tuple(rows))


def fill_chart(plant: Plant, name: str, product: Product) -> FillChart:
    """Return the fill weights of a product; its density follows water's with temperature, an estimate.

    Raises:
        CannotWorkOutError: a bottle is too small to have a tolerable error.
        NotResolvedError: its material is not defined.
    """
    if product.material not in plant.materials.materials:
        raise NotResolvedError
    density = quantity(plant.materials.materials[product.material].density, "mass concentration", sign="above 0")
    empty = Quantity(Fraction(0), UNITS["g"])
    densities = _densities(density)
    rows = []
    for bottle in product.bottles:
        nominal = quantity(bottle, "volume", sign="above 0")
        with standing_at(bottle.span):
            found = _worked("fill-weight", {"nominal": nominal, "density": density, "tare": empty})
        volumes = (Quantity(found["target"].value / each, UNITS["mL"]) for each in densities)
        rows.append(FillRow(nominal, found["target"], found["warning"], found["limit"], tuple(volumes)))
    return FillChart(name, density, tuple(rows))


def _densities(density: Quantity) -> Sequence[Fraction]:
    """Return the density at each temperature in base units, from that at the law's."""
    water = {each: _water(each) for each in TEMPERATURES}
    return [density.value * water[each] / water[LAW_TEMPERATURE] for each in TEMPERATURES]


def _water(celsius: str) -> Fraction:
    unit = UNITS["degC"]
    return _worked("water-density", {"temperature": Quantity(unit.to_base(Fraction(celsius)), unit)})["density"].value


def dip_charts(plant: Plant) -> Iterator[DipChart]:
    """Return the dip chart of each tank that has one."""
    for tag, piece in plant.equipment.equipment.items():
        chart = dip_chart(str(tag), piece)
        if chart is not None:
            yield chart


def dilution_charts(plant: Plant) -> Iterator[DilutionChart]:
    """Return the dilution chart of each material that is diluted."""
    for name, material in plant.materials.materials.items():
        chart = dilution_chart(str(name), material)
        if chart is not None:
            yield chart


def flush_charts(plant: Plant) -> Iterator[FlushChart]:
    """Return the flush chart of each line whose runs are known."""
    for tag, piece in plant.equipment.equipment.items():
        held = hold_up(piece)
        if held is not None:
            yield flush_chart(str(tag), held)


def purge_charts(plant: Plant) -> Iterator[PurgeChart]:
    """Return the purge chart of each exhaust whose flow is known."""
    for tag, piece in plant.equipment.equipment.items():
        if piece.air is not None:
            yield purge_chart(str(tag), piece.air)


def fill_charts(plant: Plant) -> Iterator[FillChart]:
    """Return the fill weights of each product."""
    for name, product in plant.products.products.items():
        yield fill_chart(plant, str(name), product)


Chart = DipChart | DilutionChart | FillChart | FlushChart | PurgeChart


def charts_of(plant: Plant) -> Mapping[str, Chart]:
    """Return all charts of a plant by their ids: tanks, dilutions, fill weights, lines, exhausts."""
    found: tuple[Chart, ...] = (
        *dip_charts(plant),
        *dilution_charts(plant),
        *fill_charts(plant),
        *flush_charts(plant),
        *purge_charts(plant),
    )
    return {each.id: each for each in found}
