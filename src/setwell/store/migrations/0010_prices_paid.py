"""What materials cost over time; a price that was paid never changes."""

import json

from django.db import migrations, models

TRIGGER = """
CREATE TRIGGER store_pricepaidrow_never_changes BEFORE UPDATE ON store_pricepaidrow
BEGIN SELECT RAISE(ABORT, 'a price that was paid never changes'); END
"""
SHELVES = {"price": "PriceRow", "food": "FoodRow", "agent": "AgentRow", "lot": "LotRow"}


def trigger_add(apps, schema_editor):
    # Other databases need their own wording; services never update these rows anywhere.
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(TRIGGER)


def trigger_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER IF EXISTS store_pricepaidrow_never_changes")


def history_begin(apps, schema_editor):
    """Take the prices there are as the first of the history."""
    paid = apps.get_model("store", "PricePaidRow")
    settings = apps.get_model("store", "SettingRow").objects.filter(key="kitchen").first()
    currency = json.loads(settings.value).get("currency", "USD") if settings else "USD"
    for shelf, model in SHELVES.items():
        for row in apps.get_model("store", model).objects.all():
            per_kg = json.loads(row.document).get("price_per_kg")
            if per_kg is not None:
                paid.objects.create(
                    shelf=shelf,
                    name=row.name,
                    name_key=row.name_key,
                    currency=currency,
                    document=json.dumps({"price_per_kg": per_kg}),
                    recorded_at=row.updated_at,
                )


class Migration(migrations.Migration):
    dependencies = [
        ("store", "0009_briefs"),
    ]

    operations = [
        migrations.CreateModel(
            name="PricePaidRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("shelf", models.CharField(max_length=20)),
                ("name", models.CharField(max_length=300)),
                ("name_key", models.CharField(max_length=900)),
                ("currency", models.CharField(max_length=8)),
                ("document", models.TextField()),
                ("recorded_at", models.DateTimeField()),
            ],
            options={
                "indexes": [models.Index(fields=["shelf", "name_key"], name="price_paid_of")],
            },
        ),
        migrations.RunPython(history_begin, migrations.RunPython.noop),
        migrations.RunPython(trigger_add, trigger_drop),
    ]
