import time

import pytest

from setwell.domain.steps import StepKind, Stirring, step_parse, steps_parse
from setwell.errors import InputError


@pytest.mark.parametrize(
    ("text", "kind", "celsius", "minutes"),
    [
        ("Heat to 85 °C, hold 2 min, stirring constantly", StepKind.HEAT, 85, 2),
        ("bring to a boil, 1 min", StepKind.BOIL, 100, 1),
        ("Bring the milk to a rolling boil", StepKind.BOIL, 100, None),
        ("Keep stirring until it boils", StepKind.BOIL, 100, None),
        ("Heat to 85 °C, do not boil", StepKind.HEAT, 85, None),
        ("Stir and heat to 85 °C", StepKind.HEAT, 85, None),
        ("Cool to 60 °C", StepKind.COOL, 60, None),
        ("Cool from 85 to 60 °C", StepKind.COOL, 60, None),
        ("Leave to cool to 40 °C", StepKind.COOL, 40, None),
        ("add acid phase at 70 C", StepKind.ADD, 70, None),
        ("Bloom gelatin in the cold water 10 min", StepKind.BLOOM, None, 10),
        ("Blend 1 min", StepKind.BLEND, None, 1),
        ("Whisk the kappa with the sugar, rain into the cold milk", StepKind.DISPERSE, None, None),
        ("Mix the agar with the sugar", StepKind.DISPERSE, None, None),
        ("Pour into 100 mL molds", StepKind.POUR, None, None),
        ("Pour the hot milk over the lambda", StepKind.ADD, None, None),
        ("Pour in cups", StepKind.POUR, None, None),
        ("Pour in the molds at 70 °C", StepKind.POUR, 70, None),
        ("Pour in 2 cups milk", StepKind.ADD, None, None),
        ("Divide among 6 ramekins", StepKind.POUR, None, None),
        ("Divide the sugar in two", StepKind.OTHER, None, None),
        ("Put the cups in the fridge for 4 h", StepKind.CHILL, None, 240),
        ("Move the tray to the freezer", StepKind.FREEZE, None, None),
        ("Put the lid on", StepKind.OTHER, None, None),
        ("Chill at 4 °C for 4 h", StepKind.CHILL, 4, 240),
        ("Let set in the fridge for 4 h", StepKind.CHILL, None, 240),
        ("Freeze at -18 °C for half an hour", StepKind.FREEZE, -18, 30),
        ("Serve at 60 °C", StepKind.SERVE, 60, None),
        ("Unmold onto plates", StepKind.UNMOLD, None, None),
        ("Let stand 1 h 30 min", StepKind.REST, None, 90),
        ("Hold at 185 °F for two minutes", StepKind.HOLD, 85, 2),
        ("Heat to 185F", StepKind.HEAT, 85, None),
        ("Heat to 185 °F (85 °C)", StepKind.HEAT, 85, None),
        ("Remove from the heat", StepKind.OTHER, None, None),
        ("Do not add the acid yet", StepKind.OTHER, None, None),
        ("3. Whisk", StepKind.MIX, None, None),
    ],
)
def test_step_is_read(text, kind, celsius, minutes):
    step = step_parse(text)
    assert step.problem is None
    assert (step.kind, step.hold_min) == (kind, minutes)
    assert step.temperature_c == (celsius if celsius is None else pytest.approx(celsius))
    assert step.text == text


@pytest.mark.parametrize(
    ("text", "adds", "is_acid"),
    [
        ("Add the acid here", "acid", True),
        ("Add lemon juice at 70 C and stir", "lemon juice", True),
        ("Off the heat, stir in the lime juice", "lime juice", True),
        ("Add the cream", "cream", False),
        ("Acidify to pH 3.8", "acid", True),
        ("Do not add the acid yet", "", False),
        ("Heat the lemon juice", "", False),
    ],
)
def test_addition_is_read(text, adds, is_acid):
    step = step_parse(text)
    assert (step.adds, step.is_acid_addition) == (adds, is_acid)


@pytest.mark.parametrize(
    ("text", "stirring"),
    [
        ("Heat to 85 °C, stirring constantly", Stirring.CONSTANT),
        ("Hold 2 min, stirring occasionally", Stirring.OCCASIONAL),
        ("Cool without stirring", Stirring.NONE),
        ("Disperse with an immersion blender", Stirring.BLENDER),
        ("Heat to 85 °C", None),
    ],
)
def test_stirring_is_read(text, stirring):
    assert step_parse(text).stirring == stirring


