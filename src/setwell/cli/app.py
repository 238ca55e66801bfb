"""The command `setwell` and what all its commands share."""

from importlib.metadata import version
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from setwell.cli import (
    acid,
    agents,
    blend,
    card,
    check,
    cost,
    exchange,
    foods,
    formulas,
    kit,
    label,
    manual,
    measurements,
    pantry,
    probe,
    process,
    propose,
    publish,
    reading,
    robustness,
    scale,
    substitution,
    texture,
)
from setwell.cli.failure import failure_print
from setwell.errors import SetwellError


class PlainGroup(TyperGroup):
    """Turns every error that Setwell raises on purpose into one line and exit status 1."""

    def invoke(self, ctx: Any) -> Any:  # noqa: ANN401 - as the parent class has it
        """Run the command; the only place where errors become words."""
        try:
            return super().invoke(ctx)
        except SetwellError as error:
            failure_print(error)
            raise typer.Exit(1) from None


app = typer.Typer(
    name="setwell",
    cls=PlainGroup,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Bench companion for recipes that are set or thickened with texture agents.",
)


def _version(asked: bool) -> None:  # noqa: FBT001 - the signature of an option callback
    if asked:
        typer.echo(f"setwell {version('setwell')}")
        raise typer.Exit


@app.callback()
def start(
    *,
    asked: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Print the version."),
    ] = False,
) -> None:
    """Bench companion for recipes that are set or thickened with texture agents."""


app.command("check")(check.check)
app.command("scale")(scale.scale)
app.command("kit")(kit.kit)
app.command("cost")(cost.cost)
app.command("texture")(texture.texture)
app.command("acid")(acid.acid)
app.command("blend")(blend.blend)
app.command("propose")(propose.propose)
app.command("robustness")(robustness.robustness)
app.command("substitute")(substitution.substitute)
app.command("probe")(probe.probe)
app.command("card")(card.card)
app.command("label")(label.label)
app.command("publish")(publish.publish)
app.command("tables")(publish.tables)
app.command("heat")(process.heat)
app.command("cool")(process.cool)
app.command("schedule")(process.schedule)
app.command("sheet")(process.sheet)
app.command("agents")(agents.agents)
app.command("foods")(foods.foods)
app.command("formulas")(formulas.formulas)
app.command("export")(exchange.export)
app.command("import")(exchange.import_)
app.command("reading")(reading.reading)
app.add_typer(measurements.app, name="measure")
app.add_typer(pantry.app, name="pantry")
app.command("manual", hidden=True)(manual.manual)
