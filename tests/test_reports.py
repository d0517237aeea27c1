"""Lots and control charts: published plans and examples, their refusals, and how they are shown."""

import json
import re
import shlex
import statistics
from contextlib import chdir
from fractions import Fraction
from math import erf, sqrt
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner, Result
from demo_book import copy_book
from hypothesis import given
from hypothesis import strategies as st

from tankside.cli.calc import calc
from tankside.quantities.given import MOST, read_worth
from tankside.quantities.registry import REPORTS
from tankside.quantities.report import Findings, Report, findings
from tankside.units import UNITS, QuantityError


def found(name: str, **texts: str) -> Findings:
    report = REPORTS[name]
    return findings(report, {key: read_worth(report.argument(key), text) for key, text in texts.items()})


def refusal(name: str, **texts: str) -> tuple[str, str, str]:
    with pytest.raises(QuantityError) as refused:
        found(name, **texts)
    return refused.value.code, refused.value.sentence, refused.value.hint


def number(findings: Findings, name: str, unit: str) -> float:
    return float(findings.results[name].in_unit(UNITS[unit]))


# --- lot-check, European Union ----------------------------------------------------------------------------------------

#: of 500 mL: T1 is 485 mL and T2 is 470 mL; at 1 kg/L and with a tare of 30 g
FULL, SHORT, FAR_SHORT = "535 g", "514.9 g", "499.9 g"


def lot(size: int, **counts: int) -> Findings:
    """Return the findings for a lot with so many full, short and far short bottles among those weighed."""
    weights = [
        text
        for name, text in (("full", FULL), ("short", SHORT), ("far", FAR_SHORT))
        for _ in range(counts.get(name, 0))
    ]
    return found(
        "lot-check", lot=str(size), nominal="500 mL", density="1 kg/L", tare="30 g", weights=", ".join(weights)
    )


@pytest.mark.parametrize(
    ("size", "weighed", "short", "verdict"),
    [
        # UK SI 2006/659, schedule 2, paragraph 3: single plan (n, accept, reject)
        (400, 50, 3, "accept"),  # N14
        (400, 50, 4, "reject"),  # N14
        (100, 50, 3, "accept"),
        (500, 50, 4, "reject"),
        (501, 80, 5, "accept"),
        (3200, 80, 6, "reject"),
        (3201, 125, 7, "accept"),
        (10_000, 125, 8, "reject"),
        # French arrete of 20 October 1978, article 11: double plan
        (2000, 50, 3, "weigh 50 more"),  # N15
        (2000, 50, 4, "weigh 50 more"),
        (2000, 50, 2, "accept"),
        (2000, 50, 5, "reject"),
        (2000, 100, 6, "accept"),  # N15
        (2000, 100, 7, "reject"),  # N15
        (300, 30, 1, "accept"),
        (300, 30, 2, "weigh 30 more"),
        (300, 30, 3, "reject"),
        (300, 60, 4, "accept"),
        (300, 60, 5, "reject"),
        (5000, 80, 3, "accept"),
        (5000, 80, 6, "weigh 80 more"),
        (5000, 80, 7, "reject"),
        (5000, 160, 8, "accept"),
        (5000, 160, 9, "reject"),
        # UK SI 2006/659, schedule 2, paragraph 3.6: below 100 every bottle, at most 5 % short
        (60, 60, 3, "accept"),  # N16: 5 %
        (60, 60, 4, "reject"),  # N16: 6.67 %
        (99, 99, 4, "accept"),  # 4.04 %
        (99, 99, 5, "reject"),  # 5.05 %
        (1, 1, 0, "accept"),
        (19, 19, 1, "reject"),  # 5.3 %
        (20, 20, 1, "accept"),  # 5 %
    ],
)
def test_lot_is_judged_by_its_plan(size: int, weighed: int, short: int, verdict: str) -> None:
    assert lot(size, full=weighed - short, short=short).words["verdict"] == verdict


@pytest.mark.parametrize(("size", "weighed"), [(400, 50), (2000, 50), (60, 60)])
def test_one_bottle_below_the_second_limit_rejects_the_lot(size: int, weighed: int) -> None:
    # Directive 76/211/EEC: none below T2 may carry the mark
    judged = lot(size, full=weighed - 1, far=1)
    assert judged.words["verdict"] == "reject"
    assert judged.results["below_t2"].value == 1


def test_bottle_below_the_second_limit_is_not_saved_by_a_second_sample() -> None:
    assert lot(2000, full=47, short=2, far=1).words["verdict"] == "reject"


