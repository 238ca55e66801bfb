import pytest

from setwell.errors import InputError
from setwell.units import number_parse, number_print


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1 1/2", 1.5), ("1½", 1.5), ("½", 0.5), ("1/2", 0.5), ("1.5", 1.5), ("1,5", 1.5),
        ("0,350", 0.35), (".5", 0.5), ("350", 350.0), ("１２", 12.0), ("٣", 3.0), ("2⅔", 2 + 2 / 3),
        ("1\u200b2", 12.0), ("3/2", 1.5), ("1.000", 1.0), ("12,25", 12.25),
    ],
)  # fmt: skip
def test_number_is_read_as_kitchens_write_it(text, value):
    assert number_parse(text) == value


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "1,000",
            '"1,000" can be read as 1000 or as 1.000. Write 1000 or 1.000 without a comma.',
        ),
        ("1,234,567", '"1,234,567" has commas in it. Write 1234567.'),
        (
            "1.000,5",
            '"1.000,5" has both a comma and a point. Write the number with one decimal point '
            "and nothing between thousands, like 1000.5.",
        ),
        ("1e400", '"1e400" is written with an exponent. Write it out, like 1000.'),
        ("inf", '"inf" is not a number. Write it like 2.5, 1/2 or 1 1/2.'),
        ("nan", '"nan" is not a number. Write it like 2.5, 1/2 or 1 1/2.'),
        ("1/0", '"1/0" is not a number. Write it like 2.5, 1/2 or 1 1/2.'),
        ("10²", '"10²" is not a number. Write it like 2.5, 1/2 or 1 1/2.'),
        ("1 3/2", '"1 3/2" is not a number. Write it like 2.5, 1/2 or 1 1/2.'),
        ("1234567890", '"1234567890" has more than 9 digits. Round it.'),
        (
            "-5",
            '"-5" is below zero. Write an amount of zero or more; if the dash is a bullet, put a '
            "space after it.",
        ),
        (
            "2-3",
            '"2-3" is a range; a formula needs one number. Write 2.5, and put the range in a note.',
        ),
        (
            "2–3",
            '"2–3" is a range; a formula needs one number. Write 2.5, and put the range in a note.',
        ),
        (
            "1-1/2",
            '"1-1/2" can be a range or a mixed number. Write 1 1/2 if that is meant.',
        ),
        ("", "There is no number. Write one, like 2.5 or 1/2."),
    ],
)
def test_unusable_number_is_refused_with_what_to_write(text, message):
    with pytest.raises(InputError) as refusal:
        number_parse(text, field="dose")
    assert str(refusal.value) == message
    assert refusal.value.field == "dose"


@pytest.mark.parametrize(
    ("value", "printed"), [(12.5, "12.5"), (1 / 3, "1/3"), (1 + 2 / 3, "1 2/3"), (0.0, "0")]
)
def test_number_is_printed_in_its_shortest_form(value, printed):
    assert number_print(value) == printed


def test_spoons_are_printed_in_fractions():
    assert number_print(1.5, has_fractions=True) == "1 1/2"
    assert number_print(0.125, has_fractions=True) == "1/8"
