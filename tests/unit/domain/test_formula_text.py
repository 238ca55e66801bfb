import pytest

from setwell.domain.formula_text import FormulaText, formula_text_parse, formula_text_print
from setwell.errors import DocumentError

_FILE = """\
Pear and jasmine slice
goal: slice
molds: 12 x 80 mL

# Base
350 g pear juice

Agents:
1.2 g kappa carrageenan

Method:
Heat to 85 °C
Pour into molds
"""


def test_file_is_taken_apart():
    formula = formula_text_parse(_FILE)
    assert formula.title == "Pear and jasmine slice"
    assert formula.header == {"goal": "slice", "molds": "12 x 80 mL"}
    assert formula.ingredients == "# Base\n350 g pear juice\n\nAgents:\n1.2 g kappa carrageenan"
    assert formula.steps == "Heat to 85 °C\nPour into molds"


def test_header_can_be_left_out():
    formula = formula_text_parse("Pear slice\nwhole milk: 350 g\nSteps:\nHeat")
    assert (formula.header, formula.ingredients) == ({}, "whole milk: 350 g")


def test_printed_file_reads_back():
    formula = formula_text_parse(_FILE)
    assert formula_text_parse(formula_text_print(formula)) == formula


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            " \n",
            "The formula is empty. Write the title on the first line, then the ingredients.",
        ),
        (
            "Pear slice\ngaol: slice\n",
            'Line 2: "gaol" is not a header line of a formula. Did you mean "goal"? Known are '
            "goal, diets, portions, molds, evaporation, loss, serve, notes.",
        ),
        (
            "Pear slice\ngoal: slice\ngoal: spoon\n",
            'Line 3: "goal" is given twice. Keep one of the two.',
        ),
        ("Pear\x00", "This is not a text file. Save the formula as plain text (UTF-8)."),
        (
            "x" * 121,
            "The title has 121 characters; it needs 1 to 120. "
            "Write a short title on the first line.",
        ),
        (
            "x" * 160_000,
            "The file is 160 kB; a formula has at most 150 kB. Check that this is the right file.",
        ),
    ],
)
def test_unreadable_file_says_what_to_do(text, message):
    with pytest.raises(DocumentError) as refusal:
        formula_text_parse(text)
    assert str(refusal.value) == message


@pytest.mark.parametrize(
    "formula",
    [
        FormulaText("Two\nlines"),
        FormulaText("Pear", {"goal": ""}),
        FormulaText("Pear", {}, "1 g salt\nSteps:\n2 g salt"),
    ],
)
def test_formula_that_would_read_differently_is_not_written(formula):
    with pytest.raises(DocumentError):
        formula_text_print(formula)