@pytest.mark.parametrize(("gross", "verdict"), [("515 g", "accept"), ("514.999 g", "reject")])
def test_bottle_at_the_first_limit_is_not_short(gross: str, verdict: str) -> None:
    # T1 is 485 mL, so 515 g; in a lot of 4 none may be short
    texts = {"nominal": "500 mL", "density": "1 kg/L", "tare": "30 g"}
    judged = found("lot-check", lot="4", weights=f"540 g, 540 g, 540 g, {gross}", **texts)
    assert judged.words["verdict"] == verdict


@pytest.mark.parametrize(
    ("low", "verdict"),
    # 25 of 500 mL and 25 of low: mean 500 - d/2, s = d/2 * sqrt(50/49); allowed 0.379 * s = 0.1914 d; so never
    # 49 of 500 mL and one of low: mean 500 - d/50, s = d * sqrt(1/50) = 0.1414 d, allowed 0.0536 d; so always
    [((25, 25), "reject"), ((49, 1), "accept")],
)
def test_mean_may_fall_short_by_the_factor_times_the_deviation(low: tuple[int, int], verdict: str) -> None:
    weights = ["530 g"] * low[0] + ["529 g"] * low[1]
    texts = {"nominal": "500 mL", "density": "1 kg/L", "tare": "30 g", "weights": ", ".join(weights)}
    assert found("lot-check", lot="400", **texts).words["verdict"] == verdict


def test_mean_of_a_lot_weighed_whole_has_to_reach_the_label() -> None:
    texts = {"nominal": "500 mL", "density": "1 kg/L", "tare": "30 g"}
    verdicts = [
        found("lot-check", lot="3", weights=f"530 g, 531 g, {last} g", **texts).words["verdict"]
        for last in ("529", "528.999")
    ]
    assert verdicts == ["accept", "reject"]


def test_weighing_may_be_off_by_a_fifth_of_the_error() -> None:
    # N17: Northern Ireland SR 2011/331, schedule 2: 3 mL for 500 mL
    assert number(lot(1, full=1), "measuring_error_at_most", "mL") == 3


@given(st.lists(st.integers(5200, 5500), min_size=50, max_size=50), st.integers(900, 1300), st.integers(0, 400))
def test_figures_are_those_of_the_statistics_module(tenths: list[int], density: int, tare: int) -> None:
    weights = [weight / 10 for weight in tenths]
    judged = found(
        "lot-check",
        lot="400",
        nominal="500 mL",
        density=f"{density} kg/m3",
        tare=f"{tare / 10:.1f} g",
        weights=", ".join(f"{weight:.1f}" for weight in weights) + " g",
    )
    contents = [(weight - tare / 10) / density * 1000 for weight in weights]
    mean, deviation = statistics.fmean(contents), statistics.stdev(contents)
    assert number(judged, "mean", "mL") == pytest.approx(mean, rel=1e-9)
    assert number(judged, "deviation", "mL") == pytest.approx(deviation, rel=1e-9, abs=1e-9)
    # N13: 0.37900 for 50
    assert number(judged, "mean_at_least", "mL") == pytest.approx(500 - 0.3790024 * deviation, rel=1e-6)
    assert number(judged, "least", "mL") == pytest.approx(min(contents), rel=1e-9)
    assert judged.results["below_t1"].value == sum(content < 485 - 1e-9 for content in contents)


def test_label_in_grams_needs_no_density() -> None:
    # T1 of 500 g is 485 g; 514.9 - 30
    texts = {"lot": "4", "nominal": "500 g", "tare": "30 g"}
    judged = found("lot-check", weights="540, 540, 540, 514.9 g", **texts)
    assert judged.words["verdict"] == "reject"
    assert number(judged, "least", "g") == 484.9


# --- lot-check, United States -----------------------------------------------------------------------------------------


def us_lot(size: int, nominal: str, weights: str) -> Findings:
    return found("lot-check", lot=str(size), nominal=nominal, tare="0 g", weights=weights, law="US")


@pytest.mark.parametrize(
    ("nominal", "unit", "variation"),
    # NIST Handbook 133, table 2-5, recalled, not seen
    [
        ("113 g", "g", 7.2),  # N18: a copy prints 7 g; 0.016 lb
        ("1 lb", "lb", 0.044),  # N19
        ("450 g", "g", 19.9),  # N19: the gram column of the same row
        ("0.05 lb", "lb", 0.005),  # 10 %
        ("60 lb", "lb", 1.2),  # 2 %
    ],
)
def test_variation_is_that_of_the_handbook(nominal: str, unit: str, variation: float) -> None:
    judged = us_lot(1, nominal, nominal)
    assert number(judged, "variation", unit) == pytest.approx(variation, abs=0.07 if unit == "g" else 0)


