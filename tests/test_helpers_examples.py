"""Worked examples as others published them, each with a number of its own.

Every source was seen in a stored copy. Where a publisher rounds, the tolerance is half of the last digit printed;
where it is wider, the reason stands beside it. Y44 to Y51 stand beside the titrations, with the other measurements.
"""

from fractions import Fraction

import pytest
from calculating import calculated, number
from pint import UnitRegistry

from tankside.units import UNITS


def is_within(value: Fraction, published: str, within: str) -> bool:
    return abs(value - Fraction(published)) <= Fraction(within)


@pytest.mark.parametrize(
    ("flow", "room", "changes"),
    [
        # Y01: 15 * 20 * 8: Use the Air Changes Calculation to Determine Room CFM,
        # hayashiglobal.com/ventilation-selection
        ("300 cfm", "2400 ft3", "7.5"),
        # Y02: 10 * 10 * 12: hunker.com/13408227/how-to-calculate-air-changes-per-hour
        ("200 cfm", "1200 ft3", "10"),
        # Y03: 12 * 20 * 10: application guide on laboratory ventilation, chapter 2,
        # manualshelf.com/manual/siemens/lab-controls/basic-documentation-english-swedish/page-18.html
        ("40 cfm", "2400 ft3", "1"),
        ("400 cfm", "2400 ft3", "10"),
    ],
)
def test_air_changes_are_the_published_ones(flow: str, room: str, changes: str) -> None:
    assert number("air-changes", "air_changes", "1/h", flow=flow, room=room) == Fraction(changes)


@pytest.mark.parametrize(
    ("changes", "minutes"),
    # MMWR of 28 October 1994, page 72, table S3-1, in whole minutes for 90, 99 and 99.9 %:
    # ja.scribd.com/document/320588265; rows that the table of 2003 leaves out
    [
        (3, (46, 92, 138)),  # Y04
        (7, (20, 39, 59)),  # Y05
        (9, (15, 31, 46)),  # Y06
        (11, (13, 25, 38)),  # Y07
        (14, (10, 20, 30)),  # Y08
        (25, (6, 11, 17)),  # Y09
        (30, (5, 9, 14)),  # Y10
        (40, (3, 7, 10)),  # Y11
    ],
)
def test_purge_takes_the_published_minutes(changes: int, minutes: tuple[int, ...]) -> None:
    times = [
        number("purge-time", "time", "min", air_changes=f"{changes} 1/h", removal=f"{removal} %", mixing="1")
        for removal in ("90", "99", "99.9")
    ]
    assert tuple(round(float(each)) for each in times) == minutes


@pytest.mark.parametrize(
    ("pairs", "index"),
    [
        # Y12: 29 CFR 1910.1000(d)(2)(ii): up.codes/s/computation-formulae, its sum from scribd.com/document/481145530
        ("500 ppm/1000 ppm, 45 ppm/200 ppm, 40 ppm/200 ppm", "0.925"),
        # Y13: methanol and ethyl acetate, potentcompoundsafety.com/2011/09/occupational-health-hazard-mixtures.html
        ("150 ppm/200 ppm, 300 ppm/400 ppm", "1.5"),
        # Y14: lead, thallium and cadmium, with limits made up for the exercise, smartsolve.ai/question,
        # a worker is exposed to a particulate matter
        ("30 mg/m3/50 mg/m3, 70 mg/m3/200 mg/m3, 65 mg/m3/100 mg/m3", "1.6"),
    ],
)
def test_index_of_a_mixture_is_the_published_one(pairs: str, index: str) -> None:
    assert number("mixture-exposure", "index", "", pairs=pairs) == Fraction(index)


@pytest.mark.parametrize(
    ("pairs", "average", "within"),
    [
        # Y15: ethylbenzene, qammunity.org/11483070: breaks are left out of it, in whole ppm
        ("2 h/125 ppm, 2 h/88 ppm, 2.5 h/112 ppm, 1.5 h/70 ppm", "101", "0.5"),
        # Y16: tetrachloroethylene, justaaa.com/chemistry/134194: an hour of it without exposure
        ("3.5 h/0.2 ppm, 1 h/0 ppm, 2 h/3.8 ppm, 1.5 h/2.2 ppm", "1.45", "0"),
        # Y17: a question with its answer, estatepass.ai/contractor/questions, limit of 50 ppm
        ("4 h/75 ppm, 4 h/25 ppm", "50", "0"),
    ],
)
def test_average_over_the_shift_is_the_published_one(pairs: str, average: str, within: str) -> None:
    assert is_within(number("shift-average", "average", "ppm", pairs=pairs), average, within)


