"""Charts of the plant as pages and sheets show them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from tankside.compute.charts import (
    LAW_TEMPERATURE,
    TEMPERATURES,
    Chart,
    DilutionChart,
    DipChart,
    FillChart,
    FlushChart,
    PurgeChart,
    charts_of,
)
from tankside.loading.values import Text
from tankside.model.facts import Plant
from tankside.problems import Span
from tankside.quantities.decimal_text import nearest_whole
from tankside.texts import Words
from tankside.units import UNITS, Quantity
from tankside.views.numbers import exact_text, other_text, primary_text
from tankside.views.plots import Axis, Curve, Plot

#: jurisdictions in which Directive 76/211/EEC, or a law made from it, is the law
LAW_HOLDS_IN = ("EU", "UK")
#: where a dilution chart's curves are told apart
DASHES = ("", "12 6", "3 5", "16 5 3 5", "8 3")


@dataclass(frozen=True)
class Grid:
    """A table of a chart."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class ChartView:
    """A chart: what it is for, its tables, its drawing, and what to know before it is believed."""

    id: str
    title: str
    about: str
    grids: tuple[Grid, ...]
    #: None where a table says it better
    plot: Plot | None
    notes: tuple[str, ...]


def chart_views(plant: Plant, say: Words) -> tuple[ChartView, ...]:
    """Return all charts of a plant: tanks, dilutions, fill weights, lines, exhausts."""
    return tuple(chart_view(plant, chart, say) for chart in charts_of(plant).values())


def chart_view(plant: Plant, chart: Chart, say: Words) -> ChartView:
    """Return one chart of a plant."""
    charts = _Charts(plant, say)
    match chart:
        case DipChart():
            return charts.dip(chart)
        case DilutionChart():
            return charts.dilution(chart)
        case FillChart():
            return charts.fill(chart)
        case FlushChart():
            return charts.flush(chart)
        case PurgeChart():
            return charts.purge(chart)


