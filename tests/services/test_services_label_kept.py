"""What was chosen for a label stays with the formula, version by version."""

from io import BytesIO

import pytest
from django.db import IntegrityError, transaction
from pypdf import PdfReader

from setwell.domain.brief import Market
from setwell.domain.formula import formula_make
from setwell.errors import InputError, NotFoundError
from setwell.services import formulas
from setwell.services.cards import card_get, card_pdf, card_text
from setwell.services.labels import ask_kept, choices_keep, choices_kept, label_get
from setwell.store.rows import LabelChoicesRow

pytestmark = pytest.mark.django_db
LINES = "700 g whole milk\n60 g sugar\n4 g kappa carrageenan"
CHOSEN = {
    "market": "eu", "category": "set_dessert", "may_contain": "May contain nuts. ü",
    "serving_g": 120.0, "analyzed": "iron 0.4", "density": 1.05, "per_ml": True,
    "protein_score": 0.9, "cleared": ["allergen:x:milk", "allergen:y:soy"], "stage": "final",
}  # fmt: skip


@pytest.fixture
def saved():
    made = formula_make(title="Milk blocks", ingredients=LINES, steps="Chill")
    return formulas.formula_create(formula=made)


def asked(saved, number=1):
    formula = formulas.version_get(formula_id=saved.formula_id, number=number).formula
    return ask_kept(formula=formula, formula_id=saved.formula_id, number=number)


def test_all_that_was_chosen_comes_back(saved):
    choices_keep(formula_id=saved.formula_id, number=1, fields=CHOSEN)
    ask = asked(saved)
    assert (ask.market, ask.category, ask.serving_g) == (Market.EU, "set_dessert", 120.0)
    assert (ask.may_contain, ask.per_ml, ask.density) == ("May contain nuts. ü", True, 1.05)
    assert ask.analyzed == (("iron", 0.4),)
    assert ask.cleared == ("allergen:x:milk", "allergen:y:soy")
    assert ask.stage.value == "draft"


def test_a_label_asked_for_without_choices_goes_by_those_kept(saved):
    choices_keep(formula_id=saved.formula_id, number=1, fields=CHOSEN)
    formula = formulas.version_get(formula_id=saved.formula_id).formula
    found = label_get(formula=formula, formula_id=saved.formula_id, number=1)
    assert found.label.eu is not None
    assert "May contain nuts. ü" in found.statement.may_contain


def test_each_market_keeps_its_own_and_the_last_kept_comes_first(saved):
    choices_keep(formula_id=saved.formula_id, number=1, fields=CHOSEN)
    choices_keep(formula_id=saved.formula_id, number=1, fields={"market": "us", "container_g": 500})
    assert choices_kept(formula_id=saved.formula_id, number=1).market == "us"
    eu = choices_kept(formula_id=saved.formula_id, number=1, market="eu")
    assert eu.fields["may_contain"] == "May contain nuts. ü"


def test_a_new_version_takes_choices_over_but_no_measurement_of_the_old_one(saved):
    choices_keep(formula_id=saved.formula_id, number=1, fields=CHOSEN)
    old = formulas.version_get(formula_id=saved.formula_id)
    formulas.formula_save(
        formula_id=saved.formula_id, formula=old.formula.revised(portions=4), base_number=1
    )
    kept = choices_kept(formula_id=saved.formula_id, number=2)
    assert (kept.number, kept.is_earlier, kept.left_out) == (
        1,
        True,
        ("analyzed", "density", "protein_score"),
    )
    ask = asked(saved, number=2)
    assert (ask.category, ask.analyzed, ask.density) == ("set_dessert", (), None)
    choices_keep(formula_id=saved.formula_id, number=2, fields={"category": "frozen"})
    assert asked(saved, number=1).category == "set_dessert"


@pytest.mark.parametrize(
    ("fields", "field"),
    [({"market": "mars"}, "market"), ({"container_g": -1}, "container_g"),
     ({"may_contain": "x" * 301}, "may_contain"), ({"analyzed": "iron"}, "analyzed"),
     ({"wordings": "a: " + "x" * 20_001}, "")],
)  # fmt: skip
def test_what_cannot_be_read_is_not_kept(saved, fields, field):
    with pytest.raises(InputError) as caught:
        choices_keep(formula_id=saved.formula_id, number=1, fields=fields)
    assert (caught.value.field or "") == field
    assert choices_kept(formula_id=saved.formula_id, number=1) is None


def test_a_version_that_is_not_there_keeps_nothing(saved):
    with pytest.raises(NotFoundError):
        choices_keep(formula_id=saved.formula_id, number=9, fields={})
    assert choices_kept(formula_id=10**30, number=1) is None


def test_kept_choices_never_change(saved):
    choices_keep(formula_id=saved.formula_id, number=1, fields=CHOSEN)
    with pytest.raises(IntegrityError), transaction.atomic():
        LabelChoicesRow.objects.update(market="us")


def test_the_note_on_traces_stands_on_the_card_whatever_the_market(saved):
    choices_keep(formula_id=saved.formula_id, number=1, fields={"may_contain": "hazelnuts"})
    choices_keep(
        formula_id=saved.formula_id, number=1,
        fields={"market": "eu", "may_contain": "May contain celery."},
    )  # fmt: skip
    formula = formulas.version_get(formula_id=saved.formula_id).formula
    card = card_get(formula=formula, formula_id=saved.formula_id, number=1)
    assert card.traces == "May contain: hazelnuts. May contain celery."
    assert "May contain: hazelnuts." in card_text(card=card)
    printed = PdfReader(BytesIO(card_pdf(card=card))).pages[0].extract_text()
    assert "May contain: hazelnuts. May contain celery." in " ".join(printed.split())
    assert card_get(formula=formula).traces == ""
