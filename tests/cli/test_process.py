"""`setwell heat`, `cool`, `schedule` and `sheet`."""

import json

import pytest


def test_heating_is_told_by_its_moments_agents_and_checks(run):
    result = run("heat", "cream.txt")
    assert (result.exit_code, result.stderr) == (0, "")
    text = result.stdout
    assert text.startswith("Lime set cream\n")
    for part in ("Moments", "The thermometer reads 90 °C (194 °F)", "Figures", "Safety"):
        assert part in text
    assert "not stirred:" in text
    assert "A kitchen aid, not a certificate" in text


def test_the_pot_can_be_changed_by_options(run):
    made = json.loads(
        run("heat", "cream.txt", "--power", "900", "--to", "86 °C", "--hold", "10 min",
            "--stir", "none", "--lid", "--batch", "1.5 kg", "--json").stdout
    )  # fmt: skip
    assert made["format"] == "setwell-heating"
    figures = {one["key"]: one["estimate"]["value"] for one in made["pot"]["figures"]}
    strong = json.loads(run("heat", "cream.txt", "--power", "1900", "--json").stdout)["pot"]
    reads = [one["estimate"]["value"] for one in (made["pot"]["moments"][0], strong["moments"][0])]
    assert reads[0] > reads[1]
    assert figures
    assert made["pot"]["courses"][0]["seconds"][0] == 0.0


def test_equipment_of_the_pantry_is_found_by_name(run, folder):
    (folder / "coolers.csv").write_text("name,kind,air_c\nSnow box,ice bath,0\n", encoding="utf-8")
    run("pantry", "import", "cooler", "coolers.csv")
    cold = json.loads(run("cool", "cream.txt", "--in", "snow BOX", "--json").stdout)["cooling"]
    usual = json.loads(run("cool", "cream.txt", "--json").stdout)["cooling"]

    def sets(cooling):
        moment = next(one for one in cooling["moments"] if one["key"] == "set")
        return moment["estimate"]["value"]

    assert sets(cold) < sets(usual)


def test_cooling_is_told_with_moments_and_checks(run):
    text = run("cool", "cream.txt", "--pour", "70 °C", "--count", "4", "--counter", "10 min").stdout
    assert "Core at 5 °C (41 °F)" in text
    assert "Cooled to 21 °C (70 °F)" in text
    assert max(map(len, text.splitlines())) <= 80


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("heat", "cream.txt", "--hob", "Dragon"), "There is no hob “Dragon” in this kitchen."),
        (("heat", "cream.txt", "--stir", "wildly"), "“wildly” is not a way to stir."),
        (("heat", "cream.txt", "--to", "90"), "does not say °C or °F"),
        (("cool", "cream.txt", "--in", "Moon"), "There is no cold place “Moon” in this kitchen."),
        (("cool", "cream.txt", "--pour", "-4 °C"), "-4"),
        (("heat", "cream.txt", "--power", "0"), "A power of 0 W cannot be computed. Give at least"),
        (("heat", "cream.txt", "--room", "90 °C"), "A kitchen at 90 °C cannot be computed. Give"),
        (("heat", "cream.txt", "--batch", "0 g"), "A batch of 0 g cannot be computed. Give more"),
        (("heat", "cream.txt", "--hold", "3 days"), "Give at most 1440 min."),
        (("cool", "cream.txt", "--count", "99999"), "Molds: 99999 cannot be computed. Give at"),
        (("cool", "cream.txt", "--counter", "9 days"), "On the counter for 12960 min cannot be"),
        (("schedule", "cream.txt", "--serve", "late"), '"late" is not a time of the day.'),
    ],
)
def test_what_cannot_be_is_said_in_one_line(run, arguments, said):
    result = run(*arguments)
    assert (result.exit_code, result.stdout) == (1, "")
    assert said in result.stderr
    assert result.stderr.startswith("setwell: ")


def test_what_nobody_heats_has_no_pot(run):
    given = "Drink\n\n500 g water\n2 g xanthan gum\n"
    assert "No step says how hot the pot gets" in run("heat", "-", given=given).stderr
    # Molds are a question of their own, whatever the steps say.
    assert run("cool", "-", given=given).exit_code == 0


def test_the_schedule_starts_in_time_for_a_slow_kitchen(run):
    text = run("schedule", "cream.txt", "--serve", "6:30 pm").stdout
    assert "Start at" in text
    assert "at the latest." in text
    assert "Points that decide" in text
    assert max(map(len, text.splitlines())) <= 80
    late = run("schedule", "cream.txt", "--serve", "12:00", "--start", "11:30").stdout
    assert "too late for 12:00 (12:00 pm)" in " ".join(late.split())


def test_a_schedule_without_a_clock_counts_from_the_start(run):
    made = json.loads(run("schedule", "cream.txt", "--json").stdout)
    assert made["schedule"] is None
    assert made["timeline"]["stages"][0]["kind"] == "weigh"


def test_the_sheet_is_text_json_and_pdf(run, folder):
    text = run("sheet", "cream.txt", "--serve", "18:30").stdout
    assert text.startswith("LIME SET CREAM\n")
    assert "[ ]  2 Heat to 90 °C" in text
    assert "Signature" in text
    assert max(map(len, text.splitlines())) <= 80
    made = json.loads(run("sheet", "cream.txt", "--json").stdout)["sheet"]
    assert made["steps"][2]["blanks"][1] == "Bottom °C"
    result = run("sheet", "cream.txt", "--pdf", "sheet.pdf", "--paper", "Letter")
    assert result.stdout == ""
    assert (folder / "sheet.pdf").read_bytes().startswith(b"%PDF")
    again = run("sheet", "cream.txt", "--pdf", "sheet.pdf")
    assert (again.exit_code, "exists already" in again.stderr) == (1, True)


def test_a_saved_formula_uses_its_plan(run):
    run("import", "cream.txt")
    result = run("heat", "Lime set cream", "--power", "700", "--use")
    assert result.stderr == "This plan now counts for version 1.\n"
    assert run("cool", "Lime set cream", "--in", "Ice bath", "--use").exit_code == 0
    sheet = run("sheet", "Lime set cream").stdout
    assert "at 700 W" in sheet
    assert "in Ice bath" in sheet


def test_a_file_cannot_use_a_plan(run):
    result = run("heat", "cream.txt", "--use")
    assert (result.exit_code, result.stdout) == (1, "")
    assert "Only a saved formula can use a plan. Import it first." in result.stderr
