"""Powders dissolve over the steps the way a cook expects: heat, time, stirring, order, lumps."""

import numpy as np
import pytest
from builders_hydration import CELLULOSE, SOFT, WHISK, agent_input, dissolved, middle, verdict

from setwell.engine.gelling.hydration import Hydration, hydration
from setwell.engine.gelling.hydration_rate import kinetics
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES
from setwell.tables.agents import agent_rows

KAPPA, MILK = "3 g kappa carrageenan", "500 g whole milk"


def kappa(steps: str) -> Hydration:
    return dissolved(MILK, KAPPA, steps=WHISK + steps)


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("Heat to 85 °C, stirring", YES),
        ("Heat to 85 °C, stirring\nChill", YES),
        ("Heat to 85 °C, stirring\nPour into cups\nChill", YES),
        ("Heat to 90 °C, hold 2 min, stirring\nChill", YES),
        ("Boil", YES),
        ("Boil\nPour\nChill", YES),
        ("Heat to 85 °C\nChill", CANNOT_TELL),
        ("Heat to 85 °C without stirring\nChill", CANNOT_TELL),
        ("Heat to 71 °C, stirring\nChill", NO),
        ("Heat to 71 °C, hold 10 min, stirring\nChill", NO),
        ("Heat to 60 °C, hold 60 min, stirring\nChill", NO),
    ],
)
def test_kappa_needs_85_degrees_in_the_whole_pot(steps, expected):
    assert verdict(kappa(steps)) == expected


def test_a_top_at_71_degrees_takes_dose_away_from_the_batch():
    still = kappa("Heat to 85 °C without stirring\nChill")
    stirred = kappa("Heat to 85 °C, stirring constantly\nChill")
    bottom, core, top = still.zones[:, 0]
    assert bottom > core > top
    assert top < 0.6
    assert bottom > 0.95
    assert still.coldest[0] == top
    assert middle(still) == pytest.approx((bottom + core + top) / 3)
    assert middle(stirred) > middle(still) + 0.15


def test_an_untold_pot_may_be_as_uneven_as_one_that_is_not_stirred():
    untold = kappa("Heat to 85 °C\nChill")
    still = kappa("Heat to 85 °C without stirring\nChill")
    assert untold.fraction.low[0] == pytest.approx(still.fraction.low[0])
    assert middle(untold) > middle(still)


def test_a_hold_dissolves_more_than_a_touch():
    shares = [middle(kappa(f"Heat to 75 °C, hold {m} min, stirring\nChill")) for m in (0, 2, 5, 20)]
    assert np.all(np.diff(shares) > 0.005)


def test_no_told_heat_leaves_everything_open():
    for steps in ("", "Preheat the oven to 180 °C\nStir", "Simmer, stirring"):
        found = dissolved(MILK, KAPPA, steps=steps)
        assert np.isnan(found.fraction.value[0])
        assert np.isnan(found.coldest[0])
        assert (found.fraction.low[0], found.fraction.high[0]) == (0.0, 1.0)
        assert verdict(found) == CANNOT_TELL


def test_powder_that_comes_after_the_boil_does_not_see_the_boil():
    steps = "Boil the milk, stirring\nCool to 55 °C\nStir in the kappa\nChill"
    assert middle(dissolved(MILK, KAPPA, steps=steps)) < 0.05


def test_powder_stirred_dry_into_hot_liquid_clumps():
    late = dissolved(
        MILK, KAPPA, steps="Heat the milk to 90 °C\nAdd the kappa\nBoil 5 min, stirring"
    )
    spread = kappa("Boil 5 min, stirring")
    assert late.dispersed.value[0] < 0.8
    assert spread.dispersed.value[0] > 0.98
    assert middle(late) < middle(spread) - 0.05
    assert (verdict(late), verdict(spread)) == (CANNOT_TELL, YES)


