"""Templates and scripts keep to the house rules."""

import re
from pathlib import Path

import pytest

import setwell.web

WEB = Path(setwell.web.__file__).parent
TEMPLATES = sorted((WEB / "templates").rglob("*.html"))


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_a_template_is_small_and_has_nothing_inline(path):
    text = path.read_text(encoding="utf-8")
    assert text.count("\n") <= 120
    assert not re.search(r"<style|\sstyle=|\son\w+=|javascript:", text)
    assert not re.search(r"<script(?![^>]*\ssrc=)", text)
    assert not re.search(r'(src|href)="https?://(?!doi\.org/)', text)
    assert "|safe" not in text
    assert "autoescape off" not in text


def test_numbers_are_formatted_in_one_place_only():
    for path in TEMPLATES:
        assert "floatformat" not in path.read_text(encoding="utf-8"), path.name


def test_our_scripts_are_few():
    scripts = (WEB / "static" / "js").glob("*.js")
    lines = sum(path.read_text(encoding="utf-8").count("\n") for path in scripts)
    assert 0 < lines < 150


def test_no_view_is_long():
    for path in WEB.rglob("*.py"):
        assert path.read_text(encoding="utf-8").count("\n") <= 300, path.name
