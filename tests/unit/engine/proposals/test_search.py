"""Sets of agents put together from tables, and all of them judged."""

from functools import cache
from itertools import combinations

import numpy as np
import pytest

from setwell.domain.brief import Brief, brief_make
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.by_law import joined, laws_among
from setwell.engine.proposals.mixing import mixed, slot
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.search import (
    Chunk,
    Found,
    Job,
    Kind,
    chunks_of,
    job_of,
    judge,
    merged,
    serial,
)
from setwell.engine.proposals.tables import Columns, agent_table, helper_levels
from setwell.engine.proposals.wish_windows import distances, mask_of
from setwell.engine.proposals.wishes import wishes_of

KEYS = (
    "agar", "gelatin", "iota_carrageenan", "kappa_carrageenan", "konjac", "locust_bean_gum",
    "methylcellulose_A", "starch_corn", "xanthan",
)  # fmt: skip


def the_brief() -> Brief:
    return brief_make(
        title="Cup", base="900 g water\n100 g sugar", texture={"word": "elastic"}, clarity="clear",
        mouth="holds",
    )  # fmt: skip


@cache
def job() -> Job:
    catalog, brief = catalog_build(), the_brief()
    base = base_read(brief, catalog=catalog)
    agents = [agent_named(catalog.materials[f"agent:{key}"], catalog) for key in KEYS]
    levels = helper_levels(("potassium chloride", "calcium lactate"))
    tables = [agent_table(base, brief, agent, levels) for agent in agents]
    return job_of(tables, levels, wishes_of(brief, base))


@cache
def all_found() -> Found:
    return merged([one for _, one in serial(judge, job(), chunks_of(job()))])


def place(*keys: str) -> tuple[int, ...]:
    return tuple(KEYS.index(key) for key in keys)


def added(places: tuple[int, ...], doses: np.ndarray) -> tuple[Predicted, np.ndarray]:
    whole = job()
    parts = [
        slot(whole.stack, np.array([n]), doses, at, len(places)) for at, n in enumerate(places)
    ]
    return mixed(parts, whole.light)


@pytest.mark.parametrize("width", [1, 2, 3])
def test_agents_without_a_law_add_up_as_in_the_engine(width):
    whole, doses = job(), np.arange(0, 17, 4)
    compared = 0
    for places in combinations(range(len(KEYS)), width):
        tables = [whole.tables[n] for n in places]
        if laws_among(tables):
            continue
        compared += 1
        by_tables, burden = added(places, doses)
        by_engine, its_burden = joined(tables, doses, len(whole.levels.percents))
        np.testing.assert_allclose(burden[0], its_burden)
        for name in Predicted._fields:
            got, wanted = getattr(by_tables, name)[0], getattr(by_engine, name)
            # Each table's own lowest dose stands for the base: powders bring traces of fat.
            off = 3e-3 if name == "haze" else 1e-9
            np.testing.assert_allclose(got, wanted, rtol=1e-9, atol=off, err_msg=name)
    assert compared >= (len(KEYS) if width == 1 else 10)


def test_a_pair_with_a_law_and_a_third_come_close_to_the_engine():
    whole = job()
    places = place("kappa_carrageenan", "locust_bean_gum", "starch_corn")
    doses = whole.doses(3)
    found = judge(whole, Chunk(np.array([places]), Kind.PAIR_AND_ADDED))
    wanted = judge(whole, Chunk(np.array([places]), Kind.BY_LAW))
    assert found.score[0] == pytest.approx(wanted.score[0], abs=0.05)
    assert len(doses) == 4


def test_every_set_is_judged_once():
    found = all_found()
    sets = [tuple(sorted(n for n in row if n >= 0)) for row in found.combos.tolist()]
    expected = [one for width in (1, 2, 3) for one in combinations(range(len(KEYS)), width)]
    assert sorted(sets) == sorted(expected)
    levels = len(job().levels.percents)
    each = [levels * len(job().doses(width)) ** width for width in (1, 2, 3)]
    counts = [len(list(combinations(range(len(KEYS)), width))) for width in (1, 2, 3)]
    assert found.judged.tolist() == [a * b for a, b in zip(each, counts, strict=True)]


