"""Photos of a dish and of its steps."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('store', '0010_prices_paid'),
    ]

    operations = [
        migrations.CreateModel(
            name='PhotoRow',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('place', models.CharField(blank=True, default='', max_length=64)),
                ('place_text', models.CharField(blank=True, default='', max_length=300)),
                ('caption', models.CharField(blank=True, default='', max_length=200)),
                ('taken_of', models.PositiveIntegerField()),
                ('width', models.PositiveIntegerField()),
                ('height', models.PositiveIntegerField()),
                ('jpeg', models.BinaryField()),
                ('recorded_at', models.DateTimeField()),
                ('formula', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='photos', to='store.formularow')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('formula', 'place'), name='photo_place_once')],
            },
        ),
    ]
