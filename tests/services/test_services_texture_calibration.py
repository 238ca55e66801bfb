"""What readings move in a formula: by lot and base, with disputes named, before and after."""

from math import exp

import pytest
from builders_kitchen import formula_of, lot_of

from setwell.domain.reading import VersionReading
from setwell.domain.texture_reading import LotCheck, TextureReading
from setwell.engine.assess import bench_build
from setwell.engine.word_places import Edges, WordRegion
from setwell.services import pantry
from setwell.services.assessment import formula_assess
from setwell.services.formulas import formula_create
from setwell.services.lot_checks import lot_check_record
from setwell.services.readings import version_reading_record
from setwell.services.texture_calibration import before_after, corrections_for
from setwell.services.texture_readings import (
    texture_reading_record,
    texture_reading_set_aside,
    texture_reading_take_back,
)

pytestmark = pytest.mark.django_db

KAPPA = "kappa_carrageenan"
WATER = formula_of(
    "Water gel",
    ingredients="98 g deionized water\n1.5 g kappa carrageenan\n0.3 g potassium chloride\n",
)
AGAR = formula_of("Agar", ingredients="99 g deionized water\n1 g agar\n")


@pytest.fixture
def milk():
    return formula_create(formula=formula_of()).formula_id


def usual(formula=None):
    """Grams that the tables expect 4 mm deep under a plunger of 12.7 mm."""
    modulus = bench_build(formula or formula_of()).state.texture.gel.modulus
    return 8 * float(modulus.value[0]) * 6.35e-3 * 4e-3 / 9.80665 * 1000


def record(formula_id, share, kind="firmness_press", **fields):
    """Record a press at this share of the usual grams, or another value as it is."""
    value = share * usual() if kind == "firmness_press" else share
    more = {"depth_mm": 4} if kind == "firmness_press" else {}
    document = TextureReading(**{"kind": kind, "value": value, **more, **fields})
    return texture_reading_record(formula_id=formula_id, number=1, document=document)


def strength(formula, **place):
    return corrections_for(formula=formula, **place).corrections[KAPPA].strength


def test_without_readings_nothing_is_moved_and_nothing_is_computed(query_counter):
    with query_counter() as queries:
        assert corrections_for(formula=formula_of()).is_empty
        assert before_after(formula=formula_of()) == ()
    assert len(queries) <= 4


def test_a_reading_moves_this_formula_towards_what_was_measured(milk):
    record(milk, 0.6, plus_minus=5)
    found = corrections_for(formula=formula_of(), formula_id=milk)
    (use,) = found.readings
    assert use.is_counted
    assert use.computed == pytest.approx(usual())
    moved = found.corrections[KAPPA].strength
    assert 0.6 < exp(moved.shift) < 0.9
    assert (moved.readings, moved.is_disputed) == (1, False)
    (row,) = found.rows
    assert (row.of_lot, row.of_base, row.base) == (1, 1, "dairy")
    assert row.posterior.low > row.prior.low
    assert row.posterior.high < row.prior.high
    assert "on 1 own measurement (" in row.sentence
    assert row.readings == (use,)


def test_before_and_after_give_the_numbers_themselves(milk):
    record(milk, 0.6, plus_minus=5)
    (row,) = before_after(formula=formula_of())
    assert row.calibrated.value == pytest.approx(row.computed.value * row.posterior.value)
    width = row.calibrated.high / row.calibrated.low
    assert width < row.computed.high / row.computed.low
    assert row.calibrated.evidence[0].source == "this_kitchen"
    assert row.computed.unit == "kPa"


def test_a_new_name_keeps_what_was_measured_and_a_new_dose_keeps_most(milk):
    record(milk, 0.6, plus_minus=5)
    same, renamed = strength(formula_of()), strength(formula_of("Another name"))
    sweeter = formula_of(ingredients="500 g whole milk\n40 g sugar\n0.4% kappa carrageenan\n")
    assert renamed == same
    assert same.shift < strength(sweeter).shift < 0
    assert same.half_width < strength(sweeter).half_width


