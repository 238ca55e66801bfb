"""Process plans and answers: suggested, saved, computed, remembered."""

import pytest
from builders_kitchen import formula_of
from builders_process import STEPS, agar_formula
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from setwell.domain.equipment import Cooler, CoolerKind, Hob, MoldForm, MoldShape, WallMaterial
from setwell.domain.pantry import Kitchen, Mold, Pantry, Vessel
from setwell.domain.process_plan import CoolPlan, PotPlan, PotStirring, ProcessPlan
from setwell.errors import InputError, NotFoundError
from setwell.services import pantry
from setwell.services.assessment import formula_assess
from setwell.services.bench_sheets import bench_sheet, bench_sheet_pdf
from setwell.services.formulas import formula_create, formula_save, version_get
from setwell.services.process import (
    ProcessAsk,
    plan_for,
    plan_save,
    process_of,
    process_view,
)
from setwell.services.process_bench import kitchen_bench, molds_cooled, pot_heated
from setwell.services.process_equipment import (
    chosen,
    equipment_choices,
    found,
    mold_name,
    pot_choice,
)
from setwell.services.process_plans import plan_saved, plan_suggest
from setwell.store.models import ProcessPlanRow, VersionRow

pytestmark = pytest.mark.django_db

PLAN = ProcessPlan(
    pot=PotPlan(hob=Hob(name="Left ring", power_w=1_600), target_c=92),
    cooling=CoolPlan(mold=MoldForm(volume_ml=100), count=6),
)
SHELVES = Pantry(
    kitchen=Kitchen(),
    hobs=(Hob(name="Left ring", power_w=1_600),),
    vessels=(
        Vessel(name="Bowl", volume_ml=900),
        Vessel(name="Big pot", volume_ml=8_000, diameter_mm=260, height_mm=160),
        Vessel(name="Small pot", volume_ml=1_000, diameter_mm=140, wall=WallMaterial.COPPER),
    ),
    molds=(
        Mold(name="Cup", shape="cup", volume_ml=95, diameter_mm=62),
        Mold(name="Frame", shape="frame", volume_ml=1_100),
    ),
    coolers=(
        Cooler(name="Freezer", kind=CoolerKind.FREEZER, air_c=-18),
        Cooler(name="Drawer", kind=CoolerKind.FRIDGE, air_c=5),
        Cooler(name="Reach-in", kind=CoolerKind.VENTILATED_FRIDGE, air_c=3),
    ),
)


@pytest.fixture
def formula_id():
    return formula_create(formula=agar_formula()).formula_id


def test_a_plan_is_put_together_from_the_shelves():
    plan = plan_suggest(agar_formula(), SHELVES, batch_g=580)
    assert plan.pot.hob.name == "Left ring"
    assert (plan.pot.diameter_mm, plan.pot.wall) == (140, WallMaterial.COPPER)
    assert plan.pot.stirring is PotStirring.OCCASIONAL
    assert (plan.cooling.mold.shape, plan.cooling.mold.diameter_mm) == (MoldShape.CUP, 62)
    assert (plan.cooling.cooler.name, plan.cooling.count) == ("Reach-in", 6)


def test_a_large_batch_gets_a_larger_pot_and_the_largest_when_none_is_enough():
    assert plan_suggest(agar_formula(), SHELVES, batch_g=900).pot.diameter_mm == 260
    assert plan_suggest(agar_formula(), SHELVES, batch_g=90_000).pot.diameter_mm == 260


def test_an_empty_kitchen_gets_usual_things():
    plan = plan_suggest(agar_formula(molds=None), Pantry(), batch_g=580)
    assert plan.pot == PotPlan(hob=Hob(name="Hob"))
    assert plan.cooling.mold == MoldForm(volume_ml=100)
    assert plan.cooling.cooler.name == "Fridge"


def test_a_mold_of_quite_another_volume_is_not_taken():
    formula = agar_formula(molds={"count": 3, "volume_ml": 300})
    assert plan_suggest(formula, SHELVES, batch_g=900).cooling.mold == MoldForm(volume_ml=300)


def test_a_hot_drink_is_put_in_no_fridge():
    drink = formula_of(steps="Heat to 80 °C, stirring.\nRest 10 min.\nPour at 65 °C.", molds=None)
    plan = plan_suggest(drink, Pantry(), batch_g=500)
    assert plan.pot is not None
    assert plan.cooling is None


@pytest.mark.parametrize("heat", [
    "Bake at 100 °C for 40 min", "Cook sous-vide at 82 °C for 1 h",
    "Bake until the core reads 82 °C",
])  # fmt: skip
def test_what_is_heated_from_around_is_put_in_no_pot(heat):
    steps = f"Mix everything cold.\nPour into molds.\n{heat}.\nChill at 4 °C for 3 h."
    plan = plan_suggest(formula_of(steps=steps), Pantry(), batch_g=500)
    assert plan.pot is None
    assert plan.cooling is not None


