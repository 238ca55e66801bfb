"""How the command starts and what it needs for that."""

import subprocess
import sys
from importlib.metadata import version

import pytest
from typer.testing import CliRunner

from setwell import launch
from setwell.errors import InputError

OPEN_HOST = "0.0.0.0"  # noqa: S104 - the address that must be refused
HEAVY = ("django", "numpy", "typst", "pydantic", "setwell.services", "setwell.web")


def test_version_is_the_one_of_the_package():
    result = CliRunner().invoke(launch.app, ["--version"])
    assert (result.exit_code, result.stdout) == (0, f"setwell {version('setwell')}\n")


def test_no_command_shows_the_commands_and_is_a_usage_error():
    result = CliRunner().invoke(launch.app, [])
    assert result.exit_code == 2
    for name in ("check", "scale", "card", "agents", "foods", "formulas", "pantry", "serve"):
        assert name in result.output


def test_help_is_quick_because_nothing_heavy_is_loaded():
    code = (
        "import sys; import setwell.launch\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_an_unknown_command_is_a_usage_error():
    result = CliRunner().invoke(launch.app, ["melt"])
    assert result.exit_code == 2
    assert "No such command 'melt'" in result.stderr


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.5", "::1", "localhost"])
def test_this_machine_may_be_served(host):
    launch.host_check(host)


@pytest.mark.parametrize("host", [OPEN_HOST, "192.168.1.5", "::", "kitchen.example", ""])
def test_other_machines_are_kept_out_while_there_is_no_password(host):
    with pytest.raises(
        InputError, match=r"and there is no password yet\. Leave it at 127\.0\.0\.1\."
    ):
        launch.host_check(host)


def test_serve_says_so_in_one_line():
    result = CliRunner().invoke(launch.app, ["serve", "--host", OPEN_HOST, "--no-browser"])
    assert result.exit_code == 1
    assert result.stderr == (
        "setwell: --host 0.0.0.0 would let other machines in, and there is no password yet. "
        "Leave it at 127.0.0.1.\n"
    )


def test_a_port_that_cannot_exist_is_a_usage_error():
    assert CliRunner().invoke(launch.app, ["serve", "--port", "70000"]).exit_code == 2


def test_a_fault_of_our_own_is_a_sentence_not_a_trace(monkeypatch, capsys):
    def broken() -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr(launch, "app", broken)
    monkeypatch.delenv("SETWELL_TRACE", raising=False)
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "unchanged")
    with pytest.raises(SystemExit, match="1"):
        launch.main()
    said = capsys.readouterr().err
    assert said.startswith("setwell: This is a fault of Setwell, not of your input (ZeroDivision")
    assert "Traceback" not in said


def test_the_trace_is_there_for_whoever_asks(monkeypatch):
    def broken() -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(launch, "app", broken)
    monkeypatch.setenv("SETWELL_TRACE", "1")
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "unchanged")
    with pytest.raises(ZeroDivisionError):
        launch.main()