@pytest.mark.parametrize(("mean", "verdict"), [("-0.10", "accept"), ("-0.13", "reject")])
def test_average_error_may_be_as_large_as_the_sample_error_limit(mean: str, verdict: str) -> None:
    # N21: n 12, s 0.20 oz, limit 0.635 * 0.20 = 0.127; six at d above and six below the mean, s^2 = 12 d^2 / 11
    spread = Fraction("0.191485")
    weights = [16 + Fraction(mean) + sign * spread for sign in (1, -1) for _ in range(6)]
    judged = us_lot(250, "16 oz", ", ".join(f"{float(weight):.6f}" for weight in weights) + " oz")
    assert number(judged, "deviation", "oz") == pytest.approx(0.2, abs=5e-6)
    assert 16 - number(judged, "mean_at_least", "oz") == pytest.approx(0.127, abs=5e-6)
    assert judged.words["verdict"] == verdict


@pytest.mark.parametrize(
    ("size", "weighed", "short", "verdict"),
    # NIST Handbook 133, category A, recalled, not seen: how many may be short by more than 0.044 lb of 1 lb
    [
        (11, 11, 0, "accept"),
        (11, 11, 1, "reject"),
        (12, 12, 0, "accept"),
        (250, 12, 1, "reject"),
        (251, 24, 0, "accept"),
        (3200, 24, 1, "reject"),
        (3201, 48, 1, "accept"),
        (50_000, 48, 2, "reject"),
    ],
)
def test_few_packages_may_be_short(size: int, weighed: int, short: int, verdict: str) -> None:
    weights = ["1.05 lb"] * (weighed - short) + ["0.9559 lb"] * short
    assert us_lot(size, "1 lb", ", ".join(weights)).words["verdict"] == verdict


def test_table_for_volumes_that_is_not_there_is_asked_for() -> None:
    code, sentence, hint = refusal(
        "lot-check", lot="12", nominal="16 US fl oz", density="1 kg/L", tare="1 oz", weights="18 oz", law="US"
    )
    assert code == "table-missing"
    assert sentence == "the variations that NIST Handbook 133 allows for a volume are not part of this program"
    assert hint.startswith("copy appendix A, table 2-6, into 'liquid_variations' of procedures/plant/book.yaml")


#: invented rows, in no order
ROWS = "4 US fl oz/0.25 US fl oz, 2 US fl oz/0.2 US fl oz"
IN_OUNCES = {"lot": "2", "density": "1 kg/L", "tare": "1 oz", "weights": "9 oz, 9 oz", "law": "US"}


@pytest.mark.parametrize(("nominal", "variation"), [("1", 0.2), ("2", 0.2), ("2.01", 0.25), ("4", 0.25)])
def test_table_for_volumes_works_once_it_is_given(nominal: str, variation: float) -> None:
    judged = found("lot-check", nominal=f"{nominal} US fl oz", variations=ROWS, **IN_OUNCES)
    assert number(judged, "variation", "US fl oz") == pytest.approx(variation, rel=1e-12)


def test_content_above_the_last_row_is_refused() -> None:
    code, sentence, _ = refusal("lot-check", nominal="5 US fl oz", variations=ROWS, **IN_OUNCES)
    assert code == "table-missing"
    assert "'5 US fl oz' is above the last limit of variations, '4 US fl oz'" in sentence


def test_table_of_the_book_is_used(tmp_path: Path) -> None:
    book = copy_book(tmp_path / "book")
    with (book / "procedures/plant/book.yaml").open("a", encoding="utf-8", newline="\n") as facts:
        facts.write("liquid_variations:\n  - up_to: 16 US fl oz\n    short_by: 0.5 US fl oz\n")
    arguments = [f"{name}={text}" for name, text in {**IN_OUNCES, "nominal": "8 US fl oz"}.items()]
    done = CliRunner().invoke(calc, ["lot-check", *arguments, "--book", str(book), "--json"])
    assert done.exit_code == 0, done.output
    assert json.loads(done.stdout)["results"]["variation"] == {"value": "0.5", "unit": "US fl oz"}


