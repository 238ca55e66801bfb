"""Files of the ingredient statements: their wording, and how they agree."""

import re
from collections import Counter

import pytest
from builders_tables import TABLES, damage, lines, tables_copied

from setwell.errors import TableError
from setwell.tables.agents import agent_rows
from setwell.tables.foods import food_rows
from setwell.tables.labels.additive_limits import ANY, additive_limits
from setwell.tables.labels.additives import additives
from setwell.tables.labels.allergens import label_allergens
from setwell.tables.labels.food_categories import food_categories
from setwell.tables.labels.food_names import food_names
from setwell.tables.labels.thresholds import label_thresholds, sulfite_sources
from setwell.tables.rules import mini_cup_bans

STEMS = (
    "additive_limits",
    "additives",
    "allergens",
    "food_categories",
    "food_names",
    "sulfites",
    "thresholds",
)
FILES = [TABLES / "labels" / f"{stem}.csv" for stem in STEMS]


def test_only_words_of_the_european_list_are_british():
    british = re.compile(
        r"fibre|colour|litre|gelatinis|pasteuris|flavoured|stabilis", re.IGNORECASE
    )
    for path in FILES:
        for row in lines(path):
            own = {k: v for k, v in row.items() if not k.startswith("eu_") and k != "locator"}
            assert not british.search(" ".join(own.values())), row


def test_every_food_has_a_label_name_and_a_known_number():
    names = food_names()
    assert set(food_rows()) <= set(names)
    strangers = set(names) - set(food_rows())
    assert {key.removeprefix("agent:") for key in strangers} <= set(agent_rows())
    for named in names.values():
        assert set(named.e_numbers) <= set(additives()), named.key
        assert not re.search(r"\d\s?%|\babv\b|, ", named.us_name.split("(")[0]), named.us_name


def test_every_additive_of_an_agent_is_named_and_numbered_alike():
    for row in agent_rows().values():
        numbers = re.findall(r"E\d{3,4}[a-z]?", row.e_number)
        assert set(numbers) <= set(additives()), row.key
        written = re.findall(r"\d{3,4}[a-z]?", row.ins)
        # The international number is the European one without its letter.
        assert [number.removeprefix("E") for number in numbers] == written, row.key
        told = row.regulation.get("us_label_name")
        if len(numbers) == 1 and told is not None and numbers[0] not in {"E425"}:
            assert told.text == additives()[numbers[0]].us_name, row.key


def test_group_one_agrees_with_what_the_agents_say():
    for row in agent_rows().values():
        told = row.regulation.get("eu_group_i")
        if told is None:
            continue
        number = re.findall(r"E\d+a?", row.e_number)[0]
        expected = "capped" if "capped" in told.text else "yes"
        assert additives()[number].group_i == expected, row.key


def test_mini_cup_bans_agree_with_those_of_the_agents():
    rule = next(one for one in additive_limits() if one.id == "eu_mini_cups")
    for agent, ban in mini_cup_bans().items():
        assert set(re.findall(r"E\d+a?", ban.e_number)) <= rule.e_numbers, agent
    for row in agent_rows().values():
        told = row.regulation.get("eu_mini_cup_ban")
        if told is not None and not row.parts:
            numbers = set(re.findall(r"E\d+a?", row.e_number))
            assert bool(numbers & rule.e_numbers) is (told.text == "yes"), row.key


def test_every_limit_speaks_of_known_foods_and_additives():
    for rule in additive_limits():
        assert rule.categories <= {ANY, *food_categories()}, rule.id
        # Phosphoric acid and magnesium phosphates count in a sum, though no line brings them.
        assert rule.e_numbers <= {*additives(), "E338", "E343"}, rule.id


def test_every_rule_that_counts_together_gives_each_additive_one_limit_per_food():
    seen = Counter(
        (rule.market, category, number, rule.counted == "proportional")
        for rule in additive_limits()
        if rule.kind == "limit"
        for category in rule.categories
        for number in rule.e_numbers
    )
    assert [key for key, times in seen.items() if times > 1] == []


def test_every_allergen_of_a_food_has_a_word_in_both_markets():
    for food in food_rows().values():
        for tag in food.allergens:
            for market in ("us", "eu"):
                whole = (market, tag.allergen, "")
                assert whole in label_allergens(), (food.key, tag.allergen)
                if tag.kind:
                    known = (market, tag.allergen, tag.kind)
                    assert known in label_allergens() or tag.allergen == "gluten", known


def test_nine_and_fourteen_allergens_are_listed():
    # FALCPA with the FASTER Act; Regulation (EU) No 1169/2011, Annex II (wheat is one gluten
    # cereal, so that its own line adds none).
    def listed(market):
        rows = label_allergens().values()
        return {row.allergen for row in rows if row.market == market and row.is_listed}

    assert len(listed("us")) == 9
    assert len(listed("eu") - {"wheat"}) == 14


def test_every_food_whose_label_tells_sulfites_has_a_figure():
    tagged = {
        food.key
        for food in food_rows().values()
        if any(tag.allergen == "sulfite" for tag in food.allergens)
    }
    assert tagged <= set(sulfite_sources())
    for key in sulfite_sources():
        assert key in food_rows() or key.removeprefix("agent:") in agent_rows(), key


def test_the_phrase_of_small_amounts_has_four_shares():
    # 21 CFR 101.4(a)(2): 2, 1.5, 1.0 or 0.5 percent.
    shares = [row.value for (key, _), row in label_thresholds().items() if "minor_" in key]
    assert sorted(shares) == [0.5, 1.0, 1.5, 2.0]


@pytest.mark.parametrize(
    ("file", "old", "new", "load", "told"),
    [
        ("food_names", ",no,", ",maybe,", food_names, "is_compound is “maybe”"),
        ("additives", ",yes,", ",often,", additives, "group_i is “often”"),
        ("food_categories", "other,", "others,", food_categories, "category other is missing"),
        ("additive_limits", ",limit,500,", ",limit,,", additive_limits, "a limit has a figure"),
        ("additive_limits", "eu_cream,", "eu_konjac,", additive_limits, "stands there twice"),
        ("allergens", "eu,celery", "mars,celery", label_allergens, "market is “mars”"),
        ("thresholds", ",5,", ",five,", label_thresholds, "value is “five”"),
        ("sulfites", ",0,50,", ",60,50,", sulfite_sources, "upside down"),
    ],
)
def test_a_damaged_table_is_refused(tmp_path, file, old, new, load, told):
    folder = tables_copied("labels", tmp_path)
    damage(folder / f"{file}.csv", old, new)
    with pytest.raises(TableError, match=told):
        load(folder)