@pytest.mark.parametrize(
    ("chill", "name"),
    [
        ("Chill in an ice bath to 5 °C", "Ice bath"), ("Freeze for 3 h", "Freezer"),
        ("Chill in the blast chiller for 1 h", "Blast chiller"), ("Chill for 3 h", "Reach-in"),
        ("Chill for 3 h, do not freeze", "Reach-in"),
    ],
)  # fmt: skip
def test_the_cold_place_is_the_one_the_steps_name(chill, name):
    formula = formula_of(steps=f"Boil.\nPour into molds.\n{chill}.")
    assert plan_suggest(formula, SHELVES, batch_g=500).cooling.cooler.name == name


def test_an_ice_bath_for_the_pot_is_not_that_of_the_molds():
    steps = "Boil.\nCool in an ice bath to 40 °C.\nPour into molds.\nChill for 3 h."
    cooled = plan_suggest(formula_of(steps=steps), SHELVES, batch_g=500).cooling
    assert cooled.cooler.name == "Reach-in"


def test_molds_stand_on_the_counter_as_long_as_the_steps_say():
    steps = "Boil.\nPour into molds.\nLeave for 30 min.\nChill at 4 °C for 3 h."
    assert plan_suggest(formula_of(steps=steps), Pantry(), batch_g=500).cooling.counter_min == 30
    assert plan_suggest(agar_formula(), Pantry(), batch_g=500).cooling.counter_min == 0


def test_what_is_not_heated_has_no_pot_and_what_is_not_set_no_mold():
    plan = plan_suggest(formula_of(steps="Blend and serve."), Pantry(), batch_g=500)
    assert plan == ProcessPlan()


def test_a_saved_plan_is_in_force_and_earlier_ones_stay(formula_id):
    assert plan_for(formula_id=formula_id).origin == "shelves"
    first = plan_save(formula_id=formula_id, number=1, document=ProcessPlan())
    second = plan_save(formula_id=formula_id, number=1, document=PLAN)
    assert second > first
    force = plan_for(formula_id=formula_id)
    assert (force.plan, force.origin, force.number) == (PLAN, "saved", 1)
    assert force.is_saved
    assert ProcessPlanRow.objects.count() == 2


def test_a_new_version_starts_with_the_plan_of_the_one_before(formula_id):
    plan_save(formula_id=formula_id, number=1, document=PLAN)
    formula_save(formula_id=formula_id, formula=agar_formula(STEPS + "\nGarnish."), base_number=1)
    force = plan_for(formula_id=formula_id)
    assert (force.plan, force.origin, force.number) == (PLAN, "earlier", 1)
    assert not force.is_saved
    assert plan_saved(formula_id=formula_id, number=2) is None
    assert plan_for(formula_id=formula_id, number=1).origin == "saved"


def test_a_saved_plan_never_changes_whoever_asks(formula_id):
    plan_save(formula_id=formula_id, number=1, document=PLAN)
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
        ProcessPlanRow.objects.update(document="{}")
    with pytest.raises(ProtectedError):
        VersionRow.objects.filter(formula_id=formula_id).delete()


@pytest.mark.parametrize(("of", "number"), [(1, 9), (404, 1), (10**30, 1)])
def test_a_plan_of_no_version_is_refused(formula_id, of, number):
    with pytest.raises(NotFoundError, match="There is no version"):
        plan_save(formula_id=of if of != 1 else formula_id, number=number, document=PLAN)


def test_everything_is_computed_for_a_saved_version(formula_id):
    answer = process_view(formula_id=formula_id, ask=ProcessAsk(serve_min=18 * 60.0))
    assert answer.pot.courses
    assert answer.cooling.moment("set").estimate.value > 0
    assert {check.topic for check in answer.checks} >= {"cooling"}
    assert answer.law
    assert set(answer.law) | set(answer.beside_law) == set(answer.checks)
    assert answer.schedule.is_possible
    assert answer.charts["pot"][0].key == "pot"
    assert answer.charts["cooling"][0].svg.startswith("<svg")
    assert answer.timeline.stage(2).basis == "computed"


def test_an_asked_plan_wins_and_is_not_saved(formula_id):
    answer = process_view(formula_id=formula_id, ask=ProcessAsk(plan=PLAN))
    assert (answer.plan.plan, answer.plan.origin) == (PLAN, "asked")
    assert plan_saved(formula_id=formula_id, number=1) is None


