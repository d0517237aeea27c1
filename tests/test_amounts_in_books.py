"""Amounts of a book: what they may name, how they are rounded, and that the trees of an edition say the same."""

import math
import shutil
from collections.abc import Callable, Mapping
from decimal import Context, Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tankside.checkup import check_book
from tankside.edition import Edition

ROOT = Path(__file__).parent.parent
BASE = Path(__file__).parent / "base"
BLEND = "procedures/batch/blend.yaml"
FLUSH = "procedures/filling/flush.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"

Change = Callable[[str, str, str], None]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return Path(shutil.copytree(BASE, tmp_path / "book"))


@pytest.fixture
def change(book: Path) -> Change:
    def in_book(path: str, old: str, new: str) -> None:
        text = (book / path).read_text(encoding="utf-8")
        assert text.count(old) == 1
        (book / path).write_text(text.replace(old, new), encoding="utf-8", newline="\n")

    return in_book


def edition(book: Path, procedure: str) -> Edition:
    checkup = check_book(book)
    assert [each.as_text() for each in checkup.problems] == []
    return checkup.editions[procedure]


def problems(book: Path) -> list[str]:
    return [f"{each.span} {each.code}: {each.message}; {each.hint}" for each in check_book(book).problems]


def litres(value: Fraction) -> float:
    return float(value * 1000)


# --- what an amount may name


def test_hold_up_of_a_line_is_that_of_its_runs_and_fittings(book: Path, change: Change) -> None:
    change(EQUIPMENT, "        length: 3 m\n", "        length: 3 m\n      - bore: 0.5 in\n        length: 4 ft\n")
    # 20 mm over 3 m, 12.7 mm over 1.2192 m, and 0.2 L; then 5 % left of it
    held = math.pi / 4 * (0.020**2 * 3 + 0.0127**2 * 1.2192) * 1000 + 0.2
    worked = edition(book, "flush").amounts["most-to-run"].usual
    assert litres(worked.exact.value) == pytest.approx(held * math.log(20), rel=1e-12)


@pytest.mark.parametrize(
    ("fact", "expected"),
    [("tank-1.heel", 1), ("tank-1.capacity", 100), ("pail-1.graduation", 0.5), ("pail-1.capacity", 10)],
)
def test_fact_of_the_plant_is_the_one_of_its_file(book: Path, change: Change, fact: str, expected: float) -> None:
    change(
        FLUSH, "      volume: line-1.hold-up\n      remaining: 5 %\n", f"      volume: {fact}\n      remaining: 5 %\n"
    )
    change(FLUSH, "    measure_in: pail-1\n    tolerance: 0.5 L\n    collect_in: pail-1\n", "")
    # It is worked out and not moved: so much would run over.
    change(FLUSH, "    until: <most-to-run> is in the pail\n", "    amount: 2 L\n")
    change(FLUSH, "    do: Shut V1.", "    do: Shut V1 at <most-to-run>.")
    worked = edition(book, "flush").amounts["most-to-run"].usual
    # expected * ln(1 / 0.05)
    assert litres(worked.exact.value) == pytest.approx(expected * math.log(20), rel=1e-12)


SHAPE = "    capacity: 100 L\n    shape:\n      form: upright\n      diameter: 40 cm\n      length: 80 cm\n"
LEVEL = "    calculate: tank-level\n    with:\n      shape: tank-1.shape\n      volume: 50 L\n    result: level\n"
FLUSHING = (
    "    calculate: flush-volume\n    with:\n      volume: line-1.hold-up\n      remaining: 5 %\n"
    "    measure_in: pail-1\n    tolerance: 0.5 L\n    collect_in: pail-1\n"
)


def test_shape_of_a_tank_brings_its_sizes(book: Path, change: Change) -> None:
    change(EQUIPMENT, "    capacity: 100 L\n", SHAPE)
    change(FLUSH, FLUSHING, LEVEL)
    worked = edition(book, "flush").amounts["most-to-run"].usual
    # 50 L over a circle of 40 cm
    assert float(worked.exact.value) * 100 == pytest.approx(50_000 / (math.pi * 20**2), rel=1e-12)


