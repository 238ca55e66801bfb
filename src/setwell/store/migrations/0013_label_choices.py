"""What was chosen for the label of a version; choices that were kept are never rewritten."""

import django.db.models.deletion
from django.db import migrations, models

TRIGGER = """
CREATE TRIGGER store_labelchoicesrow_never_changes BEFORE UPDATE ON store_labelchoicesrow
BEGIN SELECT RAISE(ABORT, 'kept label choices never change'); END
"""


def trigger_add(apps, schema_editor):
    # Other databases need their own wording; services never update these rows anywhere.
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(TRIGGER)


def trigger_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER IF EXISTS store_labelchoicesrow_never_changes")


class Migration(migrations.Migration):
    dependencies = [
        ("store", "0012_publications"),
    ]

    operations = [
        migrations.CreateModel(
            name="LabelChoicesRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("market", models.CharField(max_length=8)),
                ("document", models.TextField()),
                ("recorded_at", models.DateTimeField()),
                (
                    "version",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="label_choices",
                        to="store.versionrow",
                    ),
                ),
            ],
        ),
        migrations.RunPython(trigger_add, trigger_drop),
    ]
