"""How the powder meets the liquid decides how much of it clumps."""

import pytest
from builders_engine import assess_of

from setwell.domain.steps import steps_parse
from setwell.engine.dispersal import Way, way_of

HOT = "Heat to 90 °C, stirring, and hold for 5 min\nChill"


@pytest.mark.parametrize(
    ("steps", "hints", "way"),
    [
        ("Disperse the powder in the sugar", (), Way.DRY_BLENDED),
        ("Dry blend with the milk powder", (), Way.DRY_BLENDED),
        ("Disperse in a little oil", (), Way.SLURRY),
        ("Make a slurry with the rum", (), Way.SLURRY),
        ("Blend 2 min", (), Way.BLENDER),
        ("Sprinkle over the milk", (), Way.SPRINKLED),
        ("Sprinkle over the milk and disperse with the sugar", (), Way.DRY_BLENDED),
        ("Disperse in the cold milk", (), Way.APART),
        ("Heat to 90 °C", ("slurry",), Way.SLURRY),
        ("Heat to 90 °C", ("dry_blend",), Way.DRY_BLENDED),
        ("Heat to 90 °C", ("disperse",), Way.APART),
        ("Heat to 90 °C", (), Way.POURED),
    ],
)
def test_lines_and_steps_tell_the_way(steps, hints, way):
    assert way_of(steps_parse(steps), frozenset(hints), is_carried=False) is way


def test_a_line_that_carries_the_powder_counts_as_a_dry_blend():
    assert way_of(steps_parse(HOT), frozenset(), is_carried=True) is Way.DRY_BLENDED


def test_the_worse_it_is_wetted_the_more_clumps():
    # Common practice, no source: powders that touch hot liquid dry make lumps that never dissolve.
    def dissolved(first):
        steps = f"{first}\n{HOT}" if first else HOT
        return assess_of("500 g water", "5 g guar gum", steps=steps).agents[0].hydrated_fraction

    ways = ("Blend 2 min", "Disperse in the sugar", "Sprinkle over the water", "")
    shares = [dissolved(way).value for way in ways]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > shares[-1]
