"""A reading beside the engine: which number it is compared with, and who answers for it."""

from math import exp, log

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.domain.pantry import Lot, OwnAgent, Pantry
from setwell.domain.texture_reading import LotCheck, TextureReading
from setwell.engine.assess import bench_build
from setwell.engine.bases import Base, base_of
from setwell.engine.batch_marks import lots_of, recipe_of
from setwell.engine.catalog import catalog_build
from setwell.engine.gelling.doubt import Correction, Corrections
from setwell.engine.texture_observations import (
    compare_reading,
    measured_of,
    measured_of_check,
    penetration_factor,
)
from setwell.engine.texture_unknowns import Quantity
from setwell.engine.word_places import Edges, WordRegion, word_regions, word_told

KAPPA, LAMBDA = "kappa_carrageenan", "lambda_carrageenan"
BOILED = "Whisk the powder into the cold liquid.\nBring to a boil, stirring.\nChill to 20 °C."
WATER_GEL = ("98.3 g deionized water", "1.5 g kappa carrageenan", "0.2 g potassium chloride")


def bench_of(*lines, steps=BOILED, pantry=None, corrections=None):
    catalog = catalog_build(pantry) if pantry else None
    return bench_build(formula_of(*lines, steps=steps), catalog=catalog, corrections=corrections)


def compared(bench, region=None, lots=None, **fields):
    reading = TextureReading(**fields)
    return compare_reading(
        measured_of(reading), bench, key="version:1", lots=lots or lots_of(bench), region=region
    )


def only(comparison):
    (one,) = comparison.observations
    return one


@pytest.mark.parametrize(
    ("lines", "base"),
    [
        (("100 g deionized water", "1 g agar"), Base.WATERY),
        (("100 g whole milk", "0.5 g kappa carrageenan"), Base.DAIRY),
        (("100 g deionized water", "60 g sugar", "1 g agar"), Base.SUGAR_RICH),
        (("100 g deionized water", "3 g salt", "1 g agar"), Base.SALTY),
        (("100 g lemon juice", "1 g agar"), Base.ACID),
        (("60 g water", "40 g vodka", "1 g agar"), Base.ALCOHOLIC),
        # What destroys a gel comes before what strengthens it.
        (("100 g lemon juice", "60 g sugar", "3 g salt", "1 g agar"), Base.ACID),
        (("100 g whole milk", "60 g sugar", "0.5 g kappa carrageenan"), Base.DAIRY),
    ],
)
def test_a_base_is_named_by_the_first_rule_that_holds(lines, base):
    assert base_of(bench_of(*lines).state) is base


def test_a_press_reads_the_modulus_the_engine_computed():
    bench = bench_of(*WATER_GEL)
    modulus = float(bench.state.texture.gel.modulus.value[0])
    grams = 8 * modulus * 6.35e-3 * 4e-3 / 9.80665 * 1000
    found = compared(bench, kind="firmness_press", value=grams, depth_mm=4)
    assert only(found).value == pytest.approx(0.0, abs=1e-9)
    assert found.computed == pytest.approx(grams)
    assert [part.quantity for part in only(found).parts] == [Quantity.STRENGTH]


def test_twice_the_grams_are_twice_the_strength():
    bench = bench_of(*WATER_GEL)
    one = only(compared(bench, kind="penetration", value=200))
    two = only(compared(bench, kind="penetration", value=400))
    assert two.value - one.value == pytest.approx(log(2))
    assert two.variance == one.variance
    assert two.method == "penetration"


def test_a_penetration_is_stress_at_break_times_the_plunger_factor():
    bench = bench_of(*WATER_GEL)
    stress = float(bench.state.texture.gel.fracture_stress.value[0])
    area = np.pi * (5.64e-3) ** 2
    grams = penetration_factor(bench) * stress * area / 9.80665 * 1000
    found = compared(bench, kind="penetration", value=grams, plunger_mm=11.28)
    assert only(found).value == pytest.approx(0.0, abs=1e-9)
    assert [part.quantity for part in only(found).parts] == [Quantity.STRENGTH, Quantity.STRAIN]
    doubt = bench.state.agents[KAPPA].doubt
    half_widths = [float(np.ravel(one)[0]) for one in (doubt.strength, doubt.strain)]
    assert [part.half_width for part in only(found).parts] == pytest.approx(half_widths)


