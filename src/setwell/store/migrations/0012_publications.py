"""Published versions and links to share; what was published once is never rewritten."""

import django.db.models.deletion
from django.db import migrations, models

TRIGGER = """
CREATE TRIGGER store_publishedversionrow_never_changes BEFORE UPDATE ON store_publishedversionrow
BEGIN SELECT RAISE(ABORT, 'a published version never changes'); END
"""


def trigger_add(apps, schema_editor):
    # Other databases need their own wording; services never update a published version anywhere.
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(TRIGGER)


def trigger_drop(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute("DROP TRIGGER IF EXISTS store_publishedversionrow_never_changes")


class Migration(migrations.Migration):

    dependencies = [
        ('store', '0011_photos'),
    ]

    operations = [
        migrations.CreateModel(
            name='PublicationRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('name', models.CharField(max_length=80, unique=True)),
                ('published_at', models.DateTimeField()),
                ('withdrawn_at', models.DateTimeField(null=True)),
                ('reason', models.CharField(blank=True, default='', max_length=500)),
                ('formula', models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, related_name='publication', to='store.formularow')),
            ],
        ),
        migrations.CreateModel(
            name='PublishedVersionRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('changes', models.JSONField(default=list)),
                ('times', models.JSONField(default=dict)),
                ('remark', models.TextField(blank=True, default='')),
                ('published_at', models.DateTimeField()),
                ('publication', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='versions', to='store.publicationrow')),
                ('version', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, to='store.versionrow')),
            ],
        ),
        migrations.CreateModel(
            name='ShareLinkRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('token', models.CharField(max_length=64, unique=True)),
                ('note', models.CharField(blank=True, default='', max_length=120)),
                ('created_at', models.DateTimeField()),
                ('expires_at', models.DateTimeField(null=True)),
                ('revoked_at', models.DateTimeField(null=True)),
                ('version', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, to='store.versionrow')),
            ],
        ),
        migrations.RunPython(trigger_add, trigger_drop),
    ]
