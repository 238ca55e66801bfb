"""`setwell probe`: a file is read and judged, and only saved when asked."""

import json

import pytest
from builders_probe import batch_course, file_of

from setwell.services import probe_logs


def test_a_log_is_read_and_judged_with_its_formula(run):
    result = run("probe", "batch.csv", "--formula", "cream.txt")
    assert result.exit_code == 0, result.stderr
    for said in (
        "Core (core): 3.3 °C", "Heating for", "hot enough: Kappa carrageenan wants 85 °C",
        "Pass: Cooled to 21 °C", "3-501.14(A)(1), Food Code 2022", "food-safety plan",
        "Rules for plants, targets and information",
    ):  # fmt: skip
        assert said in result.stdout
    assert probe_logs.probe_log_list() == ()


def test_without_a_formula_only_the_cooling_is_judged(run):
    result = run("probe", "batch.csv")
    assert result.exit_code == 0
    assert "Cooled to 5 °C" in result.stdout
    assert "Kappa" not in result.stdout


def test_json_tells_the_same(run):
    made = json.loads(run("probe", "batch.csv", "--formula", "cream.txt", "--json").stdout)["log"]
    assert made["count"] == 664
    assert [probe["name"] for probe in made["probes"]] == ["Core", "Surface"]
    assert made["read_by"]["time_form"] == "year-month-day"
    assert {check["ruling"] for check in made["checks"] if check["topic"] == "cooling"} == {"pass"}
    assert made["summary"].startswith("Pass")


def test_a_log_is_saved_with_a_saved_formula(run):
    run("import", "cream.txt")
    result = run("probe", "batch.csv", "--formula", "Lime set cream", "--save", "--title", "Run 1")
    assert "Saved as probe log 1" in result.stdout
    (stored,) = probe_logs.probe_log_list()
    assert (stored.document.title, stored.number) == ("Run 1", 1)
    assert stored.document.file_name == "batch.csv"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("nowhere.csv",), "cannot be read"),
        (("batch.csv", "--save"), "--save needs --formula"),
        (("batch.csv", "--formula", "cream.txt", "--save"), "only be saved with a saved formula"),
        (("batch.csv", "--delimiter", "star"), "delimiter"),
        (("batch.csv", "--unit", "R"), "is not a unit here"),
        (("batch.csv", "--interval", "soon"), "not a number"),
        (("batch.csv", "--probe-error", "50"), "probe_error_c"),
        (("batch.csv", "--header", "9000"), "header_lines"),
        (("cream.txt",), "setwell: "),
        ((".",), "is a folder"),
    ],
)
def test_what_cannot_be_read_is_explained(run, arguments, said):
    result = run("probe", *arguments)
    assert result.exit_code == 1
    assert said in result.stderr
    assert "Traceback" not in result.stderr
    assert probe_logs.probe_log_list() == ()


def test_a_large_file_is_refused_by_its_size(run, folder):
    with (folder / "big.csv").open("wb") as file:
        file.truncate(1_000_000_000)
    result = run("probe", "big.csv")
    assert result.exit_code == 1
    assert "has 1,000 MB; at most 64 MB" in result.stderr


def test_a_file_without_time_or_unit_is_read_with_the_options(run):
    given = "Core\n68\n185\n190\n"
    assert "interval" in run("probe", "-", given=given).stderr
    result = run("probe", "-", "--interval", "60", "--unit", "F", given=given)
    assert "20 °C (68 °F) to 87.8 °C" in result.stdout


def test_what_was_flagged_and_in_doubt_is_told(run, folder):
    seconds, celsius = batch_course(30.0)
    lines = file_of(seconds, celsius, head="Time,Core").splitlines()
    lines[50] = lines[50].rsplit(",", 1)[0] + ",ERR"
    del lines[100:140]
    (folder / "b.csv").write_text("\n".join(lines), encoding="utf-8")
    result = run("probe", "b.csv")
    assert "does not say °C or °F" in result.stdout
    assert "say --unit C or --unit F" in " ".join(result.stdout.split())
    assert "Cannot tell: Cooled to 5 °C" in result.stdout
    assert "every verdict rests" not in run("probe", "b.csv", "--unit", "C").stdout
    assert "without a number" in result.stdout
    assert "a gap of" in result.stdout
    told = run("probe", "b.csv", "--unit", "C").stdout
    assert "was guessed" not in told


def test_when_the_egg_went_in_decides_what_heat_counts(run, folder):
    (folder / "custard.txt").write_text(
        "# Custard\n\n500 g whole milk\n100 g egg yolk\n\nHeat to 88 °C\n", encoding="utf-8"
    )
    plain = run("probe", "batch.csv", "--formula", "custard.txt")
    assert "Pass: Egg cooked" in plain.stdout
    late = run("probe", "batch.csv", "--formula", "custard.txt", "--egg-in", "90")
    assert "Fail: Egg cooked" in late.stdout
    beyond = run("probe", "batch.csv", "--formula", "custard.txt", "--egg-in", "9000")
    assert beyond.exit_code == 1
    assert "egg cannot have gone in after 9000 min" in beyond.stderr


def test_a_log_is_judged_as_what_was_done(run, folder):
    (folder / "cream.txt").write_text(
        "# Cream\n\n500 g whole milk\n\nHeat to 88 °C\n", encoding="utf-8"
    )
    held = run("probe", "batch.csv", "--formula", "cream.txt", "--as", "held-hot")
    assert "3-501.16(A)(1)" in held.stdout
    assert "3-501.14" not in held.stdout
    odd = run("probe", "batch.csv", "--formula", "cream.txt", "--as", "danced")
    assert odd.exit_code == 1
    assert "batch, held hot, held cold, reheated" in odd.stderr
