"""`setwell scale`."""

import json
from pathlib import Path

import pytest

from setwell.domain.pantry import Vessel
from setwell.services import pantry


def scaled(run, *options):
    result = run("scale", "cream.txt", *options, "--json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)["scaled_formula"]


def test_to_a_weight(run):
    made = scaled(run, "--to", "2kg")
    assert made["batch_g"] == pytest.approx(2000, rel=0.01)
    assert made["factor"] == pytest.approx(2000 / 675, rel=0.01)


def test_to_portions_of_a_weight(run):
    made = scaled(run, "--portions", "12x90g")
    assert made["batch_g"] == pytest.approx(1080, rel=0.01)


def test_to_molds_of_a_volume(run):
    made = scaled(run, "--molds", "24 x 80 mL")
    assert made["batch_g"] == pytest.approx(24 * 80 * 1.03, rel=0.05)


def test_readability_rounds_what_is_weighed(run):
    made = scaled(run, "--to", "333 g", "--readability", "1")
    weights = [line["rounded_g"] for line in made["lines"]]
    assert weights == [round(weight) for weight in weights]
    assert made["readability_g"] == 1


def test_text_lists_what_to_weigh(run):
    result = run("scale", "cream.txt", "--to", "1350 g")
    rows = result.stdout.splitlines()
    assert rows[0] == "Lime set cream"
    assert any(row.split()[:2] == ["line", "weigh"] for row in rows)
    assert "800 g" in result.stdout


@pytest.mark.parametrize("options", [[], ["--to", "2kg", "--portions", "2x90g"]])
def test_none_or_two_targets_are_a_usage_error(run, options):
    result = run("scale", "cream.txt", *options)
    assert result.exit_code == 2
    assert "give exactly one of --to, --portions and --molds" in result.stderr


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--portions", "12"], "--portions '12' does not say how many of what size. Write it like"),
        (["--to", "2"], '"2" has no unit.'),
        (["--to", "2 L"], '"2 L" is not a mass.'),
        (["--molds", "3x80g"], '"80g" is not a volume.'),
        (["--to", "0 g"], "setwell: "),
        (["--to", "2kg", "--readability", "0"], "setwell: "),
        (["--to", "2kg", "--readability", "fine"], "setwell: "),
    ],
)
def test_a_target_that_cannot_be_read_says_how_to_write_it(run, options, said):
    result = run("scale", "cream.txt", *options)
    assert (result.exit_code, result.stdout) == (1, "")
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


def test_a_crowd_is_divided_heated_and_bought_for(run):
    pot = Vessel(name="Stock pot", volume_ml=12_000, diameter_mm=260)
    pantry.vessel_save(id=None, document=pot)
    result = run("scale", "cream.txt", "--portions", "200x100g", "--large")
    assert result.exit_code == 0, result.stderr
    for told in ("batches in Stock pot", "What changes with the size", "Premix", "Shopping list"):
        assert told in result.stdout
    made = json.loads(
        run("scale", "cream.txt", "--portions", "200x100g", "--large", "--json").stdout
    )
    assert made["split"]["count"] * made["each"]["usable_g"] == pytest.approx(20_000)
    assert "before" not in made


def test_equipment_belongs_to_a_large_batch(run):
    result = run("scale", "cream.txt", "--to", "2kg", "--vessel", "Pot")
    assert result.exit_code == 2
    assert "--large" in result.stderr
    result = run("scale", "cream.txt", "--to", "2kg", "--large", "--vessel", "Bathtub")
    assert result.exit_code == 1
    assert "Bathtub" in result.stderr


def test_the_shopping_list_of_a_large_batch_is_written_as_a_table(run):
    result = run("scale", "cream.txt", "--portions", "200x100g", "--large", "--shopping", "buy.csv")
    assert result.exit_code == 0, result.stderr
    text = Path("buy.csv").read_text(encoding="utf-8")
    assert text.startswith("supplier,name,needed_g")
    assert '"Milk, whole 3.25%"' in text
    assert run("scale", "cream.txt", "--to", "2kg", "--shopping", "b.csv").exit_code == 2
