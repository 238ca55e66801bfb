"""Samples that cannot be trusted are flagged and said, never deleted."""

import numpy as np
import pytest
from builders_probe import batch_course, log_of

from setwell.engine.probe.cleaning import log_clean
from setwell.engine.probe.results import Flag
from setwell.engine.probe.sample_flags import spikes_in

SECONDS = np.arange(0, 600, 10.0)
WARM = 20 + SECONDS / 30


def codes(clean):
    return [remark.code for remark in clean.remarks]


def flagged(clean, flag, probe=0):
    return np.flatnonzero(clean.probes[probe].flags & flag).tolist()


def test_a_good_log_has_no_remark_and_keeps_every_sample():
    seconds, celsius = batch_course()
    clean = log_clean(log_of(seconds, celsius))
    assert clean.remarks == ()
    assert not clean.probes[0].flags.any()
    assert clean.probes[0].gaps == ()
    np.testing.assert_allclose(clean.probes[0].course.celsius, celsius, atol=5e-4)


@pytest.mark.parametrize(("at", "high"), [(5, 90.0), (30, -20.0), (1, 60.0), (58, 60.0)])
def test_a_spike_is_left_out_of_the_line_and_kept_raw(at, high):
    celsius = WARM.copy()
    celsius[at] = high
    clean = log_clean(log_of(SECONDS, celsius))
    assert flagged(clean, Flag.SPIKE) == [at]
    assert clean.celsius[0, at] == high
    assert high not in clean.probes[0].course.celsius
    assert codes(clean) == ["spike"]


def test_a_spike_of_three_samples_is_seen_too():
    celsius = WARM.copy()
    celsius[20:23] = 90
    assert flagged(log_clean(log_of(SECONDS, celsius)), Flag.SPIKE) == [20, 21, 22]


def test_a_probe_that_is_moved_into_the_pot_and_out_again_is_no_spike():
    celsius = np.concatenate([np.full(20, 21.0), np.full(20, 85.0), np.full(20, 22.0)])
    assert not log_clean(log_of(SECONDS, celsius)).probes[0].flags.any()


def test_noise_of_a_degree_is_no_spike():
    celsius = WARM + np.random.default_rng(1).normal(0, 0.7, len(WARM))
    assert not spikes_in(celsius, SECONDS).any()


def test_a_slow_log_may_jump_farther_between_samples():
    seconds = np.arange(30) * 60.0
    celsius = np.full(30, 80.0)
    celsius[15] = 72.0
    assert not spikes_in(celsius, seconds).any()


def test_a_gap_is_longer_than_five_usual_steps():
    kept = np.ones(len(SECONDS), dtype=bool)
    kept[20:25] = False
    almost = log_clean(log_of(SECONDS[kept], WARM[kept]))
    assert [(gap.start_s, gap.end_s) for gap in almost.probes[0].gaps] == [(190.0, 250.0)]
    kept[24] = True
    assert log_clean(log_of(SECONDS[kept], WARM[kept])).probes[0].gaps == ()


def test_missing_numbers_of_one_probe_are_a_gap_of_that_probe_only():
    holey = WARM.copy()
    holey[10:30] = np.nan
    clean = log_clean(log_of(SECONDS, holey, WARM))
    assert len(clean.probes[0].gaps) == 1
    assert clean.probes[1].gaps == ()
    assert "no_number" in codes(clean)
    assert "gap" in codes(clean)


def test_out_of_range_readings_do_not_count():
    celsius = WARM.copy()
    celsius[:3] = [-273.1, 999.9, 320.0]
    clean = log_clean(log_of(SECONDS, celsius))
    assert flagged(clean, Flag.OUT_OF_RANGE) == [0, 1, 2]


def test_a_file_from_new_to_old_is_turned_round():
    clean = log_clean(log_of(SECONDS[::-1], WARM[::-1]))
    np.testing.assert_allclose(clean.probes[0].course.celsius, WARM, atol=5e-4)
    assert codes(clean) == ["reversed"]


def test_a_stray_line_out_of_order_is_left_out():
    seconds = SECONDS.copy()
    seconds[40] = 5.0
    clean = log_clean(log_of(seconds, WARM))
    assert flagged(clean, Flag.BACKWARD) == [40]
    assert codes(clean) == ["out_of_order"]


