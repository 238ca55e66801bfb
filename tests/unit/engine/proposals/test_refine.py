"""The last step of a search: nearer to the wish, within reach, and in weights of a kitchen."""

import numpy as np
import pytest
from builders_refine import batches_of, draft_of

from setwell.engine.proposals.predicted import predicted_of
from setwell.engine.proposals.refine import folds, refine, rounded
from setwell.engine.proposals.tables import dose_burden


def near(modulus: float, stress: float | None = None, *, haze: float = 0.0):
    """Return an objective: how far stiffness and stress in kPa are from these, on logs."""

    def objective(found):
        off = np.log(np.maximum(found.modulus, 1e-6) / modulus) ** 2
        if stress is not None:
            off += np.log(np.maximum(found.stress, 1e-6) / stress) ** 2
        return off + haze * found.haze

    return objective


def costs_of(found, highs):
    """Return what doses cost in the order and in the refinement, for the ends of their uses."""
    percents, high = np.array([found.percents]), np.array(highs)
    return float(dose_burden(percents, high).sum() + folds(percents, high)[0])


def test_one_agent_meets_a_stiffness():
    found = refine(draft_of("agar"), [0.5], objective=near(12.0))
    assert found.predicted.modulus[0] == pytest.approx(12.0, rel=0.04)
    # What is left is what the dose costs in the order.
    assert found.exact_value - costs_of(found, [2.0]) < 1e-3
    assert found.value < found.start_value


def test_two_agents_meet_stiffness_and_break():
    draft = draft_of("kappa carrageenan", "locust bean gum", helpers=("potassium chloride",))
    aimed = predicted_of(batches_of(draft, np.array([[0.35, 0.45, 0.1]])))
    wish = near(float(aimed.modulus[0]), float(aimed.stress[0]))
    found = refine(draft, [0.45, 0.35, 0.08], objective=wish)
    assert found.start_value > 0.02
    assert found.exact_value < 0.1 * found.start_value
    assert found.value < 0.25 * found.start_value


def test_what_is_not_in_stays_out():
    draft = draft_of("iota carrageenan", helpers=("potassium chloride", "calcium lactate"))
    found = refine(draft, [0.8, 0.0, 0.2], objective=near(1.5))
    assert found.percents[1] == 0.0
    assert found.percents[0] > 0
    assert found.percents[2] > 0
    nothing = refine(draft, [0.0, 0.0, 0.0], objective=near(1.5))
    assert nothing.percents == (0.0, 0.0, 0.0)
    assert nothing.predicted.sets[0] == -1


def test_the_answer_is_what_its_doses_come_to():
    draft = draft_of("gelatin", "agar", base="700 g milk\n200 g cream\n100 g sugar")
    found = refine(draft, [1.0, 0.2], objective=near(4.0, haze=0.1))
    again = predicted_of(batches_of(draft, np.array([found.percents])))
    for one, other in zip(found.predicted, again, strict=True):
        assert one == pytest.approx(other, rel=1e-9, nan_ok=True)
    assert found.value - costs_of(found, [9.0, 2.0]) == pytest.approx(
        float(near(4.0, haze=0.1)(again)[0]), rel=1e-9
    )


def test_an_answer_outside_of_the_usual_doses_is_not_taken():
    # So firm an agar gel would take many times the usual dose.
    found = refine(draft_of("agar"), [1.0], objective=near(5000.0), rounds=12)
    # Bakers take up to 2 %, and it goes half as far again.
    assert 1.0 < found.percents[0] <= 3.0


def test_doses_go_up_only_for_what_they_bring():
    # Any dose from 0.3 % on is firm enough: the least is taken, not the most.
    def enough(found):
        return np.maximum(np.log(1.0 / np.maximum(found.modulus, 1e-6)), 0.0)

    found = refine(draft_of("agar"), [1.5], objective=enough, rounds=12)
    assert found.predicted.modulus[0] == pytest.approx(1.0, rel=0.06)


def test_no_salt_is_raised_until_it_is_tasted():
    draft = draft_of("kappa carrageenan", helpers=("potassium chloride",))
    found = refine(draft, [0.3, 0.2], objective=near(500.0), rounds=12)
    assert found.percents[1] < 0.26


def test_the_same_seed_gives_the_same_answer():
    draft = draft_of("agar", "xanthan gum")
    one, other = (refine(draft, [0.4, 0.1], objective=near(8.0), seed=5) for _ in range(2))
    assert one.percents == other.percents
    assert one.value == other.value


def test_doses_are_rounded_to_what_is_weighed():
    ways = rounded(np.array([0.43217, 0.0, 12.34]))
    assert ways.tolist() == [
        [0.432, 0.0, 12.3], [0.432, 0.0, 12.4], [0.433, 0.0, 12.3], [0.433, 0.0, 12.4],
    ]  # fmt: skip
    for percent in (0.0123, 0.05, 0.099, 0.1, 1.0, 7.77, 55.0):
        told = rounded(np.array([percent]))[:, 0]
        assert told[0] <= percent * (1 + 1e-12)
        assert told[1] >= percent
        assert np.abs(told / percent - 1.0).max() <= 0.02 + 1e-12


def test_a_gel_that_only_just_sets_is_dosed_a_little_higher():
    draft = draft_of("kappa carrageenan", base="920 g whole milk\n80 g sugar")
    found = refine(draft, [0.16], objective=lambda found: 6.0 * (found.sets < 1), rounds=12)
    state = batches_of(draft, np.array([found.percents]))
    agent = state.agents["kappa_carrageenan"]
    assert agent.effective_pct.value[0] >= 1.08 * agent.critical_pct.high[0]
