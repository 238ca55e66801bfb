"""A cold or frozen piece in the middle of a mold."""

import pytest
from builders_cooling import CUP, agar_milk, plain_milk, plan_of

from setwell.engine.heat.inclusions import with_inclusion
from setwell.errors import InputError


def piece(celsius, *, wide=25.0, bench=None):
    return with_inclusion(bench or agar_milk(), plan_of(CUP), piece_mm=wide, piece_c=celsius)


def test_a_frozen_piece_takes_more_than_a_cold_one():
    frozen, cold, warm = piece(-18.0), piece(4.0), piece(40.0)
    assert frozen.sooner_min.value > cold.sooner_min.value > warm.sooner_min.value > 0.0
    assert "sooner" in frozen.text


def test_a_piece_as_warm_as_the_pour_changes_hardly_anything():
    assert piece(90.0).sooner_min.value == pytest.approx(0.0, abs=1.0)


def test_heat_is_not_lost_the_core_ends_in_the_same_air():
    result = piece(-18.0)
    assert result.core.celsius[-1] == pytest.approx(result.plain.celsius[-1], abs=0.3)
    assert result.core.celsius[0] == pytest.approx(90.0, abs=0.5)


def test_a_frozen_piece_sets_a_shell():
    assert piece(-18.0).shell_mm.value > piece(60.0).shell_mm.value


def test_a_liquid_with_a_piece_is_read_at_room_temperature():
    assert "21 °C (70 °F)" in piece(4.0, bench=plain_milk()).text


@pytest.mark.parametrize(
    ("wide", "celsius", "field"), [(60.0, 4.0, "piece_mm"), (10.0, 95.0, "piece_c"),
                                   (10.0, -60.0, "piece_c"), (0.1, 4.0, "piece_mm")],
)  # fmt: skip
def test_pieces_that_cannot_be_are_refused(wide, celsius, field):
    with pytest.raises(InputError) as refused:
        piece(celsius, wide=wide)
    assert refused.value.field == field
