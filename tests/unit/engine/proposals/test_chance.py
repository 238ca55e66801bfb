"""The chance of a proposal elsewhere: the same as that of the formula in other kitchens."""

import pytest
from builders_refine import draft_of

from setwell.domain.kitchen_profile import HOME
from setwell.engine.assess import bench_build
from setwell.engine.proposals.chance import chance_of, texture_wishes
from setwell.engine.proposals.wishes import wishes_of
from setwell.engine.robustness.run import robustness
from setwell.engine.robustness.window import Window
from setwell.engine.texture_words import texture_words

PAIR = ("kappa carrageenan", "locust bean gum")


def bench_of(draft, *percents):
    return bench_build(draft.formula(percents), catalog=draft.base.catalog)


def wishes_for(draft):
    return wishes_of(draft.brief, draft.base)


@pytest.mark.parametrize(
    ("names", "percents", "window"),
    [
        (PAIR, [0.4, 0.3], {"sets": True, "modulus_low": 1.2, "modulus_high": 4.0}),
        (("agar",), [0.6], {"sets": True, "modulus_low": 10.0, "modulus_high": 30.0}),
        (("xanthan gum",), [0.3], {"sets": False, "thickness_low": 200.0, "thickness_high": 300.0}),
    ],
)
def test_the_quick_chance_is_that_of_many_draws(names, percents, window):
    draft = draft_of(*names, texture=window)
    bench, wishes = bench_of(draft, *percents), wishes_for(draft)
    quick = chance_of(bench, wishes)
    many = robustness(bench, HOME, window=Window(**window))
    error = 3.0 * (0.25 / quick.draws) ** 0.5
    assert quick.value == pytest.approx(many.chance.value, abs=error)
    assert quick.low <= quick.value <= quick.high
    assert quick.low <= many.chance_low + error
    assert quick.high >= many.chance_high - error
    assert (quick.profile, quick.draws) == ("home", 256)


def test_a_wider_window_is_met_more_often():
    shares = []
    for most in (2.0, 3.0, 6.0):
        draft = draft_of(*PAIR, texture={"sets": True, "modulus_low": 1.5, "modulus_high": most})
        shares.append(chance_of(bench_of(draft, 0.4, 0.3), wishes_for(draft)).value)
    assert shares == sorted(shares)
    assert shares[0] < shares[-1]


@pytest.mark.parametrize("partner", ["locust bean gum", "tara gum", "konjac gum"])
def test_a_gel_of_two_thickeners_is_as_doubtful_as_its_law(partner):
    draft = draft_of(partner, "xanthan gum", texture={"sets": True, "modulus_low": 0.3})
    bench = bench_of(draft, 0.55, 0.68)
    found = texture_words(bench).modulus_kpa
    chance = chance_of(bench, wishes_for(draft))
    # The range reaches below the window, and as the law may be, so does the chance.
    assert found.low < 0.3 < found.high
    assert chance.low < 0.5
    assert robustness(bench, HOME, window=Window(sets=True, modulus_low=0.3)).chance_low < 0.5


def test_only_wishes_on_texture_count():
    draft = draft_of("agar", texture={"sets": True}, clarity="clear", mouth="melts")
    wishes = wishes_for(draft)
    assert len(wishes) > len(texture_wishes(wishes)) >= 1
    assert chance_of(bench_of(draft, 0.6), wishes).value == 1.0
    rest = tuple(one for one in wishes if one not in texture_wishes(wishes))
    assert chance_of(bench_of(draft, 0.6), rest) is None


def test_the_same_seed_gives_the_same_chance():
    draft = draft_of("agar", texture={"sets": True, "modulus_low": 12.0})
    bench, wishes = bench_of(draft, 0.6), wishes_for(draft)
    one, other = (chance_of(bench, wishes, seed=4, draws=100) for _ in range(2))
    assert one == other
    assert one.draws == 128