def test_mold_is_read():
    assert step_parse("Pour into 100 mL molds, cover").mold == "100 mL molds"


@pytest.mark.parametrize(
    ("text", "code", "message", "suggestion"),
    [
        (
            "Heat 10 to 15 min", "range", '"10 to 15 min" is a range; a step needs one number.',
            "Write the number you aim at, and put the range in the notes.",
        ),
        (
            "Heat to 80-85 °C", "range", '"80-85 °C" is a range; a step needs one number.',
            "Write the number you aim at, and put the range in the notes.",
        ),
        (
            "Heat to 85", "no_temperature_unit", '"85" does not say °C or °F.',
            "Write 85 °C or 85 °F.",
        ),
        (
            "Heat to 85°, stirring", "no_temperature_unit", '"85" does not say °C or °F.',
            "Write 85 °C or 85 °F.",
        ),
        (
            "Heat to 900 °C", "bad_temperature",
            "900 °C (1652 °F) is outside -80 to 250 °C (-112 to 482 °F).",
            "Check the number and whether it is °C or °F.",
        ),
        (
            "Heat to 85 °C, cool to 60 °C", "two_temperatures",
            "This step names 2 temperatures; 85 °C (185 °F) is used.",
            "Give each temperature a step of its own.",
        ),
        (
            "Chill overnight", "no_time", '"Overnight" is not a number of hours.',
            "Write 8 h or 12 h.",
        ),
        ("...", "empty", "This step says nothing.", 'Write, for example, "Heat to 85 °C".'),
        (
            "x" * 1001, "too_long", "This step has 1001 characters; a step can have 1000.",
            "Split it into several steps.",
        ),
    ],
)  # fmt: skip
def test_unclear_step_is_kept_with_a_problem(text, code, message, suggestion):
    step = step_parse(text)
    assert step.problem is not None
    assert (step.problem.code, step.problem.message) == (code, message)
    assert step.problem.suggestion == suggestion
    assert step.text == text


def test_range_leaves_the_time_open_and_keeps_the_kind():
    step = step_parse("Heat 10 to 15 min")
    assert (step.kind, step.hold_min) == (StepKind.HEAT, None)


def test_lines_sentences_and_then_make_steps():
    steps = steps_parse(
        "1. Heat to 85 °C, hold 2 min. Cool to 60 °C, then add the acid.\n\n2. Pour into molds."
    )
    assert [step.text for step in steps] == [
        "1. Heat to 85 °C, hold 2 min.", "Cool to 60 °C,", "then add the acid.",
        "2. Pour into molds.",
    ]  # fmt: skip
    assert [step.kind for step in steps] == [
        StepKind.HEAT, StepKind.COOL, StepKind.ADD, StepKind.POUR,
    ]  # fmt: skip


def test_too_many_steps_are_refused():
    assert len(steps_parse("Stir\n" * 100)) == 100
    with pytest.raises(InputError) as refusal:
        steps_parse("Stir\n" * 101)
    assert str(refusal.value) == (
        "The method has 101 steps; at most 100 fit. Join small steps or split the formula."
    )


def test_too_long_method_is_refused():
    with pytest.raises(InputError, match=r"^The method is 25 kB; at most 20 kB fit"):
        steps_parse("x" * 25_000)


@pytest.mark.parametrize(
    "text",
    [
        "1 " * 500,
        "into " * 200,
        "add " * 250,
        "bring " * 160,
        "1-" * 500,
        "not " * 250,
        "1 h " * 250,
    ],
)
def test_hostile_step_is_read_quickly(text):
    start = time.process_time()
    assert step_parse(text[:1000]).text == text[:1000]
    assert time.process_time() - start < 2  # a runaway pattern takes minutes


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("Cool to 60 °C and stir in the lemon juice", ["cool", "add"]),
        ("Stir in the lemon juice, and cool to 60 °C", ["add", "cool"]),
        ("Add the sugar and bring to a boil", ["add", "boil"]),
        ("Heat to 85 °C and hold 2 min", ["heat"]),
        ("Whisk the sugar and the milk", ["mix"]),
        ("Add the cream and the sugar", ["add"]),
    ],
)
def test_a_step_that_warms_or_cools_and_adds_is_two(text, kinds):
    steps = steps_parse(text)
    assert [step.kind.value for step in steps] == kinds
