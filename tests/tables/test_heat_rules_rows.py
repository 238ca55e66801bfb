"""Rows of the heat rules, each against the law it comes from."""

import pytest
from builders_tables import damage, tables_copied

from setwell.errors import TableError
from setwell.tables.rules import (
    food_code_rules,
    lethality_targets,
    pasteurization_rows,
    resistance_rows,
    roast_rows,
)

# 21 CFR 1240.61(b) and 131.3(b), the Pasteurized Milk Ordinance and its footnote, 21 CFR
# 1240.61(c): °C, °F, s as printed. The hotter short-time rows add 3 °C (5 °F), as Michigan does.
DAIRY = {
    "milk": (
        (63, 145, 1800), (72, 161, 15), (89, 191, 1), (90, 194, 0.5), (94, 201, 0.1),
        (96, 204, 0.05), (100, 212, 0.01),
    ),
    "rich_dairy": (
        (66, 150, 1800), (75, 166, 15), (92, 196, 1), (93, 199, 0.5), (97, 206, 0.1),
        (99, 209, 0.05), (103, 217, 0.01),
    ),
    "egg_dairy": ((69, 155, 1800), (80, 175, 25), (83, 180, 15)),
    "ultra": ((138, 280, 2),),
    "guidance": ((71.11, 160, 0),),
}  # fmt: skip
# 9 CFR 590.570, Table I, text until October 2022: °F and minutes.
LIQUID_EGG = {
    "white": ((132, 6.2), (134, 3.5)),
    "whole": ((140, 3.5),),
    "whole_blend": ((140, 6.2), (142, 3.5)),
    "fortified": ((142, 6.2), (144, 3.5)),
    "whole_salt": ((144, 6.2), (146, 3.5)),
    "whole_sugar": ((140, 6.2), (142, 3.5)),
    "yolk": ((140, 6.2), (142, 3.5)),
    "yolk_sugar": ((144, 6.2), (146, 3.5)),
    "yolk_salt": ((144, 6.2), (146, 3.5)),
}
# Food Code 2022, 3-401.11(B)(2): °C, °F, s.
ROASTS = (
    (54.4, 130, 112 * 60), (55.0, 131, 89 * 60), (56.1, 133, 56 * 60), (57.2, 135, 36 * 60),
    (57.8, 136, 28 * 60), (58.9, 138, 18 * 60), (60.0, 140, 12 * 60), (61.1, 142, 8 * 60),
    (62.2, 144, 5 * 60), (62.8, 145, 4 * 60), (63.9, 147, 134), (65.0, 149, 85), (66.1, 151, 54),
    (67.2, 153, 34), (68.3, 155, 22), (69.4, 157, 14), (70.0, 158, 0),
)  # fmt: skip
# Food Code 2022: start °C, °C, s of every row that a course is judged by.
FOOD_CODE = {
    "cooling_first_stage": ("3-501.14(A)(1)", 57, 21, 7200),
    "cooling_total": ("3-501.14(A)(2)", 57, 5, 21600),
    "cooling_from_ambient": ("3-501.14(B)", None, 5, 14400),
    "hot_holding": ("3-501.16(A)(1)", None, 57, None),
    "hot_holding_roasts": ("3-501.16(A)(1)", None, 54, None),
    "cold_holding": ("3-501.16(A)(2)", None, 5, None),
    "shell_egg_storage": ("3-501.16(B)", None, 7, None),
    "reheat_hot_holding": ("3-403.11(A)", None, 74, 15),
    "reheat_microwave": ("3-403.11(B)", None, 74, 120),
    "reheat_commercial": ("3-403.11(C)", None, 57, None),
    "reheat_time_limit": ("3-403.11(D)", 5, 74, 7200),
    "eggs_to_order": ("3-401.11(A)(1)(a)", None, 63, 15),
    "eggs_held": ("3-401.11(A)(2)", None, 68, 17),
    "eggs_held_63": ("3-401.11(A)(2)", None, 63, 180),
    "eggs_held_66": ("3-401.11(A)(2)", None, 66, 60),
    "eggs_held_70": ("3-401.11(A)(2)", None, 70, 0),
    "poultry_stuffed": ("3-401.11(A)(3)", None, 74, 0),
    "microwave_raw_animal": ("3-401.12", None, 74, 120),
    "plant_hot_holding": ("3-401.13", None, 57, None),
    "date_mark": ("3-501.17(A)", None, 5, 604800),
    "time_control_4h": ("3-501.19(B)", None, None, 14400),
    "time_control_6h": ("3-501.19(C)", 5, 21, 21600),
}


@pytest.mark.parametrize("regime", DAIRY)
def test_dairy_rows_are_those_of_the_law(regime):
    rows = [row for row in pasteurization_rows() if row.regime == regime]
    assert [(r.temperature_c, r.temperature_f, r.time_s) for r in rows] == list(DAIRY[regime])


@pytest.mark.parametrize("food", LIQUID_EGG)
def test_liquid_egg_rows_are_those_of_table_1(food):
    rows = [r for r in pasteurization_rows() if (r.regime, r.food) == ("liquid_egg", food)]
    assert [(r.temperature_f, r.time_s / 60) for r in rows] == list(LIQUID_EGG[food])
    for row in rows:
        assert row.temperature_c == pytest.approx((row.temperature_f - 32) / 1.8, abs=0.005)
        assert row.status == "benchmark"
        assert "85 FR 68640" in row.note