def test_after_a_clock_that_is_set_back_nothing_is_judged():
    seconds = np.concatenate([SECONDS, SECONDS[-1] - 300 + SECONDS])
    clean = log_clean(log_of(seconds, np.concatenate([WARM, WARM])))
    said = next(remark for remark in clean.remarks if remark.code == "backward")
    assert flagged(clean, Flag.BACKWARD) == list(range(60, 120))
    assert "runs back by 5 min at line 61" in said.text
    assert "split" in said.action


def test_samples_at_the_same_time_count_once():
    seconds = np.repeat(SECONDS[:20], 2)
    clean = log_clean(log_of(seconds, WARM[:40]))
    assert flagged(clean, Flag.DUPLICATE) == list(range(1, 40, 2))
    assert codes(clean) == ["duplicate"]


def test_samples_without_a_time_do_not_count():
    seconds = SECONDS.copy()
    seconds[7] = np.nan
    clean = log_clean(log_of(seconds, WARM))
    assert flagged(clean, Flag.NO_TIME) == [7]


def test_one_sample_and_none_give_no_course():
    one = log_clean(log_of([0.0], [20.0]))
    assert one.probes[0].course is None
    assert "one_sample" in codes(one)
    none = log_clean(log_of([], []))
    assert none.probes[0].course is None


def test_a_reading_that_never_moves_is_said():
    seconds = np.arange(0, 900, 10.0)
    clean = log_clean(log_of(seconds, np.full(90, 85.0), 20 + seconds / 60))
    assert clean.probes[0].is_still
    assert not clean.probes[1].is_still
    assert "still" in codes(clean)


def test_samples_far_apart_are_said():
    seconds = np.arange(6) * 900.0
    assert "sparse" in codes(log_clean(log_of(seconds, [90, 70, 50, 35, 20, 10])))


def test_the_error_of_the_probe_is_the_range_of_the_course():
    course = log_clean(log_of(SECONDS, WARM, probe_error_c=0.5)).probes[0].course
    np.testing.assert_allclose(course.high_c - course.low_c, 1.0)
    assert course.is_measured


def wall_clock(interval, hours=6.0):
    """Return the true times of a log, and those of a clock set back by an hour on the way."""
    true = np.arange(0.0, hours * 3_600 + 1, interval)
    return true, np.where(true >= 2 * 3_600, true - 3_600, true)


@pytest.mark.parametrize("interval", [1.0, 60.0, 600.0, 1_200.0, 1_800.0, 3_600.0])
def test_an_hour_that_comes_twice_is_never_lost_whatever_the_interval(interval):
    true, shown = wall_clock(interval)
    clean = log_clean(log_of(shown, 90.0 - true / 600.0))
    assert "backward" in codes(clean)
    assert float(clean.probes[0].course.seconds[-1]) <= 2 * 3_600


def test_an_hour_that_comes_twice_in_a_log_of_days_is_never_lost():
    true, shown = wall_clock(10.0, hours=120.0)
    clean = log_clean(log_of(shown, 4.0 + np.sin(true / 600.0)))
    assert "backward" in codes(clean)


def test_lines_that_are_only_swapped_are_put_in_order():
    seconds = SECONDS.copy()
    seconds[[20, 21, 22]] = seconds[[22, 20, 21]]
    assert "backward" not in codes(log_clean(log_of(seconds, WARM)))


def test_an_hour_set_forward_in_a_slow_log_is_a_gap():
    true = np.arange(0.0, 12 * 3_600, 1_800.0)
    shown = np.where(true >= 3 * 3_600, true + 3_600, true)
    (gap, *_) = [one for one in log_clean(log_of(shown, 60 - true / 900)).probes[0].gaps
                 if one.length_s > 1_800]  # fmt: skip
    assert gap.length_s == 5_400


def test_a_dip_that_was_left_out_is_a_gap_in_a_slow_log():
    celsius = np.full(60, 75.0)
    celsius[30:32] = 20.0
    probe = log_clean(log_of(np.arange(60) * 60.0, celsius + 0.01 * (np.arange(60) % 2))).probes[0]
    assert [gap.length_s for gap in probe.gaps] == [180.0]
