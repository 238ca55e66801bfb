"""The limits of additives read in percent, and the figures of the rule stay in the details."""

import pytest

from setwell.documents.additive_share import in_mg, in_percent


@pytest.mark.parametrize(("said", "shown"), [
    ("13,000 mg/kg of at most 2,500 mg/kg.", "1.3 % of at most 0.25 %."),
    ("300 mg/kg; as much as needed and no more.", "0.03 %; as much as needed and no more."),
    ("its phosphorus is unknown, at most 3,000 mg/kg are allowed (alone; 7000 in dry mixes).",
     "its phosphorus is unknown, at most 0.3 % are allowed (alone; 0.7 % in dry mixes)."),
    ("not on the list for this food (jam), so not allowed.",
     "not on the list for this food (jam), so not allowed."),
])  # fmt: skip
def test_a_rule_reads_in_percent(said, shown):
    assert in_percent(said) == shown


def test_what_is_just_above_a_limit_never_reads_as_the_limit():
    assert in_percent("10,002 mg/kg of at most 10,000 mg/kg.") == "1.0002 % of at most 1 %."


def test_what_is_too_little_for_a_percentage_stays_in_mg_per_kg():
    said = "4 mg/kg of at most 50 mg/kg."
    assert (in_percent(said), in_mg(said)) == (said, "")


def test_the_figures_of_the_rule_stay_for_the_details():
    assert in_mg("0.40 of the whole limit (300 mg/kg, 1,000 mg/kg).") == "300 mg/kg, 1,000 mg/kg"
