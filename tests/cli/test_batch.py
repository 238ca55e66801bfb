"""`--batch` of `sheet` and `card`: weights and times of another batch."""

import json

import pytest


def test_a_sheet_and_a_card_are_weighed_for_a_batch(run):
    for command in ("sheet", "card"):
        text = run(command, "cream.txt", "--batch", "1.2 kg").stdout
        assert "For 1,200 g, scaled from" in text
    made = json.loads(run("card", "cream.txt", "--batch", "1.2kg", "--readability", "1 g",
                          "--json").stdout)["card"]  # fmt: skip
    weights = [line["weight"] for phase in made["phases"] for line in phase["lines"]]
    assert all("." not in weight for weight in weights)
    grams = sum(float(one.removesuffix(" g").replace(",", "")) for one in weights)
    assert grams == pytest.approx(1200, abs=4)


def test_the_sheet_has_the_batch_in_its_pot(run):
    made = json.loads(run("sheet", "cream.txt", "--batch", "1.2kg", "--json").stdout)["sheet"]
    assert "1.2 kg" in made["equipment"][0]


def test_a_planned_batch_is_the_sheet_and_the_own_one_can_be_had(run):
    run("import", "cream.txt")
    run("heat", "Lime set cream", "--batch", "1.2 kg", "--use")
    assert "For 1,200 g" in run("sheet", "Lime set cream").stdout
    own = run("sheet", "Lime set cream", "--as-written").stdout
    assert "scaled from" not in own
    assert "1.2 kg" not in own


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("card", "cream.txt", "--batch", "some"), "some"),
        (("sheet", "cream.txt", "--batch", "9000 kg"), "is more than 1000 kg"),
        (("sheet", "cream.txt", "--batch", "1kg", "--as-written"), "one of --batch"),
        (("card", "cream.txt", "--readability", "1"), "belongs to --batch"),
        (("card", "cream.txt", "--batch", "1kg", "--readability", "500"), "not plausible"),
    ],
)
def test_a_batch_that_cannot_be_is_refused_in_a_sentence(run, arguments, told):
    result = run(*arguments)
    assert result.exit_code != 0
    assert told in " ".join(result.output.split())
    assert "Traceback" not in result.output
