"""Dry kits: bags, tolerances, lots and what all of them take."""

import datetime as dt

import pytest
from builders_engine import formula_of

from setwell.domain.pantry import Kitchen, Lot, Pantry
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.kit.build import KitAsk, kit_build
from setwell.errors import InputError

TODAY = dt.date(2026, 5, 1)
LINES = (
    "Base:", "800 g whole milk", "100 g sugar", "5 g kappa carrageenan", "10 g cocoa powder",
    "Finish:", "1 g salt", "20 g butter", "30 g honey",
)  # fmt: skip
KAPPA = Lot(agent="kappa carrageenan", lot_code="K-7", best_before=dt.date(2026, 11, 1),
            in_use=True)  # fmt: skip


def kit_of(*lines, ask=None, step=0.1, lots=(KAPPA,), **fields):
    catalog = catalog_build(Pantry(lots=lots, kitchen=Kitchen()))
    bench = bench_build(formula_of(*(lines or LINES), **fields), catalog=catalog)
    return kit_build(bench, ask=ask or KitAsk(), readability_g=step, lots=lots, today=TODAY)


def test_powders_are_packed_by_the_moment_they_go_in():
    kit = kit_of()
    assert [(bag.letter, bag.heading) for bag in kit.bags] == [("A", "Base"), ("B", "Finish")]
    names = [item.name for item in kit.items]
    assert names == ["Sugar, granulated", "Kappa carrageenan", "Cocoa powder", "Salt, table"]
    left = [name for _, name, _ in kit.left_out]
    assert [name.split(",")[0] for name in left] == ["Milk", "Butter", "Honey"]
    assert kit.net_g == pytest.approx(116)


def test_all_kits_take_the_spare_too():
    kit = kit_of(ask=KitAsk(kits=20, spare_pct=5))
    assert kit.items[1].total_g == pytest.approx(5 * 20 * 1.05)


@pytest.mark.parametrize(
    ("grams", "step", "shown", "tolerance"),
    [
        # 5 g may be off by 0.1 g; half a step of that is hidden, so the display must be exact.
        (5.0, 0.1, 5.0, 0.0),
        (50.0, 0.1, 50.0, 0.9),
        (5.0, 0.01, 5.0, 0.09),
        # 2 g may be off by 0.04 g, and a step of 0.1 g hides 0.05 g.
        (2.0, 0.1, 2.0, None),
        # 3.74 g is shown as 3.7: 0.0748 less 0.05 less 0.04 leaves nothing.
        (3.74, 0.1, 3.7, None),
        (3.72, 0.1, 3.7, 0.0),
    ],
)
def test_a_tolerance_is_what_the_dose_leaves_after_the_display(grams, step, shown, tolerance):
    item = kit_of(f"{grams} g kappa carrageenan", "900 g whole milk", step=step).items[0]
    assert item.shown_g == pytest.approx(shown)
    assert item.tolerance_g == (tolerance if tolerance is None else pytest.approx(tolerance))
    assert bool(item.advice) is (tolerance is None)
    if tolerance is not None:
        # At the far end of the display the true weight is still within 2 %.
        worst = abs(shown - grams) + tolerance + step / 2
        assert worst <= 0.02 * grams + 1e-9


def test_the_lot_in_use_stands_on_the_sheet_and_bounds_the_day():
    kit = kit_of()
    assert kit.items[1].lots == (("K-7", dt.date(2026, 11, 1)),)
    assert kit.best_before == dt.date(2026, 11, 1)
    assert "No lot is in use for Kappa" in kit_of(lots=()).remarks[0]


@pytest.mark.parametrize(
    ("day", "told"),
    [(dt.date(2026, 4, 30), "past its day"), (dt.date(2026, 6, 1), "has to be used by")],
)
def test_a_lot_near_its_end_is_told(day, told):
    lot = KAPPA.model_copy(update={"best_before": day})
    assert any(told in remark for remark in kit_of(lots=(lot,)).remarks)


def test_only_what_is_packed_counts_for_the_allergens():
    kit = kit_of("800 g whole milk", "30 g wheat flour", "20 g sugar")
    assert any("wheat" in name or "gluten" in name for name in kit.allergens)
    assert not any("milk" in name for name in (*kit.allergens, *kit.allergens_check))


def test_a_premix_share_brings_the_dose_and_the_spare_stays_in_the_bag():
    kit = kit_of(ask=KitAsk(kits=10, spare_pct=10))
    (premix,) = kit.premixes
    assert premix.parts[0].grams == pytest.approx(55)
    assert premix.take_g * premix.parts[0].grams / premix.whole_g == pytest.approx(5.0)
    assert premix.whole_g / premix.take_g == pytest.approx(11)


def test_lines_can_be_chosen_and_kits_resized():
    kit = kit_of(ask=KitAsk(lines=(4,), serves_g=483))
    (item,) = kit.items
    assert item.name == "Kappa carrageenan"
    assert item.grams == pytest.approx(5 * 483 / 966)
    assert kit.premixes == ()


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (KitAsk(kits=0), "kits"),
        (KitAsk(kits=501), "kits"),
        (KitAsk(spare_pct=-1), "spare_pct"),
        (KitAsk(spare_pct=float("nan")), "spare_pct"),
        (KitAsk(serves_g=0), "serves_g"),
        (KitAsk(lines=(99,)), "lines"),
    ],
)
def test_what_cannot_be_packed_is_told_at_its_field(ask, field):
    with pytest.raises(InputError) as told:
        kit_of(ask=ask)
    assert told.value.field == field


def test_a_formula_without_powders_says_so():
    with pytest.raises(InputError, match="No line of this formula keeps dry"):
        kit_of("800 g whole milk", "30 g honey")