def test_tank_without_a_shape_is_a_sentence(book: Path, change: Change) -> None:
    change(FLUSH, FLUSHING, LEVEL)
    assert any("equipment.yaml does not say 'shape' of 'tank-1'" in each for each in problems(book))


SECOND = """\
  half:
    title: Half of it
    calculate: dilute
    with:
      stock: 100 %v/v
      target: 50 %v/v
      make: most-to-run
    result: stock_volume
"""


def test_amount_may_name_another_and_takes_its_exact_value(book: Path, change: Change) -> None:
    change(FLUSH, "steps:\n", f"{SECOND}steps:\n")
    change(FLUSH, "    do: Shut V1.", "    do: Shut V1 at <half>.")
    amounts = edition(book, "flush").amounts
    # half of the exact amount, not half of the 3.5 L that the pail can show
    assert amounts["half"].usual.exact.value == amounts["most-to-run"].usual.exact.value / 2
    assert litres(amounts["most-to-run"].usual.shown.value) == 3.5
    assert litres(amounts["half"].usual.shown.value) == pytest.approx(1.7113, abs=5e-5)


def test_order_of_amounts_in_the_file_does_not_matter(book: Path, change: Change) -> None:
    change(FLUSH, "amounts:\n", f"amounts:\n{SECOND}")
    change(FLUSH, "    do: Shut V1.", "    do: Shut V1 at <half>.")
    assert list(edition(book, "flush").amounts) == ["half", "most-to-run"]


def test_amount_depends_on_an_input_through_another(book: Path, change: Change) -> None:
    change(BLEND, "steps:\n", f"{SECOND.replace('most-to-run', 'water')}steps:\n")
    change(
        BLEND,
        "amounts:\n",
        "amounts:\n  water:\n    title: Water\n    calculate: scale-recipe\n    with:\n      product: descaler\n"
        "      make: batch\n    result: water.volume\n",
    )
    change(BLEND, "Step back and", "Step back at <half> and")
    half = edition(book, "blend").amounts["half"]
    assert half.input == "batch"
    # 40, 60, 80 L * 1.05 kg/L * 80 % / 1 kg/L / 2
    assert [litres(each.exact.value) for each in half.table] == [16.8, 25.2, 33.6]


def test_amounts_that_name_each_other_are_one_problem(book: Path, change: Change) -> None:
    change(FLUSH, "steps:\n", f"{SECOND}steps:\n")
    change(FLUSH, "volume: line-1.hold-up", "volume: half")
    change(FLUSH, "    do: Shut V1.", "    do: Shut V1 at <half>.")
    assert problems(book) == [
        f"{FLUSH}:19:3 amount-circular: this amount needs itself: 'most-to-run' needs 'half' needs 'most-to-run'; "
        "give one of them a number or a fact instead"
    ]


def test_recipe_with_an_unknown_material_is_one_problem(book: Path, change: Change) -> None:
    change("procedures/plant/products.yaml", "ingredient: acid", "ingredient: acids")
    assert [each.split(": ", 1)[0] for each in problems(book)] == ["procedures/plant/products.yaml:12:21 name-unknown"]


@pytest.mark.parametrize(
    ("path", "old", "new", "place"),
    [
        (EQUIPMENT, "bore: 20 mm", "bore: 0 mm", f"{EQUIPMENT}:19:15"),
        (EQUIPMENT, "length: 3 m", "length: 0 m", f"{EQUIPMENT}:20:17"),
        (EQUIPMENT, "graduation: 0.5 L", "graduation: 0 L", f"{EQUIPMENT}:26:17"),
        (EQUIPMENT, "capacity: 10 L", "capacity: -10 L", f"{EQUIPMENT}:25:15"),
        (EQUIPMENT, "heel: 1 L", "heel: -1 L", f"{EQUIPMENT}:9:11"),
        ("procedures/plant/materials.yaml", "1.25 kg/L", "0 kg/L", "procedures/plant/materials.yaml:17:14"),
        ("procedures/plant/products.yaml", "share: 20 %w/w", "share: 0 %w/w", "procedures/plant/products.yaml:13:16"),
        (FLUSH, "tolerance: 0.5 L", "tolerance: 0 L", f"{FLUSH}:26:16"),
        (BLEND, "wait: 30 min", "wait: -30 min", f"{BLEND}:52:11"),
    ],
)
def test_number_that_makes_no_sense_is_one_problem_where_it_stands(
    book: Path, change: Change, path: str, old: str, new: str, place: str
) -> None:
    change(path, old, new)
    assert [each.split(": ", 1)[0] for each in problems(book)] == [f"{place} out-of-domain"]