def test_correcting_the_engine_by_a_reading_reproduces_the_reading():
    bench = bench_of(*WATER_GEL)
    off = only(compared(bench, kind="firmness_press", value=90, depth_mm=4)).value
    corrected = bench_of(
        *WATER_GEL, corrections={KAPPA: Corrections(strength=Correction(off, 0.1, 1))}
    )
    again = only(compared(corrected, kind="firmness_press", value=90, depth_mm=4))
    assert again.value == pytest.approx(0.0, abs=1e-9)


def test_an_uneven_hand_makes_a_reading_less_exact():
    bench = bench_of(*WATER_GEL)
    sure = only(compared(bench, kind="penetration", value=300, plus_minus=5)).variance
    rough = only(compared(bench, kind="penetration", value=300, plus_minus=40)).variance
    assert sure == pytest.approx((log(1.05) / 2) ** 2 + (log(1.05) / 2) ** 2)
    assert rough > 5 * sure


def test_repeats_are_surer_than_one_but_the_batch_is_not():
    bench = bench_of(*WATER_GEL)
    checks = [
        LotCheck(agent="kappa", kind="potassium_gel", values=values)
        for values in ((400,), (400, 400, 400, 400))
    ]
    one, four = (
        only(compare_reading(measured_of_check(check), bench, key="lot:1", lots={}))
        for check in checks
    )
    batch = (log(1.05) / 2) ** 2
    assert four.variance - batch == pytest.approx((one.variance - batch) / 4)


def test_a_setting_temperature_is_compared_in_kelvins():
    bench = bench_of(*WATER_GEL)
    computed = float(bench.state.agents[KAPPA].set_c.value[0])
    found = compared(bench, kind="setting_temperature", value=computed + 4)
    assert only(found).value == pytest.approx(4.0)
    assert only(found).parts[0][:4] == (Quantity.SETTING, KAPPA, "", Base.WATERY)


def test_of_two_gels_the_one_that_sets_first_answers_for_the_temperature():
    bench = bench_of("100 g deionized water", "1 g agar", "3 g gelatin")
    assert only(compared(bench, kind="setting_temperature", value=36)).parts[0].agent == "agar"


def test_a_viscosity_speaks_of_what_the_agent_adds():
    bench = bench_of("100 g deionized water", "0.5 g lambda carrageenan")
    flow = bench.state.texture.flow
    base, thick = float(flow.base[0]), float(flow.at(50.0).value[0])
    seen = base + 2 * (thick - base)
    found = compared(
        bench, kind="viscosity", value=seen * 1000, shear_rate_per_s=50, temperature_c=20
    )
    assert exp(only(found).value) == pytest.approx(2.0)
    assert only(found).parts[0].quantity is Quantity.FLOW
    assert found.computed == pytest.approx(thick * 1000)


def test_a_liquid_thinner_than_without_its_agent_gives_no_factor():
    bench = bench_of("100 g deionized water", "0.5 g lambda carrageenan")
    found = compared(bench, kind="viscosity", value=0.4, shear_rate_per_s=50, temperature_c=20)
    assert found.observations == ()
    assert found.contradicts
    assert "no thicker" in found.remark


def test_agents_answer_by_their_share_of_the_modulus():
    bench = bench_of("100 g whole milk", "0.3 g kappa carrageenan", "0.5 g iota carrageenan")
    parts = only(compared(bench, kind="firmness_press", value=80, depth_mm=4)).parts
    shares = {key: float(share[0]) for key, share in bench.state.texture.shares.items()}
    assert {part.agent: part.weight for part in parts} == pytest.approx(shares)
    assert sum(part.weight for part in parts) == pytest.approx(1.0)


def test_where_the_model_sees_no_gel_a_press_is_kept_but_not_counted():
    bench = bench_of("100 g deionized water", "0.01 g agar")
    found = compared(bench, kind="penetration", value=120)
    assert found.observations == ()
    assert "no gel" in found.remark
    assert found.contradicts


