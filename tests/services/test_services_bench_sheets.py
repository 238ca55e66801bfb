"""The bench sheet weighs and times the batch that is planned, or the formula's own."""

import pytest
from builders_process import agar_formula

from setwell.domain.equipment import Hob, MoldForm
from setwell.domain.process_plan import CoolPlan, PotPlan, ProcessPlan
from setwell.services.batch_plan import batch_planned, plan_for_batch
from setwell.services.bench_sheets import BatchYield, bench_sheet, sheet_batches
from setwell.services.cards import CardBatch, card_get
from setwell.services.process import ProcessAsk, process_of

pytestmark = pytest.mark.django_db

FORMULA = agar_formula()
OWN_G = 584.0


def plan_of(batch_g=None, count=6, volume_ml=100.0):
    return ProcessPlan(
        pot=PotPlan(
            hob=Hob(name="Left ring", power_w=1_600), target_c=92, batch_g=batch_g, height_mm=100
        ),
        cooling=CoolPlan(mold=MoldForm(volume_ml=volume_ml), count=count),
    )


def answer_of(formula=FORMULA, **plan):
    return process_of(formula=formula, ask=ProcessAsk(plan=plan_of(**plan)), has_charts=False)


def milk(sheet):
    return sheet.phases[0].lines[0].weight


def heating(sheet):
    return next(step.takes for step in sheet.steps if step.text.startswith("Heat"))


def test_the_planned_pot_is_what_the_sheet_weighs_and_times():
    sheet = bench_sheet(answer_of(batch_g=2 * OWN_G))
    assert sheet.batch_line == "For 1,168 g, scaled from 584 g"
    assert milk(sheet) == "1,000.0 g"
    assert "1.168 kg" in sheet.equipment[0]
    own = bench_sheet(answer_of())
    assert (own.batch_line, milk(own)) == ("", "500 g")
    assert heating(sheet) != heating(own)


def test_the_formulas_own_batch_can_still_be_had_with_its_own_times():
    answer = answer_of(batch_g=2 * OWN_G, count=12)
    assert sheet_batches(answer).is_other
    own = bench_sheet(answer, is_as_typed=True)
    assert (own.batch_line, milk(own)) == ("", "500 g")
    plain = bench_sheet(answer_of())
    assert heating(own) == heating(plain)
    assert own.equipment[1].startswith("Cold: 6 molds")


def test_more_molds_are_more_batch_and_the_pot_is_computed_for_it():
    answer = answer_of(count=12)
    assert batch_planned(answer) == pytest.approx(2 * OWN_G)
    assert sheet_batches(answer).is_molds
    sheet = bench_sheet(answer)
    assert milk(sheet) == "1,000.0 g"
    assert heating(sheet) == heating(bench_sheet(answer_of(batch_g=2 * OWN_G, count=12)))


@pytest.mark.parametrize(
    ("plan", "grams"),
    [
        # A mold of the shelf that is nearly the formula's is one of its molds.
        ({"volume_ml": 120.0}, OWN_G),
        # The same volume in smaller molds is the same batch.
        ({"volume_ml": 50.0, "count": 12}, OWN_G),
        ({"volume_ml": 50.0, "count": 6}, OWN_G / 2),
        # What is told for the pot wins.
        ({"count": 12, "batch_g": 900.0}, 900.0),
    ],
)
def test_what_a_plan_holds(plan, grams):
    assert batch_planned(answer_of(**plan)) == pytest.approx(grams)


def test_a_formula_without_molds_is_its_own_batch():
    formula = agar_formula(molds=None)
    assert batch_planned(answer_of(formula=formula, count=40)) == pytest.approx(OWN_G)


def test_a_batch_told_beside_the_plan_counts_without_a_pot():
    plan = plan_of().model_copy(update={"pot": None})
    ask = ProcessAsk(plan=plan, batch_g=2 * OWN_G)
    sheet = bench_sheet(process_of(formula=FORMULA, ask=ask, has_charts=False))
    assert milk(sheet) == "1,000.0 g"


def test_weights_are_rounded_to_the_scale_that_is_asked_for():
    answer = answer_of(batch_g=700.0)
    assert milk(bench_sheet(answer)) == "599.3 g"
    assert milk(bench_sheet(answer, readability_g=1.0)) == "599 g"


def test_what_it_was_scaled_to_is_its_yield():
    made = bench_sheet(answer_of(batch_g=600.0), makes=BatchYield(portions_of=(10, 60.0)))
    assert made.yield_line.startswith("10 portions of 60 g")


def test_a_pot_too_small_for_the_batch_is_told_on_the_sheet():
    sheet = bench_sheet(answer_of(batch_g=8_000.0))
    assert "in this pot, which is 100 mm" in sheet.open_points[0]
    assert not any("in this pot" in point for point in bench_sheet(answer_of()).open_points)


def test_a_pot_that_cannot_be_computed_is_told_on_the_sheet():
    sheet = bench_sheet(answer_of(batch_g=900_000.0))
    assert "Give a wider pot or a smaller batch." in " ".join(sheet.open_points)


def test_a_plan_for_a_batch_has_it_in_the_pot_and_molds_enough():
    plan = plan_for_batch(formula=FORMULA, grams=900.0)
    assert plan.pot.batch_g == 900.0
    assert plan.cooling.count == 10
    loose = plan_for_batch(formula=agar_formula(molds=None, portions=None), grams=5_000.0)
    assert loose.cooling.count == 1


def test_a_card_of_a_batch_and_one_as_written():
    card = card_get(formula=FORMULA, batch=CardBatch(2 * OWN_G, 1.0))
    assert card.batch_line == "For 1,168 g, scaled from 584 g"
    assert [line.weight for line in card.phases[0].lines] == ["1,000 g", "120 g", "8 g", "40 g"]
    assert card.yield_line.startswith("12 portions")
    assert card.lot_boxes[0].weight == "8 g"
    own = card_get(formula=FORMULA, batch=CardBatch(OWN_G))
    assert own == card_get(formula=FORMULA)