def test_drawing_shows_every_bottle_and_every_limit(tmp_path: Path) -> None:
    file = tmp_path / "lot.svg"
    arguments = [f"{name}={text}" for name, text in LOT.items()]
    done = CliRunner().invoke(calc, ["lot-check", *arguments, "--draw", str(file)])
    assert done.exit_code == 0, done.output
    drawing = file.read_text(encoding="utf-8")
    assert drawing.count("<circle") == 3
    assert all(f">{level}</text>" in drawing for level in ("nominal", "mean", "t1", "t2"))
    again = CliRunner().invoke(calc, ["lot-check", *arguments, "--draw", str(file)])
    assert "cannot be written: File exists" in again.output


def test_formula_has_nothing_to_draw(tmp_path: Path) -> None:
    done = CliRunner().invoke(calc, ["bottles-from", "batch=5 L", "nominal=1 L", "--draw", str(tmp_path / "x.svg")])
    assert (done.exit_code, "has nothing to draw" in done.output) == (2, True)


# --- lot-check, refusals ----------------------------------------------------------------------------------------------

LOT = {"lot": "3", "nominal": "500 mL", "density": "1 kg/L", "tare": "30 g", "weights": "530, 531, 532 g"}


@pytest.mark.parametrize(
    ("more", "code", "sentence", "hint"),
    [
        (
            {"lot": "400"},
            "sample-size",
            "a lot of 400 is judged on 50 weights, or in two steps on 30 and 60; there are 3",
            "weigh 50 bottles, drawn at random",
        ),
        (
            {"lot": "5"},
            "sample-size",
            "every bottle of a lot of 5 is weighed; there are 3 weights",
            "weigh all 5 bottles",
        ),
        (
            {"lot": "10001"},
            "out-of-domain",
            "lot '10001' is more than 10000",
            "divide it into lots, an hour's output at most",
        ),
        ({"lot": "0"}, "out-of-domain", "lot '0' is not at least 1", "give lot a value at least 1"),
        ({"lot": "2.5"}, "out-of-domain", "lot '2.5' is no whole number", "give lot a whole number"),
        (
            {"weights": "530, 531, 29 g"},
            "out-of-domain",
            "tare '30 g' is heavier than weights '29 g'",
            "give gross weights: bottle, cap, label and content",
        ),
        (
            {"weights": "530, 531, 532"},
            "unit-missing",
            "weights '532' has no unit",
            "write the unit after the number, for example '532 L'",
        ),
        (
            {"weights": "530,, 532 g"},
            "list-length",
            "weights '530,, 532 g' is no list of 1 to 500 entries",
            'write weights="weights.csv", commas between',
        ),
        (
            {"nominal": "500 g"},
            "argument-not-used",
            "'lot-check' does not use density with nominal as mass",
            "leave density out",
        ),
        (
            {"law": "FR"},
            "value-not-allowed",
            "law 'FR' is none of its words",
            "write EU, UK, US",
        ),
        (
            {"law": "US", "nominal": "1 kg", "density": ""},
            "sample-size",
            "every bottle of a lot of 5 is weighed; there are 3 weights",
            "weigh all 5 bottles",
        ),
        (
            {"law": "US", "nominal": "1 kg", "density": "", "lot": "300"},
            "sample-size",
            "a lot of 300 is judged on 24 weights; there are 3",
            "weigh 24 bottles, drawn at random",
        ),
    ],
)
def test_lot_that_cannot_be_judged_is_refused(more: dict[str, str], code: str, sentence: str, hint: str) -> None:
    texts = {name: text for name, text in (LOT | {"lot": "5" if "law" in more else "3"} | more).items() if text}
    assert refusal("lot-check", **texts) == (code, sentence, hint)


def test_volume_without_density_is_refused() -> None:
    texts = {name: text for name, text in LOT.items() if name != "density"}
    assert refusal("lot-check", **texts)[1:] == ("'lot-check' needs density", 'add density="1.06 kg/L"')


# --- control-limits ---------------------------------------------------------------------------------------------------


def limits(findings: Findings, unit: str = "g") -> tuple[float, ...]:
    names = ("centre", "lower", "upper", "range_centre", "range_lower", "range_upper")
    return tuple(number(findings, name, unit) for name in names)


def test_limits_of_means_and_ranges_are_those_of_a_worked_example() -> None:
    # Y54: six samples of five with their solution, as a page of statistics exercises has them; it takes 2.115 for D4
    rows = ("56 48 53 58 52", "50 59 57 56 54", "61 59 56 55 58", "57 51 49 57 50", "50 49 57 55 56", "56 55 60 58 57")
    judged = found("control-limits", subgroups=", ".join(row.replace(" ", "/") for row in rows) + " g")
    centre, lower, upper, range_centre, range_lower, range_upper = limits(judged)
    assert (round(centre, 3), round(range_centre, 3)) == (54.967, 7.667)
    assert (lower, upper) == pytest.approx((50.543, 59.391), abs=0.001)
    assert range_lower == 0
    assert range_upper == pytest.approx(16.215, rel=0.0005)
    assert judged.words == {
        "points_outside": "none",
        "ranges_outside": "none",
        "basis": "6 subgroups of 5; fewer than 20: provisional",
    }


