"""Results as plain JSON."""

import json
import math
from datetime import UTC, date, datetime

from builders_assessment import assessment_make, estimate_make, formula_make

from setwell.cli.shape import json_text, json_value
from setwell.domain.formula import Diet
from setwell.provenance import Grade


def test_the_head_says_what_the_object_is():
    made = json.loads(json_text("thing", {"a": 1}))
    assert made == {"format": "setwell-thing", "format_version": 1, "a": 1}


def test_an_estimate_carries_every_field_and_its_grade():
    assert json_value(estimate_make(4.6, "", 4.2, None)) == {
        "value": 4.6,
        "unit": "",
        "low": 4.2,
        "high": None,
        "model": "made by hand",
        "evidence": [
            {
                "source": "common_practice",
                "locator": "common practice, no source",
                "grade": "estimated",
            }
        ],
        "flags": [],
        "grade": "estimated",
    }


def test_numbers_that_are_not_finite_become_null():
    made = json_value({"a": math.nan, "b": [math.inf, 1.5]})
    assert made == {"a": None, "b": [None, 1.5]}


def test_dates_and_words_of_lists_become_text():
    day = date(2026, 3, 4)
    moment = datetime(2026, 3, 4, 5, 6, tzinfo=UTC)
    assert json_value((day, moment, Grade.FITTED, Diet.VEGAN)) == [
        "2026-03-04",
        "2026-03-04T05:06:00+00:00",
        "fitted",
        "vegan",
    ]


def test_a_whole_assessment_goes_through_strict_json_and_keeps_what_was_typed():
    formula = formula_make(title="Crème “prise”\u2028", ingredients="½ cup lait\n")
    text = json_text("assessment", {"assessment": assessment_make(formula=formula)})
    made = json.loads(text)["assessment"]
    assert made["formula"]["title"] == formula.title
    assert made["formula"]["ingredients"] == "½ cup lait\n"
    assert made["agents"][0]["set_temperature_c"]["value"] == 48.0
    assert made["texture"]["sets"] == "yes"
