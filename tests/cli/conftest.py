"""A kitchen of its own and a folder with one formula file for every test."""

from collections.abc import Callable
from pathlib import Path

import pytest
from builders_probe import batch_course, file_of
from typer.testing import CliRunner, Result

from setwell.launch import app

CREAM = """Lime set cream
goal: slice
portions: 8

Base:
400 g whole milk
200 g heavy cream
60 g sugar
5 g kappa carrageenan

Finish:
10 g lime juice

Steps:
Mix the carrageenan with the sugar and whisk into the cold milk.
Heat to 90 °C while stirring and hold 2 min.
Cool to 75 °C, stir in the cream and the lime juice.
Pour into molds.
Chill to 4 °C.
"""

BRIEF = """{"format": "setwell-brief", "format_version": 1, "title": "Honey milk cup",
 "base": "800 g whole milk\\n90 g sugar\\n20 g honey", "texture": {"word": "elastic"},
 "plating": "unmolds", "serving_c": 8,
 "shelf": ["iota carrageenan", "kappa carrageenan", "locust bean gum", "lambda carrageenan"]}
"""

Run = Callable[..., Result]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "cream.txt").write_text(CREAM, encoding="utf-8")
    (tmp_path / "brief.json").write_text(BRIEF, encoding="utf-8")
    seconds, celsius = batch_course(30.0)
    (tmp_path / "batch.csv").write_text(file_of(seconds, celsius, celsius - 1), encoding="utf-8")
    return tmp_path


@pytest.fixture
def run(db: None, folder: Path) -> Run:
    def call(*arguments: str, given: str | bytes | None = None) -> Result:
        result = CliRunner().invoke(app, list(arguments), input=given)
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        return result

    return call