def test_limits_of_single_values_are_those_of_a_worked_example() -> None:
    # Y55: NIST/SEMATECH, e-Handbook of Statistical Methods, 6.3.2.2: it takes 3 / 1.128 where the common table has 2.66
    values = "49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1"
    centre, lower, upper, range_centre, *_ = limits(found("control-limits", subgroups=f"{values} mL"), "mL")
    assert (round(centre, 2), round(range_centre, 4)) == (50.81, 1.8778)
    assert (lower, upper) == pytest.approx((45.8159, 55.8041), abs=0.001)


def test_limits_of_ten_in_a_subgroup_are_those_of_a_worked_example() -> None:
    # Y56: bottles of 725 mL, mean range 4 mL: 723.768 and 726.232; ranges 0.892 and 7.108; a page of exercises
    group = "/".join(["723", "727", *["725"] * 8])
    judged = found("control-limits", subgroups=f"{group}, {group} mL")
    assert limits(judged, "mL") == pytest.approx((725, 723.768, 726.232, 4, 0.892, 7.108))


#: size -> relative standard deviation of the range, d3, as tables of factors for control charts print it
D3 = {2: 0.853, 3: 0.888, 4: 0.880, 5: 0.864, 6: 0.848, 7: 0.833, 8: 0.820, 9: 0.808, 10: 0.797}


def mean_range(size: int) -> float:
    """Mean range of so many values of a normal distribution: the integral of 1 - F^n - (1 - F)^n."""
    step = 0.001
    below = [(1 + erf(x * step / sqrt(2))) / 2 for x in range(-9000, 9001)]
    return step * sum(1 - share**size - (1 - share) ** size for share in below)


@pytest.mark.parametrize("size", D3)
def test_factors_are_those_of_the_normal_distribution(size: int) -> None:
    # a mean range of 1 g shows the factors: A2 = 3 / (d2 sqrt n), D3 and D4 = 1 -+ 3 d3 / d2
    group = "/".join(["9.5", "10.5", *["10"] * (size - 2)])
    centre, lower, upper, range_centre, range_lower, range_upper = limits(
        found("control-limits", subgroups=f"{group}, {group} g")
    )
    d2 = mean_range(size)
    assert (centre, range_centre) == (10, 1)
    assert (centre - lower, upper - centre) == pytest.approx((3 / d2 / sqrt(size),) * 2, abs=0.0006)
    assert range_upper == pytest.approx(1 + 3 * D3[size] / d2, abs=0.0016)
    assert range_lower == pytest.approx(max(0, 1 - 3 * D3[size] / d2), abs=0.0016)


def test_points_outside_are_named() -> None:
    # means 10 except the third and the last; ranges 1: 10.2 +- 0.577 * 1
    groups = ["9.5/10/10/10/10.5"] * 8 + ["11.5/12/12/12/12.5"]
    groups[2] = "7.5/8/8/8/8.5"
    judged = found("control-limits", subgroups=", ".join(groups) + " g")
    assert (judged.words["points_outside"], judged.words["ranges_outside"]) == ("3, 9", "none")


def test_jump_between_single_values_is_named_by_the_later_one() -> None:
    values = [10 + Fraction(each % 2, 10) for each in range(30)]
    values[20:] = [each + 5 for each in values[20:]]
    judged = found("control-limits", subgroups=", ".join(f"{float(each):.1f}" for each in values) + " g")
    assert judged.words["ranges_outside"] == "21"
    assert judged.words["basis"] == "30 single values"


@given(
    st.integers(1, 10).flatmap(
        lambda size: st.lists(st.lists(st.integers(0, 10**6), min_size=size, max_size=size), min_size=2, max_size=12)
    )
)
def test_limits_lie_evenly_about_the_mean_of_all(groups: list[list[int]]) -> None:
    judged = found("control-limits", subgroups=", ".join("/".join(map(str, group)) for group in groups) + " g")
    values = {name: quantity.number for name, quantity in judged.results.items()}
    everything = [value for group in groups for value in group]
    assert values["centre"] == Fraction(sum(everything), len(everything))
    assert values["upper"] - values["centre"] == values["centre"] - values["lower"] >= 0
    assert 0 <= values["range_lower"] <= values["range_centre"] <= values["range_upper"]


