"""`setwell propose`."""

import json
import os
import signal
import subprocess
import sys
import time

import pytest

from setwell.cli import propose_progress
from setwell.cli.propose import stopped_words
from setwell.cli.propose_print import proposals_print
from setwell.cli.propose_progress import ProgressShown, left_words, progress_words
from setwell.services.proposals import Conflict, FellOut, Judged, Proposals, Relaxation
from setwell.services.sweeps.progress import Progress

FIRST = ("propose", "brief.json", "--first")


def words(text):
    return " ".join(text.split())


def test_the_short_list_is_told_with_wishes_numbers_and_reasons(run):
    result = run(*FIRST)
    assert result.exit_code == 0, result.stderr
    rows = result.stdout.splitlines()
    assert rows[0] == "Honey milk cup"
    assert any(row.startswith("1. ") and "% iota carrageenan" in row for row in rows)
    assert "candidates judged" in result.stdout
    assert "Single agents only" in result.stdout
    assert any(row.startswith("  stiffness") and "kPa" in row for row in rows)
    assert any(row.startswith(("  met", "  may miss", "  missed")) for row in rows)
    assert "Fell out" in rows
    assert words(result.stdout).count("can block the throat") == 1
    assert any("lambda" in row.casefold() for row in rows[rows.index("Fell out") :])
    assert max(map(len, rows)) <= 80
    assert result.stderr == ""


def test_a_whole_search_judges_pairs_and_shows_no_more_than_asked(run):
    result = run("propose", "brief.json", "--most", "2")
    assert result.exit_code == 0, result.stderr
    assert " of pairs" in words(result.stdout)
    assert "\n2. " in result.stdout
    assert "\n3. " not in result.stdout
    assert "Single agents only" not in result.stdout


def test_standard_input_is_read_like_a_file(run, folder):
    text = (folder / "brief.json").read_text(encoding="utf-8")
    assert run("propose", "-", "--first", given=text).stdout == run(*FIRST).stdout


def test_json_holds_the_proposals_and_nothing_else(run):
    result = run(*FIRST, "--json")
    made = json.loads(result.stdout)["proposals"]
    assert made["is_complete"] is False
    assert made["judged"]["pairs"] == 0
    assert made["judged"]["singles"] > 0
    first = made["proposals"][0]
    assert first["agents"][0]["dose_pct"] > 0
    assert first["texture"]["modulus_kpa"]["grade"]
    assert "iota carrageenan" in first["formula"]["ingredients"]
    assert result.stderr == ""


def test_a_proposal_becomes_a_formula_that_computes_as_told(run):
    result = run(*FIRST, "--make", "1")
    assert result.exit_code == 0, result.stderr
    assert "Saved as formula 1: Honey milk cup:" in result.stderr
    saved = run("formulas", "--json")
    title = json.loads(saved.stdout)["formulas"][0]["title"]
    told = json.loads(run(*FIRST, "--json").stdout)["proposals"]["proposals"][0]
    computed = json.loads(run("check", title, "--json").stdout)["assessment"]["texture"]
    assert computed["sentence"] == told["texture"]["sentence"]
    assert computed["modulus_kpa"]["value"] == told["texture"]["modulus_kpa"]["value"]


def test_a_saved_formula_is_the_base_when_asked(run):
    run("import", "cream.txt")
    result = run(*FIRST, "--base-formula", "Lime set cream", "--json")
    assert result.exit_code == 0, result.stderr
    lines = json.loads(result.stdout)["proposals"]["proposals"][0]["formula"]["ingredients"]
    assert "200 g heavy cream" in lines
    assert "kappa" not in lines or "honey" not in lines
    missing = run(*FIRST, "--base-formula", "Lime set crem")
    assert missing.exit_code == 1
    assert "Lime set cream" in missing.stderr


def test_workers_give_the_same_answer(run):
    alone = run("propose", "brief.json", "--json")
    both = run("propose", "brief.json", "--workers", "2", "--json")
    assert both.exit_code == 0, both.stderr
    assert both.stdout == alone.stdout


def test_a_folder_keeps_the_search_and_another_brief_is_refused_there(run, folder):
    plain = run("propose", "brief.json", "--json").stdout
    first = run("propose", "brief.json", "--resume", "kept", "--json")
    assert first.stdout == plain
    chunks = sorted((folder / "kept").glob("chunk-*.npz"))
    assert len(chunks) > 1
    chunks[0].write_bytes(b"torn")
    again = run("propose", "brief.json", "--resume", "kept", "--json")
    assert again.stdout == plain
    assert "was moved to" in again.stderr
    assert chunks[0].name in again.stderr
    other = (folder / "brief.json").read_text().replace("800 g", "700 g")
    refused = run("propose", "-", "--resume", "kept", given=other)
    assert refused.exit_code == 1
    assert "holds chunks of another sweep" in words(refused.stderr)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("no.json",), "There is no file no.json"),
        (("cream.txt",), "not valid JSON"),
        (("",), "No brief was named"),
        (("brief.json", "--most", "0"), "0 proposals cannot be shown"),
        (("brief.json", "--fine", "9"), "9 times as many doses are not possible"),
        (("brief.json", "--workers", "0"), "0 processes are not possible"),
        (("brief.json", "--scheduler", "soup"), "No scheduler answers at “soup”"),
        (("brief.json", "--scheduler", " "), "--scheduler has no address"),
        (("brief.json", "--scheduler", "soup", "--workers", "2"), "do not go together"),
        (("brief.json", "--base-formula", " "), "names no formula"),
        (("brief.json", "--first", "--make", "99"), "so nothing was saved"),
        (("brief.json", "--first", "--resume", "cream.txt"), "cannot be used"),
    ],
)
def test_what_cannot_be_done_is_one_plain_line(run, options, said):
    result = run("propose", *options)
    assert result.exit_code == 1
    assert said in words(result.stderr)
    assert len(result.stderr.splitlines()) == 1
    assert run("formulas").stdout == "No saved formula.\n"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ('"serving_c": 400', "serving_c: 400 is not possible; at most 120 is"),
        ('"shelf": ["agrr"]', "setwell: shelf: “agrr”"),
        ('"texture": {"word": "sideways"}', "texture.word: “sideways”"),
    ],
)
def test_a_brief_that_cannot_be_is_told_in_a_line(run, change, said):
    given = '{"format": "setwell-brief", "title": "T", "base": "500 g milk", "plating": "unmolds", '
    given += change + "}"
    result = run("propose", "-", given=given)
    assert result.exit_code == 1
    assert said in result.stderr
    assert "Traceback" not in result.stderr


