"""`setwell card`: kinds, the address of the QR code, lots at hand, and a column for phones."""

import json
from io import BytesIO

import pytest
from pypdf import PdfReader

ADDRESS = "https://cards.example/lime-set-cream/"


def test_each_kind_shows_its_own(run):
    home, pro, bench = (
        run("card", "cream.txt", "--kind", kind).stdout for kind in ("home", "pro", "bench")
    )
    assert "Key numbers" not in home
    assert "With another lot" in pro
    assert "[ ]" in bench
    assert "[ ]" not in pro
    for text in (home, pro, bench):
        assert "Why: Sugar keeps the grains of kappa apart" in text
        assert "Keep it at 5 °C (41 °F) or colder" in text


def test_an_address_and_a_lot_are_on_the_card(run):
    made = run(
        "card", "cream.txt", "--address", ADDRESS, "--lot", "kappa carrageenan=0.85", "--json"
    )
    card = json.loads(made.stdout)["card"]
    assert card["address"] == ADDRESS
    assert card["kind"] == "pro"
    assert [dose["strength"] for dose in card["lot_boxes"][0]["doses"] if dose["is_own"]] == [
        "0.85"
    ]


def test_a_phone_has_a_column_of_its_own(run, folder):
    result = run("card", "cream.txt", "--pdf", "phone.pdf", "--paper", "Phone", "--kind", "home")
    assert result.exit_code == 0
    page = PdfReader(BytesIO((folder / "phone.pdf").read_bytes())).pages[0]
    assert float(page.mediabox.width) / 72 * 25.4 == pytest.approx(85, abs=0.1)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("kappa_carrageenan", "is not AGENT=STRENGTH"),
        ("=0.8", "is not AGENT=STRENGTH"),
        ("kappa_carrageenan=strong", "is not AGENT=STRENGTH"),
        ("kappa_carrageenan=nan", "is not AGENT=STRENGTH"),
        ("kappa_carrageenan=12", "outside 0.3 to 3"),
        ("agar=0.9", "is not an agent of this formula"),
    ],
)
def test_a_lot_that_cannot_be_is_refused_in_a_sentence(run, given, told):
    result = run("card", "cream.txt", "--lot", given)
    assert result.exit_code == 1
    assert told in " ".join(result.stderr.split())
    assert "Traceback" not in result.output


def test_an_address_that_is_none_is_refused(run):
    result = run("card", "cream.txt", "--address", "kitchen")
    assert result.exit_code == 1
    assert "does not begin with http://" in " ".join(result.stderr.split())