@pytest.mark.parametrize(
    ("subgroups", "code", "sentence", "hint"),
    [
        (
            "5/6/7 g",
            "sample-size",
            "subgroups is one subgroup, no chart is made of it",
            "give at least 2, better 20",
        ),
        (
            "5/6, 5/6/7 g",
            "sample-size",
            "subgroup 2 has 3 values, subgroup 1 has 2",
            "give every subgroup the same number of values",
        ),
        (
            ", ".join(["/".join(["5"] * 11)] * 2) + " g",
            "sample-size",
            "a subgroup has 11 values, more than 10",
            "give subgroups of 2 to 10 values, such as 5",
        ),
        (
            "5 g, 6 mL",
            "unit-wrong-kind",
            "subgroups has entries as mass and as volume",
            "give every value in a unit of one kind",
        ),
        ("-5, 6 g", "out-of-domain", "subgroups '-5 g' is not at least 0 g", "give subgroups a value at least 0 g"),
        (
            "5, 6 degC",
            "unit-wrong-kind",
            "subgroups '6 degC' is of the kind temperature, not mass or volume or mass concentration or conductivity "
            "or pH",
            None,
        ),
        (
            "5/, 6 g",
            "number-form",
            "subgroups '5/' does not begin with a plain decimal number",
            "write it like '12.5 L'",
        ),
    ],
)
def test_chart_that_cannot_be_made_is_refused(subgroups: str, code: str, sentence: str, hint: str | None) -> None:
    refused = refusal("control-limits", subgroups=subgroups)
    assert refused[:2] == (code, sentence)
    assert hint in (None, refused[2])


# --- files ------------------------------------------------------------------------------------------------------------


def run(*arguments: str, **files: bytes) -> Result:
    """Return what the command says in a folder with these files, each by its name without the ending."""
    with TemporaryDirectory() as folder, chdir(folder):
        for name, data in files.items():
            Path(f"{name}.csv").write_bytes(data)
        return CliRunner().invoke(calc, arguments, catch_exceptions=False)


def run_lot(data: bytes) -> Result:
    arguments = ("lot-check", "lot=3", "nominal=500 mL", "density=1 kg/L", "tare=30 g", "weights=w.csv", "--json")
    return run(*arguments, w=data)


@pytest.mark.parametrize(
    "data",
    [
        b"gross [g]\n530\n531\n532\n",
        b"gross [g]\n530\n531\n532",
        b'\xef\xbb\xbf"gross [g]"\r\n530\r\n531\r\n532\r\n',  # byte order mark and line ends of other systems
        b"\n\ngross [g]\n\n530\n531\n\n532\n\n\n",
        b'"gross [g]"\n"530"\n"531"\n"532"\n',
        b"[kg]\n 0.530 \n0.531\n\t0.532\n",
    ],
)
def test_column_of_weights_is_read_from_a_file(data: bytes) -> None:
    results = json.loads(run_lot(data).stdout)["results"]
    assert results["mean"] == {"value": "501", "unit": "mL"}
    assert results["verdict"] == {"value": "accept", "unit": ""}


