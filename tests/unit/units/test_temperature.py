import pytest

from setwell.errors import OutOfRangeError, UnitError
from setwell.units import temperature_change_print, temperature_parse, temperature_print


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("85 °C", 85), ("85C", 85), ("85 c", 85), ("185F", 85), ("185 °F", 85), ("85º C", 85),
        ("85℃", 85), ("-18 °C", -18), ("−18 °C", -18), ("185 degrees Fahrenheit", 85),
        ("4,5 °C", 4.5),
    ],
)  # fmt: skip
def test_temperature_is_read_in_celsius(text, celsius):
    assert temperature_parse(text) == pytest.approx(celsius)


def test_bare_temperature_asks_for_the_scale():
    with pytest.raises(UnitError) as refusal:
        temperature_parse("85")
    assert str(refusal.value) == '"85" does not say °C or °F. Write 85 °C or 85 °F.'


def test_a_word_is_told_from_a_bare_number():
    with pytest.raises(UnitError) as refusal:
        temperature_parse("hot")
    assert str(refusal.value) == '"hot" is not a temperature. Write it like 85 °C or 185 °F.'


def test_impossible_temperature_is_refused_with_the_limits():
    with pytest.raises(OutOfRangeError) as refusal:
        temperature_parse("900 °C")
    assert str(refusal.value) == (
        "900 °C (1652 °F) is outside -80 to 250 °C (-112 to 482 °F). "
        "Check the number and whether it is °C or °F."
    )


@pytest.mark.parametrize(
    ("celsius", "printed"),
    [
        (85, "85 °C (185 °F)"),
        (71.1, "71.1 °C (160 °F)"),
        (4, "4 °C (39 °F)"),
        (-0.01, "0 °C (32 °F)"),
        (-18, "-18 °C (0 °F)"),
    ],
)
def test_temperature_is_printed_in_both_scales(celsius, printed):
    assert temperature_print(celsius) == printed


def test_difference_is_printed_without_the_offset():
    assert temperature_change_print(5) == "5 °C (9 °F)"