def test_shares_that_do_not_make_the_whole_are_one_problem(book: Path, change: Change) -> None:
    change("procedures/plant/products.yaml", "share: 20 %w/w", "share: 21 %w/w")
    assert problems(book) == [
        "procedures/plant/products.yaml:11:16 out-of-domain: the shares of 'descaler' add up to '101 %w/w', "
        "not '100 %w/w'; correct the shares of the recipe"
    ]


# --- rounding to a vessel


@pytest.mark.parametrize(
    ("remaining", "exact", "shown"),
    # 1 L * ln(1 / remaining), rounded up to 0.5 L: flushing with less would leave more behind
    [("30 %", 1.2040, 1.5), ("10 %", 2.3026, 2.5), ("8 %", 2.5257, 3.0)],
)
def test_flush_is_rounded_up(book: Path, change: Change, remaining: str, exact: float, shown: float) -> None:
    change(FLUSH, "line-1.hold-up\n      remaining: 5 %", f"1 L\n      remaining: {remaining}")
    worked = edition(book, "flush").amounts["most-to-run"].usual
    assert litres(worked.exact.value) == pytest.approx(exact, abs=5e-5)
    assert litres(worked.shown.value) == shown


@pytest.mark.parametrize(
    ("make", "shown"),
    # 20 %w/w of the batch, to the nearest 0.05 kg: 4.02, 4.025 (half: away from zero), 4.03 kg
    [("20.1 kg", "4"), ("20.125 kg", "4.05"), ("20.15 kg", "4.05")],
)
def test_ingredient_is_rounded_to_the_nearest(book: Path, change: Change, make: str, shown: str) -> None:
    change(BLEND, "make: batch", f"make: {make}")
    text = (book / BLEND).read_text(encoding="utf-8")
    start, end = text.index("inputs:\n"), text.index("amounts:\n")
    (book / BLEND).write_text(text[:start] + text[end:], encoding="utf-8", newline="\n")
    amount = edition(book, "blend").amounts["acid"]
    assert (amount.input, amount.table) == (None, ())
    assert amount.usual.shown.number == Fraction(shown)
    assert amount.usual.working[-1] == f"rounded to the nearest 0.05 kg of scale-1: {shown} kg"


def test_message_names_each_vessel_that_would_do_and_no_other(book: Path, change: Change) -> None:
    jug = "  {}:\n    kind: measure\n    name: Jug\n    graduation: {}\n    range:\n      from: 0.5 L\n      to: {}\n"
    # 3.42 L: 0.05 L steps to 5 L will do; to 2 L is too small; 0.25 L steps are too coarse
    jugs = "".join(
        jug.format(*each) for each in (("J1", "0.05 L", "5 L"), ("J2", "0.05 L", "2 L"), ("J3", "0.25 L", "5 L"))
    )
    change(EQUIPMENT, "  T1:\n", f"{jugs}  T1:\n")
    change(FLUSH, "    do: Shut V1.", "    do: Shut V1. Not J1, J2, J3.")
    change(FLUSH, "tolerance: 0.5 L", "tolerance: 0.05 L")
    assert problems(book) == [
        f"{FLUSH}:25:17 vessel-too-coarse: 'pail-1' can show only steps of 0.5 L; "
        "3.423 L is off by more than 0.05 L; measure it with J1"
    ]  # fmt: skip