@pytest.mark.parametrize(
    ("data", "sentence", "hint"),
    [
        (
            b"gross [g]\n530,5\n531\n532,1\n",
            "the first line of w.csv has 1 cell; line 2 has 2, line 4 has 2 [file-form]",
            "write '.' as the decimal mark, and a comma between columns only",
        ),
        (
            b"gross [g]\n530\n\n53l\n532 g\n",
            "w.csv has cells that are no plain decimal numbers: '53l' in line 4, '532 g' in line 5 [file-form]",
            "write numbers only, with '.' as the decimal mark; the unit stands in the first line",
        ),
        (
            b"gross [g]\n" + b"x\n" * 9,
            "w.csv has cells that are no plain decimal numbers: 'x' in line 2, 'x' in line 3, 'x' in line 4, "
            "'x' in line 5, 'x' in line 6 and 4 more [file-form]",
            "write numbers only, with '.' as the decimal mark; the unit stands in the first line",
        ),
        (
            b"gross [g]\n530\n1234567890123456789012345678901\n532\n",
            "line 3 of w.csv, '1234567890123456789012345678901 g' has more than 30 digits [number-form]",
            "write at most 30 digits",
        ),
        (
            b"530\n531\n532\n",
            "the first line of w.csv names no unit in '530' [file-form]",
            "begin the file with a line like 'gross [g]'",
        ),
        (
            b"gross [gr]\n530\n531\n532\n",
            "unit 'gr' of the first line of w.csv, 'gross [gr]' is not known [unit-unknown]",
            None,
        ),
        (
            b"level [mm]\n530\n531\n532\n",
            "the first line of w.csv, 'level [mm]' is of the kind length, not mass [unit-wrong-kind]",
            "write mg, g, kg, grain, oz or lb",
        ),
        (
            b"bottle [g],gross [g]\n1,530\n2,531\n3,532\n",
            "w.csv has 2 columns [file-form]",
            "keep the one column of weights",
        ),
        (
            b"",
            "w.csv is empty [file-form]",
            "begin it with a line like 'gross [g]', numbers below",
        ),
        (
            b"gross [g]\n",
            f"w.csv has 0 lines of numbers, not 1 to {MOST} [file-form]",
            "give one line for each, after the first line",
        ),
        (
            b"gross [g]\n" + b"530\n" * 501,
            f"w.csv has 501 lines of numbers, not 1 to {MOST} [file-form]",
            "give one line for each, after the first line",
        ),
        (
            b"gross [g]\n" + b"530\n" * 100_000,
            "w.csv is larger than 200000 bytes [file-form]",
            "keep only the lines and columns that count",
        ),
        (
            "gross [g]\n530\n".encode("utf-16"),
            "w.csv is no text in UTF-8 [file-form]",
            "save it as CSV in UTF-8",
        ),
    ],
)
def test_file_that_is_no_column_of_numbers_is_refused(data: bytes, sentence: str, hint: str | None) -> None:
    said = run_lot(data)
    assert (said.exit_code, said.stdout) == (2, "")
    assert said.stderr.startswith(f"error: {sentence}\n    hint: {hint or ''}")
    assert hint is None or said.stderr.endswith(f"{hint}\n")


@pytest.mark.parametrize("name", ["nosuch.csv", ".csv", "../../nosuch/w.csv", f"{'x' * 5000}.csv", "a\0b.csv"])
def test_file_that_cannot_be_read_is_refused(name: str) -> None:
    said = run("lot-check", "lot=3", "nominal=500 mL", "density=1 kg/L", "tare=30 g", f"weights={name}")
    assert (said.exit_code, said.stdout) == (2, "")
    assert said.stderr == (
        f"error: {name} cannot be read [file-form]\n    hint: name a CSV file as seen from this folder\n"
    )


def test_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "w.csv").mkdir()
    said = run("control-limits", f"subgroups={tmp_path / 'w.csv'}")
    assert (said.exit_code, "cannot be read [file-form]" in said.stderr) == (2, True)


def test_columns_of_a_file_are_the_values_of_a_subgroup() -> None:
    # the worked example above
    rows = b"56,48,53,58,52\n50,59,57,56,54\n61,59,56,55,58\n57,51,49,57,50\n50,49,57,55,56\n56,55,60,58,57\n"
    heading = b",".join(b"w%d [g]" % each for each in range(1, 6)) + b"\n"
    results = json.loads(run("control-limits", "subgroups=w.csv", "--json", w=heading + rows).stdout)["results"]
    assert round(float(results["lower"]["value"]), 3) == 50.543
    assert results["basis"]["value"] == "6 subgroups of 5; fewer than 20: provisional"


def test_column_in_another_unit_is_converted() -> None:
    results = json.loads(
        run("control-limits", "subgroups=w.csv", "--json", w=b"a [g],b [kg]\n1,0.003\n2,0.004\n").stdout
    )
    assert results["results"]["centre"] == {"value": "2.5", "unit": "g"}


# --- whose law --------------------------------------------------------------------------------------------------------

THREE = ("lot-check", "lot=3", "nominal=500 g", "tare=30 g", "weights=530, 531, 532 g", "--json")


def words(*arguments: str) -> tuple[str, str]:
    results = json.loads(run(*arguments).stdout)["results"]
    return results["verdict"]["value"], results["law"]["value"]