@pytest.mark.parametrize(
    ("value", "to", "published", "within"),
    [
        # Y18: a city on its water, fbgtx.org/FAQ.aspx?QID=124: it takes 0.0584, rounded to three digits
        ("350 mg/L", "grain/US gal", "20.44", "0.01"),
        # Y19: a town on its water, town.orleans.ma.us/FAQ.aspx?QID=120
        ("16 mg/L", "grain/US gal", "0.93", "0.005"),
        # Y20: a waterworks on its water, lwik.lubsko.pl, tabela twardosci wody: 3.35 milliequivalents at 2.8 degrees
        ("167.5 mg/L", "dH", "9.38", "0.01"),
        ("167.5 mg/L", "fH", "16.75", "0"),
        # Y21: FAO, as aquaponics.ai/community/library/glossary/hardness has it: a milliequivalent, which is 50.04 mg/L,
        # printed as 50, and 2.804 degrees as 2.805
        ("50 mg/L", "dH", "2.805", "0.004"),
        # Y22: Conversion Factors for Units in the Water Chemistry (2009), karrasch-eckert.de/wissen/umrechnung_en.html
        ("1 dH", "mg/L", "17.8", "0.05"),
        ("1 dH", "fH", "1.78", "0.005"),
        ("1 fH", "dH", "0.560", "0.0005"),
        ("1 mmol/L", "dH", "5.6", "0.05"),
        ("1 mmol/L", "mg/L", "100", "0.5"),
    ],
)
def test_hardness_in_another_unit_is_the_published_one(value: str, to: str, published: str, within: str) -> None:
    found = calculated("hardness", {"value": value, "to": to}).results["value"]
    assert is_within(found.in_unit(UNITS[to]), published, within)


@pytest.mark.parametrize(
    ("packed", "theoretical", "published", "within"),
    [
        # Y23: calcium oxide, wyzant.com/resources/answers/308627
        ("6.81 g", "11.6 g", "58.7", "0.05"),
        # Y24: calcium oxide, mis.kyeop.go.ke/shelf/51145383
        ("250 g", "280 g", "89.29", "0.005"),
        # Y25: calcium oxide, answer.ya.guru/questions/8678498
        ("13.1 g", "13.9 g", "94", "0.5"),
        # Y26: Chemistry and Chemical Reactivity, 9th edition, chapter 4, question 21, gradesaver.com: it prints 14.3 g
        # and divides by the unrounded 14.27 g
        ("12.6 g", "14.3 g", "88.3", "0.2"),
    ],
)
def test_yield_is_the_published_share(packed: str, theoretical: str, published: str, within: str) -> None:
    assert is_within(number("batch-yield", "yield", "%", packed=packed, theoretical=theoretical), published, within)


@pytest.mark.parametrize(
    ("volume", "flow", "published", "within"),
    [
        # wastewater101.net/2018/08/time-for-math-back-to-basics, for those who run water plants
        ("50 US gal", "5 US gal/min", "10", "0"),  # Y27
        ("45000 US gal", "85 US gal/min", "529", "0.5"),  # Y28
        ("5775 US gal", "175 US gal/min", "33", "0"),  # Y29
        ("85000 US gal", "55 US gal/min", "1545", "0.5"),  # Y30
        # Y31: wastewater101.net/2019/01/time-for-math-10: two pumps of 120 each
        ("59840 US gal", "240 US gal/min", "249", "0.5"),
    ],
)
def test_filling_takes_the_published_time(volume: str, flow: str, published: str, within: str) -> None:
    assert is_within(number("fill-time", "time", "min", volume=volume, flow=flow), published, within)