def test_no_liquid_egg_row_is_left_out():
    rows = [row for row in pasteurization_rows() if row.regime == "liquid_egg"]
    assert {row.food for row in rows} == set(LIQUID_EGG)
    assert len(rows) == 17


def test_dried_white_stays_for_days():
    # 9 CFR 590.575(b), text until October 2022.
    rows = {r.food: r for r in pasteurization_rows() if r.regime == "dried_white"}
    assert (rows["dried_white_spray"].temperature_f, rows["dried_white_spray"].time_s) == (
        130,
        7 * 86400,
    )
    assert (rows["dried_white_pan"].temperature_f, rows["dried_white_pan"].time_s) == (
        125,
        5 * 86400,
    )


def test_a_rich_base_is_three_degrees_hotter_for_the_same_time():
    plain = [row for row in pasteurization_rows() if row.regime == "milk"]
    rich = [row for row in pasteurization_rows() if row.regime == "rich_dairy"]
    for below, above in zip(plain, rich, strict=True):
        assert above.temperature_c == below.temperature_c + 3
        assert above.temperature_f == below.temperature_f + 5
        assert above.time_s == below.time_s
    assert [row.status for row in rich[:3]] == ["in force", "in force", "state code"]


@pytest.mark.parametrize("row", pasteurization_rows(), ids=lambda row: row.key)
def test_celsius_of_the_law_is_never_below_its_fahrenheit(row):
    # Rounded up by up to one degree, so that the printed °C is the safe side.
    assert -0.006 <= row.temperature_c - (row.temperature_f - 32) / 1.8 <= 1.0


def test_roast_rows_are_those_of_the_food_code():
    rows = [(r.temperature_c, r.temperature_f, r.time_s) for r in roast_rows()]
    assert rows == list(ROASTS)
    assert {row.applies_to for row in roast_rows()} == {"whole meat roasts"}


@pytest.mark.parametrize("key", FOOD_CODE)
def test_food_code_rows(key):
    rule = food_code_rules()[key]
    found = (rule.section, rule.start_temperature_c, rule.temperature_c, rule.time_s)
    assert found == FOOD_CODE[key]
    assert rule.edition == "2022"


def test_every_row_with_a_limit_is_checked_here():
    limits = {k for k, rule in food_code_rules().items() if rule.temperature_c or rule.time_s}
    assert limits - set(FOOD_CODE) == {"susceptible_exceptions"}


def test_sugar_and_salt_protect_salmonella_in_yolk():
    # Garibaldi, Straka and Ijichi 1969: minutes at 60 °C.
    rows = {row.key: row.d_min for row in resistance_rows()}
    yolk, sugar, salt = (rows[f"salmonella_tm1_yolk{end}"] for end in ("", "_sugar", "_salt"))
    assert (yolk, sugar, salt) == (0.40, 4.0, 5.1)


def test_resistance_is_read_with_its_range():
    rows = {row.key: row for row in resistance_rows()}
    cream = rows["listeria_milk_cream"]
    assert (cream.d_low_min, cream.d_min, cream.d_high_min) == (0.015, 0.03, 0.045)
    assert (cream.z_low_c, cream.z_high_c) == (5.8, 7.1)
    assert rows["senftenberg_custard"].bound == "at most"
    assert rows["listeria5_yolk_64"].z_c is None


def test_the_tough_strain_in_custard_is_worked_out_from_its_two_end_points():
    # Angelotti, Foter and Lewis 1961: none left of 1e7 per g after 78 min at 60 °C or 12 min at
    # 65.6 °C.
    row = {r.key: r for r in resistance_rows()}["senftenberg_custard"]
    assert row.d_min == pytest.approx(78 / 7, abs=0.06)
    at_65 = row.d_min * 10 ** ((row.reference_c - 65.6) / row.z_c)
    assert at_65 == pytest.approx(12 / 7, abs=0.06)


def test_targets_are_no_law():
    for target in lethality_targets().values():
        assert target.status in {"industry target", "benchmark"}
    assert lethality_targets()["listeria_70"].target_min == 2
    assert lethality_targets()["botulinum_90"].target_min == 10


@pytest.fixture
def folder(tmp_path):
    return tables_copied("rules", tmp_path)


@pytest.mark.parametrize(
    ("file", "old", "new", "load", "told"),
    [
        ("pasteurization.csv", ",72,161,15,", ",72,161,1800,", pasteurization_rows, "not shorter"),
        ("pasteurization.csv", ",milk,", ",soup,", pasteurization_rows, "regime is"),
        ("resistance.csv", ",0.015,,,6.3", ",-1,,,6.3", resistance_rows, "outside its range"),
        ("resistance.csv", ",6.3,,,52.2,74.4,", ",6.3,,,52.2,60,", resistance_rows,
         "outside the tested range"),
        ("lethality_targets.csv", "industry target", "law", lethality_targets, "status is"),
        ("roasts.csv", ",54.4,", ",warm,", roast_rows, "not a number"),
    ],
)  # fmt: skip
def test_damaged_tables_are_refused(folder, file, old, new, load, told):
    damage(folder / file, old, new)
    with pytest.raises(TableError, match=told):
        load(folder)
