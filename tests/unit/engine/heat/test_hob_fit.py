"""A hob fitted to the log of a probe at the bottom of a pot."""

import numpy as np
import pytest

from setwell import formula_make
from setwell.domain.equipment import Hob, HobKind
from setwell.domain.process_plan import PotPlan, PotStirring
from setwell.engine.assess import bench_build
from setwell.engine.heat.course import Course
from setwell.engine.heat.hob_fit import fit_hob, measured_hob
from setwell.engine.heat.pot import bottom_curve
from setwell.errors import InputError

AT = np.arange(0.0, 1_200.0, 15.0)
PLAN = PotPlan(
    hob=Hob(name="Ring 2", kind=HobKind.ELECTRIC, power_w=1_500.0),
    stirring=PotStirring.CONSTANT, start_c=12.0, target_c=88.0,
)  # fmt: skip


@pytest.fixture(scope="module")
def bench():
    return bench_build(formula_make(title="Milk", ingredients="1800 g milk\n100 g sugar"))


def log(celsius: np.ndarray, at: np.ndarray = AT) -> Course:
    return Course("bottom", at, celsius, celsius - 0.5, celsius + 0.5, is_measured=True)


@pytest.mark.parametrize("truth", [0.4, 0.9])
@pytest.mark.parametrize("stirring", [PotStirring.CONSTANT, PotStirring.NONE])
def test_the_share_of_the_power_comes_back(bench, truth, stirring):
    plan = PLAN.model_copy(update={"stirring": stirring})
    clean = bottom_curve(bench, plan, AT, efficiency=truth)
    for seed in range(2):
        noisy = clean + 0.4 * np.random.default_rng(seed).normal(size=len(AT))
        found = fit_hob(bench, plan, log(noisy))
        assert found.low <= truth <= found.high
        assert found.value == pytest.approx(truth, rel=0.03)
        assert found.unit == "%"


def test_minutes_before_the_hob_goes_on_do_not_count(bench):
    clean = bottom_curve(bench, PLAN, AT, efficiency=0.7)
    at = np.concatenate([np.arange(0.0, 300.0, 15.0), AT + 300.0])
    waited = np.concatenate([np.full(20, clean[0]), clean])
    assert fit_hob(bench, PLAN, log(waited, at)).value == pytest.approx(0.7, rel=0.02)


def test_hours_of_cooling_in_the_same_log_take_nothing_from_the_way_up(bench):
    at = np.arange(0.0, 8 * 3_600.0, 60.0)
    clean = bottom_curve(bench, PLAN, at, efficiency=0.7)
    way_up = int((clean < clean.max() - 2.0).sum())
    assert 8 <= way_up <= 20
    cooling = 4.0 + (clean[0:1] + 60.0) * np.exp(-(at - at[30]) / 6_000.0)
    whole = np.where(np.arange(len(at)) < 30, clean, np.minimum(clean, cooling))
    assert fit_hob(bench, PLAN, log(whole, at)).value == pytest.approx(0.7, rel=0.05)


def test_a_log_that_the_pot_does_not_follow_asks_about_the_pot(bench):
    clean = bottom_curve(bench, PLAN, AT, efficiency=0.7)
    stepped = np.where(AT < 300.0, clean, clean[0] + 0.6 * (clean - clean[0]))
    (poor,) = fit_hob(bench, PLAN, log(stepped)).advice
    assert "hob was turned down" in poor.action
    assert "door" not in poor.action


def test_the_hold_after_the_way_up_does_not_count(bench):
    clean = bottom_curve(bench, PLAN, AT, efficiency=0.9)
    assert clean[-1] == pytest.approx(clean[-10], abs=0.5)
    found = fit_hob(bench, PLAN, log(clean))
    assert found.used_points < 0.6 * len(AT)
    assert found.value == pytest.approx(0.9, rel=0.02)


def test_the_hob_keeps_the_share_and_says_from_where(bench):
    found = fit_hob(bench, PLAN, log(bottom_curve(bench, PLAN, AT, efficiency=0.7)))
    kept = measured_hob(PLAN.hob, found, "log of May 3")
    assert kept.efficiency_low < kept.efficiency < kept.efficiency_high <= 1.0
    assert kept.measured == "log of May 3"
    assert Hob.model_validate(kept.model_dump()) == kept


def test_a_pot_that_gets_more_than_the_hob_has_is_refused(bench):
    strong = PLAN.model_copy(update={"hob": Hob(name="Ring 2", power_w=3_000.0)})
    clean = bottom_curve(bench, strong, AT, efficiency=0.9)
    with pytest.raises(InputError, match="above 100 %"):
        fit_hob(bench, PLAN, log(clean))


def test_a_pot_that_hardly_warms_is_refused(bench):
    with pytest.raises(InputError, match=r"warms by 4 °C .* at least 10 °C \(18 °F\)"):
        fit_hob(bench, PLAN, log(np.linspace(20.0, 24.0, len(AT))))


def test_a_pot_that_cools_is_refused(bench):
    with pytest.raises(InputError, match=r"warms by 0 °C"):
        fit_hob(bench, PLAN, log(np.linspace(80.0, 24.0, len(AT))))


def test_an_empty_log_is_refused(bench):
    with pytest.raises(InputError, match="no readings"):
        fit_hob(bench, PLAN, log(np.array([]), np.array([])))


def test_a_way_up_of_few_readings_is_refused(bench):
    at = AT[::12]
    clean = bottom_curve(bench, PLAN, at, efficiency=0.9)
    with pytest.raises(InputError, match="at least 8 are needed"):
        fit_hob(bench, PLAN, log(clean, at))


def test_a_log_that_jumps_from_cold_to_hot_is_refused_with_what_to_do(bench):
    # The last cold reading lies after the first hot one: nothing is left of the way up.
    celsius = np.array([20.0, 90.0, 20.0, 20.0, 20.0, 20.0, 91.0, 20.0, 20.0, 20.0])
    with pytest.raises(InputError, match="readings lie between the cold pot") as caught:
        fit_hob(bench, PLAN, log(celsius, np.arange(10) * 15.0))
    assert "read more often" in caught.value.hint
