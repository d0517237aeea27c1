"""``tankside calc`` from the outside."""

import json
import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tankside.cli.calc import calc
from tankside.compute.trouble import CannotWorkOutError
from tankside.problems import Problem, Span
from tankside.quantities.recipe import Ingredient, Recipe
from tankside.quantities.registry import HELPERS
from tankside.units import parse_quantity

DILUTION = ("dilute", "stock=400 g/L", "target=40 g/L", "make=12 L")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(calc, arguments, catch_exceptions=False)


def test_alone_it_lists_every_helper_under_its_task() -> None:
    found = run()
    assert found.exit_code == 0
    blocks = {block.splitlines()[0]: block for block in found.stdout.split("\n\n")}
    for helper in HELPERS.values():
        assert f"\n  {helper.name} " in blocks[helper.task]


def test_help_alone_lists_the_options_too() -> None:
    found = run("--help")
    assert found.exit_code == 0
    assert "--working" in found.stdout
    assert "line-volume" in found.stdout


@pytest.mark.parametrize("name", HELPERS)
def test_help_of_a_helper_and_its_name_alone_explain_it(name: str) -> None:
    found = run(name)
    assert found.exit_code == 0
    assert run(name, "--help").stdout == found.stdout
    headings = [line for line in found.stdout.splitlines()[1:] if line and not line.startswith(" ")]
    assert headings == ["Formula", "Arguments", "Results", "Limits", "Example", "Source"]
    for argument in HELPERS[name].arguments:
        assert f"\n  {argument.name}: " in found.stdout


def test_formula_is_shown_in_each_of_its_forms() -> None:
    lines = run("dilute").stdout.splitlines()
    start = lines.index("Formula")
    assert lines[start + 1 : start + 4] == [
        "  stock_volume = make \u00d7 target \u00f7 stock",
        "  water_volume = make \u2212 stock_volume",
        "  stock_volume = make \u00d7 target \u00f7 (stock \u00d7 stock_density)",
    ]


def test_text_shows_metric_and_us_customary_side_by_side() -> None:
    found = run(*DILUTION)
    assert (found.exit_code, found.stderr) == (0, "")
    # 1200 / 29.5735295625 = 40.57682; 10.8 / 3.785411784 = 2.853058
    assert found.stdout.splitlines() == [
        "stock_volume  1.2 L (\u2248 40.5768 US fl oz)  stock to measure out",
        "water_volume  10.8 L (\u2248 2.85306 US gal)  water to start with, about; then make up to the mark",
    ]


def test_text_of_a_value_that_is_cut_says_so() -> None:
    found = run("dilute", "stock=7 %v/v", "target=1 %v/v", "make=10 US gal")
    # 10 / 7 US gal = 1.428571; * 3.785411784 L = 5.407731
    assert found.stdout.startswith("stock_volume  \u2248 1.42857 US gal (\u2248 5.40773 L)  ")


def test_working_is_shown_when_asked_for() -> None:
    assert run(*DILUTION, "--working").stdout.splitlines()[2:] == [
        "",
        "stock_volume = make \u00d7 target \u00f7 stock",
        "= 12 L \u00d7 40 g/L \u00f7 400 g/L",
        "= 1.2 L",
        "water_volume = make \u2212 stock_volume",
        "= 12 L \u2212 1.2 L",
        "= 10.8 L",
    ]


def test_json_holds_exact_values_and_the_working() -> None:
    found = json.loads(run(*DILUTION, "--json").stdout)
    assert list(found) == ["helper", "results", "working"]
    assert found["helper"] == "dilute"
    assert found["results"] == {
        "stock_volume": {"value": "1.2", "unit": "L"},
        "water_volume": {"value": "10.8", "unit": "L"},
    }
    assert found["working"][2] == "= 1.2 L"


def test_json_of_a_value_that_does_not_end_has_thirty_digits() -> None:
    found = json.loads(run("dilute", "stock=7 %v/v", "target=1 %v/v", "make=10 L", "--json").stdout)
    assert found["results"]["stock_volume"] == {"value": "1.42857142857142857142857142857", "unit": "L"}  # 10 / 7


@pytest.mark.parametrize("name", [name for name in HELPERS if name != "scale-recipe"])
def test_example_in_the_documentation_gives_what_it_says(name: str) -> None:
    *command, outcome = HELPERS[name].documentation.sections["Example"].splitlines()
    program, verb, *arguments = shlex.split(" ".join(line.removesuffix("\\") for line in command))
    assert (program, verb) == ("tankside", "calc")
    lines = [re.split(" {2,}", line) for line in run(*arguments).stdout.splitlines()]
    shown = {result: value.partition(" (")[0] for result, value, *_ in lines}
    assert dict(part.split(" ", 1) for part in outcome.split(", ")) == shown


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Path, str]]:
    """A book with one product in place of the real one; gives back what was asked of it."""
    calls: list[tuple[Path, str]] = []
    water = Ingredient("water", parse_quantity("80 %w/w"), parse_quantity("1 kg/L"))
    acid = Ingredient("acid", parse_quantity("20 %w/w"), parse_quantity("1.25 kg/L"))

    def recipe_from_folder(book: Path, product: str) -> Recipe:
        calls.append((book, product))
        return Recipe(product, parse_quantity("1.05 kg/L"), (water, acid))

    monkeypatch.setattr("tankside.compute.recipes.recipe_from_folder", recipe_from_folder)
    return calls


