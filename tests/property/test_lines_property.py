import string

from hypothesis import given
from hypothesis import strategies as st

from setwell.domain.formula_text import FormulaText, formula_text_parse, formula_text_print
from setwell.domain.lines import line_parse
from setwell.domain.phases import lines_parse
from setwell.domain.steps import step_parse, steps_parse
from setwell.errors import InputError
from setwell.units import UNITS

_WORDS = """
1 2.5 1/2 1½ 0 1,5 1,000 - – ( ) , ; : % to and of g kg oz lb mL cup cups tsp T sheet large small
each milk salt kappa egg yolks lemon juice stick butter x gelatin 2:1 with the agent plus about
pinch leaf °C 85 hold min heat add acid until boil
"""
_PIECES = st.sampled_from(_WORDS.split())
_KITCHEN = st.lists(_PIECES, max_size=12).map(" ".join)
_NUMBERS = st.one_of(
    st.integers(1, 200).map(str),
    st.decimals(min_value="0.01", max_value=200, places=2).map(str),
    st.sampled_from(["1/2", "1 1/2", "2/3"]),
)
_NAMES = st.sampled_from(["whole milk", "kappa carrageenan", "egg yolks", "pear juice", "sugar"])
_NOTES = st.sampled_from(["", "cold", "beaten, strained", "to disperse", "from lot 12"])


@given(st.text(max_size=300))
def test_any_text_is_read_and_kept(text):
    assert line_parse(text).text == text


@given(_KITCHEN)
def test_any_kitchen_words_are_read_and_kept(text):
    assert line_parse(text).text == text


@given(_NUMBERS, st.sampled_from(sorted(set(UNITS) - {"each", "stick", "leaf"})), _NAMES, _NOTES)
def test_plain_line_is_read_in_full(number, unit, name, note):
    line = line_parse(f"{number} {unit} {name}" + (f", {note}" if note else ""))
    assert line.problem is None
    assert (line.name, line.note, line.amount.unit) == (name, note, unit)


@given(_NUMBERS, _NAMES)
def test_amount_first_or_last_reads_the_same(number, name):
    first, last = line_parse(f"{number} g {name}"), line_parse(f"{name} {number} g")
    assert (first.amount, first.name) == (last.amount, last.name)


@given(st.lists(st.one_of(_KITCHEN, st.sampled_from(["Base:", "# Acid", "Agents:"])), max_size=8))
def test_list_keeps_every_line(lines):
    phases = lines_parse("\n".join(lines))
    kept = [line.text for phase in phases for line in phase.lines]
    headings = sum(bool(phase.heading) for phase in phases)
    assert len(kept) + headings == sum(bool(line.strip()) for line in lines)


@given(st.one_of(st.text(max_size=300), _KITCHEN))
def test_any_step_is_read_and_kept(text):
    assert step_parse(text).text == text


@given(st.text(alphabet=string.printable, max_size=400))
def test_method_loses_no_word(text):
    joined = "".join(step.text for step in steps_parse(text))
    assert "".join(joined.split()) == "".join(text.split())


@given(st.text(max_size=400))
def test_any_file_is_taken_apart_or_refused(text):
    try:
        formula = formula_text_parse(text)
    except InputError:
        return
    assert formula.title


@given(
    st.sampled_from(["Pear slice", "A: b", "Oat cup"]),
    st.dictionaries(st.sampled_from(["goal", "loss", "serve"]), st.sampled_from(["slice", "5 %"])),
    st.lists(_NAMES.map(lambda name: f"10 g {name}"), max_size=4).map("\n".join),
    st.sampled_from(["", "Heat to 85 °C\nCool", "Steps"]),
)
def test_formula_file_reads_back(title, header, ingredients, steps):
    formula = FormulaText(title, header, ingredients, steps)
    assert formula_text_parse(formula_text_print(formula)) == formula
