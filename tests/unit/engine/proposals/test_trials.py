"""A first trial set: its cups, their weights, order, codes and predictions."""

from dataclasses import replace

import numpy as np
import pytest
from builders_proposals import brief_of, proposal_of

from setwell.domain.brief import brief_make
from setwell.domain.formula import formula_make
from setwell.engine.assess import assess
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.trial_design import dose_points, step_that_is_felt
from setwell.engine.proposals.trial_order import blind_codes, run_order
from setwell.engine.proposals.trials import trial_set, trials_around
from setwell.errors import InputError, OutOfRangeError

CATALOG = catalog_build()
SWEET, SOUR, MILK = (
    "900 g water\n100 g sugar",
    "900 g water\n80 g sugar\n20 g lemon juice",
    "1 L milk",
)
KCL, LACTATE, CITRATE = "potassium chloride", "calcium lactate", "trisodium citrate"


def agents_of(*keys):
    return tuple(agent_named(CATALOG.materials[f"agent:{key}"], CATALOG) for key in keys)


def trials(keys, percents, helpers=(), lines=SWEET, brief=None, **more):
    asked = brief_make(title="Test", base=lines, **(brief or {}))
    base = base_read(asked, catalog=CATALOG)
    return trials_around(base, asked, agents_of(*keys), percents, helpers, **more)


def pair(**more):
    return trials(("kappa_carrageenan", "locust_bean_gum"), (0.4, 0.3), ((KCL, 0.1),), **more)


@pytest.mark.parametrize(
    ("keys", "percents", "helpers", "kinds"),
    [
        (("agar",), (0.6,), (), {"center": 3, "dose": 4}),
        (("gellan_LA",), (0.2,), (LACTATE,), {"center": 3, "dose": 2, "helper": 2}),
        (("agar", "xanthan"), (0.5, 0.1), (), {"center": 3, "dose": 2, "ratio": 2}),
        (("agar", "gelatin", "xanthan"), (0.3, 1, 0.1), (KCL, LACTATE, CITRATE),
         {"center": 3, "dose": 2, "ratio": 3, "helper": 3}),
    ],
)  # fmt: skip
def test_a_set_has_the_center_three_times_and_each_change_once(keys, percents, helpers, kinds):
    found = trials(keys, percents, tuple((name, 0.1) for name in helpers))
    assert 7 <= len(found.cups) <= 11
    assert len({cup.key for cup in found.cups}) == len(found.cups)
    counted = {kind: sum(cup.key.startswith(kind) for cup in found.cups) for kind in kinds}
    assert counted == kinds
    assert sum(counted.values()) == len(found.cups)


def test_the_center_comes_first_halfway_and_last():
    found = pair()
    places = [cup.number for cup in found.cups if cup.key.startswith("center")]
    assert places == [1, 5, 8]
    assert [cup.number for cup in found.cups] == list(range(1, 9))


def test_every_cup_weighs_what_it_should():
    for found in (pair(), pair(cup_g=250.0), trials(("agar",), (0.6,), lines=SOUR)):
        for cup in found.cups:
            added = sum(one.grams if one.stock_g is None else one.stock_g for one in cup.amounts)
            late = sum(one.grams for one in cup.late)
            assert cup.base_g + added + late == pytest.approx(found.start_g)
            for amount, dose in zip(cup.amounts, cup.agents, strict=False):
                assert amount.grams == pytest.approx(dose.dose_pct / 100.0 * found.cup_g)


def test_one_batch_of_base_is_enough_for_all_cups_and_stocks():
    found = trials(("gellan_LA",), (0.15,), ((LACTATE, 0.1),), lines=MILK)
    needed = sum(cup.base_g for cup in found.cups) + sum(stock.base_g for stock in found.stocks)
    assert needed < found.base_total_g < 2.0 * needed
    assert sum(one.grams for one in found.base) == pytest.approx(found.base_total_g)


def test_ratio_cups_keep_the_total_dose_and_double_the_odds():
    found = pair()
    center = next(cup for cup in found.cups if cup.key == "center 1")
    for cup in found.cups:
        if cup.key.startswith("ratio"):
            first, second = (one.dose_pct for one in cup.agents)
            assert first + second == pytest.approx(0.7)
            moved = (first / second) / (center.agents[0].dose_pct / center.agents[1].dose_pct)
            assert moved == pytest.approx(2.0) or moved == pytest.approx(0.5)


def test_the_dose_step_is_the_smallest_that_is_clearly_felt():
    found = pair()
    center = next(cup for cup in found.cups if cup.key == "center 1").texture.modulus_kpa.value
    moduli = [c.texture.modulus_kpa.value for c in found.cups if c.key.startswith("dose")]
    assert max(moduli) >= 1.5 * center
    assert min(moduli) <= center / 1.5
    points = dose_points((1.0,), 1)
    powers = np.array([point.factor**2 for point in points])
    # A square law needs the root of 1.5, which is 1.22: the next step is 1.25.
    assert step_that_is_felt(points, powers, 1.0) == 1.25
    assert step_that_is_felt(points, powers, 0.0) == 1.3