def test_the_saved_pot_of_a_version_counts_in_its_assessment(formula_id):
    def dissolved(number):
        formula = version_get(formula_id=formula_id, number=number).formula
        found = formula_assess(formula=formula, formula_id=formula_id, number=number)
        return found.agents[0].hydrated_fraction

    before = dissolved(1)
    weak = PotPlan(hob=Hob(name="Ring", power_w=900), stirring=PotStirring.NONE, target_c=82)
    plan_save(formula_id=formula_id, number=1, document=ProcessPlan(pot=weak))
    after = dissolved(1)
    assert after.value < before.value
    # A version without a plan of its own, and a draft, keep to the word of the steps.
    formula_save(formula_id=formula_id, formula=agar_formula(notes="again"), base_number=1)
    assert dissolved(2).value == pytest.approx(before.value)
    assert formula_assess(formula=agar_formula()).agents[0].hydrated_fraction.value == (
        pytest.approx(before.value)
    )


def test_a_stronger_hob_is_quicker(formula_id):
    def heats(power):
        pot = PotPlan(hob=Hob(name="Ring", power_w=power))
        answer = process_view(formula_id=formula_id, ask=ProcessAsk(plan=ProcessPlan(pot=pot)))
        return answer.timeline.stage(2).minutes.value

    assert heats(2_400) < heats(800)


def test_what_one_part_refuses_leaves_the_other_standing():
    cold = CoolPlan(mold=MoldForm(volume_ml=100), pour_c=-4, cooler=Cooler(name="F", air_c=4))
    plan = ProcessPlan(pot=PLAN.pot, cooling=cold)
    answer = process_of(formula=agar_formula(), ask=ProcessAsk(plan=plan))
    assert answer.cooling is None
    assert answer.pot is not None
    assert answer.problems[0].field == "cooling.pour_c"


def test_a_sweep_is_drawn_only_when_asked(formula_id):
    ask = ProcessAsk(sweep="pouring temperature")
    charts = process_view(formula_id=formula_id, ask=ask).charts
    assert len(charts["sweep"][0].table.rows) == 10
    assert "sweep" not in process_view(formula_id=formula_id).charts
    with pytest.raises(InputError, match="cannot be changed here"):
        process_view(formula_id=formula_id, ask=ProcessAsk(sweep="moon"))


def test_pots_and_molds_are_remembered_until_the_kitchen_changes():
    on = kitchen_bench(agar_formula())
    again = kitchen_bench(agar_formula())
    assert on == again
    assert pot_heated(on, PLAN.pot) is pot_heated(again, PLAN.pot)
    assert molds_cooled(on, PLAN.cooling) is molds_cooled(again, PLAN.cooling)
    pantry.hob_save(id=None, document=Hob(name="New ring"))
    assert kitchen_bench(agar_formula()) != on
    assert kitchen_bench(agar_formula(STEPS + "\nRest.")) != on


def test_choices_hold_the_shelves_the_plan_and_usual_things():
    pantry.hob_save(id=None, document=Hob(name="Shelf ring"))
    kit = equipment_choices(PLAN)
    groups = [one.group for one in kit.hobs]
    assert groups[0] == "In this plan"
    assert "This kitchen's own" in groups
    assert chosen(kit.hobs, PLAN.pot.hob) == "Left ring"
    assert found(kit.hobs, " shelf RING ").name == "Shelf ring"
    assert found(kit.hobs, "nobody's") is None
    assert pot_choice(kit, PLAN.pot) == "Pot, 200 mm across"


def test_a_plan_thing_of_a_taken_name_can_be_told_apart():
    pantry.hob_save(id=None, document=Hob(name="Left ring", power_w=900))
    kit = equipment_choices(PLAN)
    assert chosen(kit.hobs, PLAN.pot.hob) == "Left ring, as saved"
    assert found(kit.hobs, "left ring").power_w == 900


@pytest.mark.parametrize(
    ("form", "name"),
    [
        (MoldForm(volume_ml=80), "Mold of 80 mL"),
        (MoldForm(shape="cup", diameter_mm=60, height_mm=40), "Cup 60 × 40 mm, 113 mL"),
        (MoldForm(shape="sphere", diameter_mm=40), "Sphere 40 mm, 34 mL"),
    ],
)
def test_a_mold_is_named_by_its_form(form, name):
    assert mold_name(form) == name


def test_the_sheet_of_an_answer_names_its_plan_and_version(formula_id):
    answer = process_view(formula_id=formula_id, ask=ProcessAsk(plan=PLAN))
    sheet = bench_sheet(answer)
    assert sheet.version_label == "version 1"
    assert "Left ring at 1600 W" in sheet.equipment[0]
    assert bench_sheet_pdf(sheet=sheet, paper="Letter").startswith(b"%PDF")
    assert bench_sheet(process_of(formula=agar_formula())).version_label == "not saved"