def test_bloomed_gelatin_is_clear_at_sixty_and_dry_gelatin_is_not_sure():
    lines = (SOFT, "15 g gelatin")
    bloomed = dissolved(*lines, steps="Bloom the gelatin\nWarm to 60 °C, stirring\nChill at 4 °C")
    dry = dissolved(*lines, steps="Warm to 60 °C, stirring\nChill at 4 °C")
    assert (verdict(bloomed), verdict(dry)) == (YES, CANNOT_TELL)
    assert middle(dry) < middle(bloomed)


def test_lambda_thickens_without_a_cook_and_builds_for_a_while():
    lines = ("500 g whole milk", "2 g lambda carrageenan")
    soon, later, hot = (
        dissolved(*lines, steps=WHISK + steps)
        for steps in ("", "Rest 60 min", "Heat to 70 °C, stirring")
    )
    assert 0.7 < middle(soon) < middle(later) - 0.03
    assert (verdict(later), verdict(hot)) == (YES, YES)
    assert soon.fraction.low[0] < 0.8 < later.fraction.low[0]


def test_konjac_takes_an_hour_or_two_cold_and_minutes_hot():
    lines = (SOFT, "5 g konjac")
    half_hour, hot = (
        dissolved(*lines, steps=WHISK + steps)
        for steps in ("", "Heat to 80 °C, hold 15 min, stirring")
    )
    long = dissolved(*lines, steps=WHISK + "Rest 120 min")
    assert middle(half_hour) < 0.7
    assert middle(long) > 0.9
    assert middle(hot) > 0.95


def test_methylcellulose_dissolves_only_in_the_cold():
    lines = (SOFT, "5 g methylcellulose")
    hot = dissolved(*lines, steps="Whisk into the water\nHeat to 85 °C, hold 60 min, stirring")
    iced = dissolved(*lines, steps=WHISK + "Cool to 4 °C\nRest 720 min")
    assert middle(hot) < 0.2
    assert verdict(iced) == YES


def test_starch_swells_in_its_window():
    lines = (SOFT, "25 g corn starch")
    shares = [
        middle(dissolved(*lines, steps=WHISK + f"Heat to {t} °C, hold 5 min, stirring"))
        for t in (60, 67, 74, 90)
    ]
    assert shares[0] < 0.02
    assert 0.3 < shares[1] < 0.7
    assert shares[2] > 0.9
    assert shares[3] > 0.99


def test_much_sugar_slows_and_a_little_does_not():
    def at(sugar):
        lines = (f"{500 - sugar} g whole milk", f"{sugar} g sugar", KAPPA)
        return dissolved(*lines, steps=WHISK + "Heat to 80 °C, stirring\nChill")

    none, little, much = (middle(at(sugar)) for sugar in (0, 50, 260))
    assert little == pytest.approx(none)
    assert much < none - 0.15
    # Sugar that goes in after the cook does nothing: the upper bound allows for it.
    assert at(260).fraction.high[0] == pytest.approx(at(0).fraction.high[0])


def test_brine_slows_kappa():
    salty = dissolved("480 g water", "20 g salt", KAPPA, steps=WHISK + "Heat to 80 °C, stirring")
    plain = dissolved("500 g water", KAPPA, steps=WHISK + "Heat to 80 °C, stirring")
    assert middle(salty) < middle(plain) - 0.1


def test_spirit_slows_xanthan():
    lines = ("1 g xanthan",)
    strong = dissolved("500 g vodka", *lines, steps=WHISK)
    water = dissolved(SOFT, *lines, steps=WHISK)
    assert middle(strong) < middle(water) - 0.02


def test_hard_water_keeps_gellan_shut_and_citrate_opens_it():
    steps = WHISK + "Heat to 78 °C, hold 2 min, stirring"
    soft = dissolved(SOFT, "3 g low acyl gellan", steps=steps)
    hard = dissolved("498 g water", "2 g calcium lactate", "3 g low acyl gellan", steps=steps)
    assert middle(soft) > 0.9
    assert middle(hard) < 0.2
    cool = WHISK + "Heat to 50 °C, hold 5 min, stirring"
    plain = dissolved("500 g water", "3 g low acyl gellan", steps=cool)
    held = dissolved("500 g water", "1.5 g sodium citrate", "3 g low acyl gellan", steps=cool)
    assert middle(plain) < 0.05
    assert middle(held) > 0.5


