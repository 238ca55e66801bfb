import pytest

from setwell.domain.lines import line_parse


@pytest.mark.parametrize(
    ("text", "code", "message", "suggestion"),
    [
        (
            "", "empty", "This line is empty.", 'Write, for example, "350 g whole milk".',
        ),
        (
            "salt to taste", "no_amount",
            '"salt" has no amount: "to taste" is not an amount others can repeat.',
            'Weigh it and write, for example, "2 g salt" or "salt to 0.8%".',
        ),
        (
            "milk", "no_amount", '"milk" has no amount.',
            'Weigh it and write, for example, "2 g milk" or "milk to 0.8%".',
        ),
        (
            "2 to 3 g agar", "range", '"2 to 3 g" is a range; a formula needs one number.',
            "Write 2.5 g, and put the range in a note.",
        ),
        (
            "agar 2–3 g", "range", '"2–3 g" is a range; a formula needs one number.',
            "Write 2.5 g, and put the range in a note.",
        ),
        (
            "0.3-0.4% agar", "range", '"0.3-0.4 %" is a range; a formula needs one number.',
            "Write 0.35 %, and put the range in a note.",
        ),
        (
            "2 g to 3 g agar", "range", '"2 g to 3 g" is a range; a formula needs one number.',
            "Write one amount, and put the range in a note.",
        ),
        (
            "-5 g salt", "negative", '"-5" is below zero.',
            "Write an amount of zero or more; if the dash is a bullet, put a space after it.",
        ),
        (
            "2000 kg water", "absurd", "2000 kg is more than 1000 kg.",
            "Check the number and the unit.",
        ),
        (
            "1200 L water", "absurd", "1200 L is more than 1000 L.",
            "Check the number and the unit.",
        ),
        (
            "120% water", "absurd", "120% is more than 100 %.", "Check the number and the unit.",
        ),
        (
            "2 T sugar", "unknown_unit", 'A capital "T" is easily confused with "t".',
            "Write tsp, tbsp, cup or g.",
        ),
        (
            "5xyz salt", "unknown_unit", '"xyz" is not a known unit.',
            "Use g, kg, oz, lb, mL, L, tsp, tbsp or cup.",
        ),
        (
            "2 handfuls mint", "unknown_unit", '"handfuls" has no fixed size.',
            "Weigh it once and write grams.",
        ),
        (
            "water to 1 L", "unknown_unit", 'A batch is made up by weight, not to "1 L".',
            'Write, for example, "water to 1 kg".',
        ),
        (
            "5% v/v rum", "unknown_unit", '"5% by volume" is not a share of the weight.',
            "Write the weight in g, or percent of the batch by weight.",
        ),
        (
            "1,000 g water", "bad_number", '"1,000" can be read as 1000 or as 1.000.',
            "Write 1000 or 1.000 without a comma.",
        ),
        (
            "2 x 100 g milk", "bad_number", '"2 x 100" is a multiplication.',
            "Multiply it out and write 200 with the unit.",
        ),
        (
            "10 000 g milk", "bad_number", 'There are two numbers in a row: "10 000 g milk".',
            "Write one amount, and put a pack size in parentheses.",
        ),
        (
            "1e400 g salt", "bad_number", '"1e400" is written with an exponent.',
            "Write it out, like 1000.",
        ),
        (
            "1 lb 2 oz flour", "two_amounts", 'This line gives two amounts: "1 lb 2 oz".',
            "Write one: 510.3 g if the two add up.",
        ),
        (
            "350 g milk and 200 g cream", "two_amounts",
            'A second amount, "200 g", stands inside the name.',
            "Put each ingredient on a line of its own, and a pack size in parentheses.",
        ),
        (
            "3 egg yolks plus 1 egg", "two_amounts",
            'A second amount, "1 egg", stands inside the name.',
            "Put each ingredient on a line of its own, and a pack size in parentheses.",
        ),
        (
            "kappa 3 g, iota 2 g", "two_amounts",
            'A second ingredient, "iota 2 g", stands in the note.',
            "Put each ingredient on a line of its own.",
        ),
        (
            "3 g kappa, 2 g iota", "two_amounts",
            'A second ingredient, "2 g iota", stands in the note.',
            "Put each ingredient on a line of its own.",
        ),
        (
            "1 large or 2 small eggs", "two_amounts",
            'A second amount, "2 small", stands inside the name.',
            "Put each ingredient on a line of its own, and a pack size in parentheses.",
        ),
        (
            "350 g (35 g) milk", "two_weights", "This line gives two weights: 350 g and 35 g.",
            "Keep the one you weighed.",
        ),
        (
            "2 cans (400 g) coconut milk", "two_readings",
            '"2 cans (400 g)" can be the weight of each or of all.',
            'Write "(400 g each)" or "(800 g in all)".',
        ),
        (
            "2% milk", "two_readings",
            '"2% milk" can be a share of the batch or the name of a product.',
            'Write "350 g 2% milk", or "milk, 2%" for a share.',
        ),
        (
            "350 g", "no_name", "This line names no ingredient.",
            'Write the amount and the name, like "350 g whole milk".',
        ),
        (
            "x" * 301, "too_long", "This line has 301 characters; a line can have 300.",
            "Shorten it, and move the rest to the notes.",
        ),
        (
            "350 g mi\x07lk", "control_characters",
            "This line has control characters in it, which come from a damaged file.",
            "Type the line again.",
        ),
    ],
)  # fmt: skip
def test_bad_line_keeps_its_text_and_says_what_to_do(text, code, message, suggestion):
    line = line_parse(text)
    assert line.problem is not None
    assert (line.problem.code, line.problem.message) == (code, message)
    assert line.problem.suggestion == suggestion
    assert line.text == text


@pytest.mark.parametrize("text", ["120% water", "2-3 g agar", "2 T sugar", "350 g (35 g) milk"])
def test_unusable_amount_is_not_handed_on(text):
    assert line_parse(text).amount is None
