"""Errors carry what a front door needs to show."""

import inspect

import pytest

from setwell import errors
from setwell.errors import (
    ConflictError,
    DocumentError,
    InputError,
    MissingDataError,
    ModelError,
    NotAllowedError,
    NotFoundError,
    OutOfRangeError,
    SetwellError,
    TableError,
    UnitError,
    UnknownNameError,
)

EVERY = [value for _, value in inspect.getmembers(errors, inspect.isclass)
         if issubclass(value, SetwellError)]  # fmt: skip


def test_a_hint_follows_the_message():
    error = SetwellError("The pot is too small.", hint="Take a larger one.")
    assert str(error) == "The pot is too small. Take a larger one."
    assert (error.message, error.hint) == ("The pot is too small.", "Take a larger one.")


def test_without_a_hint_the_message_stands_alone():
    assert str(SetwellError("Too hot.")) == "Too hot."


def test_input_names_its_field():
    error = OutOfRangeError("The count is 0.", field="count", hint="Write 1 or more.")
    assert (error.field, error.hint) == ("count", "Write 1 or more.")
    assert InputError("No.").field == ""


def test_an_unknown_name_offers_the_nearest():
    error = UnknownNameError("No “mlik”.", nearest=["milk", "silk"])
    assert error.nearest == ("milk", "silk")
    assert UnknownNameError("No.").nearest == ()


@pytest.mark.parametrize(
    ("kind", "builtin"),
    [
        (InputError, ValueError),
        (OutOfRangeError, ValueError),
        (UnitError, ValueError),
        (UnknownNameError, ValueError),
        (DocumentError, ValueError),
        (MissingDataError, LookupError),
        (NotFoundError, LookupError),
    ],
)
def test_children_are_also_the_matching_builtin(kind, builtin):
    assert issubclass(kind, builtin)


@pytest.mark.parametrize("kind", [TableError, ModelError, ConflictError, NotAllowedError])
def test_what_the_user_cannot_correct_is_no_input_error(kind):
    assert not issubclass(kind, InputError)


@pytest.mark.parametrize("kind", EVERY, ids=lambda kind: kind.__name__)
def test_every_error_is_in_the_drawing_and_says_when(kind):
    assert kind.__name__ in errors.__doc__
    assert kind.__doc__
