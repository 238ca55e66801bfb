"""The reference page of the command line, made from the commands themselves."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import dataclasses
import types
from enum import Enum
from typing import Any, get_args, get_origin, get_type_hints

import typer

_OPENING = """# Command line

This page is made by `setwell manual`; do not edit it by hand.

Where a command takes FILE, give the path of a file, or `-` for standard input, or the id, the title
or the content hash of a saved formula. A file of that name wins over a saved formula. A file is
JSON as exported, a schema.org Recipe, a saved web page that holds one, or plain text; it is UTF-8
and has at most 5 MB.

Results go to standard output, remarks and errors to standard error. There is no color unless the
output is a terminal. Exit status: 0 when it worked, 1 for a problem with the input or the data,
2 for a wrong use of the command, 130 when Ctrl-C stopped a search.

The kitchen's own data is in the folder that `SETWELL_HOME` names, or else in the
user's data folder.
"""

_JSON = """## JSON

`--json` prints one object. `format` says what it holds and `format_version` is raised when a field
changes its meaning or goes away; new fields may come without notice. Every field below is always
there. A number that is not known is null; there is never a NaN. Temperatures are in °C, masses in
grams. An Estimate carries its value, its unit, the range from `low` to `high` (null where that
side is open), the model, the citations in `evidence`, `flags` such as extrapolation, and `grade`,
the worst grade of its evidence.
"""


def manual(context: typer.Context) -> None:
    """Print this reference page."""
    typer.echo(manual_text(context.find_root().command), nl=False)


def manual_text(root: Any) -> str:  # noqa: ANN401 - a command of the command-line library
    """Return the page for a command group, as `typer.main.get_command` makes it."""
    parts = [_OPENING]
    parts += [_command(name, command) for name, command in commands_of(root)]
    parts += [_JSON, *_shapes()]
    return "\n".join(part.rstrip() + "\n" for part in parts)


def commands_of(root: Any, prefix: str = "setwell") -> list[tuple[str, Any]]:  # noqa: ANN401
    """Return every command that is not hidden, with its full name, sorted."""
    found: list[tuple[str, Any]] = []
    for name, command in sorted(root.commands.items()):
        if getattr(command, "commands", None):
            found += commands_of(command, f"{prefix} {name}")
        elif not command.hidden:
            found.append((f"{prefix} {name}", command))
    return found


def _command(name: str, command: Any) -> str:  # noqa: ANN401
    arguments = [item for item in command.params if item.param_type_name == "argument"]
    options = [item for item in command.params if item.param_type_name == "option"]
    usage = " ".join([name, "[OPTIONS]", *(_metavar(item) for item in arguments)])
    rows = [f"- {_metavar(item)}: {_help(item)}" for item in arguments]
    rows += [f"- {_option(item)}: {_help(item)}" for item in options if item.name != "help"]
    return "\n\n".join([f"## {name}", _prose(command.help), f"    {usage}", "\n".join(rows)])


def _prose(text: str) -> str:
    sentence, _, example = text.partition("Example:")
    return f"{' '.join(sentence.split())}\n\nExample: `{' '.join(example.split())}`"


def _metavar(item: Any) -> str:  # noqa: ANN401
    shown = item.metavar or str(item.name).upper()
    return shown if item.required or shown.startswith("[") else f"[{shown}]"


def _option(item: Any) -> str:  # noqa: ANN401
    names = ", ".join(f"`{name}`" for name in item.opts)
    if getattr(item, "is_flag", False):
        return names
    return f"{names} {item.metavar}"


def _help(item: Any) -> str:  # noqa: ANN401
    default = item.default
    is_plain = isinstance(default, Enum | str | int) and not isinstance(default, bool)
    shown = getattr(default, "value", default)
    return f"{item.help} Default: {shown}." if is_plain and shown != "" else str(item.help)


def _shapes() -> list[str]:
    from setwell.cli.json_kinds import json_kinds

    parts = []
    shown: dict[str, type] = {}
    for command, kind, keys in json_kinds():
        rows = [f"- `{key}`: {_type_name(annotation)}" for key, annotation in keys.items()]
        head = f"### {command}\n\n`format` is `setwell-{kind}`, `format_version` is 1."
        parts.append("\n\n".join([head, "\n".join(rows)]))
        for annotation in keys.values():
            _collect(annotation, shown)
    parts.append("### Classes")
    parts += [_class_part(shown[name]) for name in sorted(shown)]
    return parts


def _collect(annotation: Any, shown: dict[str, type]) -> None:  # noqa: ANN401
    for part in get_args(annotation):
        _collect(part, shown)
    if not isinstance(annotation, type) or annotation.__name__ in shown:
        return
    if dataclasses.is_dataclass(annotation):
        shown[annotation.__name__] = annotation
        for field in _field_types(annotation).values():
            _collect(field, shown)


def _field_types(kind: Any) -> dict[str, Any]:  # noqa: ANN401
    hints = get_type_hints(kind)
    return {field.name: hints[field.name] for field in dataclasses.fields(kind)}


def _class_part(kind: type) -> str:
    sentence = " ".join((kind.__doc__ or "").split("\n\n")[0].split())
    rows = [f"- `{name}`: {_type_name(hint)}" for name, hint in _field_types(kind).items()]
    if kind.__name__ == "Estimate":
        rows.append("- `grade`: one of the grades")
    return "\n\n".join([f"#### {kind.__name__}", sentence, "\n".join(rows)])


_PLAIN_NAMES = {
    str: "text", float: "number", int: "whole number", bool: "true or false", type(None): "null"
}  # fmt: skip


def _type_name(annotation: Any) -> str:  # noqa: ANN401
    if annotation in _PLAIN_NAMES:
        return _PLAIN_NAMES[annotation]
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin in {tuple, list}:
        kinds = [item for item in inner if item is not Ellipsis]
        return f"list of {' and '.join(dict.fromkeys(_type_name(item) for item in kinds))}"
    is_array = getattr(origin, "__name__", "") == "ndarray"
    if is_array or origin is dict:
        return "list of number" if is_array else f"object of {_type_name(inner[1])}"
    if origin in {types.UnionType} or inner:
        return " or ".join(_type_name(item) for item in inner)
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return f"one of {', '.join(f'`{item.value}`' for item in annotation)}"
    return str(getattr(annotation, "__name__", annotation))