def test_law_is_named_where_there_is_no_book() -> None:
    assert words(*THREE) == ("accept", "Directive 76/211/EEC")
    assert words(*THREE, "law=UK") == ("accept", "UK SI 2006/659")
    assert words(*THREE, "law=US") == ("accept", "NIST Handbook 133")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo book; it is under the law of the US."""
    return copy_book(tmp_path_factory.mktemp("law") / "book")


def test_law_of_another_jurisdiction_is_for_internal_control_only(book: Path) -> None:
    assert words(*THREE, "--book", str(book)) == (
        "accept (internal control only)",
        "Directive 76/211/EEC; this book is under the law of the US",
    )
    short = (*THREE[:4], "weights=529, 530, 530 g", "--json", "--book", str(book))
    assert words(*short)[0] == "reject (internal control only)"


def test_law_of_the_book_releases(book: Path) -> None:
    assert words(*THREE, "law=US", "--book", str(book)) == ("accept", "NIST Handbook 133")


def test_book_that_cannot_be_read_is_one_problem(book: Path, tmp_path: Path) -> None:
    broken = copy_book(tmp_path / "book")
    (broken / "procedures/plant/book.yaml").write_text("book: [\n", encoding="utf-8")
    said = run(*THREE, "--book", str(broken))
    assert (said.exit_code, said.stdout) == (1, "")
    assert "Nothing was worked out: the book has problems" in said.stderr


def test_chart_asks_for_no_book(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures" / "broken.yaml").write_text("a: [\n", encoding="utf-8")
    assert run("control-limits", "subgroups=1, 2 g", "--book", str(tmp_path)).exit_code == 0


# --- how they are shown -----------------------------------------------------------------------------------------------

every_report = pytest.mark.parametrize("report", REPORTS.values(), ids=REPORTS)


@every_report
def test_report_is_listed_and_explained(report: Report) -> None:
    blocks = {block.splitlines()[0]: block for block in run().stdout.split("\n\n")}
    assert f"\n  {report.name} " in blocks[report.task]
    explained = run(report.name).stdout
    headings = [line for line in explained.splitlines()[1:] if line and not line.startswith(" ")]
    assert headings == ["Formula", "Arguments", "Results", "Limits", "Example", "Source"]


@every_report
def test_documentation_names_every_argument_and_result(report: Report) -> None:
    sections = report.documentation.sections
    assert [a.name for a in report.arguments if f"{a.name}: " not in sections["Args"]] == []
    assert [r.name for r in report.results if f"{r.name}: " not in sections["Returns"]] == []
    assert report.documentation.summary.startswith("Return ")
    assert report.documentation.formula


@every_report
def test_example_in_the_documentation_gives_what_it_says(report: Report) -> None:
    command, *outcome = report.documentation.sections["Example"].splitlines()
    _, _, *arguments = shlex.split(command)
    lines = [re.split(" {2,}", line) for line in run(*arguments).stdout.splitlines()]
    shown = {result: value.partition(" (")[0] for result, value, *_ in lines}
    assert dict(part.split(" ", 1) for part in " ".join(outcome).split(", ")) == shown


def test_working_shows_each_test_with_its_figures() -> None:
    arguments = ("lot-check", "lot=3", "nominal=500 mL", "density=1 kg/L", "tare=30 g", "weights=529, 530, 530 g")
    shown = run(*arguments, "--working").stdout.splitlines()
    working = shown[shown.index("") + 1 :]
    assert working[:3] == ["content = (gross \u2212 tare) ÷ density", "mean = sum of the contents ÷ 3", "≈ 499.667 mL"]
    tests = [line for line in working if line.endswith(("holds", "does not hold"))]
    assert tests == [
        "mean_at_least ≤ mean: 500 mL ≤ 499.667 mL does not hold",
        "below_t1 ≤ below_t1_at_most: 0 ≤ 0 holds",
        "below_t2 ≤ below_t2_at_most: 0 ≤ 0 holds",
    ]


# --- anything at all --------------------------------------------------------------------------------------------------

PIECES = (
    *("0", "1", "3", "-1", "", "x", "EU", "US", "UK", "500 mL", "500 g", "4 g", "1 kg/L", "0 kg/L", "30 g", "600 g"),
    *("530 g", "530, 531, 532 g", "530, 0 g", "1/2, 3/4 g", "1/2 g, 3 mL", "1/2, 3 g", "1, 2 pH", "/", ",", "1 g/"),
)


@every_report
@given(data=st.data())
def test_anything_gives_findings_or_a_refusal(report: Report, data: st.DataObject) -> None:
    names = st.sampled_from([argument.name for argument in report.arguments])
    texts = data.draw(st.dictionaries(names, st.sampled_from(PIECES)))
    try:
        judged = found(report.name, **texts)
    except QuantityError as error:
        assert error.sentence
        assert error.hint
    else:
        assert judged.working


@given(st.binary(max_size=60) | st.text('gross [g]\n\r,.0159"-x ', max_size=60).map(lambda text: text.encode()))
def test_any_file_is_read_or_refused(data: bytes) -> None:
    said = run_lot(data)
    assert said.exit_code in (0, 2)
    assert bool(said.stdout) == (said.exit_code == 0)
