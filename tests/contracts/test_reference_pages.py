"""The reference pages say what the code does, and no link of the guide leads nowhere."""

import doctest
import importlib.util
import re
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

import setwell.errors
from setwell.cli.manual import commands_of
from setwell.domain.formula import Diet, Formula, Goal
from setwell.domain.formula_text import HEADER_KEYS
from setwell.domain.problems import ProblemCode
from setwell.launch import app
from setwell.provenance import Grade
from setwell.tables.sources import sources

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
HAND_WRITTEN = sorted([ROOT / "README.md", ROOT / "CHANGELOG.md", *DOCS.rglob("*.md")])


def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "reference_pages", ROOT / "tools" / "reference_pages.py"
    )
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


TOOL = tool()


def page(name: str) -> str:
    return (DOCS / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", sorted(TOOL.MAKERS))
def test_generated_page_is_up_to_date(name):
    assert page(f"reference/{name}") == TOOL.MAKERS[name](), "run: make docs"


def test_every_parameter_of_a_model_has_a_symbol_a_meaning_and_a_unit():
    symbols = tomllib.loads(TOOL.SYMBOLS_FILE.read_text(encoding="utf-8"))
    parameters = [p for model in TOOL.models() for p in model.parameters]
    assert {p.name for p in parameters} == set(symbols)
    assert [p for p in parameters if not p.meaning or not p.unit] == []


def test_every_model_has_notes_and_cites_known_sources():
    found = TOOL.models()
    assert len(found) > 10
    assert [m.name for m in found if not m.notes or not m.references] == []
    cited = {key for model in found for key, _ in model.references}
    assert cited <= set(sources())


def test_every_error_is_on_the_page():
    names = [
        name for name, thing in vars(setwell.errors).items()
        if isinstance(thing, type) and issubclass(thing, setwell.errors.SetwellError)
    ]  # fmt: skip
    assert len(names) > 8
    assert [name for name in names if f"`{name}`" not in page("reference/errors.md")] == []


def test_every_problem_of_a_line_is_on_the_page():
    text = page("reference/errors.md")
    assert [code.value for code in ProblemCode if f"`{code.value}`" not in text] == []


def test_every_finding_is_on_the_page_and_no_other():
    rules = (ROOT / "src" / "setwell" / "engine").rglob("*.py")
    either = re.compile(
        r'"([a-z_]+)"(?: if [^,]+? else "([a-z_]+)")?,\s*(?:severity=)?[Ss]everity\w*'
    )
    texts = [path.read_text(encoding="utf-8") for path in rules]
    codes = {code for text in texts for found in either.findall(text) for code in found if code}
    listed = page("reference/errors.md").partition("## Findings")[2].partition("\n## ")[0]
    assert len(codes) > 15
    assert set(re.findall(r"^\| `([a-z_]+)`", listed, re.MULTILINE)) == codes


def test_every_advice_and_every_note_on_a_log_is_on_the_page_and_no_other():
    rooms = (ROOT / "src" / "setwell" / room for room in ("engine", "domain"))
    called = re.compile(
        r'(?:Advice|_advice|ReadingNote)\(\s*"([a-z_]+)"(?: if [^,]+? else "([a-z_]+)")?'
    )
    texts = [path.read_text(encoding="utf-8") for room in rooms for path in room.rglob("*.py")]
    codes = {code for text in texts for found in called.findall(text) for code in found if code}
    listed = page("reference/errors.md").partition("## Advice")[2].partition("\n## Cautions")[0]
    rows = re.findall(r"^\| (`[^|]+) \|", listed, re.MULTILINE)
    assert len(codes) > 40
    assert {code for row in rows for code in re.findall(r"`([a-z_]+)`", row)} == codes


def test_every_field_of_a_formula_is_on_its_page():
    text = page("reference/formula-document.md")
    assert [name for name in Formula.model_fields if f"`{name}`" not in text] == []
    assert [key for key in HEADER_KEYS if f"`{key}:`" not in text] == []
    assert [word for word in [*Goal, *Diet] if word.value not in text] == []


def test_every_grade_is_explained():
    text = page("explanation/grades.md")
    assert [grade.value for grade in Grade if f"**{grade.value}**" not in text] == []
    assert [grade.value for grade in Grade if grade.meaning not in text] == []


def test_commands_in_the_guide_exist():
    import typer

    known = {name.split()[1] for name, _ in commands_of(typer.main.get_command(app))}
    used = {
        word
        for path in HAND_WRITTEN
        for word in re.findall(r"^\s*setwell ([a-z]+)", path.read_text(encoding="utf-8"), re.M)
    }
    assert "check" in used
    assert used <= known | {"manual"}


@pytest.mark.parametrize("path", HAND_WRITTEN, ids=lambda path: str(path.relative_to(ROOT)))
def test_links_lead_somewhere(path):
    text = path.read_text(encoding="utf-8")
    links = re.findall(r"\[[^\]]*\]\(([^)#\s]+)(?:#[^)]*)?\)", text)
    local = [link for link in links if not link.startswith(("http:", "https:", "mailto:"))]
    assert [link for link in local if not (path.parent / link).exists()] == []


def test_every_page_is_in_the_contents():
    listed = {(DOCS / link).resolve() for link in re.findall(r"\]\(([^)]+)\)", page("README.md"))}
    pages = set(DOCS.rglob("*.md")) - {DOCS / "README.md"}
    assert sorted(path.name for path in pages - listed) == []


@pytest.mark.parametrize("path", HAND_WRITTEN, ids=lambda path: str(path.relative_to(ROOT)))
def test_files_that_a_page_names_are_there(path):
    text = path.read_text(encoding="utf-8")
    named = re.findall(r"`((?:src|tests|docs|tools|changelog\.d)/[\w./*-]+)`", text)
    assert [name for name in named if not any(ROOT.glob(name.rstrip("/")))] == []


@pytest.mark.parametrize("path", HAND_WRITTEN, ids=lambda path: str(path.relative_to(ROOT)))
def test_examples_in_python_work(path):
    # A closing fence would be taken for output.
    text = re.sub(r"^```.*$", "", path.read_text(encoding="utf-8"), flags=re.MULTILINE)
    runner = doctest.DocTestRunner(verbose=False)
    runner.run(doctest.DocTestParser().get_doctest(text, {}, path.name, str(path), 0))
    assert runner.failures == 0


def test_kitchen_lines_on_the_page_are_read_as_it_says():
    from setwell.domain.lines import line_parse

    rows = re.findall(r"^\| `([^`|]+)` \| ([^|]+) \|", page("reference/kitchen-lines.md"), re.M)
    assert len(rows) > 40
    wrong = []
    for line, said in rows:
        reading = line_parse(line)
        is_asked = said.startswith("asked back")
        if is_asked != (reading.problem is not None):
            wrong.append((line, said, reading.problem))
    assert wrong == []


def test_changelog_fragments_have_a_known_kind():
    kinds = {"added", "changed", "fixed", "removed", "science", "data"}
    fragments = [path for path in (ROOT / "changelog.d").glob("*.md") if path.name != "README.md"]
    assert fragments
    assert [path.name for path in fragments if path.name.split(".")[-2] not in kinds] == []


def test_every_dependency_has_its_reason():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    listed = [*project["dependencies"], *(d for extra in project["optional-dependencies"].values()
              for d in extra)]  # fmt: skip
    names = [re.split(r"[<>=~! \[]", line)[0] for line in listed]
    text = page("decisions/0009-dependencies.md")
    assert len(names) > 15
    assert [name for name in names if not re.search(rf"\b{re.escape(name)}\b", text)] == []