@pytest.mark.parametrize(
    ("nominal", "density", "tare", "result", "published", "within"),
    [
        # Y32: a flask with its liquid, weighed for a density:
        # physicsforums.com/threads/density-problem-please-lookover-my-answer.376756
        ("10.00 mL", "0.8839 g/mL", "48.217 g", "target", "57.056", "0"),
        # Y33: a flask with its liquid, mantrapaloalto.com/chemistry/how-to-calculate-the-density-of-a-liquid.html: the
        # density has three decimals, of 25 mL
        ("25.0 mL", "1.040 g/mL", "66.000 g", "target", "92.0002", "0.0125"),
        # Y34: methanol, tutoringspots.com/how-do-you-calculate-mass-using-density-and-volume
        ("30.0 mL", "0.790 g/mL", "0 g", "target", "23.7", "0"),
        # Y35: ethanol, qammunity.org/12814757
        ("125 mL", "0.789 g/mL", "0 g", "target", "98.625", "0"),
        # Y36: Chemistry, 9th edition, chapter 1, exercise 70, gradesaver.com: ethanol, benzene
        ("100 mL", "0.789 g/mL", "0 g", "target", "78.9", "0"),
        ("1 L", "0.88 g/mL", "0 g", "target", "880", "0"),
        # Y37: a pack of 2,000 g may lack 30 g, none 60 g: ifsqn.com, topic 11095; the table is one for grams and mL
        ("2000 mL", "1 g/mL", "0 g", "warning", "1970", "0"),
        ("2000 mL", "1 g/mL", "0 g", "limit", "1940", "0"),
    ],
)
def test_filled_weight_is_the_published_one(
    nominal: str, density: str, tare: str, result: str, published: str, within: str
) -> None:
    assert is_within(number("fill-weight", result, "g", nominal=nominal, density=density, tare=tare), published, within)


def test_eyewash_takes_the_published_water() -> None:
    # Y38: a shower of 20 gallons a minute takes 300 in 15 min:
    # eng-tips.com/threads/water-heater-size-for-emergency-shower.356329
    assert number("eyewash-water", "volume", "US gal", flow="20 US gal/min", time="15 min") == 300
    # pint, for the least flows in both units
    independent = UnitRegistry()
    for flow in ("0.4", "3", "20"):
        litres = (independent.Quantity(float(flow), "gallon / minute") * independent.Quantity(15, "minute")).to("liter")
        found = number("eyewash-water", "volume", "L", flow=f"{flow} US gal/min", time="15 min")
        assert float(found) == pytest.approx(litres.magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("heel", "rinse", "left", "count"),
    # exercises in taking out and filling up with water, which is the same balance; what is left is exact
    [
        ("36 L", "4 L", "72.9", 3),  # Y39: 29.16 of 40 L: cracku.in/76, management aptitude test of 2005
        ("4 L", "1 L", "51.2", 3),  # Y40: curioustab.com, successive replacement, 97907
        ("4 L", "1 L", "32.768", 5),  # Y41: 1024 / 3125: curioustab.com, remove one fifth, 98895
        ("15 L", "5 L", "56.25", 2),  # Y42: 11.25 of 20 L: en.sorumatik.co/t/112898
        (
            "1 US gal",
            "99 US gal",
            "1",
            1,
        ),  # Y43: a running rinse, 100 to 1: poly-products.com/A-10min-Better-Rinsing.html
    ],
)
def test_rinses_are_as_many_as_published(heel: str, rinse: str, left: str, count: int) -> None:
    shares = (left, str(float(left) - 0.0001))
    counts = [number("rinse-count", "count", "", heel=heel, rinse=rinse, remaining=f"{each} %") for each in shares]
    assert counts == [count, count + 1]


@pytest.mark.parametrize(
    ("strength", "density", "published"),
    [
        # sodium chloride brine at 20 degC; densities by the library CoolProp 8.0.0 (INCOMP::MNA), run elsewhere; grams
        # in a litre of brine: the share of its mass
        ("10 %w/w", "1070.583 kg/m3", "107.0583"),  # Y52
        ("20 %w/w", "1147.760 kg/m3", "229.552"),  # Y53
    ],
)
def test_share_by_mass_is_the_mass_in_a_volume(strength: str, density: str, published: str) -> None:
    assert number("convert-strength", "strength", "g/L", strength=strength, density=density, to="g/L") == Fraction(
        published
    )
