"""The benchmark of the dry run: its procedures are as long as they say and right, and it runs. No time is judged."""

import pytest
from benchmark.dry_run import KINDS, PLANT, case, main
from random_plants import NAME, Item


def counted(steps: list[Item]) -> int:
    inner = (answer["steps"] for step in steps for answer in step.get("branches", ()))
    return len(steps) + sum(map(counted, inner))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("steps", "choices"), [(10, 1), (60, 8), (240, 2)])
def test_procedure_has_its_steps_and_is_not_refuted(kind: str, steps: int, choices: int) -> None:
    measured = case(kind, steps, choices)
    assert counted(measured.procedure["steps"]) == steps
    run = measured.rehearsal().of(NAME)
    assert run.findings == []
    # each step in one state where both answers lead to the same
    assert run.visited == steps if kind == "same" else run.visited >= steps
    assert len(PLANT) + 1 == len(measured.book().plant.equipment.equipment) == 21


def test_benchmark_prints_a_row_for_each_procedure(capsys: pytest.CaptureFixture[str]) -> None:
    main(["--most-steps", "10", "--seconds", "0"])
    _, _, headings, *rows = capsys.readouterr().out.splitlines()
    assert headings.startswith("answers lead to  steps  choices  states")
    assert [line.split()[:3] for line in rows] == [[kind, "10", "1"] for kind in KINDS]
