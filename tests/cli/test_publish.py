"""`setwell publish` and `setwell tables` at the command line."""

from openpyxl import load_workbook

BLOCKS = """Milk blocks
portions: 8

700 g whole milk
60 g sugar
5.5 g kappa carrageenan

Steps:
Mix powder and sugar into the cold milk.
Heat to 90 °C and hold 2 min, stirring.
Chill to 4 °C.
"""


def kept(run, folder):
    (folder / "blocks.txt").write_text(BLOCKS, encoding="utf-8")
    assert run("import", "blocks.txt").exit_code == 0


def test_a_card_is_added_written_and_withdrawn(run, folder):
    kept(run, folder)
    first = run("publish", "site", "--add", "Milk blocks")
    assert "Published: Milk blocks, version 1" in first.output
    assert "1 card, 0 withdrawn" in first.output
    assert "No feeds: give --address" in first.output
    place = folder / "site" / "cards" / "milk-blocks"
    assert (place / "card.pdf").exists()
    second = run("publish", "site", "--withdraw", "Milk blocks", "--reason", "Too soft",
                 "--address", "https://kitchen.example/")  # fmt: skip
    assert "0 cards, 1 withdrawn" in second.output
    assert [path.name for path in place.iterdir()] == ["index.html"]
    assert (folder / "site" / "feed.xml").exists()


def test_a_card_asked_for_once_more_is_told_and_the_folder_is_written(run, folder):
    kept(run, folder)
    assert run("publish", "site", "--add", "Milk blocks").exit_code == 0
    again = run("publish", "elsewhere", "--add", "Milk blocks")
    assert again.exit_code == 0, again.output
    assert "Version 1 is published already" in again.output
    assert (folder / "elsewhere" / "cards" / "milk-blocks" / "card.pdf").exists()


def test_a_folder_that_is_not_ours_is_refused_before_anything_is_published(run, folder):
    kept(run, folder)
    refused = run("publish", ".", "--add", "Milk blocks")
    assert refused.exit_code == 1
    assert "not published from here" in refused.output
    assert "0 cards" in run("publish", "site").output


def test_tables_are_listed_and_written(run, folder):
    kept(run, folder)
    assert "versions" in run("tables").output
    assert run("tables", "all.xlsx").exit_code == 0
    assert "Versions" in load_workbook(folder / "all.xlsx").sheetnames
    assert run("tables", "v.csv", "--table", "versions").exit_code == 0
    assert "Milk blocks" in (folder / "v.csv").read_text(encoding="utf-8")
    assert "neither a workbook" in run("tables", "x.txt").output
    assert "exists already" in run("tables", "all.xlsx").output


def test_a_door_at_no_address_or_another_machines_is_refused(run):
    nowhere, elsewhere = run("share", "--host", " "), run("share", "--host", "203.0.113.9")
    assert (nowhere.exit_code, elsewhere.exit_code) == (1, 1)
    assert "names no address" in nowhere.output
    assert "Nothing can be served at 203.0.113.9" in elsewhere.output
