"""The pages of publishing, and the door that shows shared cards and nothing else."""

import pytest
from strict_html import parsed, text_of

from setwell.services.publishing import publications, share
from setwell.web.publish.share_door import share_door

pytestmark = pytest.mark.django_db
STEPS = "Mix powder and sugar\nHeat to 90 °C and hold 2 min\nChill"


@pytest.fixture
def card(saved):
    return saved(steps=STEPS, portions=8).formula_id


def text(response):
    return " ".join(response.content.decode().split())


def asked(path, method="GET"):
    told = {}

    def start(status, headers):
        told.update(status=status, headers=dict(headers))

    body = b"".join(share_door({"REQUEST_METHOD": method, "PATH_INFO": path}, start))
    return told["status"], told["headers"], body.decode()


def test_a_card_is_published_and_withdrawn_from_its_page(bench, card):
    address = f"/formulas/{card}/publish/"
    assert "Nothing of this formula is published" in text(bench.get(address))
    said = text(bench.post(address, {"remark": "First"}, follow=True))
    assert "Published: version 1." in said
    assert "That is the newest version." in said
    link = share.share_create(formula_id=card)
    said = text(bench.post(f"{address}withdraw/", {"reason": "Too soft"}, follow=True))
    assert "Withdrawn on" in said
    assert "Its links are revoked." in said
    assert bench.get(f"/links/{link.token}/").status_code == 404
    assert "Too soft" in said
    assert "This is the version that was withdrawn" in said


def test_what_cannot_be_published_says_why_and_offers_no_button(bench, saved):
    formula_id = saved(ingredients="3 g moonstone").formula_id
    said = text(bench.get(f"/formulas/{formula_id}/publish/"))
    assert "Line 1 could not be read" in said
    assert "<button>Publish" not in said


def test_a_refused_form_keeps_what_was_typed(bench, card):
    publications.card_publish(formula_id=card)
    response = bench.post(f"/formulas/{card}/publish/share/", {"days": "soon", "note": "For Ada"})
    assert "“soon” is not a number" in text(response)
    assert 'value="For Ada"' in text(response)
    assert share.share_list(formula_id=card) == ()


def test_the_list_keeps_an_address_and_gives_the_folder(bench, card):
    publications.card_publish(formula_id=card)
    wrong = bench.post("/published/", {"address": "nowhere"})
    assert "is not the address of a web folder" in text(wrong)
    bench.post("/published/", {"address": "https://kitchen.example/c"})
    assert publications.address_get() == "https://kitchen.example/c/"
    assert "&lt;iframe" in text(bench.get(f"/formulas/{card}/publish/"))
    assert bench.get("/published/site.zip").content[:2] == b"PK"


def test_tables_are_given_as_files(bench, card):
    assert "attachment" in bench.get("/published/tables.xlsx")["Content-Disposition"]
    assert b"formula_id" in bench.get("/published/tables/versions.csv").content
    assert bench.get("/published/tables/secrets.csv").status_code == 400


def test_a_link_is_made_shown_and_revoked(bench, card):
    bench.post(f"/formulas/{card}/publish/share/", {"days": "7", "note": "For Ada"})
    (link,) = share.share_list(formula_id=card)
    assert (link.expires_at - link.created_at).days == 7
    page = bench.get(f"/links/{link.token}/")
    assert page.status_code == 200
    assert "noindex" in page["X-Robots-Tag"]
    bench.post(f"/formulas/{card}/publish/share/{link.id}/revoke/")
    assert bench.get(f"/links/{link.token}/").status_code == 404


def test_the_door_shows_the_card_alone(card):
    link = share.share_create(formula_id=card)
    status, headers, body = asked(f"/links/{link.token}/")
    assert status == "200 OK"
    tree = parsed(body)
    assert "Milk blocks" in text_of(tree)
    assert [one for one in tree.iter() if one.get("href") or one.get("action")] == []
    assert headers["X-Robots-Tag"] == "noindex, nofollow, noarchive"
    assert headers["Cache-Control"] == "no-store"
    assert "script-src" not in headers["Content-Security-Policy"]
    assert "default-src 'none'" in headers["Content-Security-Policy"]


@pytest.mark.parametrize(
    "path",
    ["/", "/formulas/", "/links/", "/published/site.zip", "/static/css/page.css", "/links/x/",
     "/links/" + "A" * 43 + "/", "/links/../formulas/", "/settings/"],
)  # fmt: skip
def test_the_door_shows_nothing_else(card, path):
    status, headers, body = asked(path)
    assert status == "404 Not Found"
    assert "Milk" not in body
    assert headers["Content-Type"].startswith("text/plain")


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS"])
def test_the_door_only_lets_read(card, method):
    link = share.share_create(formula_id=card)
    assert asked(f"/links/{link.token}/", method)[0] == "405 Method Not Allowed"


def test_a_revoked_link_looks_like_a_wrong_one(card):
    link = share.share_create(formula_id=card)
    share.share_revoke(formula_id=card, link_id=link.id)
    assert asked(f"/links/{link.token}/") == asked("/links/" + "A" * 43 + "/")


def test_an_open_link_is_shown_whole_to_be_copied(bench, card):
    link = share.share_create(formula_id=card, note="For Ada")
    address = f"http://testserver/links/{link.token}/"
    page = bench.get(f"/formulas/{card}/publish/")
    assert f'value="{address}"' in text(page)
    bench.post(f"/formulas/{card}/publish/share/{link.id}/revoke/")
    said = text(bench.get(f"/formulas/{card}/publish/"))
    assert link.token not in said
    assert "revoked" in said


def test_a_revoked_link_says_on_this_machine_how_to_get_a_new_one(bench, card):
    link = share.share_create(formula_id=card)
    share.share_revoke(formula_id=card, link_id=link.id)
    said = text(bench.get(f"/links/{link.token}/"))
    assert "Make a new one under Publish" in said


def test_published_cards_are_one_press_away_from_every_page(bench, card):
    for path in ("/", "/formulas/", f"/formulas/{card}/"):
        assert 'href="/published/"' in text(bench.get(path))


def test_the_code_on_card_and_kit_leads_to_the_published_page_of_that_version(bench, card):
    def codes():
        shown = bench.get(f"/formulas/{card}/card/").context["card"].address
        packed = bench.get(f"/formulas/{card}/kit/").context["answer"].sheet.label.address
        return shown, packed

    page = publications.card_publish(formula_id=card)
    assert all(code.startswith("http://testserver/") for code in codes())
    publications.address_save(address="https://kitchen.example/c")
    assert set(codes()) == {f"https://kitchen.example/c/cards/{page.name}/"}
    publications.card_withdraw(formula_id=card)
    assert all(code.startswith("http://testserver/") for code in codes())


def test_the_way_to_other_devices_is_told_step_by_step_and_a_pdf_first(bench, card):
    page = text(bench.get(f"/formulas/{card}/publish/"))
    share_part = page[page.index('id="share-title"') :]
    assert f'<a href="/formulas/{card}/card/">card as a PDF</a>' in share_part
    before, inside = share_part.split('data-keep="share-others"')
    assert "setwell share" not in before
    for said in ("IPv4 address", "second window", "setwell share --host 192.168.0.20",
                 "close the window", "not encrypted"):  # fmt: skip
        assert said in inside
