import pytest

from setwell.domain.phases import PhaseKind, lines_parse, phase_kind
from setwell.errors import InputError

_LIST = """\
350 g whole milk

# Texture
1.2 g kappa carrageenan
10 g sugar, to disperse

Acid, late:
8 g lemon juice
"""


def test_lines_before_a_heading_are_the_base():
    phases = lines_parse(_LIST)
    assert [(p.heading, p.kind) for p in phases] == [
        ("", PhaseKind.BASE), ("Texture", PhaseKind.AGENTS), ("Acid, late", PhaseKind.ACID),
    ]  # fmt: skip
    assert [p.numbers for p in phases] == [(1,), (4, 5), (8,)]


@pytest.mark.parametrize(
    ("heading", "kind"),
    [
        ("", PhaseKind.BASE), ("Fruit base", PhaseKind.BASE), ("Milk powders", PhaseKind.AGENTS),
        ("For the base", PhaseKind.BASE), ("Agents for the milk", PhaseKind.AGENTS),
        ("Juice", PhaseKind.ACID), ("Garnish", PhaseKind.FINISH), ("Part two", PhaseKind.OTHER),
        ("Gelling", PhaseKind.AGENTS), ("Flavour", PhaseKind.FINISH),
    ],
)  # fmt: skip
def test_heading_words_tell_the_kind(heading, kind):
    assert phase_kind(heading) == kind


def test_line_with_an_amount_is_no_heading():
    (phase,) = lines_parse("350 g milk:")
    assert phase.lines[0].name == "milk"


def test_empty_text_has_no_phases():
    assert lines_parse(" \n\n") == ()


def test_heading_without_lines_is_kept():
    assert [p.heading for p in lines_parse("Base:\nAcid:\n")] == ["Base", "Acid"]


def test_typed_lines_are_kept_to_the_letter():
    (phase,) = lines_parse("  •  350g   whole milk\u200f \r\n")
    assert phase.lines[0].text == "  •  350g   whole milk\u200f "


def test_too_many_lines_are_refused():
    assert len(lines_parse("1 g salt\n" * 500)[0].lines) == 500
    with pytest.raises(InputError) as refusal:
        lines_parse("1 g salt\n" * 501)
    assert str(refusal.value) == (
        "The list has 501 ingredient lines; at most 500 fit. "
        "Split it into several formulas and use one inside the other."
    )


def test_too_long_list_is_refused():
    with pytest.raises(InputError, match=r"^The ingredient list is 120 kB; at most 100 kB fit"):
        lines_parse("x" * 120_000)


@pytest.mark.parametrize("text", ["350 g milk\x00", "\x01\x02" * 10])
def test_binary_junk_is_refused(text):
    with pytest.raises(InputError, match=r"^This is not text"):
        lines_parse(text)