def test_other_bases_learn_less_and_other_agents_nothing(milk):
    record(milk, 0.6, plus_minus=5)
    in_milk, in_water = strength(formula_of()), strength(WATER)
    assert in_milk.shift < in_water.shift < 0
    assert in_milk.half_width < in_water.half_width
    assert corrections_for(formula=AGAR).is_empty
    assert corrections_for(formula=AGAR).readings == ()


def test_another_lot_in_use_learns_less(milk):
    pantry.lot_save(id=None, document=lot_of("K-1", in_use=True))
    record(milk, 0.6, plus_minus=5)
    same = strength(formula_of())
    pantry.lot_save(id=None, document=lot_of("K-2", in_use=True))
    other = strength(formula_of())
    assert same.shift < other.shift < 0
    assert same.half_width < other.half_width


def test_a_reading_is_compared_with_the_lot_it_was_taken_of(milk):
    pantry.lot_save(id=None, document=lot_of("K-1", in_use=True, strength_factor=0.5))
    record(milk, 0.6)
    with_weak = corrections_for(formula=formula_of()).readings[0].computed
    pantry.lot_save(id=None, document=lot_of("K-2", in_use=True, strength_factor=1.0))
    assert corrections_for(formula=formula_of()).readings[0].computed == pytest.approx(with_weak)
    # With the entered strength gone, the model is asked again.
    (row,) = [row for row in pantry.lot_list() if row.lot.lot_code == "K-1"]
    pantry.lot_save(id=row.id, document=lot_of("K-1"))
    assert corrections_for(formula=formula_of()).readings[0].computed > 1.5 * with_weak


def test_a_reading_set_aside_is_shown_but_not_counted(milk):
    row_id = record(milk, 0.6)
    texture_reading_set_aside(id=row_id, reason="the cup fell")
    found = corrections_for(formula=formula_of())
    assert found.is_empty
    (use,) = found.readings
    assert not use.is_counted
    assert "the cup fell" in use.remark
    texture_reading_take_back(id=row_id)
    assert not corrections_for(formula=formula_of()).is_empty


def test_readings_in_conflict_are_named_with_what_to_do(milk):
    record(milk, 0.7, plus_minus=5)
    odd = record(milk, 1.6, plus_minus=5)
    found = corrections_for(formula=formula_of())
    (dispute,) = found.disputes
    shares = sorted(use.measured / use.computed for use in dispute.readings)
    assert shares == pytest.approx([0.7, 1.6])
    assert f"press {0.7 * usual():.4g} g (Milk gel, version 1)" in dispute.sentence
    assert dispute.sentence.endswith(f"They lie a factor of {1.6 / 0.7:.2g} apart.")
    assert "set one of them aside" in dispute.action
    moved = found.corrections[KAPPA].strength
    assert moved.is_disputed
    assert exp(moved.shift - moved.half_width) <= 0.7
    assert exp(moved.shift + moved.half_width) >= 1.6
    assert "contradict" in found.rows[0].sentence
    texture_reading_set_aside(id=odd, reason="cold cup")
    assert corrections_for(formula=formula_of()).disputes == ()


def test_temperatures_in_conflict_are_told_in_degrees(milk):
    record(milk, 40, kind="setting_temperature", plus_minus=1)
    record(milk, 52, kind="setting_temperature", plus_minus=1)
    (dispute,) = corrections_for(formula=formula_of()).disputes
    assert dispute.sentence.endswith("They lie 12 °C apart.")


def test_a_lone_reading_far_off_asks_for_one_more(milk):
    record(milk, 0.001, plus_minus=5)
    (dispute,) = corrections_for(formula=formula_of()).disputes
    assert "far from" in dispute.sentence
    assert dispute.sentence.endswith(f"The tables expect {usual():.3g} g.")
    assert dispute.action.startswith("Measure once more")
    (row,) = corrections_for(formula=formula_of()).rows
    assert row.sentence.endswith("far from what the tables expect: measure once more.")


