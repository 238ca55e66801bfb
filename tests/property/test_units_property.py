from hypothesis import given
from hypothesis import strategies as st

from setwell.units import (
    MASS_UNITS,
    UNITS,
    VOLUME_UNITS,
    NumberFault,
    celsius_from_fahrenheit,
    fahrenheit_from_celsius,
    mass_grams,
    mass_in,
    number_parse,
    number_print,
    number_read,
    quantity_parse,
    temperature_parse,
    temperature_print,
    text_clean,
    volume_in,
    volume_milliliters,
)

amounts = st.floats(min_value=1e-3, max_value=1e6)


def _is_close(first, second):
    return abs(first - second) <= 1e-9 * max(1.0, abs(second))


@given(amounts, st.sampled_from(sorted(MASS_UNITS)))
def test_mass_survives_the_way_there_and_back(value, unit):
    assert _is_close(mass_in(mass_grams(value, unit), unit), value)


@given(amounts, st.sampled_from(sorted(VOLUME_UNITS)))
def test_volume_survives_the_way_there_and_back(value, unit):
    assert _is_close(volume_in(volume_milliliters(value, unit), unit), value)


@given(st.floats(min_value=-80, max_value=250))
def test_temperature_survives_the_way_there_and_back(celsius):
    assert _is_close(celsius_from_fahrenheit(fahrenheit_from_celsius(celsius)), celsius)


@given(st.integers(min_value=-800, max_value=2500).map(lambda tenths: tenths / 10))
def test_printed_temperature_reads_back(celsius):
    assert temperature_parse(temperature_print(celsius).split(" (")[0]) == celsius


@given(st.decimals(min_value=0, max_value=999, places=4))
def test_printed_number_reads_back(value):
    assert number_parse(number_print(float(value))) == float(value)
    assert number_parse(number_print(float(value), has_fractions=True)) == float(value)


@given(st.integers(0, 99), st.integers(1, 16), st.integers(1, 16))
def test_fraction_reads_as_its_quotient(whole, top, bottom):
    if top < bottom:
        assert number_parse(f"{whole} {top}/{bottom}") == whole + top / bottom


@given(st.sampled_from(sorted(UNITS)), st.integers(1, 999))
def test_every_unit_name_and_plural_is_read(name, value):
    unit = UNITS[name]
    assert quantity_parse(f"{value} {name}").unit is unit
    assert quantity_parse(f"{value} {unit.plural.upper()}").unit is unit


@given(st.text(max_size=60))
def test_any_text_is_a_number_or_refused_in_words(text):
    found = number_read(text)
    if isinstance(found, NumberFault):
        assert found.message
        assert found.hint
    else:
        assert 0 <= found < 1e9


@given(st.text(max_size=100))
def test_cleaned_text_has_single_spaces_only(text):
    once = text_clean(text)
    assert "  " not in once
    assert once == once.strip()
