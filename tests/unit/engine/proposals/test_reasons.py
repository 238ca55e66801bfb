"""Why an agent that was judged is no answer, in one plain line."""

import numpy as np
import pytest

from setwell.domain.brief import brief_make
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.catalog import catalog_build
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES
from setwell.engine.pipeline import batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.predicted import Predicted, predicted_of
from setwell.engine.proposals.reasons import why_out
from setwell.engine.proposals.shelf import shelf_of
from setwell.engine.proposals.wish_windows import Wish, Within, distances
from setwell.engine.proposals.wishes import wishes_of

AGENT = BlendAgent("agar", "Agar", "agar", "")
GEL = Wish("sets", "sets", (Within("sets", 1.0, None, 2.0), Within("sets", 0.0, None, 0.25)))
STRAIN = Wish("texture", "is elastic", (Within("strain", 0.9, None, 0.2, is_log=True),))
FIRM = Wish("firmness", "is firm", (Within("modulus", 5.0, 10.0, 0.4, is_log=True),))
THICK = Wish("thickness", "is thick", (Within("thickness", 400.0, None, 0.4, is_log=True),))


def predicted(count: int = 3, **changes: object) -> Predicted:
    """Return doses of a gel that meets everything, but for the changes."""
    row = {"sets": YES, "modulus": 7.0, "stress": 10.0, "strain": 1.0, "thickness": 500.0,
           "set_c": 40.0, "melt_c": 85.0, "stands_c": 85.0, "haze": 0.05, "weeps": 0.0,
           "frozen": YES, "cost": 1.0, "afloat": 0.0}  # fmt: skip
    return Predicted(**{
        name: np.broadcast_to(changes.get(name, value), (count,)) for name, value in row.items()
    })  # fmt: skip


def why_of(wishes: tuple[Wish, ...], found: Predicted) -> str:
    off = distances(wishes, found)
    best = int(np.argmin(off.sum(axis=0)))
    return why_out(AGENT, wishes, found, off, best, served_c=4.0).why


def test_a_brittle_gel_is_told_with_its_nearest_strain_and_the_one_asked():
    found = predicted(strain=np.array([0.1, 0.3, 0.2]))
    assert why_of((GEL, STRAIN), found) == (
        "sets, but too brittle (breaks at a strain of 0.3 at most; 0.9 is asked)"
    )


def test_a_strain_far_beyond_what_is_judged_still_shows_its_best():
    # All three are farther off than distances reach, so none is the nearest by them.
    found = predicted(strain=np.array([0.05, 0.11, 0.02]))
    assert "0.11 at most" in why_of((GEL, STRAIN), found)


def test_a_gel_that_only_may_set_is_told_as_one():
    found = predicted(sets=CANNOT_TELL, modulus=1.0)
    assert why_of((GEL, FIRM), found).startswith("may set, but too soft (1 kPa at most")


def test_two_wishes_that_exclude_each_other_are_both_told():
    found = predicted(strain=np.array([1.0, 0.3, 0.3]), modulus=np.array([0.5, 7.0, 7.0]))
    told = why_of((GEL, STRAIN, FIRM), found)
    assert "too brittle" in told
    assert "where that is mended, too soft" in told


def test_a_thin_liquid_is_told_with_the_thickness_it_reaches():
    found = predicted(sets=NO, modulus=0.0, thickness=np.array([10.0, 120.0, 60.0]))
    assert why_of((THICK,), found) == "thickens, but to 120 mPa·s at most; 400 mPa·s is asked"


def test_a_liquid_no_thicker_than_water_hardly_thickens():
    found = predicted(sets=NO, modulus=0.0, thickness=1.2)
    assert why_of((THICK,), found).startswith("hardly thickens here (1.2 mPa·s at most")


def test_a_gel_has_no_thickness_to_reach():
    found = predicted(thickness=np.nan)
    assert why_of((THICK,), found) == "sets to a gel instead"


@pytest.mark.parametrize(
    ("window", "changes", "told"),
    [
        (Within("melt_c", 65.0, None, 5.0), {"melt_c": 30.0},
         "melts at 30 °C (86 °F), below the 65 °C (149 °F) of one that is so"),
        (Within("melt_c", None, 35.0, 3.0), {"melt_c": np.inf},
         "never melts, asked is one that is so"),
        (Within("haze", None, 0.15, 0.1), {"haze": 0.6}, "cloudy, and clear is asked"),
        (Within("frozen", 0.0, None, 0.25), {"frozen": NO}, "breaks and weeps after freezing"),
        (Within("set_c", 40.0, None, 5.0), {"set_c": 15.0},
         "sets only at 15 °C (59 °F), asked is one that is so"),
        (Within("modulus", None, 0.001, 0.4, is_log=True), {}, "sets to a gel"),
        (Within("cost", None, 0.5, 0.05, is_log=True), {"cost": 2.0},
         "its powders cost 2 a kilogram at least, asked is one that is so"),
    ],
)  # fmt: skip
def test_every_miss_has_its_words(window, changes, told):
    assert why_of((Wish("any", "is so", (window,)),), predicted(**changes)) == told


def test_without_a_state_no_gel_is_told_plainly():
    assert why_of((GEL,), predicted(sets=NO, modulus=0.0)) == "will not set here"


def test_an_agent_that_misses_nothing_is_told_as_fitting():
    assert why_of((GEL, FIRM), predicted()) == "fits, but no better than those shown"


def test_the_engine_tells_each_agent_by_what_it_does_in_this_base():
    told = {name: reason_in_water(name) for name in ("agar", "lambda carrageenan", "konjac gum")}
    assert "sets, but too brittle" in told["agar"]
    assert told["lambda carrageenan"] == "will not gel: it only thickens"
    assert told["konjac gum"] == "does not set here: it needs pH 9 to 11"


def reason_in_water(name: str) -> str:
    """Return why one agent is no elastic gel in water."""
    brief = brief_make(title="Cup", base="1000 g water", texture={"word": "elastic"}, shelf=(name,))
    base = base_read(brief, catalog=catalog_build())
    wishes = wishes_of(brief, base)
    (agent,) = shelf_of(brief, base).agents
    draft = ProposalDraft(base, brief, (agent,))
    plan = draft.plan()
    doses = np.geomspace(0.1, 2.0, 5)[:, None]
    batch = batch_assess(plan, draft.rows(plan, doses), steps=steps_read(plan.formula.steps))
    found = predicted_of(batch)
    off = distances(wishes, found)
    best = int(np.argmin(off.sum(axis=0)))
    state = batch.agents[agent.key]
    return why_out(agent, wishes, found, off, best, served_c=4.0, state=state).why
