"""What readings move, by lot, by base and by share in a blend."""

from math import log, sqrt

import numpy as np
import pytest

from setwell.engine.calibration import calibrate
from setwell.engine.gelling.doubt import RowDoubt
from setwell.engine.texture_unknowns import (
    LOT_DOUBT,
    METHOD_DOUBT,
    RECIPE_DOUBT,
    Observation,
    Part,
    Quantity,
    Target,
    prior_deviation,
    unknowns_of,
    unknowns_of_target,
)

KAPPA, IOTA = "kappa_carrageenan", "iota_carrageenan"
TOTAL = log(4.0)
DOUBT = RowDoubt(strength=TOTAL, strain=log(1.5), setting=5.0, melting=5.0, flow=log(3.0))
LOT, RECIPE = LOT_DOUBT[Quantity.STRENGTH], RECIPE_DOUBT[Quantity.STRENGTH]


def part(agent=KAPPA, lot="K-1", base="dairy", weight=1.0, quantity=Quantity.STRENGTH, **more):
    half_width, recipe = more.get("half_width", TOTAL), more.get("recipe", f"cup in {base}")
    return Part(quantity, agent, lot, base, weight, half_width, recipe)


def reading(value, *parts, name="a", variance=1e-8, method=""):
    return Observation(f"version:{name}", parts or (part(),), value, variance, method)


def target(lot="K-1", base="dairy", doubt=DOUBT, recipe=None):
    return {KAPPA: Target(lot, base, doubt, recipe or f"cup in {base}")}


def strength_of(calibrated, agent=KAPPA):
    return calibrated.corrections[agent].strength


def test_an_exact_reading_of_this_very_batch_settles_it():
    found = strength_of(calibrate([reading(log(0.5))], target()))
    assert found.shift == pytest.approx(log(0.5), abs=1e-6)
    assert found.half_width < 1e-3
    assert found.readings == 1


def test_a_doubtful_reading_is_weighed_against_the_law():
    variance = (TOTAL / 2) ** 2
    found = strength_of(calibrate([reading(log(0.5), variance=variance)], target()))
    assert found.shift == pytest.approx(log(0.5) / 2)
    assert found.half_width == pytest.approx(TOTAL / sqrt(2))


def test_another_lot_in_the_same_base_learns_all_but_the_lot():
    found = strength_of(calibrate([reading(log(0.5))], target(lot="K-2")))
    base_share = 1 - (LOT / TOTAL) ** 2
    assert found.shift == pytest.approx(base_share * log(0.5), rel=1e-6)
    # Twice the lot part stays open: that of the lot measured and that of the lot used.
    left = LOT**2 + TOTAL**2 * base_share * (LOT / TOTAL) ** 2
    assert found.half_width == pytest.approx(sqrt(left), rel=1e-6)


def test_the_same_lot_in_another_base_learns_the_lot_only():
    found = strength_of(calibrate([reading(log(0.5))], target(base="acid")))
    assert found.shift == pytest.approx((LOT / TOTAL) ** 2 * log(0.5), rel=1e-6)
    assert found.half_width < TOTAL


def test_another_recipe_keeps_what_recipes_differ_by():
    found = strength_of(calibrate([reading(log(0.5))], target(recipe="twice the dose")))
    shared = 1 - (RECIPE / TOTAL) ** 2
    assert found.shift == pytest.approx(shared * log(0.5), rel=1e-6)
    left = RECIPE**2 + TOTAL**2 * shared * (RECIPE / TOTAL) ** 2
    assert found.half_width == pytest.approx(sqrt(left), rel=1e-6)


def test_lot_base_and_recipe_make_up_the_whole_doubt_of_the_law():
    parts = unknowns_of_target(KAPPA, Quantity.STRENGTH, target()[KAPPA])
    for total in (TOTAL, 0.3, 0.1, 0.0):
        squares = [prior_deviation(one, {(Quantity.STRENGTH, KAPPA): total}) ** 2 for one in parts]
        assert 2 * sqrt(sum(squares)) == pytest.approx(total)


def test_another_lot_in_another_base_learns_nothing():
    calibrated = calibrate([reading(log(0.5))], target(lot="K-2", base="acid"))
    assert calibrated.corrections == {}


def test_a_powder_without_a_named_lot_tells_nothing_of_a_named_one():
    of_any = reading(log(0.5), part(lot=""))
    assert calibrate([of_any], target(base="acid")).corrections == {}
    assert strength_of(calibrate([of_any], target(lot="", base="acid"))).readings == 1


