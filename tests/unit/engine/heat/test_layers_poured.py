"""A second layer on a set one."""

import pytest
from builders_cooling import TRAY, agar_milk, gelatin_juice, plain_milk, plan_of

from setwell.engine.heat.layers import pour_layers
from setwell.engine.verdict import Verdict
from setwell.errors import InputError


def layers(lower, upper, *, lower_c=4.0, upper_c=40.0, lower_mm=10.0, upper_mm=10.0):
    return pour_layers(
        lower, upper, plan_of(TRAY),
        lower_mm=lower_mm, upper_mm=upper_mm, lower_c=lower_c, upper_c=upper_c,
    )  # fmt: skip


def test_alike_layers_meet_halfway():
    result = layers(gelatin_juice(), gelatin_juice(), lower_c=4.0, upper_c=30.0)
    assert result.contact_c.value == pytest.approx(17.0, abs=0.5)
    assert result.seam.celsius[0] == pytest.approx(result.contact_c.value, abs=0.2)


def test_hot_agar_melts_gelatin_below_and_has_no_window():
    result = layers(gelatin_juice(), agar_milk(), upper_c=70.0)
    assert result.lower_melts is Verdict.YES
    assert result.melted_mm.value > 1.0
    assert result.window_c is None
    (told,) = result.advice
    assert told.code == "no_pour_window"


def test_gelatin_on_agar_is_safe():
    result = layers(agar_milk(), gelatin_juice(), upper_c=45.0)
    assert result.lower_melts is Verdict.NO
    assert result.melted_mm.value == 0.0
    assert result.window_c is not None
    assert result.window_c[1] == pytest.approx(95.0)
    assert result.advice[0].code == "pour_window"


def test_gelatin_on_gelatin_has_a_narrow_window():
    result = layers(gelatin_juice(), gelatin_juice(), upper_c=55.0)
    assert result.window_c is not None
    least, most = result.window_c
    assert least < most < 45.0
    assert result.advice[0].code == "pour_outside_window"
    inside = layers(gelatin_juice(), gelatin_juice(), upper_c=(least + most) / 2)
    assert inside.lower_melts is not Verdict.YES
    assert inside.advice[0].code == "pour_window"


def test_a_thicker_and_a_hotter_pour_melts_deeper():
    shallow = layers(gelatin_juice(), agar_milk(), upper_c=60.0)
    hotter = layers(gelatin_juice(), agar_milk(), upper_c=80.0)
    thicker = layers(gelatin_juice(), agar_milk(), upper_c=60.0, upper_mm=20.0)
    assert shallow.melted_mm.value < hotter.melted_mm.value
    assert shallow.melted_mm.value < thicker.melted_mm.value
    for one in (shallow, hotter, thicker):
        assert one.melted_mm.low <= one.melted_mm.value <= one.melted_mm.high <= 10.0


def test_nothing_is_poured_onto_a_liquid():
    with pytest.raises(InputError, match="does not set"):
        layers(plain_milk(), agar_milk())


def test_a_layer_without_thickness_is_refused_at_its_field():
    with pytest.raises(InputError) as refused:
        layers(agar_milk(), agar_milk(), upper_mm=0.0)
    assert refused.value.field == "upper_mm"