def test_recipe_comes_from_the_book_that_is_named(asked: list[tuple[Path, str]], tmp_path: Path) -> None:
    found = run("scale-recipe", "product=descaler", "make=100 kg", "--book", str(tmp_path), "--json")
    assert asked == [(tmp_path, "descaler")]
    # 100 kg * 0.8, / 1 kg/L; 100 kg * 0.2, / 1.25 kg/L
    assert json.loads(found.stdout)["results"] == {
        "water.mass": {"value": "80", "unit": "kg"},
        "water.volume": {"value": "80", "unit": "L"},
        "acid.mass": {"value": "20", "unit": "kg"},
        "acid.volume": {"value": "16", "unit": "L"},
    }


def test_recipe_comes_from_this_folder_when_none_is_named(asked: list[tuple[Path, str]]) -> None:
    assert run("scale-recipe", "product=descaler", "make=100 kg").exit_code == 0
    assert asked == [(Path(), "descaler")]


def test_product_the_book_does_not_know_is_refused_with_the_problem(monkeypatch: pytest.MonkeyPatch) -> None:
    problem = Problem(Span("product"), "name-unknown", "'nosuch' is not a known product", "products are descaler")

    def recipe_from_folder(book: Path, product: str) -> Recipe:
        raise CannotWorkOutError(problem)

    monkeypatch.setattr("tankside.compute.recipes.recipe_from_folder", recipe_from_folder)
    found = run("scale-recipe", "product=nosuch", "make=100 kg")
    assert (found.exit_code, found.stdout) == (2, "")
    assert found.stderr == (
        "product:1:1: error: 'nosuch' is not a known product [name-unknown]\n    hint: products are descaler\n"
    )


def test_folder_without_a_book_is_refused(tmp_path: Path) -> None:
    found = run("scale-recipe", "product=descaler", "make=100 kg", "--book", str(tmp_path))
    assert (found.exit_code, found.stdout) == (2, "")
    assert ": error: " in found.stderr


@pytest.mark.parametrize(
    ("arguments", "sentence", "hint"),
    [
        (("dillute",), "there is no helper 'dillute' [helper-unknown]", "write dilute"),
        (("dilute", "stock=1 g/L"), "'dilute' needs target [argument-missing]", 'add target="40 g/L"'),
        ((*DILUTION, "stokc=1 g/L"), "'dilute' has no argument 'stokc' [argument-unknown]", "write stock"),
        ((*DILUTION, "make=1 L"), "'dilute' was given make twice [argument-twice]", "write make once"),
        (
            (*DILUTION, "12"),
            "'12' does not say which argument it is for [argument-form]",
            'write NAME="VALUE UNIT"',
        ),
        (
            (*DILUTION[:3], "make=12 gal"),
            "unit 'gal' of make '12 gal' does not name one size [unit-ambiguous]",
            "write 'US gal' or 'UK gal'",
        ),
        ((*DILUTION[:3], "make=12 ml"), "unit 'ml' of make '12 ml' is not known [unit-unknown]", "write 'mL'"),
        (
            (*DILUTION[:3], "make=1,2 L"),
            "make '1,2 L' does not begin with a plain decimal number [number-form]",
            "leave commas out and use '.' as the decimal mark",
        ),
        (
            (*DILUTION[:3], "make=12"),
            "make '12' has no unit [unit-missing]",
            "write the unit after the number, for example '12 L'",
        ),
        (
            ("dilute", "stock=5 %", "target=1 g/L", "make=12 L"),
            "stock '5 %' does not say what kind of strength it is [strength-kind-missing]",
            "write %w/w (by mass), %w/v (mass per volume) or %v/v (by volume)",
        ),
        (
            ("line-volume", "bore=5 kg", "length=1 m"),
            "bore '5 kg' is of the kind mass, not length [unit-wrong-kind]",
            "write mm, cm, m, in or ft",
        ),
        (
            ("flush-volume", "volume=1 L", "remaining=100 %"),
            "remaining '100 %' is not above 0 % and below 100 % [out-of-domain]",
            "give remaining a value above 0 % and below 100 %",
        ),
    ],
)
def test_wrong_input_is_refused_in_a_sentence_with_a_way_out(
    arguments: tuple[str, ...], sentence: str, hint: str
) -> None:
    for options in ((), ("--json",)):
        found = run(*arguments, *options, *(() if len(arguments) > 1 else ("a=1",)))
        assert (found.exit_code, found.stdout) == (2, "")
        assert found.stderr == f"error: {sentence}\n    hint: {hint}\n"