def test_early_acid_keeps_gellan_shut_and_late_acid_does_not():
    lines = ("450 g water", "50 g lemon juice", "3 g low acyl gellan")
    early = dissolved(*lines, steps=WHISK + "Add the lemon juice\nHeat to 85 °C, stirring")
    late = dissolved(*lines, steps=WHISK + "Heat to 85 °C, stirring\nAdd the lemon juice\nChill")
    assert middle(early) < middle(late)


@pytest.mark.parametrize("key", sorted(agent_rows()))
def test_every_agent_is_whole_after_a_long_time_at_its_best_temperature(key):
    steps = (
        WHISK + "Cool to 3 °C\nRest 1500 min"
        if key in CELLULOSE
        else ("Bloom 10 min\nMix with the sugar\nBoil 60 min, stirring")
    )
    found = hydration(agent_input(SOFT, "3 g xanthan", steps=steps, key=key))
    # Skins of powder poured in dry stay behind.
    assert middle(found) > 0.9
    assert verdict(found) == YES


@pytest.mark.parametrize("key", sorted(agent_rows()))
def test_bounds_enclose_the_value_for_every_agent(key):
    for steps in (
        "Heat to 30 °C",
        "Heat to 66 °C",
        "Heat to 82 °C, hold 1 min, stirring",
        "Boil\nChill",
    ):
        value, low, high = hydration(
            agent_input(SOFT, "3 g xanthan", steps=steps, key=key)
        ).fraction
        assert 0.0 <= low[0] <= value[0] <= high[0] <= 1.0


@pytest.mark.parametrize("key", sorted(agent_rows()))
def test_every_agent_has_its_own_rate_and_names_its_sources(key):
    rates = kinetics(key)
    assert rates.minutes.low < rates.minutes.value < rates.minutes.high
    assert rates.q10 >= 1.0
    assert rates.evidence
    assert rates.window is not None or rates.cold_share.value == 1.0
    assert rates.window is None or rates.window.is_cooling == (key in CELLULOSE)


def test_candidates_are_hydrated_each_for_itself():
    sugars = (0, 90, 170, 260, 300)
    alone = [
        agent_input(f"{500 - s} g whole milk", f"{s} g sugar", KAPPA, steps=WHISK + "Heat to 82 °C")
        for s in sugars
    ]
    together = agent_input(
        "500 g whole milk", "100 g sugar", KAPPA, steps=WHISK + "Heat to 82 °C",
        masses=[(500 - s, s, 3) for s in sugars],
    )  # fmt: skip
    found = hydration(together)
    for row, agent in enumerate(alone):
        one = hydration(agent)
        for batch, single in zip(found.fraction, one.fraction, strict=True):
            assert batch[row] == pytest.approx(single[0], rel=1e-9, abs=1e-12)
        assert found.zones[:, row] == pytest.approx(one.zones[:, 0], rel=1e-9, abs=1e-12)


def test_no_candidates_are_no_trouble():
    none = agent_input(MILK, KAPPA, steps=WHISK + "Boil", masses=np.zeros((0, 2)))
    assert hydration(none).fraction.value.shape == (0,)


def test_a_warmer_or_longer_pot_never_dissolves_less():
    for key in ("kappa_carrageenan", "agar", "locust_bean_gum", "lambda_carrageenan", "tara"):
        for course in (
            [f"Heat to {t} °C, stirring\nChill" for t in range(24, 100, 4)],
            [f"Heat to 78 °C, hold {m} min, stirring\nChill" for m in (0, 1, 3, 10, 60)],
        ):
            found = [
                hydration(agent_input(SOFT, "3 g xanthan", steps=WHISK + steps, key=key)).fraction
                for steps in course
            ]
            for part in zip(*found, strict=True):
                assert np.all(np.diff(np.concatenate(part)) >= -1e-12)