def test_the_best_of_a_set_is_the_least_of_all_its_candidates():
    whole, found = job(), all_found()
    places, doses = place("agar", "starch_corn"), job().doses(2)
    predicted, burden = added(places, doses)
    off = distances(whole.wishes, predicted).reshape(len(whole.wishes), -1)
    row = next(n for n, one in enumerate(found.combos.tolist()) if one == [*places, -1])
    # Two gels nobody has a law for cost 0.25, and the second agent 0.12.
    scores = off.sum(axis=0) + burden.ravel() + 0.12 + 0.25
    assert found.score[row] == pytest.approx(scores.min())
    np.testing.assert_allclose(found.off[row], off[:, np.argmin(scores)])
    level, *picked = found.places[row].tolist()
    at = np.ravel_multi_index(
        (level, *(doses.tolist().index(n) for n in picked[:2])), predicted.modulus[0].shape
    )
    assert at == np.argmin(scores)


def test_the_nearest_of_each_set_of_unmet_wishes_is_kept():
    whole, found = job(), all_found()
    least: dict[int, float] = {}
    for chunk in chunks_of(whole, (1,)):
        assert chunk.kind is Kind.ADDED
        parts = slot(whole.stack, chunk.combos[:, 0], whole.doses(1), 0, 1)
        off = distances(whole.wishes, mixed([parts], whole.light)[0]).reshape(len(whole.wishes), -1)
        for mask, total in zip(mask_of(off).tolist(), off.sum(axis=0).tolist(), strict=True):
            least[mask] = min(total, least.get(mask, np.inf))
    kept = dict(zip(found.masks.tolist(), found.mask_off.tolist(), strict=True))
    assert sorted(kept) == found.masks.tolist()
    for mask, total in least.items():
        assert kept[mask] <= total + 1e-12


def test_the_order_of_chunks_does_not_matter():
    whole = job()
    chunks = chunks_of(whole)
    backwards = {n: judge(whole, chunks[n]) for n in reversed(range(len(chunks)))}
    again = merged([backwards[n] for n in range(len(chunks))])
    for name in Found._fields:
        np.testing.assert_array_equal(getattr(again, name), getattr(all_found(), name))


def test_agents_kept_apart_never_meet():
    whole = job()
    apart = frozenset({frozenset({"agar", "gelatin"})})
    other = job_of(whole.tables, whole.levels, whole.wishes, apart=apart)
    for chunk in chunks_of(other, (2, 3)):
        for row in chunk.combos.tolist():
            assert not set(place("agar", "gelatin")) <= set(row)


def test_a_finer_search_is_never_worse_for_a_pair():
    whole = job()
    fine = job_of(whole.tables, whole.levels, whole.wishes, agents_most=2, fineness=3)
    combos = np.array([place("agar", "starch_corn")])
    coarse_doses, fine_doses = whole.doses(2).tolist(), fine.doses(2).tolist()
    assert len(fine_doses) > len(coarse_doses)
    coarse, finer = (judge(one, Chunk(combos, Kind.ADDED)) for one in (whole, fine))
    if set(coarse_doses) <= set(fine_doses):
        assert finer.score[0] <= coarse.score[0] + 1e-12
    assert max(coarse_doses) == max(fine_doses)


def test_columns_have_one_row_for_each_level_and_dose():
    whole = job()
    assert {part.shape for part in whole.stack} == {(len(KEYS), len(whole.levels.percents), 17)}
    assert len(whole.stack) == len(Columns._fields)
    for table in whole.tables:
        assert (np.diff(table.doses_pct) > 0).all()


@pytest.mark.parametrize(
    ("allowed", "levels"),
    [((), 1), (("potassium chloride",), 3), (("calcium lactate", "trisodium citrate"), 5)],
)
def test_only_allowed_helpers_are_tried(allowed, levels):
    found = helper_levels(allowed)
    assert found.names == allowed
    assert found.percents.shape == (levels, len(allowed))
    assert not found.percents[0].any()