def test_a_word_is_a_wide_reading_of_stress_and_strain():
    bench = bench_of(*WATER_GEL)
    region = WordRegion(Edges(10_000.0, 40_000.0), Edges(0.2, 0.8))
    stress, strain = compared(bench, region=region, kind="word", word="brittle").observations
    gel = bench.state.texture.gel
    assert stress.value == pytest.approx(log(20_000.0 / float(gel.fracture_stress.value[0])))
    assert strain.value == pytest.approx(log(0.4 / float(gel.fracture_strain.value[0])))
    # Half again as wide as the region, for neighbors are mixed up easily.
    assert stress.variance == pytest.approx((1.5 * log(2.0) / 2) ** 2)
    assert (stress.key, stress.face, strain.face) == (strain.key, "stress", "strain")


@pytest.mark.parametrize(
    ("edges", "computed", "value"),
    [
        (Edges(2.0, 8.0), 4.0, 0.0),
        (Edges(2.0, 8.0), 16.0, log(4 / 16)),
        (Edges(8.0, None), 4.0, log(16 / 4)),
        # On the open side nothing draws back.
        (Edges(8.0, None), 100.0, 0.0),
        (Edges(None, 2.0), 0.1, 0.0),
        (Edges(None, 2.0), 10.0, log(1 / 10)),
    ],
)
def test_a_word_draws_to_its_middle_but_not_back_from_an_open_side(edges, computed, value):
    assert word_told(edges, computed).value == pytest.approx(value)


def test_a_word_that_reaches_everywhere_says_nothing():
    assert word_told(Edges(None, None), 1.0) is None
    spread = word_regions()["spreadable"]
    assert spread.strain == Edges(None, None)
    found = compared(bench_of(*WATER_GEL), region=spread, kind="word", word="spreadable")
    assert [one.face for one in found.observations] == ["stress"]


def test_words_of_the_tables_lie_where_the_tables_say():
    assert word_regions()["tender"] == WordRegion(Edges(2_000.0, 20_000.0), Edges(0.55, 0.9))


def test_a_word_without_a_place_on_the_map_is_kept_only():
    found = compared(bench_of(*WATER_GEL), kind="word", word="lovely")
    assert found.observations == ()
    assert "kept" in found.remark


@pytest.mark.parametrize(
    ("lines", "outcome", "contradicts"),
    [
        (WATER_GEL, "set", False),
        (WATER_GEL, "did_not_set", True),
        (("100 g deionized water", "0.01 g agar"), "set", True),
        (("100 g deionized water", "0.01 g agar"), "did_not_set", False),
    ],
)
def test_an_outcome_moves_no_number_but_can_contradict(lines, outcome, contradicts):
    found = compared(bench_of(*lines), kind="outcome", outcome=outcome)
    assert found.observations == ()
    assert found.contradicts is contradicts


def test_lots_are_named_by_code_and_by_own_product():
    own = OwnAgent(name="House kappa", based_on="kappa carrageenan")
    pantry = Pantry(
        agents=(own,),
        lots=(
            Lot(agent="kappa carrageenan", lot_code="K-1", in_use=True),
            Lot(agent="House kappa", lot_code="7", in_use=True),
        ),
    )
    assert lots_of(bench_of(*WATER_GEL)) == {KAPPA: ""}
    assert lots_of(bench_of(*WATER_GEL, pantry=pantry)) == {KAPPA: "K-1"}
    mixed = bench_of("100 g whole milk", "0.2 g house kappa", "0.2 g kappa", pantry=pantry)
    assert lots_of(mixed) == {KAPPA: "House kappa · 7 + K-1"}


def test_a_recipe_is_the_same_whatever_it_is_called():
    first = formula_of(*WATER_GEL, steps=BOILED)
    renamed = first.revised(title="Other", notes="firm", portions=4, serving_temperature_c=5.0)
    assert recipe_of(first) == recipe_of(renamed)
    assert recipe_of(first) != recipe_of(first.revised(steps="Chill to 4 °C."))
    assert recipe_of(first) != recipe_of(first.revised(evaporation_pct=5.0))
