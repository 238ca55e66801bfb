"""The reference page and the examples in the help."""

import dataclasses
import json
import shlex
from pathlib import Path

import pytest
import typer

from setwell.cli.json_kinds import json_kinds
from setwell.cli.manual import commands_of, manual_text
from setwell.launch import app

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "cli.md"
COMMANDS = dict(commands_of(typer.main.get_command(app)))


def example_of(name: str) -> str:
    return " ".join(COMMANDS[name].help.partition("Example:")[2].split())


def test_the_page_is_up_to_date():
    made = manual_text(typer.main.get_command(app))
    assert PAGE.read_text(encoding="utf-8") == made, "run: setwell manual > docs/reference/cli.md"


def test_every_command_is_on_the_page():
    text = PAGE.read_text(encoding="utf-8")
    assert [name for name in COMMANDS if f"\n## {name}\n" not in text] == []


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_help_is_one_sentence_and_an_example(name):
    sentence, _, example = COMMANDS[name].help.partition("Example:")
    assert " ".join(sentence.split()).count(". ") == 0
    assert sentence.strip().endswith(".")
    assert " ".join(example.split()).startswith(f"{name} ")


@pytest.mark.parametrize("name", sorted(set(COMMANDS) - {"setwell serve", "setwell share"}))
def test_the_example_in_the_help_works(name, run):
    run("import", "cream.txt")
    if name == "setwell pantry import":
        run("pantry", "export", "lot", "lots.csv")
    if name in {"setwell measure set-aside", "setwell measure take-back"}:
        run("measure", "reading", "Lime set cream", "outcome", "set")
    if name == "setwell measure take-back":
        run("measure", "set-aside", "1", "--reason", "the wrong cup")
    result = run(*shlex.split(example_of(name))[1:])
    assert result.exit_code == 0, result.stderr


@pytest.mark.parametrize(("command", "kind", "keys"), json_kinds())
def test_json_has_exactly_the_keys_that_the_page_names(command, kind, keys, run):
    arguments = {
        "agents": ["agents", "agar"],
        "assessment": ["check", "cream.txt"],
        "blend": ["blend", "agar:80, locust bean gum:20", "--dose", "1"],
        "card": ["card", "cream.txt"],
        "bench-sheet": ["sheet", "cream.txt"],
        "cooling": ["cool", "cream.txt"],
        "heating": ["heat", "cream.txt"],
        "schedule": ["schedule", "cream.txt", "--serve", "18:30"],
        "foods": ["foods", "milk"],
        "label": ["label", "cream.txt"],
        "formulas": ["formulas"],
        "acid-plan": ["acid", "cream.txt", "--to", "5.2"],
        "measurements": ["measure", "list"],
        "before-after": ["measure", "show", "Lime set cream"],
        "lot-report": ["measure", "show", "agar", "--lot", "A-1"],
        "probe": ["probe", "batch.csv", "--formula", "cream.txt"],
        "proposals": ["propose", "brief.json", "--first"],
        "robustness": ["robustness", "cream.txt", "--draws", "256"],
        "scaled-formula": ["scale", "cream.txt", "--to", "1 kg"],
        "substitution": ["substitute", "cream.txt", "--by", "agar"],
        "texture": ["texture", "cream.txt"],
    }[kind]
    run("import", "cream.txt")
    made = json.loads(run(*arguments, "--json").stdout)
    assert list(made) == ["format", "format_version", *keys]
    assert made["format"] == f"setwell-{kind}"
    for key, annotation in keys.items():
        if dataclasses.is_dataclass(annotation):
            assert list(made[key]) == [field.name for field in dataclasses.fields(annotation)]
