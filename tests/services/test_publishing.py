"""Publish, change, withdraw and share: only what is safe leaves, and only by the right door."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from setwell.documents.published_page import published_page
from setwell.documents.published_recipe import recipe_jsonld, recipe_text
from setwell.domain.formula import formula_make
from setwell.domain.pantry import Lot
from setwell.errors import ConflictError, InputError, NotFoundError
from setwell.services import formulas, pantry
from setwell.services.labels import choices_keep
from setwell.services.publishing import publications, share
from setwell.services.publishing.names import address_check, is_safe_path, page_name
from setwell.services.publishing.pages import published_card
from setwell.store.rows import PublishedVersionRow

pytestmark = pytest.mark.django_db
LINES = "700 g whole milk\n60 g sugar\n5.5 g kappa carrageenan"
STEPS = "Mix powder and sugar into the cold milk\nHeat to 90 °C and hold 2 min, stirring\nChill"


def saved(**fields):
    given = {"title": "Milk blocks", "ingredients": LINES, "steps": STEPS, "portions": 8, **fields}
    return formulas.formula_create(formula=formula_make(**given)).formula_id


def saved_again(formula_id, **fields):
    old = formulas.version_get(formula_id=formula_id)
    return formulas.formula_save(
        formula_id=formula_id, formula=old.formula.revised(**fields),
        base_number=old.summary.number,
    )  # fmt: skip


def test_the_newest_version_is_published_with_its_times():
    page = publications.card_publish(formula_id=saved())
    assert (page.name, page.newest.number, page.withdrawn_at) == ("milk-blocks", 1, None)
    assert page.newest.times["total"] > page.newest.times["cooking"] > 0


def test_the_next_version_tells_what_changed_and_keeps_the_name():
    formula_id = saved()
    publications.card_publish(formula_id=formula_id)
    saved_again(formula_id, title="Blocks", ingredients=LINES + "\n1 g salt")
    told = publications.publish_state(formula_id=formula_id).changes
    page = publications.card_publish(formula_id=formula_id, remark="With salt.")
    assert page.name == "milk-blocks"
    assert [one.number for one in page.versions] == [2, 1]
    assert page.newest.changes == told
    assert "Ingredient added: 1 g salt" in told
    assert page.newest.remark == "With salt."


def test_the_same_version_is_not_published_twice():
    formula_id = saved()
    publications.card_publish(formula_id=formula_id)
    with pytest.raises(ConflictError, match="already"):
        publications.card_publish(formula_id=formula_id)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"ingredients": LINES + "\n3 g moonstone"}, "Line 4 could not be read"),
        ({"ingredients": ""}, "no ingredients"),
        ({"ingredients": "500 g pineapple juice, raw\n10 g gelatin", "steps": "Chill"}, ""),
    ],
)
def test_what_could_hurt_or_fail_is_refused_with_the_reason(fields, said):
    formula_id = saved(**fields)
    state = publications.publish_state(formula_id=formula_id)
    assert state.obstacles
    with pytest.raises(InputError, match="cannot be published yet") as caught:
        publications.card_publish(formula_id=formula_id)
    assert said in str(caught.value)
    assert publications.publication_list() == ()


def test_withdrawing_keeps_the_page_and_publishing_again_brings_it_back():
    formula_id = saved()
    publications.card_publish(formula_id=formula_id)
    page = publications.card_withdraw(formula_id=formula_id, reason="Wrong dose")
    assert page.reason == "Wrong dose"
    with pytest.raises(ConflictError):
        publications.card_withdraw(formula_id=formula_id)
    again = publications.card_publish(formula_id=formula_id)
    assert (again.withdrawn_at, again.reason, again.name) == (None, "", page.name)


def test_withdrawing_ends_the_links_to_the_card_and_to_no_other():
    formula_id, other = saved(), saved(title="Other blocks")
    publications.card_publish(formula_id=formula_id)
    link = share.share_create(formula_id=formula_id)
    free = share.share_create(formula_id=other)
    publications.card_withdraw(formula_id=formula_id)
    with pytest.raises(NotFoundError):
        share.share_page(token=link.token)
    assert "Other blocks" in share.share_page(token=free.token)


def test_links_may_be_kept_when_a_card_is_withdrawn():
    formula_id = saved()
    publications.card_publish(formula_id=formula_id)
    link = share.share_create(formula_id=formula_id)
    publications.card_withdraw(formula_id=formula_id, keeps_links=True)
    assert "Milk blocks" in share.share_page(token=link.token)


def test_a_published_version_never_changes():
    publications.card_publish(formula_id=saved())
    with pytest.raises(IntegrityError), transaction.atomic():
        PublishedVersionRow.objects.update(remark="other")


def test_two_formulas_of_one_title_get_two_names():
    names = {publications.card_publish(formula_id=saved()).name for _ in range(2)}
    assert names == {"milk-blocks", "milk-blocks-2"}


def test_too_long_a_remark_is_told_at_its_field():
    with pytest.raises(InputError) as caught:
        publications.card_publish(formula_id=saved(), remark="x" * 1001)
    assert caught.value.field == "remark"


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("../../etc/passwd", "etc-passwd"), ("CON", "card-con"), ("com1", "card-com1"),
        ("蛋白霜", "card-abababab"), ("a/b\\c:d*e", "a-b-c-d-e"), (".hidden", "hidden"),
        ("Crème Brûlée", "creme-brulee"), ("x" * 120, "x" * 60),
    ],
)  # fmt: skip
def test_names_are_safe_whatever_the_title(title, name):
    found = page_name(title, content_hash="ab" * 32)
    assert found == name
    assert is_safe_path(f"cards/{found}/index.html")


@pytest.mark.parametrize("path", ["", "/", "a/../b", "a//b", "a\\b", "A", "a/.git", "a b", "ä"])
def test_unsafe_paths_are_known(path):
    assert not is_safe_path(path)


@pytest.mark.parametrize(
    "address",
    ["kitchen.example", "ftp://a.example/", "https://", "https://a.example/?x=1", "javascript:x",
     "https://u:p@a.example/", "https://a.example/#x", 'https://a.example/"x', "http://[1",
     "https://:p@a.example/", "https://a.example/\x00b", "https://a.example/\x1bb"],
)  # fmt: skip
def test_addresses_that_are_no_web_folder_are_told_at_their_field(address):
    with pytest.raises(InputError) as caught:
        address_check(address)
    assert caught.value.field == "address"


def test_address_is_kept_with_one_slash():
    publications.address_save(address=" https://kitchen.example/cards// ")
    assert publications.address_get() == "https://kitchen.example/cards/"
    publications.address_save(address="")
    assert publications.address_get() == ""


def test_a_link_shows_its_version_until_it_is_revoked():
    formula_id = saved()
    link = share.share_create(formula_id=formula_id)
    saved_again(formula_id, title="Other name")
    assert len(link.token) == 43
    assert '<h1 dir="auto">Milk blocks</h1>' in share.share_page(token=link.token)
    share.share_revoke(formula_id=formula_id, link_id=link.id)
    with pytest.raises(NotFoundError):
        share.share_page(token=link.token)


def test_pages_for_strangers_name_no_lot_of_the_kitchen():
    lot = Lot(
        agent="kappa carrageenan", lot_code="PRIVATE-7", supplier="Hidden Supply", in_use=True,
        strength_factor=0.9, price_per_kg=41.5,
    )  # fmt: skip
    pantry.lot_save(id=None, document=lot)
    formula_id = saved()
    page = publications.card_publish(formula_id=formula_id)
    card = published_card(page)
    pages = [
        share.share_page(token=share.share_create(formula_id=formula_id).token),
        published_page(card), recipe_text(card), repr(card),
    ]  # fmt: skip
    assert "as strong as our lot at the same dose" in pages[0]
    assert not [hit for hit in ("PRIVATE-7", "Hidden Supply", "41.5") if hit in " ".join(pages)]


def test_an_ended_link_shows_nothing(monkeypatch):
    link = share.share_create(formula_id=saved(), days=1)
    later = link.created_at + dt.timedelta(days=1, seconds=1)
    assert share.share_page(token=link.token)
    monkeypatch.setattr(share, "now", lambda: later)
    with pytest.raises(NotFoundError):
        share.share_page(token=link.token)


def test_links_differ_and_wrong_ones_look_like_ended_ones():
    formula_id = saved()
    tokens = {share.share_create(formula_id=formula_id, days=None).token for _ in range(5)}
    assert len(tokens) == 5
    for wrong in ("", "x", "x" * 43, "x" * 5000, next(iter(tokens))[:-1]):
        with pytest.raises(NotFoundError, match="no card at this address"):
            share.share_page(token=wrong)


def test_a_link_of_another_formula_is_not_revoked():
    link = share.share_create(formula_id=saved())
    with pytest.raises(NotFoundError):
        share.share_revoke(formula_id=saved(title="Other"), link_id=link.id)
    assert share.share_page(token=link.token)


@pytest.mark.parametrize("days", [0, -1, 366])
def test_impossible_days_are_told_at_their_field(days):
    with pytest.raises(InputError) as caught:
        share.share_create(formula_id=saved(), days=days)
    assert caught.value.field == "days"


MILK = "900 g skim milk\n90 g sugar\n10 g cornstarch"


def test_recipe_data_carries_the_serving_of_the_label_once_its_panel_is_final():
    formula_id = saved(ingredients=MILK)
    page = publications.card_publish(formula_id=formula_id)
    told = recipe_jsonld(published_card(page))["nutrition"]
    assert "not rounded as on a label" in told["description"]
    choices_keep(formula_id=formula_id, number=1, fields={
        "market": "us", "reference": "gelatin_pudding", "density": 1.0625, "container_g": 500,
        "analyzed": "trans fat 0\niron 0.04",
    })  # fmt: skip
    told = recipe_jsonld(published_card(page))["nutrition"]
    # Half a cup, 120 mL at 1.0625 g/mL; sugars 1.28 x (0.9 x 5.09 + 0.09 x 99.8) = 17.4 g.
    assert told["servingSize"] == "1/2 cup (128 g)"
    assert told["calories"] == "90 kcal"
    assert (told["fatContent"], told["sugarContent"]) == ("0 g", "17 g")
    assert told["sodiumContent"] == "50 mg"
    assert "label for the United States" in told["description"]
    assert "90 kcal" in published_page(published_card(page))


def test_recipe_data_goes_by_the_portion_of_the_eu_and_by_no_open_panel():
    formula_id = saved(ingredients=MILK)
    page = publications.card_publish(formula_id=formula_id)
    choices_keep(formula_id=formula_id, number=1, fields={"market": "us", "serving_g": 90})
    assert "not rounded" in recipe_jsonld(published_card(page))["nutrition"]["description"]
    kept = {"market": "eu", "serving_g": 125, "may_contain": "May contain nuts"}
    choices_keep(formula_id=formula_id, number=1, fields=kept)
    card = published_card(page)
    assert "May contain nuts." in published_page(card)
    assert recipe_jsonld(card)["description"].endswith("May contain nuts.")
    told = recipe_jsonld(card)["nutrition"]
    assert told["servingSize"] == "1 portion (125 g)"
    assert told["fatContent"] == "< 0.5 g"
    assert "sodiumContent" not in told