def test_vessel_must_do_for_every_size_of_batch_and_is_named_once(book: Path, change: Change) -> None:
    change(BLEND, "    to: 80 L", "    to: 200 L")
    # 200 L * 1.05 kg/L * 20 % = 42 kg; the scale ends at 30 kg
    assert problems(book) == [
        f"{BLEND}:32:17 vessel-out-of-range: 42 kg is outside what 'scale-1' can measure; "
        "no vessel of the book will do; add one, or change the amount"
    ]


def test_amount_of_another_kind_than_its_vessel_is_refused(book: Path, change: Change) -> None:
    change(BLEND, "result: acid.mass", "result: acid.volume")
    assert [each.split(": ", 1)[0] for each in problems(book)] == [f"{BLEND}:32:17 unit-wrong-kind"]


def test_range_of_another_kind_than_the_graduation_is_refused(book: Path, change: Change) -> None:
    change(EQUIPMENT, "      to: 9 L", "      to: 9 kg")
    assert {each.split(": ", 1)[0] for each in problems(book)} == {f"{EQUIPMENT}:29:11 unit-wrong-kind"}


# --- the receiver, at most three quarters full: 7.5 L of the 10 L pail


def collect(change: Change, make: str) -> None:
    """Let the amount be exactly `make`: all of a stock that is as strong as the target."""
    change(FLUSH, "calculate: flush-volume", "calculate: dilute")
    change(
        FLUSH,
        "      volume: line-1.hold-up\n      remaining: 5 %\n",
        f"      stock: 5 %v/v\n      target: 5 %v/v\n      make: {make}\n    result: stock_volume\n",
    )
    change(FLUSH, "    measure_in: pail-1\n    tolerance: 0.5 L\n", "")


@pytest.mark.parametrize("make", ["7.5 L", "7499 mL", "7.4999999999999999999999999 L"])
def test_receiver_at_three_quarters_and_just_under_is_sound(book: Path, change: Change, make: str) -> None:
    collect(change, make)
    assert problems(book) == []


@pytest.mark.parametrize("make", ["7.5000000000000000000000001 L", "7.6 L", "2 US gal"])
def test_receiver_just_over_three_quarters_is_refused(book: Path, change: Change, make: str) -> None:
    collect(change, make)
    assert [each.split(": ", 1)[0] for each in problems(book)] == [f"{FLUSH}:27:17 receiver-too-small"]


def test_receiver_must_hold_what_is_measured_out_and_not_only_what_was_worked_out(book: Path, change: Change) -> None:
    # 2.4 L * ln(20) = 7.19 L is under three quarters; rounded up to steps of 4 L it is 8 L
    change(FLUSH, "line-1.hold-up", "2.4 L")
    change(EQUIPMENT, "    graduation: 0.5 L\n", "    graduation: 4 L\n")
    change(FLUSH, "tolerance: 0.5 L", "tolerance: 1 L")
    change(FLUSH, "    do: Shut V1.", "    do: Shut V1. Look at line-1.")
    assert [each.split(": ", 1)[0] for each in problems(book)] == [f"{FLUSH}:27:17 receiver-too-small"]


def test_unknown_receiver_is_one_problem(book: Path, change: Change) -> None:
    change(FLUSH, "collect_in: pail-1", "collect_in: pail-2")
    assert [each.split(": ", 1)[0] for each in problems(book)] == [f"{FLUSH}:27:17 name-unknown"]


# --- the trees, worked out by a few lines that share nothing with the code

DIGITS = Context(prec=80)
# OEIS A000796
PI = Fraction("3.14159265358979323846264338327950288419716939937510582097494459230781640628620899")
#: unit of a constant -> base units, SI brochure
UNITS = {"mL": Fraction(1, 10**6)}


def natural_logarithm(value: Fraction) -> Fraction:
    return Fraction(DIGITS.ln(DIGITS.divide(Decimal(value.numerator), Decimal(value.denominator))))


def whole_away_from_zero(value: Fraction) -> int:
    return math.floor(abs(value) + Fraction(1, 2)) * (1 if value >= 0 else -1)