def test_a_setting_temperature_moves_setting_alone(milk):
    record(milk, 50, kind="setting_temperature", plus_minus=1)
    found = corrections_for(formula=formula_of()).corrections[KAPPA]
    assert found.setting.shift > 0
    assert found.strength is None
    (row,) = before_after(formula=formula_of())
    assert row.calibrated.value == pytest.approx(row.computed.value + row.posterior.value)
    assert row.posterior.unit == "K"


def test_a_lot_check_bears_on_every_formula_with_that_lot(milk):
    pantry.lot_save(id=None, document=lot_of("K-1", in_use=True))
    lot_check_record(
        document=LotCheck(
            agent="kappa carrageenan", lot_code="K-1", kind="potassium_gel", values=(90, 95)
        )
    )
    found = corrections_for(formula=formula_of())
    assert found.corrections[KAPPA].strength.shift < 0
    (use,) = found.readings
    assert use.is_lot_check
    assert use.formula_id is None
    assert "lot K-1" in use.words
    assert found.rows[0].of_base == 0
    assert found.rows[0].of_lot == 1


def test_a_word_counts_where_the_map_has_a_place_for_it(milk):
    texture_reading_record(
        formula_id=milk, number=1, document=TextureReading(kind="word", word="silky")
    )
    assert corrections_for(formula=formula_of()).is_empty
    regions = {"silky": WordRegion(Edges(500.0, 5_000.0), Edges(0.1, 0.3))}
    found = corrections_for(formula=formula_of(), regions=regions)
    assert found.corrections[KAPPA].strain.shift < 0
    assert found.corrections[KAPPA].strain.readings == 1


def test_words_of_the_tables_count_by_themselves(milk):
    texture_reading_record(
        formula_id=milk, number=1, document=TextureReading(kind="word", word="spreadable")
    )
    assert strength(formula_of()).shift < 0


def test_a_reading_is_compared_at_the_ph_that_was_measured(milk):
    record(milk, 0.6)
    before = corrections_for(formula=formula_of()).readings[0].computed
    version_reading_record(formula_id=milk, number=1, document=VersionReading(ph=3.0))
    after = corrections_for(formula=formula_of()).readings[0].computed
    assert after is None or after < 0.9 * before


def test_a_sample_is_compared_as_warm_as_it_was(milk):
    record(milk, 0.6, temperature_c=4)
    record(milk, 0.6, temperature_c=30)
    warm, cold = corrections_for(formula=formula_of()).readings
    assert warm.computed < cold.computed


def test_an_outcome_the_model_had_ruled_out_is_marked(milk):
    texture_reading_record(
        formula_id=milk, number=1, document=TextureReading(kind="outcome", outcome="did_not_set")
    )
    (use,) = corrections_for(formula=formula_of()).readings
    assert use.contradicts
    assert not use.is_counted


def test_a_text_too_long_to_read_is_left_to_the_assessment(milk):
    record(milk, 0.6)
    long = formula_of(ingredients="1 g water\n" * 5_000)
    assert corrections_for(formula=long).is_empty


def test_readings_are_asked_of_the_engine_once(milk, query_counter):
    for share in (0.60, 0.62, 0.64):
        record(milk, share)
    corrections_for(formula=formula_of())
    with query_counter() as first:
        corrections_for(formula=formula_of())
    for share in (0.61, 0.63, 0.65, 0.66, 0.67):
        record(milk, share)
    corrections_for(formula=formula_of())
    with query_counter() as second:
        corrections_for(formula=formula_of())
    assert len(second) == len(first)


def test_an_assessment_counts_what_was_measured(milk):
    def modulus():
        return formula_assess(formula=formula_of()).agents[0].modulus_kpa

    before = modulus()
    row_id = record(milk, 0.6, plus_minus=5)
    after = modulus()
    assert after.value < 0.9 * before.value
    assert after.high / after.low < before.high / before.low
    texture_reading_set_aside(id=row_id, reason="cold cup")
    assert modulus() == before
