"""What is wrong with a typed line or step, and what to do about it."""

from dataclasses import dataclass
from enum import StrEnum


class ProblemCode(StrEnum):
    """Kinds of problem with a line or a step."""

    EMPTY = "empty"
    NO_AMOUNT = "no_amount"
    RANGE = "range"
    NEGATIVE = "negative"
    ABSURD = "absurd"
    UNKNOWN_UNIT = "unknown_unit"
    BAD_NUMBER = "bad_number"
    TWO_AMOUNTS = "two_amounts"
    TWO_WEIGHTS = "two_weights"
    TWO_READINGS = "two_readings"
    NO_NAME = "no_name"
    TOO_LONG = "too_long"
    CONTROL_CHARACTERS = "control_characters"
    NO_TEMPERATURE_UNIT = "no_temperature_unit"
    BAD_TEMPERATURE = "bad_temperature"
    TWO_TEMPERATURES = "two_temperatures"
    NO_TIME = "no_time"


@dataclass(frozen=True, slots=True)
class LineProblem:
    """One problem: the message says what and how much, the suggestion what to write."""

    code: ProblemCode
    message: str
    suggestion: str