def row_of(value: Fraction, *rows: Fraction) -> Fraction:
    """Return what stands beside the first limit that is not below the value; the last value is beyond all limits."""
    return next((said for limit, said in zip(rows[:-1:2], rows[1::2], strict=True) if value <= limit), rows[-1])


OPERATIONS: Mapping[str, Callable[..., Fraction]] = {
    "table": row_of,
    "add": lambda a, b: a + b,
    "sub": lambda a, b: a - b,
    "mul": lambda a, b: a * b,
    "div": lambda a, b: a / b,
    "power": lambda a, b: Fraction(a ** int(b)),
    "round-up": lambda a, step: math.ceil(a / step) * step,
    "round-down": lambda a, step: math.floor(a / step) * step,
    "round-nearest": lambda a, step: whole_away_from_zero(a / step) * step,
    "ln": natural_logarithm,
    "pi": lambda: PI,
}


def value_of(tree: Any, names: Mapping[str, Fraction]) -> Fraction:
    if isinstance(tree, str):
        return Fraction(tree)
    operation, *parts = tree
    if operation == "name":
        return names[parts[0]]
    if operation == "constant":
        return Fraction(parts[0]) * UNITS[parts[1]]
    return OPERATIONS[operation](*(value_of(part, names) for part in parts))


DEMO = check_book(ROOT)
AMOUNTS = [
    pytest.param(amount, id=f"{name}-{amount.name}")
    for name, each in DEMO.editions.items()
    for amount in each.amounts.values()
]


def test_the_demonstration_has_amounts_of_every_sort() -> None:
    amounts = [amount for each in DEMO.editions.values() for amount in each.amounts.values()]
    assert len(amounts) >= 8
    assert {amount.helper for amount in amounts} >= {"scale-recipe", "flush-volume", "dilute"}
    assert any(amount.input is None for amount in amounts)


@pytest.mark.parametrize("amount", AMOUNTS)
def test_tree_of_an_edition_gives_what_it_shows_for_each_value_of_the_table(amount: Any) -> None:
    for worked in (amount.usual, *amount.table):
        names = {} if worked.at is None else {amount.input: worked.at.value}
        found = value_of(amount.tree, names)
        # An amount that is not rounded to a vessel is shown to 30 digits when it has a logarithm in it.
        closeness = 0 if amount.measure_in else abs(found) / 10**28
        assert abs(found - worked.shown.value) <= closeness


def test_hold_up_of_the_demonstration_line_is_3_69_litres() -> None:
    # 27.2 mm over 4 m and 19 mm over 2 m, and 0.8 L of filter bowl and pump head
    held = math.pi / 4 * (0.0272**2 * 4 + 0.019**2 * 2) * 1000 + 0.8
    assert held == pytest.approx(3.6913, abs=5e-5)
    worked = DEMO.editions["bleed-cleaner-line"].amounts["most-to-run"].usual
    assert litres(worked.exact.value) == pytest.approx(held * math.log(20), rel=1e-12)
    # 11.06 L, up to the next half litre
    assert litres(worked.shown.value) == 11.5


def test_alkali_of_the_demonstration_batch() -> None:
    alkali = DEMO.editions["blend-milk-line-cleaner"].amounts["alkali"]
    # 100, 150, 200 L * 1.06 kg/L * 10 %w/w
    assert [each.shown.number for each in alkali.table] == [Fraction("10.6"), Fraction("15.9"), Fraction("21.2")]


def test_accuracy_of_the_vessel_counts_towards_the_tolerance(book: Path, change: Change) -> None:
    # 3.423 L rounded up to 3.5 L is 0.077 L off, within 0.5 L; with 0.45 L more it is not
    change(EQUIPMENT, "    graduation: 0.5 L\n", "    graduation: 0.5 L\n    accuracy: 0.45 L\n")
    assert [
        each for each in problems(book) if "steps of 0.5 L, right to 0.45 L; 3.423 L is off by more than 0.5 L" in each
    ]
    text = (book / EQUIPMENT).read_text(encoding="utf-8")
    (book / EQUIPMENT).write_text(text.replace("0.45 L", "0.4 L"), encoding="utf-8", newline="\n")
    assert problems(book) == []