def test_ctrl_c_stops_says_what_is_kept_and_the_same_command_goes_on(folder):
    brief = json.loads((folder / "brief.json").read_text())
    del brief["shelf"]
    (folder / "all.json").write_text(json.dumps(brief), encoding="utf-8")
    home = {**os.environ, "SETWELL_HOME": str(folder / "home")}
    command = [sys.executable, "-m", "setwell.launch", "propose", "all.json", "--fine", "2",
               "--resume", "kept", "--workers", "2"]  # fmt: skip
    going = subprocess.Popen(
        command, cwd=folder, env=home, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        start_new_session=True,
        # A run of the tests in the background ignores Ctrl-C, and its children would too.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # noqa: PLW1509
    )  # fmt: skip
    deadline = time.monotonic() + 60
    while len(list(folder.glob("kept/chunk-*.npz"))) < 3 and time.monotonic() < deadline:
        time.sleep(0.05)
    # As a terminal does: to the command and to the processes it started.
    os.killpg(going.pid, signal.SIGINT)
    out, err = going.communicate(timeout=60)
    assert going.returncode == 130, err
    assert "What is done is kept in kept: the same command goes on from there." in words(err)
    assert "Traceback" not in err
    assert out == ""
    assert len(list(folder.glob("kept/chunk-*.npz"))) >= 3
    assert list(folder.glob("kept/.part-*")) == []


def test_stopping_without_a_folder_says_how_to_keep_the_next():
    assert stopped_words(3, 9, None) == (
        "Stopped after 3 of 9 chunks. Nothing is kept; with --resume FOLDER a stopped search can "
        "go on."
    )
    assert stopped_words(0, 0, None).startswith("Stopped. Nothing")


def test_progress_is_a_line_with_speed_and_time_left(monkeypatch, capsys):
    halfway = Progress(41, 149, 1, 4_000_000, 4.0)
    said = "41 of 149 chunks, 1 from before, 1,000,000 candidates per second, 11 s left"
    assert progress_words(halfway) == said
    monkeypatch.setattr(propose_progress, "_EVERY_S", 0.0)
    with ProgressShown(is_silent=False) as shown:
        shown.tell(halfway)
    assert capsys.readouterr().err == f"{said}\n"
    with ProgressShown(is_silent=True) as shown:
        shown.tell(halfway)
    assert capsys.readouterr() == ("", "")
    assert (shown.done, shown.total) == (41, 149)


def test_a_terminal_gets_a_bar(monkeypatch, capsys):
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "200")
    with ProgressShown(is_silent=False) as shown:
        shown.tell(Progress(41, 149, 1, 4_000_000, 4.0))
    assert "41 of 149 chunks" in capsys.readouterr().err


def test_waiting_is_told_in_seconds_minutes_or_hours():
    told = [left_words(seconds) for seconds in (0.2, 75.4, 100.0, 3600.0, 9000.0)]
    assert told == ["1 s", "75 s", "2 min", "60 min", "2 h 30 min"]


def test_conflicts_and_the_nearest_way_out_are_printed(capsys):
    found = Proposals(
        title="Sour cubes",
        wishes=("is elastic", "stands up to 90 °C (194 °F)"),
        proposals=(),
        fell_out=(FellOut(("agar",), "Agar", "sets, but too brittle"),
                  FellOut(("kappa",), "Kappa", "sets, but too brittle")),
        conflicts=(Conflict(("region", "holds"), "Nothing is elastic and stands that hot."),),
        relaxations=(Relaxation(("holds",), "Stand up to 70 °C only.", (("holds_c", "70"),), ()),),
        judged=Judged(34, 0, 0),
        remarks=("Water was taken.",),
        assumed=(),
        is_complete=True,
    )  # fmt: skip
    proposals_print(found)
    rows = capsys.readouterr().out.splitlines()
    assert rows[rows.index("What conflicts") + 1 :][:2] == [
        "  Nothing is elastic and stands that hot.",
        "  Nearest way out 1: Stand up to 70 °C only.",
    ]
    assert "  Agar, Kappa: sets, but too brittle" in rows
    assert "Nothing that may come in comes near." in rows
    assert rows[-1] == "Water was taken."


def test_a_brief_that_one_agent_meets_says_what_comes_next(run):
    given = (
        '{"format": "setwell-brief", "title": "T", "base": "880 g water\\n120 g sugar", '
        '"plating": "unmolds", "mouth": "melts", "serving_c": 10, "agents_most": 1, '
        '"texture": {"sets": true, "modulus_low": 1}, "shelf": ["gelatin", "agar"]}'
    )
    result = run("propose", "-", given=given)
    assert result.exit_code == 0
    assert "Next nearest: Agar keeps 3 of 4 wishes, not: melts in the mouth." in result.stdout
