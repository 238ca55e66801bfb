"""Whatever is on the shelves, an exported file brings it back unchanged."""

import datetime as dt

import pytest
from django.db import transaction
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.domain.document import Document
from setwell.domain.equipment import Cooler, CoolerKind, Hob, HobKind, WallMaterial
from setwell.domain.pantry import Answer, Lot, Mold, OwnAgent, OwnFood, Price, Vessel
from setwell.domain.reading import IngredientReading
from setwell.engine.material import NUTRIENT_KEYS
from setwell.services.pantry import pantry_export_csv, pantry_import_csv
from setwell.services.pantry_checks import tidied
from setwell.services.shelves import (
    AGENTS,
    COOLERS,
    FOODS,
    HOBS,
    LOTS,
    MOLDS,
    PRICES,
    READINGS,
    VESSELS,
)

pytestmark = pytest.mark.django_db

SAVED_AT = dt.datetime(2026, 11, 1, tzinfo=dt.UTC)
AWKWARD = st.sampled_from(
    ["=1+1", "'", ";", "\\", '"', ",", "none", "a;b", "a\\;b", "@x", "-", "\n"]
)
TEXT = st.lists(
    AWKWARD
    | st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=8),
    max_size=4,
).map("".join)
NAME = st.tuples(st.sampled_from("abcXYZ09é"), TEXT).map(lambda pair: "".join(pair)[:100])
AMOUNT = st.none() | st.floats(0, 1e7, allow_nan=False).map(lambda value: value + 0.0)
SIZE = st.floats(0.001, 1e7, allow_nan=False)
WORDS = st.lists(NAME, max_size=3).map(tuple)

FOOD = st.builds(
    OwnFood,
    name=NAME,
    based_on=st.sampled_from(["", "milk_whole"]),
    aliases=WORDS,
    nutrients=st.dictionaries(st.sampled_from(NUTRIENT_KEYS), st.floats(0, 4), max_size=6),
    density_g_ml=st.none() | SIZE,
    each_g=st.none() | SIZE,
    ph=st.none() | st.floats(0, 14),
    allergens=st.none() | WORDS,
    vegan=st.none() | st.sampled_from(Answer),
    vegetarian=st.none() | st.sampled_from(Answer),
    price_per_kg=AMOUNT,
    note=TEXT,
)
AGENT = st.builds(
    OwnAgent,
    name=NAME,
    based_on=st.sampled_from(["agar", "kappa carrageenan"]),
    aliases=WORDS,
    strength_factor=st.floats(0.01, 10),
    bloom=st.none() | st.floats(30, 400),
    dose_low_pct=AMOUNT,
    price_per_kg=AMOUNT,
    note=TEXT,
)
LOT = st.builds(
    Lot,
    agent=st.just("agar"),
    lot_code=NAME,
    supplier=TEXT,
    strength_factor=st.floats(0.01, 10),
    best_before=st.none() | st.dates(),
    price_per_kg=AMOUNT,
    note=TEXT,
)
PRICE = st.builds(
    Price, material=st.sampled_from(["sugar", "whole milk"]), price_per_kg=st.floats(0, 1e7)
)
LENGTH = st.none() | st.floats(0.1, 2_000)
WALL = st.none() | st.sampled_from(WallMaterial)
MOLD = st.builds(
    Mold,
    name=NAME,
    shape=TEXT,
    volume_ml=SIZE,
    count=st.integers(1, 999),
    # Lengths that contradict the volume are refused, so none of the sides of a tray here.
    wall=WALL,
    wall_mm=st.none() | st.floats(0.1, 50),
    headspace_mm=st.floats(0, 200).map(lambda value: value + 0.0),
    lid=st.booleans(),
    note=TEXT,
)
VESSEL = st.builds(
    Vessel,
    name=NAME,
    volume_ml=SIZE,
    diameter_mm=LENGTH,
    wall=WALL,
    lid=st.booleans(),
    note=TEXT,
)
HOB = st.builds(
    Hob,
    name=NAME,
    kind=st.sampled_from(HobKind),
    power_w=st.floats(50, 50_000),
    efficiency=st.none() | st.floats(0.03, 1),
    measured=TEXT,
    note=TEXT,
)
COOLER = st.builds(
    Cooler,
    name=NAME,
    kind=st.sampled_from(CoolerKind),
    air_c=st.floats(-60, 130).map(lambda value: value + 0.0),
    coefficient_w_m2k=st.none() | st.floats(1, 2_000),
    inside_l=st.none() | SIZE,
    measured=TEXT,
    note=TEXT,
)
READING = st.builds(
    IngredientReading,
    material=st.sampled_from(["lime juice", "whole milk"]),
    ph=st.floats(0, 14).map(lambda value: value + 0.0),
    plus_minus=st.floats(0.01, 1),
    lot_code=TEXT,
    taken_on=st.none() | st.dates(),
    temperature_c=st.none() | st.floats(-40, 120).map(lambda value: value + 0.0),
    # One reading of a food is in use, so that several would not come back as they were.
    in_use=st.just(False),
    note=TEXT,
)

SHELVES = [
    (FOODS, FOOD), (AGENTS, AGENT), (LOTS, LOT), (PRICES, PRICE), (MOLDS, MOLD), (VESSELS, VESSEL),
    (HOBS, HOB), (COOLERS, COOLER), (READINGS, READING),
]  # fmt: skip


@pytest.mark.parametrize(("shelf", "documents"), SHELVES, ids=lambda x: getattr(x, "entity", ""))
@settings(max_examples=40)
@given(data=st.data())
def test_an_exported_shelf_comes_back_as_it_was(shelf, documents, data) -> None:
    drawn: list[Document] = data.draw(st.lists(documents, max_size=4))
    kept = {shelf.name_of(tidied(one)).casefold(): tidied(one) for one in drawn}
    with transaction.atomic():
        shelf.put_all(kept.values(), saved_at=SAVED_AT)
        before = shelf.documents()
        exported = pantry_export_csv(entity=shelf.entity.value).encode()
        for row_id, _ in shelf.all():
            shelf.remove(row_id)
        report = pantry_import_csv(entity=shelf.entity.value, data=exported)
        assert report.problems == ()
        assert shelf.documents() == before
        again = pantry_import_csv(entity=shelf.entity.value, data=exported)
        assert (again.added, again.updated) == (0, len(before))
        assert shelf.documents() == before
        transaction.set_rollback(True)