def test_a_proposal_gives_the_set_around_its_agents_and_helpers():
    brief = brief_of()
    proposal = proposal_of(brief, {"agar": 0.5, "xanthan": 0.1}, helpers={KCL: 0.1})
    found = trial_set(proposal, brief, base_read(brief, catalog=CATALOG), seed=3)
    center = next(cup for cup in found.cups if cup.key == "center 1")
    assert [(one.key, one.dose_pct) for one in center.agents] == [("agar", 0.5), ("xanthan", 0.1)]
    assert [(one.name, one.pct) for one in center.helpers] == [(KCL, 0.1)]
    assert found.brief_title == brief.title


def test_what_is_predicted_of_a_cup_is_what_its_own_formula_comes_to():
    asked = brief_make(title="Test", base=SWEET)
    base = replace(base_read(asked, catalog=CATALOG), carrier="")
    keys = agents_of("kappa_carrageenan", "locust_bean_gum")
    steps = ProposalDraft(base, asked, keys, (KCL,)).plan().formula.steps
    found = trials_around(base, asked, keys, (0.4, 0.3), ((KCL, 0.1),), cup_g=1000.0)
    cup = next(one for one in found.cups if one.key.startswith("ratio 1"))
    shares = {one.name: one.grams / found.base_total_g for one in found.base}
    plain = found.start_g - sum(one.grams for one in cup.amounts)
    lines = [f"{one.grams:.6f} g {one.name}" for one in cup.amounts]
    lines += [f"{share * plain:.6f} g {name}" for name, share in shares.items()]
    alone = assess(formula_make(title="Alone", ingredients="\n".join(lines), steps=steps,
                                serving_temperature_c=4))  # fmt: skip
    wanted, got = alone.texture.modulus_kpa, cup.texture.modulus_kpa
    assert got.value == pytest.approx(wanted.value, rel=1e-4)
    assert (got.low, got.high) == pytest.approx((wanted.low, wanted.high), rel=1e-4)


def test_a_dose_too_small_for_the_scale_comes_as_a_stock_that_weighs_well():
    found = trials(("gellan_LA",), (0.15,), ((LACTATE, 0.1),), lines=MILK)
    assert {stock.name for stock in found.stocks} == {"gellan gum low acyl", "calcium lactate"}
    for stock in found.stocks:
        assert stock.powder_g >= 20 * found.scale_g * 0.999
        assert stock.powder_g / (stock.powder_g + stock.base_g) == pytest.approx(stock.share)
        used = sum(
            a.stock_g or 0 for cup in found.cups for a in cup.amounts if a.name == stock.name
        )
        assert used <= stock.powder_g + stock.base_g
    for cup in found.cups:
        for one in cup.amounts:
            assert one.stock_g is None or one.stock_g >= 20 * found.scale_g
    fine = trials(("gellan_LA",), (0.15,), ((LACTATE, 0.1),), lines=MILK, scale_g=0.001)
    assert fine.stocks == ()


def test_a_cup_without_a_helper_has_none_of_it():
    found = pair()
    cup = next(one for one in found.cups if one.change == f"no {KCL}")
    assert cup.question == f"Is the {KCL} needed?"
    assert cup.helpers[0].pct == 0
    assert next(one for one in cup.amounts if one.name == KCL).grams == 0


def test_late_acid_is_weighed_apart_and_early_acid_is_part_of_the_base():
    late = trials(("agar",), (0.6,), lines=SOUR)
    assert [one.name for one in late.cups[0].late] == ["lemon juice"]
    assert "lemon juice" not in {one.name for one in late.base}
    early = trials(("agar",), (0.6,), lines=SOUR, brief={"limits": {"is_acid_hot": True}})
    assert early.cups[0].late == ()
    assert "lemon juice" in {one.name for one in early.base}


def test_the_same_seed_gives_the_same_set_and_another_another_order():
    assert pair(seed=4) == pair(seed=4)
    assert [c.key for c in pair(seed=4).cups] != [c.key for c in pair(seed=5).cups]
    assert pair(seed=4).codes != pair(seed=5).codes


@pytest.mark.parametrize("seed", range(40))
def test_codes_are_three_plain_digits_and_start_differently(seed):
    codes = blind_codes(11, seed=seed)
    assert len(set(codes)) == 11
    assert all(len(code) == 3 and code[0] != "0" and len(set(code)) > 1 for code in codes)
    assert len({code[0] for code in codes[:9]}) == 9
    assert not {"123", "666", "911"} & set(codes)


@pytest.mark.parametrize("others", range(4, 9))
def test_every_cup_is_made_once(others):
    order = run_order(3, others, seed=others)
    assert sorted(order) == list(range(3 + others))
    assert order[0] < 3
    assert order[-1] < 3


def test_a_gel_is_read_as_a_gel_and_a_liquid_as_a_liquid():
    assert any("Load at break" in one for one in pair().measure)
    thick = trials(("xanthan",), (0.3,))
    assert any("Thickness" in one for one in thick.measure)
    assert not any("Load at break" in one for one in thick.measure)


def test_no_agent_no_dose_or_an_odd_cup_is_refused():
    with pytest.raises(InputError, match="dose above 0"):
        trials(("agar",), (0.0,))
    with pytest.raises(OutOfRangeError, match="cup of 5 g") as caught:
        trials(("agar",), (0.6,), cup_g=5.0)
    assert caught.value.field == "cup"
    with pytest.raises(OutOfRangeError) as caught:
        trials(("agar",), (0.6,), scale_g=5.0)
    assert caught.value.field == "scale"
