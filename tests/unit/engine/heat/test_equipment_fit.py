"""A cold place fitted to the log of a probe in a mold."""

import numpy as np
import pytest

from setwell import formula_make
from setwell.domain.equipment import Cooler, CoolerKind, MoldForm, MoldShape, WallMaterial
from setwell.domain.process_plan import CoolPlan
from setwell.engine.assess import bench_build
from setwell.engine.heat.cooling import core_curve
from setwell.engine.heat.course import Course
from setwell.engine.heat.equipment_fit import fit_cooler, measured_cooler
from setwell.errors import InputError

AT = np.arange(0.0, 4 * 3600.0, 180.0)
JAR = MoldForm(shape=MoldShape.JAR, diameter_mm=70.0, height_mm=80.0, wall=WallMaterial.GLASS)
PLAN = CoolPlan(mold=JAR, cooler=Cooler(name="Walk-in", air_c=4.0), pour_c=80.0)


@pytest.fixture(scope="module")
def bench():
    formula = formula_make(title="Milk jelly", ingredients="1000 g milk\n100 g sugar\n8 g agar")
    return bench_build(formula)


def log(celsius: np.ndarray, at: np.ndarray = AT) -> Course:
    return Course("core", at, celsius, celsius - 0.5, celsius + 0.5, is_measured=True)


@pytest.mark.parametrize("truth", [7.0, 11.0, 25.0])
def test_the_coefficient_of_a_walk_in_comes_back(bench, truth):
    clean = core_curve(bench, PLAN, AT, coefficient=truth)
    for seed in range(4):
        noisy = clean + 0.3 * np.random.default_rng(seed).normal(size=len(AT))
        found = fit_cooler(bench, PLAN, log(noisy))
        assert found.low <= truth <= found.high
        assert found.value == pytest.approx(truth, rel=0.03)
        assert found.rms_k < 0.5


def test_a_probe_put_in_cold_is_read_from_where_it_is_warm(bench):
    clean = core_curve(bench, PLAN, AT, coefficient=11.0)
    at = np.concatenate([[0.0, 20.0, 40.0], AT + 60.0])
    found = fit_cooler(bench, PLAN, log(np.concatenate([[21.0, 50.0, 70.0], clean]), at))
    assert found.used_points == len(AT)
    assert found.value == pytest.approx(11.0, rel=0.02)


def test_a_still_fridge_gives_a_middle_figure_of_its_falling_one(bench):
    # A coefficient that falls with the difference, 13 to 7 W/m2K, read as one figure.
    found = fit_cooler(bench, PLAN, log(core_curve(bench, PLAN, AT)))
    assert 8.0 < found.value < 14.0
    assert found.high / found.low > 1.1


def test_the_place_keeps_the_figure_and_says_from_where(bench):
    found = fit_cooler(bench, PLAN, log(core_curve(bench, PLAN, AT, coefficient=11.0)))
    kept = measured_cooler(PLAN.cooler, found, "log of May 3")
    assert kept.coefficient_low < kept.coefficient_w_m2k < kept.coefficient_high
    assert kept.measured == "log of May 3"
    assert Cooler.model_validate(kept.model_dump()) == kept


def test_a_log_that_is_as_cold_as_the_place_is_refused(bench):
    with pytest.raises(InputError, match="nothing cools there") as caught:
        fit_cooler(bench, PLAN, log(np.full(len(AT), 7.0)))
    assert "7 °C (44.6 °F)" in caught.value.message or "7 °C (45 °F)" in caught.value.message


def test_a_log_colder_than_the_place_asks_for_its_temperature(bench):
    colder = core_curve(bench, PLAN, AT, coefficient=25.0) - 3.0
    with pytest.raises(InputError, match="below the 4 °C") as caught:
        fit_cooler(bench, PLAN, log(colder))
    assert caught.value.field == "air_c"


def test_a_log_that_warms_is_refused(bench):
    with pytest.raises(InputError):
        fit_cooler(bench, PLAN, log(np.linspace(10.0, 60.0, len(AT))))


def test_an_empty_log_is_refused(bench):
    with pytest.raises(InputError, match="no readings"):
        fit_cooler(bench, PLAN, log(np.array([]), np.array([])))


def test_a_thick_wall_leaves_the_figure_of_a_bath_open(bench):
    # Behind 6 mm of silicone, 400 or 900 W/m2K differ by less than 1 K anywhere.
    mold = JAR.model_copy(update={"wall": WallMaterial.SILICONE, "wall_mm": 6.0})
    bath = Cooler(name="Bath", kind=CoolerKind.ICE_BATH, air_c=0.0)
    plan = PLAN.model_copy(update={"mold": mold, "cooler": bath})
    clean = core_curve(bench, plan, AT, coefficient=400.0)
    found = fit_cooler(bench, plan, log(clean + 0.5 * np.random.default_rng(1).normal(size=80)))
    assert found.low <= 400.0 <= found.high
    assert found.high > 1.7 * found.low
    # Much noisier, it could be anything.
    with pytest.raises(InputError, match=r"could be anything|would have to be"):
        fit_cooler(bench, plan, log(clean + 3.0 * np.random.default_rng(1).normal(size=80)))
