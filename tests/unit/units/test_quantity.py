import pytest

from setwell.errors import InputError, OutOfRangeError, UnitError
from setwell.units import (
    UNITS,
    duration_parse,
    duration_print,
    mass_grams,
    mass_parse,
    quantity_parse,
    unit_find,
    volume_parse,
)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("350g", "g", 350), ("350 gr", "g", 350), ("1 1/2 cups", "cup", 1.5),
        ("2 Tbsp.", "tbsp", 2),
        ("2 tbl", "tbsp", 2),
        ("2 fl. oz.", "fl oz", 2), ("1 imp. pint", "imp pint", 1), ("3 U.S. cups", "cup", 3),
        ("1 metric cup", "metric cup", 1), ("2 lbs", "lb", 2), ("1 L", "L", 1), ("1 l", "L", 1),
        ("½ tsp", "tsp", 0.5), ("2 pinches", "pinch", 2), ("5 ㎖", "mL", 5),
    ],
)  # fmt: skip
def test_quantity_is_read_with_its_unit(text, unit, value):
    quantity = quantity_parse(text)
    assert (quantity.unit.name, quantity.value) == (unit, value)


def test_assumed_measures_say_so():
    assumed = {name for name, unit in UNITS.items() if unit.is_assumed}
    assert assumed == {"pinch", "dash", "stick"}
    assert UNITS["dash"].factor == pytest.approx(UNITS["tsp"].factor / 8, rel=1e-12)
    assert UNITS["pinch"].factor == pytest.approx(UNITS["tsp"].factor / 16, rel=1e-12)
    assert UNITS["stick"].factor == pytest.approx(113.4, abs=0.05)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("T", 'A capital "T" is easily confused with "t". Write tsp, tbsp, cup or g.'),
        ("t", 'A small "t" is easily confused with "T". Write tsp, tbsp, cup or g.'),
        ("c", '"c" can be a cup, a clove or a can. Write tsp, tbsp, cup or g.'),
        ("handful", '"handful" has no fixed size. Weigh it once and write grams.'),
        ("xyz", '"xyz" is not a known unit. Use g, kg, oz, lb, mL, L, tsp, tbsp or cup.'),
        ("imp cup", '"imp cup" is not a known unit. Use g, kg, oz, lb, mL, L, tsp, tbsp or cup.'),
    ],
)
def test_unclear_unit_is_refused(text, message):
    with pytest.raises(UnitError) as refusal:
        unit_find(text)
    assert str(refusal.value) == message


def test_number_without_unit_is_refused():
    with pytest.raises(UnitError, match=r'^"80" has no unit\. Write 80 g or 80 mL\.$'):
        volume_parse("80")


def test_mass_where_a_volume_belongs_is_refused():
    with pytest.raises(UnitError, match=r'^"80 g" is not a volume\. Write it like 80 mL\.$'):
        volume_parse("80 g")


def test_too_much_is_refused():
    with pytest.raises(OutOfRangeError, match=r'^"2000 kg" is more than 1000 kg\. Check the unit'):
        mass_parse("2000 kg")


def test_volume_name_is_not_a_mass():
    with pytest.raises(UnitError, match=r'^"cup" is not a unit of mass'):
        mass_grams(1, "cup")


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("90 s", 1.5),
        ("2 min", 2),
        ("1 h 30 min", 90),
        ("1 1/2 h", 90),
        ("4 hours", 240),
        ("2d", 2880),
    ],
)
def test_time_is_read_in_minutes(text, minutes):
    assert duration_parse(text) == minutes


@pytest.mark.parametrize("text", ["", "2", "10-15 min", "soon", "-2 min", "9999999 h"])
def test_unclear_time_is_refused(text):
    with pytest.raises(InputError):
        duration_parse(text)


@pytest.mark.parametrize(
    ("minutes", "printed"),
    [
        (0.5, "30 s"),
        (2, "2 min"),
        (90, "1 h 30 min"),
        (240, "4 h"),
        (2880, "2 d"),
        (2.5, "2.5 min"),
    ],
)
def test_time_is_printed(minutes, printed):
    assert duration_print(minutes) == printed
