"""Proposals with what this kitchen has: saved formulas, readings, and the food of a base."""

import pytest

from setwell.domain.formula import formula_make
from setwell.domain.pantry import Price
from setwell.domain.texture_reading import TextureKind, TextureReading
from setwell.engine.proposals.results import FellOut, Judged
from setwell.errors import InputError, NotFoundError, UnknownNameError
from setwell.services import pantry, proposals
from setwell.services.assessment import formula_assess
from setwell.services.formulas import formula_create, formula_save, version_get
from setwell.services.proposal_asking import brief_resolve
from setwell.services.proposal_trials import trial_set_for
from setwell.services.proposals_view import judged_text, proposals_view, reasons
from setwell.services.texture_map import formula_textures
from setwell.services.texture_readings import texture_reading_record
from tests.builders_proposals import brief_of, proposals_of, three_gels

pytestmark = pytest.mark.django_db
GEL = "500 g water\n50 g sugar\n5 g agar"
STEPS = (
    "Disperse the agar in the cold water\nBoil for 2 min\nPour into molds\nChill to 4 °C for 4 h"
)


@pytest.fixture
def engine(monkeypatch):
    """A short list made up of computed formulas, and what was asked for it."""
    asked = []

    def propose(brief, *, is_first=False, **known):
        asked.append((brief, is_first, known))
        found = three_gels(brief, known["catalog"], known["origin"])
        return proposals_of(brief, *found, is_complete=not is_first)

    monkeypatch.setattr(proposals, "propose", propose)
    proposals._FIRST.clear()
    proposals._WHOLE.clear()
    proposals._JOBS.clear()
    return asked


def saved(title="Agar slab", ingredients=GEL):
    return formula_create(formula=formula_make(title=title, ingredients=ingredients, steps=STEPS))


def test_the_same_brief_is_computed_once_until_the_pantry_changes(engine):
    brief = brief_of()
    first = proposals.proposals_for(brief)
    assert proposals.proposals_for(brief_of()) is first
    assert len(engine) == 1
    pantry.price_save(id=None, document=Price(material="agar", price_per_kg=60.0))
    assert proposals.proposals_for(brief) is not first
    assert len(engine) == 2


def test_first_and_whole_answers_are_kept_apart(engine):
    brief = brief_of()
    assert not proposals.proposals_for(brief, is_first=True).is_complete
    assert proposals.proposals_for(brief).is_complete
    assert [is_first for _, is_first, _ in engine] == [True, False]


def test_the_whole_search_begins_with_the_tables_of_the_first_results(monkeypatch):
    brief = brief_of(texture={"word": "elastic"}, shelf=("gelatin", "agar"))
    for kept in (proposals._FIRST, proposals._WHOLE, proposals._JOBS):
        kept.clear()
    made = []

    def search_job(question):
        made.append(question.brief)
        return first_job(question)

    first_job = proposals.search_job
    monkeypatch.setattr(proposals, "search_job", search_job)
    proposals.proposals_for(brief, is_first=True)
    whole = proposals.proposals_for(brief)
    assert made == [brief]
    pantry.price_save(id=None, document=Price(material="agar", price_per_kg=60.0))
    assert proposals.proposals_for(brief) is not whole
    assert made == [brief, brief]
    proposals._WHOLE.clear()
    proposals._JOBS.clear()
    alone = proposals.proposals_for(brief)
    assert [one.code for one in alone.proposals] == [one.code for one in whole.proposals]
    assert [one.fit for one in alone.proposals] == [one.fit for one in whole.proposals]


def test_a_known_answer_never_waits_for_another_search(engine):
    brief = brief_of()
    known = proposals.proposals_for(brief)
    with proposals._WHOLE._computing:
        assert proposals.proposals_for(brief) is known


def test_a_saved_formula_is_the_base_whatever_the_case_of_its_title(engine):
    saved()
    proposals.proposals_for(brief_of(base="", base_formula="agar SLAB"))
    assert engine[0][2]["origin"].title == "Agar slab"


def test_a_new_version_of_the_base_is_answered_anew(engine):
    made = saved()
    brief = brief_of(base="", base_formula="Agar slab")
    proposals.proposals_for(brief)
    richer = formula_make(title="Agar slab", ingredients=f"{GEL}\n50 g honey", steps=STEPS)
    formula_save(formula_id=made.formula_id, formula=richer, base_number=1)
    proposals.proposals_for(brief)
    assert len(engine) == 2


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"base": "", "base_formula": "Agar slap"}, "base_formula"),
        ({"texture": {"like": "Agar slap"}}, "texture.like"),
    ],
)
def test_a_formula_that_is_not_here_is_told_with_the_nearest(fields, field):
    saved()
    with pytest.raises(UnknownNameError) as told:
        proposals.proposals_for(brief_of(**fields))
    assert told.value.field == field
    assert told.value.nearest == ("Agar slab",)
    assert "Nearest: Agar slab." in str(told.value)


