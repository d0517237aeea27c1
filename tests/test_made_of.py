"""What a piece is made of, read out of a sentence."""

import pytest

from tankside.audit.reading.construction import attacked_in


@pytest.mark.parametrize(
    ("made_of", "attacks"),
    [
        ("Aluminum", "aluminium"),
        ("Shaft of stainless steel", "iron"),
        ("Shaft of stainless steel", "nickel"),
        ("Brass fittings", "zinc"),
        ("Galvanized drum", "zinc"),
        ("Metal housing", "copper"),
        ("No metal in the liquid. Bung of brass", "copper"),
        ("PP, nickel-free; a spring of steel", "iron"),
        ("Bolts of steel, no copper", "iron"),
    ],
)
def test_what_is_there_is_found(made_of: str, attacks: str) -> None:
    assert attacked_in(made_of, attacks)


@pytest.mark.parametrize(
    ("made_of", "attacks"),
    [
        ("HDPE, welded. No nickel, copper, cobalt, iron or aluminium touches the liquid", "copper"),
        ("PP with ceramic shaft and EPDM seals, magnetic drive, no metal in the liquid", "iron"),
        ("Shaft sheathed in PP, impeller of PP, no bare metal in the liquid", "nickel"),
        ("Stainless steel", "aluminium"),
        ("PP, nickel-free", "nickel"),
        ("Without steel or brass", "zinc"),
        ("PP free of tin", "tin"),
        ("Glass fibre, 0.75 mm", "zinc"),
        ("Platinum", "tin"),
    ],
)
def test_what_is_not_there_is_not_found(made_of: str, attacks: str) -> None:
    assert not attacked_in(made_of, attacks)
