"""The card as PDF: the text in it is the card's, on every paper."""

import re
from dataclasses import replace
from io import BytesIO

import pytest
from builders_assessment import assessment_make, findings_with_stop
from pypdf import PdfReader

from setwell.documents.card import Card, CardKind, CardPhase, card_build
from setwell.documents.card_pdf import card_pdf
from setwell.domain.pantry import Kitchen
from setwell.engine.assessment import Assessment
from setwell.errors import InputError

# Millimeters, ISO 216 and ANSI Letter.
PAPER_MM = {"A5": (148, 210), "A4": (210, 297), "Letter": (215.9, 279.4), "Phone": (85, 175)}
BOXES_NOTE = "Some characters cannot be printed"


def built(assessment: Assessment | None = None, **options: object) -> Card:
    return card_build(
        assessment or assessment_make(),
        version_label="version 3",
        kitchen=Kitchen(name="North bench"),
        **options,
    )


def reader(card: Card, *, paper: str = "A5", **options: object) -> PdfReader:
    # Without the typefaces of this computer, so that the answer is the same on every one.
    return PdfReader(BytesIO(card_pdf(card, paper=paper, computer_fonts=False, **options)))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def text_of(card: Card, *, paper: str = "A5") -> str:
    return squeezed("\n".join(page.extract_text() for page in reader(card, paper=paper).pages))


@pytest.mark.parametrize("paper", list(PAPER_MM))
def test_pages_have_the_asked_size(paper):
    box = reader(built(), paper=paper).pages[0].mediabox
    millimeters = (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4)
    assert millimeters == pytest.approx(PAPER_MM[paper], abs=0.1)


@pytest.mark.parametrize("paper", list(PAPER_MM))
def test_everything_on_the_card_is_in_the_file(paper):
    card = built(assessment_make(findings=findings_with_stop()))
    text = text_of(card, paper=paper)
    wanted = [card.title, card.kitchen_name, card.yield_line, card.deferral, card.remark]
    wanted += [card.goal, card.serving_temperature, *card.critical_points, *card.success_signs]
    for phase in card.phases:
        wanted.append(phase.heading)
        wanted += [part for x in phase.lines for part in (x.name, x.weight, x.us, x.percent)]
    wanted += [part for step in card.steps for part in (step.text, step.temperature)]
    wanted += [part for x in card.key_numbers for part in (x.label, x.value, x.range)]
    wanted += [*card.allergens, *card.diets]
    wanted += [part for x in card.cautions for part in (x.title, x.text)]
    wanted += [part for x in card.open_points for part in (x.title, x.text, x.action)]
    missing = [part for part in wanted if squeezed(part) not in text]
    assert missing == []


def test_each_page_has_title_version_hash_and_page_number():
    card = built()
    pages = reader(card).pages
    for number, page in enumerate(pages, start=1):
        text = squeezed(page.extract_text())
        assert squeezed(card.title) in text
        assert squeezed(f"{card.version_label} · {card.short_hash}") in text
        assert f"page{number}of{len(pages)}" in text


def test_a_usual_card_fits_one_sheet():
    home = built(kind=CardKind.HOME)
    assert len(reader(home, paper="A5").pages) <= 2
    assert len(reader(built(), paper="A4").pages) <= 2


def test_a_long_card_flows_on_and_loses_nothing():
    card = built()
    many = tuple(
        replace(card.phases[0].lines[0], number=number, name=f"ingredient {number:03}")
        for number in range(200)
    )
    long_card = replace(card, phases=(CardPhase("Base", many),))
    text = text_of(long_card)
    assert len(reader(long_card).pages) > 4
    assert all(f"ingredient{number:03}" in text for number in range(200))


def test_a_stop_is_printed_before_the_ingredients():
    text = text_of(built(assessment_make(findings=findings_with_stop())))
    assert text.index("STOP") < text.index(squeezed("1 lb 5.2 oz"))


def test_typed_text_is_never_read_as_markup():
    typed = '*bold* _it_ #panic("x") $x$ <a> @ref \\ [x] `raw` = head // gone /* gone */ ~ --'
    card = replace(built(), title=f"Set {typed}", notes=typed)
    assert text_of(card).count(squeezed(typed)) >= 2


@pytest.mark.parametrize("name", ["שלום", "بلوک", "крем", "thạch dừa", "crème brûlée", "κρέμα"])
def test_scripts_with_a_typeface_print_without_a_remark(name):
    text = text_of(replace(built(), title=name))
    assert BOXES_NOTE.replace(" ", "") not in text
    assert squeezed(name) in text


@pytest.mark.parametrize("name", ["冷製クリーム", "Cold cream 🍮", "ครีม"])
def test_characters_without_a_typeface_do_not_crash_and_the_card_says_so(name):
    text = text_of(replace(built(), title=name))
    assert squeezed(BOXES_NOTE) in text
    assert squeezed("oat drink") in text


def test_control_characters_are_dropped():
    text = text_of(replace(built(), title="Set\x01 cream\x1b[31m\x85"))
    assert "Setcream[31m" in text
    assert squeezed(BOXES_NOTE) not in text


def test_same_card_gives_the_same_bytes():
    assert card_pdf(built()) == card_pdf(built())


def test_file_is_tagged_for_screen_readers_and_titled():
    made = reader(built())
    assert made.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert made.metadata.title == "Coconut oat set with lime"


def test_unknown_paper_is_refused_with_the_choices():
    with pytest.raises(InputError, match="'A3' is not a paper size for cards; choose A4, A5, Let"):
        card_pdf(built(), paper="A3")
