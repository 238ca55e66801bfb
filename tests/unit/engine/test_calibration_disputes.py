"""Readings that contradict each other are named and widen the range."""

from math import log

import pytest

from setwell.engine.calibration import calibrate
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.texture_unknowns import Observation, Part, Quantity, Target

KAPPA = "kappa_carrageenan"
TOTAL = log(4.0)
DOUBT = LawDoubt(strength=TOTAL, strain=log(1.5), setting=5.0, melting=5.0)
SURE = 0.05**2


def readings(*values, lot="K-1", base="dairy", variance=SURE, start=0):
    part = Part(Quantity.STRENGTH, KAPPA, lot, base, 1.0, TOTAL, f"cup in {base}")
    return [
        Observation(f"version:{n:03d}", (part,), value, variance)
        for n, value in enumerate(values, start=start)
    ]


def calibrated(*values, lot="K-1", base="dairy", more=()):
    target = Target(lot, base, DOUBT, f"cup in {base}")
    return calibrate([*readings(*values), *more], {KAPPA: target})


def strength(result):
    return result.corrections[KAPPA].strength


def test_readings_that_agree_are_not_disputed():
    result = calibrated(-0.60, -0.65, -0.55)
    assert result.disputes == ()
    assert not strength(result).is_disputed
    assert strength(result).half_width < 0.1


def test_two_readings_apart_are_named_and_both_covered():
    result = calibrated(-0.6, 0.2)
    (dispute,) = result.disputes
    assert dispute.keys == ("version:000", "version:001")
    assert not dispute.is_with_model
    assert dispute.ratio == pytest.approx(0.8 / (0.05 * 2**0.5), rel=1e-6)
    found = strength(result)
    assert found.is_disputed
    assert found.shift - found.half_width <= -0.6
    assert found.shift + found.half_width >= 0.2


def test_one_odd_reading_among_many_is_found():
    result = calibrated(-0.60, -0.62, -0.58, -0.61, 0.3)
    (dispute,) = result.disputes
    assert "version:004" in dispute.keys
    worst = max(result.fits.values(), key=lambda fit: abs(fit.deviations))
    assert worst.key == "version:004"
    assert strength(result).shift + strength(result).half_width >= 0.3


def test_a_dispute_never_looks_surer_than_the_same_readings_in_peace():
    peace, war = strength(calibrated(-0.2, -0.2)), strength(calibrated(-0.6, 0.2))
    assert war.half_width > 4 * peace.half_width


def test_a_lone_reading_far_from_the_law_is_told_and_covered():
    result = calibrated(-3.0)
    (dispute,) = result.disputes
    assert dispute.is_with_model
    assert dispute.keys == ("version:000",)
    assert strength(result).shift - strength(result).half_width <= -3.0


def test_a_second_reading_that_agrees_ends_the_surprise():
    result = calibrated(-3.0, -3.02)
    assert result.disputes == ()
    assert strength(result).shift == pytest.approx(-3.0, abs=0.05)


def test_lots_that_differ_as_lots_do_are_no_dispute():
    others = readings(-0.3, lot="K-2", start=10)
    assert calibrated(0.0, more=others).disputes == ()


def test_lots_that_differ_more_than_lots_do_are_told():
    others = readings(-2.0, lot="K-2", start=10)
    (dispute,) = calibrated(0.0, more=others).disputes
    assert dispute.keys == ("version:000", "version:010")


def test_a_quarrel_elsewhere_leaves_this_batch_alone():
    # Two lots in acid quarrel; this batch is another lot in milk.
    quarrel = [
        *readings(-1.0, lot="K-8", base="acid", start=20),
        *readings(1.0, lot="K-8", base="acid", start=30),
    ]
    result = calibrated(-0.1, -0.12, more=quarrel)
    assert len(result.disputes) == 1
    assert not strength(result).is_disputed
    alone = strength(calibrated(-0.1, -0.12))
    assert strength(result).shift == pytest.approx(alone.shift, abs=1e-9)
    assert strength(result).half_width == pytest.approx(alone.half_width, abs=1e-9)


def test_setting_the_odd_one_aside_ends_the_dispute():
    assert calibrated(-0.6, 0.2).disputes
    assert not calibrated(-0.6).disputes


def test_a_quarrel_reaches_no_farther_than_the_tables_and_the_readings():
    # The plunger's own doubt is shared, so the ratio would multiply far more than the scatter.
    part = Part(Quantity.STRENGTH, KAPPA, "K-1", "dairy", 1.0, TOTAL, "cup in dairy")
    cups = [
        Observation(f"version:{n:03d}", (part,), value, SURE, method="penetration")
        for n, value in enumerate((-1.2, -1.1, 0.2))
    ]
    result = calibrate(cups, {KAPPA: Target("K-1", "dairy", DOUBT, "cup in dairy")})
    found = strength(result)
    assert found.is_disputed
    assert found.half_width <= TOTAL + abs(found.shift) + 1e-9
    assert found.shift - found.half_width <= -TOTAL + 1e-9