def test_two_lots_tell_the_lot_from_the_law():
    readings = [
        reading(log(0.5), part(lot="K-1"), name="a"),
        reading(log(1.0), part(lot="K-2"), name="b"),
    ]
    weak = calibrate(readings, target(lot="K-1")).lots[Quantity.STRENGTH, KAPPA]
    strong = calibrate(readings, target(lot="K-2")).lots[Quantity.STRENGTH, KAPPA]
    assert weak.shift < 0 < strong.shift
    assert strong.shift - weak.shift == pytest.approx(log(2.0), rel=1e-6)


def test_a_way_of_measuring_can_be_off_the_same_way_every_time():
    many = [reading(0.4, name=str(n), method="penetration") for n in range(9)]
    found = strength_of(calibrate(many, target()))
    # However often it is repeated, the doubt of the method stays.
    variance = 1 / (1 / TOTAL**2 + 1 / METHOD_DOUBT["penetration"] ** 2)
    assert found.half_width == pytest.approx(sqrt(variance), rel=1e-3)
    assert found.shift < 0.4
    assert found.readings == 9


def test_a_blend_shares_the_blame_by_weight():
    both = reading(log(0.5), part(weight=0.8), part(IOTA, lot="", weight=0.2))
    targets = {
        KAPPA: Target("K-1", "dairy", DOUBT, "cup in dairy"),
        IOTA: Target("", "dairy", DOUBT, "cup in dairy"),
    }
    calibrated = calibrate([both], targets)
    kappa, iota = strength_of(calibrated), strength_of(calibrated, IOTA)
    assert kappa.shift / iota.shift == pytest.approx(4.0, rel=1e-6)
    assert 0.8 * kappa.shift + 0.2 * iota.shift == pytest.approx(log(0.5), abs=1e-6)


def test_stress_at_break_speaks_of_firmness_and_of_strain_together():
    broken = reading(log(2.0), part(), part(quantity=Quantity.STRAIN, half_width=log(1.5)))
    found = calibrate([broken], target()).corrections[KAPPA]
    assert found.strength.shift + found.strain.shift == pytest.approx(log(2.0), abs=1e-6)
    assert found.strength.shift > found.strain.shift > 0
    assert found.setting is None
    # What was measured is their sum: it is exact although each of the two stays open.
    assert found.stress.shift == pytest.approx(log(2.0), abs=1e-6)
    assert found.stress.half_width < 1e-3 < found.strain.half_width


def test_a_reading_where_the_law_was_wider_counts_for_less():
    sure = strength_of(calibrate([reading(log(0.5))], target()))
    guess = strength_of(calibrate([reading(log(0.5), part(half_width=2 * TOTAL))], target()))
    assert guess.half_width > sure.half_width
    assert guess.shift > sure.shift


def test_a_setting_temperature_moves_by_kelvins():
    warm = reading(3.0, part(quantity=Quantity.SETTING, half_width=5.0), variance=1.0)
    found = calibrate([warm], target()).corrections[KAPPA]
    assert found.setting.shift == pytest.approx(3.0 * 6.25 / 7.25)
    assert found.setting.half_width == pytest.approx(2 * sqrt(6.25 / 7.25))
    assert found.strength is None


def test_the_truth_lies_in_the_range_as_often_as_a_range_promises():
    draw = np.random.default_rng(20261125)
    inside, count = 0, 400
    for _ in range(count):
        cups = [part(lot=lot, base=base) for lot in ("K-1", "K-2") for base in ("dairy", "acid")]
        unknowns = sorted({one for cup in cups for one in unknowns_of(cup)})
        totals = {(Quantity.STRENGTH, KAPPA): TOTAL}
        truth = {one: draw.normal(0.0, prior_deviation(one, totals)) for one in unknowns}
        press = draw.normal(0.0, METHOD_DOUBT["press"] / 2)
        seen = [
            reading(
                sum(truth[one] for one in unknowns_of(cup)) + press + draw.normal(0.0, 0.1),
                cup, name=str(n), variance=0.01, method="press",
            )
            for n, cup in enumerate(cups[1:])
        ]  # fmt: skip
        # The batch that nobody measured.
        found = strength_of(calibrate(seen, target()))
        off = sum(truth[one] for one in unknowns_of(cups[0])) - found.shift
        inside += abs(off) <= found.half_width
    # Two standard deviations hold 95.4 %; four deviations of the count to each side.
    assert inside / count == pytest.approx(0.954, abs=0.042)


def test_a_law_narrower_than_lots_differ_has_lots_only():
    narrow = DOUBT._replace(strength=0.1)
    calibrated = calibrate([reading(0.1, part(half_width=0.1))], target(lot="K-2", doubt=narrow))
    found = strength_of(calibrated)
    assert found.shift == pytest.approx(0.0, abs=1e-12)
    assert found.half_width == pytest.approx(0.1)
