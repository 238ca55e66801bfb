"""A pH reading of an ingredient takes the place of its usual pH."""

import datetime as dt

import pytest

from setwell.domain.pantry import OwnFood, Pantry
from setwell.domain.reading import IngredientReading
from setwell.engine.catalog import catalog_build
from setwell.engine.food_materials import food_materials
from setwell.provenance import Citation, Grade


def catalog_of(*readings, **shelves):
    return catalog_build(Pantry(readings=readings, **shelves))


def ph_of(catalog, name):
    ph = catalog.find(name).material.ph
    return ph.low, ph.value, ph.high


def reading_of(material="lime juice", ph=2.9, **fields):
    return IngredientReading(material=material, ph=ph, **fields)


def test_a_reading_replaces_value_range_and_source():
    read = reading_of(lot_code="LJ-4", taken_on=dt.date(2026, 11, 20), plus_minus=0.1)
    catalog = catalog_of(read)
    material = catalog.find("lime juice").material
    assert ph_of(catalog, "lime juice") == pytest.approx((2.8, 2.9, 3.0))
    assert material.ph_citation == Citation(
        "this_kitchen", "pH reading, lot LJ-4, 20 Nov 2026", Grade.MEASURED
    )


def test_a_reading_without_lot_and_day_says_only_that_it_is_one():
    material = catalog_of(reading_of()).find("lime juice").material
    assert material.ph_citation.locator == "pH reading"


def test_the_usual_pH_stays_known_and_the_table_stays_as_it_is():  # noqa: N802 - pH

    plain = catalog_of().find("lime juice").material
    catalog = catalog_of(reading_of())
    measured = catalog.find("lime juice").material
    assert catalog.usual(measured) is food_materials()[measured.key] is plain

    other = catalog.find("whole milk").material
    assert catalog.usual(other) is other


def test_a_reading_out_of_use_does_not_count():
    assert ph_of(catalog_of(reading_of(in_use=False)), "lime juice") == ph_of(
        catalog_of(), "lime juice"
    )


@pytest.mark.parametrize("order", [1, -1])
def test_of_several_in_use_the_newest_counts(order):
    days = [None, dt.date(2026, 1, 5), dt.date(2026, 11, 5)][::order]
    readings = [reading_of(ph=3.0 + (day.month / 100 if day else 0), taken_on=day) for day in days]
    catalog = catalog_of(*readings)
    assert ph_of(catalog, "lime juice")[1] == pytest.approx(3.11)
    usual = catalog.usual(catalog.find("lime juice").material)
    assert usual.ph == catalog_of().find("lime juice").material.ph


def test_a_reading_belongs_to_what_its_name_means_on_a_line():
    own = OwnFood(name="Lime juice", ph=2.2, aliases=("lime must",))
    catalog = catalog_of(reading_of("lime musts"), foods=(own,))
    assert ph_of(catalog, "lime juice")[1] == 2.9
    assert catalog.usual(catalog.find("lime juice").material).ph.value == 2.2


def test_a_food_based_on_one_that_was_measured_keeps_its_own_pH():  # noqa: N802 - pH
    own = OwnFood(name="Our lime juice", based_on=catalog_of().find("lime juice").material.key)
    catalog = catalog_of(reading_of(), foods=(own,))
    assert ph_of(catalog, "our lime juice") == ph_of(catalog_of(), "lime juice")


def test_a_food_without_a_pH_gets_one():  # noqa: N802 - pH
    catalog = catalog_of(reading_of("koji paste"), foods=(OwnFood(name="Koji paste"),))
    assert ph_of(catalog, "koji paste")[1] == 2.9
    assert catalog.usual(catalog.find("koji paste").material).ph is None


def test_the_range_stays_within_the_scale_of_pH():  # noqa: N802 - pH
    assert ph_of(catalog_of(reading_of(ph=0.2, plus_minus=0.5)), "lime juice") == (0.0, 0.2, 0.7)
    assert ph_of(catalog_of(reading_of(ph=13.9, plus_minus=0.5)), "lime juice")[2] == 14.0


@pytest.mark.parametrize("name", ["moon dust", "agar"])
def test_a_reading_of_what_is_no_food_is_left_aside(name):
    catalog = catalog_of(reading_of(name))
    assert catalog.unmeasured == {}
    found = catalog.find(name)
    assert found is None or found.material.ph == catalog_of().find(name).material.ph
