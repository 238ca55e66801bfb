"""The card as text for a terminal."""

from dataclasses import replace

from builders_assessment import assessment_make, findings_with_stop, formula_make

from setwell.documents.card import Card, card_build
from setwell.documents.card_text import WIDTH, card_text
from setwell.domain.pantry import Kitchen
from setwell.engine.assessment import Assessment


def built(assessment: Assessment | None = None) -> Card:
    return card_build(
        assessment or assessment_make(),
        version_label="version 3",
        kitchen=Kitchen(name="North bench"),
    )


def test_text_opens_with_title_version_and_yield():
    card = built()
    assert card_text(card).splitlines()[:6] == [
        "COCONUT OAT SET WITH LIME",
        f"North bench · version 3 · {card.short_hash}",
        "10 portions of 90.8 g (3.2 oz), 10 molds of 90 mL, 927 g (2 lb 0.7 oz) finished,",
        "908 g (2 lb) usable",
        "Goal: to spoon",
        "Serve at 6 °C (43 °F)",
    ]


def test_ingredients_stand_in_columns():
    text = card_text(built())
    assert "      600 g  1 lb 5.2 oz             oat drink\n" in text
    assert "        4 g  0.14 oz         0.43 %  kappa carrageenan\n" in text


def test_numbers_stand_in_columns_with_range_and_grade():
    text = card_text(built())
    assert "Key numbers                  value           range                   grade\n" in text
    assert (
        "  pH                         4.6             4.2–5.1                 estimated\n" in text
    )


def test_every_row_fits_the_terminal():
    long_line = "very finely ground coconut sugar " * 20
    card = replace(built(), notes=long_line, title="A title of many words " * 5)
    assert max(len(row) for row in card_text(card).splitlines()) <= WIDTH


def test_a_number_is_not_parted_from_its_degree_sign():
    rows = card_text(built()).splitlines()
    assert not any(row.strip().startswith("°") for row in rows)


def test_a_stop_comes_before_the_ingredients():
    text = card_text(built(assessment_make(findings=findings_with_stop())))
    assert "STOP Kappa carrageenan never hydrates." in text
    assert text.index("STOP") < text.index("1 lb 5.2 oz")


def test_a_warning_comes_after_the_method():
    text = card_text(built())
    assert text.index("WARN") > text.index("Method")


def test_text_ends_with_remark_sources_and_whole_hash():
    card = built()
    rows = card_text(card).splitlines()
    assert rows[-1] == card.content_hash
    foot = " ".join(" ".join(rows[rows.index("-" * WIDTH) :]).split())
    assert card.remark in foot
    assert all(f"[{one.number}] {one.text} ({one.grade})" in foot for one in card.sources)


def test_an_empty_formula_still_has_a_card():
    bare = assessment_make(
        formula=formula_make(ingredients="", steps=""),
        lines=(),
        steps=(),
        agents=(),
        findings=(),
        cautions=(),
        allergens=(),
        diets=(),
        solution=(),
        nutrients=(),
    )
    text = card_text(built(bare))
    assert "Allergens: none found in what was read" in text
    assert "it does not certify" in text