def test_a_version_that_is_not_there_is_told_at_its_field():
    saved()
    with pytest.raises(InputError, match="has no version 7") as told:
        proposals.proposals_for(brief_of(texture={"like": "Agar slab", "like_number": 7}))
    assert told.value.field == "texture.like_number"


def test_a_reference_that_was_measured_counts_as_measured():
    made = saved()
    brief = brief_of(texture={"like": "Agar slab"})
    computed = brief_resolve(brief).like
    reading = TextureReading(
        kind=TextureKind.PENETRATION, plunger_mm=12.7, value=900.0, lots={"agar": ""}
    )
    texture_reading_record(formula_id=made.formula_id, number=1, document=reading)
    asked = brief_resolve(brief)
    found, law = (one.fracture_stress_kpa.value for one in (asked.like, computed))
    measured = formula_textures(formula_id=made.formula_id).measured[0].stress_kpa.value
    assert abs(found - measured) < 0.4 * abs(law - measured)
    assert asked.remarks == ("Like version 1 of Agar slab, as measured once.",)
    assert "agar" in asked.corrections


def test_a_proposal_becomes_a_formula_that_says_where_it_is_from(engine):
    brief = brief_of()
    code = proposals.proposals_for(brief).proposals[1].code
    detail = version_get(formula_id=proposals.proposal_make_formula(brief, code))
    assert "agar" in detail.formula.ingredients
    assert detail.summary.number == 1
    assert detail.summary.note == "From the brief “Elderflower jelly”, proposal agar."


def test_a_base_told_by_its_composition_goes_to_the_pantry_once(engine):
    brief = brief_of(base="", composition={"name": "thin syrup", "sugar_g": 20.0})
    codes = [one.code for one in proposals.proposals_for(brief).proposals]
    formula_id = proposals.proposal_make_formula(brief, codes[0])
    assert [row.document.name for row in pantry.food_list()] == ["thin syrup"]
    assert "thin syrup" in version_get(formula_id=formula_id).formula.ingredients
    proposals.proposal_make_formula(brief, proposals.proposals_for(brief).proposals[1].code)
    assert len(pantry.food_list()) == 1


def test_a_code_never_means_another_proposal(engine):
    brief = brief_of()
    first = {one.code for one in proposals.proposals_for(brief, is_first=True).proposals}
    whole = {one.code for one in proposals.proposals_for(brief).proposals}
    assert not first & whole
    for code in first | whole:
        assert proposals.proposal_find(brief, code).proposal.code == code
    with pytest.raises(NotFoundError, match="no proposal “P9”"):
        proposals.proposal_find(brief, "P9")


def test_a_trial_set_has_the_proposal_in_its_middle(engine):
    brief = brief_of()
    proposal = proposals.proposals_for(brief).proposals[0]
    trials = trial_set_for(brief, proposal.code)
    center = next(cup for cup in trials.cups if cup.key == "center 1")
    assert [(one.key, one.dose_pct) for one in center.agents] == [
        (one.key, pytest.approx(one.dose_pct)) for one in proposal.agents
    ]


def test_what_is_drawn_marks_what_was_asked(engine):
    view = proposals_view(brief_of())
    assert [chart.key for chart in view.charts] == ["map", "front"]
    assert 'class="asked"' in view.charts[0].svg
    assert [row[0] for row in view.charts[0].table.rows] == ["1", "2", "3"]
    reference = proposals_view_like()
    assert [row[0] for row in reference.charts[0].table.rows][-1] == "like"


def proposals_view_like():
    saved()
    return proposals_view(brief_of(texture={"like": "Agar slab"}))


def test_agents_with_the_same_reason_share_a_line_and_pairs_come_last():
    told = reasons(
        (
            FellOut(("a", "b"), "A + B", "no better than A"),
            FellOut(("c",), "C", "will not gel"),
            FellOut(("d",), "D", "will not gel"),
        )
    )
    assert [(one.names, one.why) for one in told] == [
        ("C, D", "will not gel"), ("A + B", "no better than A"),
    ]  # fmt: skip
    assert judged_text(Judged()) == "0 candidates judged"


def test_a_formula_made_of_a_real_proposal_computes_to_what_its_card_says():
    brief = brief_of(
        base="900 g apple juice\n100 g sugar", texture={"word": "elastic"},
        shelf=("gelatin", "iota carrageenan", "agar"),
    )  # fmt: skip
    proposals._WHOLE.clear()
    for proposal in proposals.proposals_for(brief).proposals:
        made = version_get(formula_id=proposals.proposal_make_formula(brief, proposal.code))
        texture = formula_assess(formula=made.formula).texture
        assert texture.sentence == proposal.texture.sentence
        assert texture.map_point.stress == pytest.approx(proposal.texture.map_point.stress)


def test_getting_ready_for_a_search_touches_neither_kitchen_nor_kept_answers(
    django_assert_num_queries,
):
    proposals._FIRST.clear()
    with django_assert_num_queries(0):
        proposals.search_ready()
    assert not proposals._FIRST._found