@dataclass(frozen=True)
class _Charts:
    plant: Plant
    say: Words

    def _piece(self, tag: str) -> str:
        return str(self.plant.equipment.equipment[Text(tag, Span(""))].name)

    def _material(self, name: str) -> str:
        return str(self.plant.materials.materials[Text(name, Span(""))].name)

    def _text(self, amount: Quantity) -> str:
        return primary_text(amount, str(self.plant.facts.units), self.say)

    def _both(self, amount: Quantity) -> str:
        other = other_text(amount, str(self.plant.facts.units), self.say)
        return self._text(amount) if other is None else f"{self._text(amount)} ({other})"

    def dip(self, chart: DipChart) -> ChartView:
        """Return a dip chart: both ways, and the curve."""
        say, name = self.say, self._piece(chart.tag)
        by_volume = tuple((self._both(volume), _rounded(level, "0.1")) for level, volume in chart.by_volume)
        by_level = tuple((exact_text(level), self._both(_to(volume, "0.5"))) for level, volume in chart.by_level)
        points = [(volume.in_unit(UNITS["L"]), level.in_unit(UNITS["cm"])) for level, volume in chart.curve]
        return ChartView(
            id=chart.id,
            title=say("chart-dip", name=name),
            about=say("chart-dip-about", tag=chart.tag),
            grids=(
                Grid(say("chart-by-volume"), (say("chart-volume"), say("chart-level")), by_volume),
                Grid(say("chart-by-level"), (say("chart-level"), say("chart-volume")), by_level),
            ),
            plot=Plot(
                Axis(say("chart-axis-litres"), points[-1][0]),
                Axis(say("chart-axis-cm"), points[-1][1]),
                (Curve(points),),
                say("chart-dip-says", name=name),
            ),
            notes=(say("chart-dip-note", capacity=self._both(_to(chart.capacity, "1"))),),
        )

    def dilution(self, chart: DilutionChart) -> ChartView:
        """Return a dilution chart."""
        say, name = self.say, self._material(chart.material)
        curves = tuple(
            Curve([(Fraction(0), Fraction(0)), *_line(chart, at)], exact_text(target), DASHES[at % len(DASHES)])
            for at, target in enumerate(chart.targets)
        )
        most = max(y for curve in curves for _, y in curve.points)
        return ChartView(
            id=chart.id,
            title=say("chart-dilution", name=name),
            about=say("chart-dilution-about"),
            grids=(
                Grid(
                    say("chart-dilution-caption"),
                    (say("chart-made-up-to"), *map(exact_text, chart.targets)),
                    tuple(
                        (self._text(make), *(self._both(_handy(each)) for each in stocks))
                        for make, stocks in chart.rows
                    ),
                ),
            ),
            plot=Plot(
                Axis(say("chart-axis-made"), chart.rows[-1][0].number),
                Axis(say("chart-axis-stock"), most),
                curves,
                say("chart-dilution-says", name=name),
            ),
            notes=(say("chart-dilution-note"),),
        )

    def _stock(self, volume: Quantity) -> str:
        return self._both(_handy(volume))

    def fill(self, chart: FillChart) -> ChartView:
        """Return the fill weights of a product."""
        say = self.say
        product = self.plant.products.products[Text(chart.product, Span(""))]
        weights = tuple(
            (exact_text(row.nominal), *map(self._weight, (row.target, row.warning, row.limit))) for row in chart.rows
        )
        volumes = tuple(
            (exact_text(row.nominal), *(_rounded(each, "0.1") for each in row.volumes)) for row in chart.rows
        )
        return ChartView(
            id=chart.id,
            title=say("chart-fill", name=str(product.name)),
            about=say("chart-fill-about", density=exact_text(chart.density)),
            grids=(
                Grid(
                    say("chart-fill-weights"),
                    (say("chart-bottle"), say("chart-target"), say("chart-warning"), say("chart-limit")),
                    weights,
                ),
                Grid(
                    say("chart-fill-volumes"),
                    (say("chart-bottle"), *(say("chart-at", temperature=each) for each in TEMPERATURES)),
                    volumes,
                ),
            ),
            plot=None,
            notes=(self._law(), say("chart-fill-note")),
        )

    def _weight(self, weight: Quantity) -> str:
        """Return a weight to a tenth of its unit, not below it."""
        weight = _up(weight, "0.1")
        other = other_text(weight, str(self.plant.facts.units), self.say)
        return exact_text(weight) if other is None else f"{exact_text(weight)} ({other})"

    def _law(self) -> str:
        is_ours = str(self.plant.facts.jurisdiction) in LAW_HOLDS_IN
        return self.say("chart-fill-law" if is_ours else "chart-fill-internal", temperature=LAW_TEMPERATURE)

    def flush(self, chart: FlushChart) -> ChartView:
        """Return the flush chart of a line."""
        say, name = self.say, self._piece(chart.tag)
        return ChartView(
            id=chart.id,
            title=say("chart-flush", name=name),
            about=say("chart-flush-about", hold_up=self._both(chart.hold_up)),
            grids=(
                Grid(
                    say("chart-flush-caption"),
                    (say("chart-left"), say("chart-run-through")),
                    tuple((exact_text(left), self._both(_up(volume, "0.1"))) for left, volume in chart.rows),
                ),
            ),
            plot=None,
            notes=(say("chart-flush-note"),),
        )

    def purge(self, chart: PurgeChart) -> ChartView:
        """Return a purge chart."""
        say, name = self.say, self._piece(chart.tag)
        rows = tuple((exact_text(removal), _rounded_up(time, "1")) for removal, time in chart.rows)
        return ChartView(
            id=chart.id,
            title=say("chart-purge", name=name),
            about=say("chart-purge-about", changes=self._text(chart.air_changes), mixing=exact_text(chart.mixing)),
            grids=(Grid(say("chart-purge-caption"), (say("chart-removed"), say("chart-time")), rows),),
            plot=None,
            notes=(say("chart-purge-warning"), say("chart-purge-note")),
        )


def _handy(volume: Quantity) -> Quantity:
    """Return a volume in mL where it is less than a litre."""
    litre = UNITS["L"]
    return Quantity(volume.value, UNITS["mL"]) if volume.unit == litre and volume.value < litre.factor else volume


def _line(chart: DilutionChart, at: int) -> Iterator[tuple[Fraction, Fraction]]:
    for make, stocks in chart.rows:
        yield make.number, stocks[at].number


def _stepped(amount: Quantity, step: str, whole: Callable[[Fraction], int]) -> Quantity:
    size = Fraction(step)
    return Quantity(amount.unit.to_base(whole(amount.number / size) * size), amount.unit)


def _to(amount: Quantity, step: str) -> Quantity:
    return _stepped(amount, step, nearest_whole)


def _up(amount: Quantity, step: str) -> Quantity:
    return _stepped(amount, step, lambda value: -((-value).__floor__()))


def _rounded(amount: Quantity, step: str) -> str:
    return exact_text(_to(amount, step))


def _rounded_up(amount: Quantity, step: str) -> str:
    return exact_text(_up(amount, step))
