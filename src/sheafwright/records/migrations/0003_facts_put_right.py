import django.core.serializers.json
import django.db.models.deletion
import uuid
from django.conf import settings
from django.db import migrations, models

from sheafwright.records.triggers import install_of_corrections


class Migration(migrations.Migration):

    dependencies = [
        ('accounts', '0001_initial'),
        ('records', '0002_rules_of_the_book'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name='certificate',
            name='number',
            field=models.CharField(blank=True, max_length=60, verbose_name='number'),
        ),
        migrations.AddField(
            model_name='cleaning',
            name='by',
            field=models.CharField(blank=True, max_length=80, verbose_name='by whom'),
        ),
        migrations.CreateModel(
            name='LotStanding',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('made_at', models.DateTimeField(auto_now_add=True)),
                ('note', models.CharField(blank=True, max_length=500, verbose_name='note')),
                ('date', models.DateField(verbose_name='date')),
                ('set_apart', models.BooleanField(verbose_name='set apart')),
                ('why', models.CharField(max_length=300, verbose_name='why')),
                ('holding', models.ForeignKey(editable=False, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='accounts.holding')),
                ('lot', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='standings', to='records.lot')),
                ('made_by', models.ForeignKey(editable=False, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'ordering': ('date', 'made_at'),
            },
        ),
        migrations.CreateModel(
            name='Correction',
            fields=[
                ('id', models.UUIDField(default=uuid.uuid4, editable=False, primary_key=True, serialize=False)),
                ('made_at', models.DateTimeField(auto_now_add=True)),
                ('note', models.CharField(blank=True, max_length=500, verbose_name='note')),
                ('date', models.DateField(verbose_name='date')),
                ('was', models.JSONField(encoder=django.core.serializers.json.DjangoJSONEncoder)),
                ('now', models.JSONField(encoder=django.core.serializers.json.DjangoJSONEncoder)),
                ('why', models.CharField(max_length=300, verbose_name='why')),
                ('certificate', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='corrections', to='records.certificate')),
                ('field', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='corrections', to='records.field')),
                ('holding', models.ForeignKey(editable=False, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='accounts.holding')),
                ('made_by', models.ForeignKey(editable=False, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('seed_lot', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='corrections', to='records.seedlot')),
            ],
            options={
                'ordering': ('date', 'made_at'),
                'constraints': [models.CheckConstraint(condition=models.Q(models.Q(('certificate', None), ('field__isnull', False), ('seed_lot', None)), models.Q(('certificate__isnull', False), ('field', None), ('seed_lot', None)), models.Q(('certificate', None), ('field', None), ('seed_lot__isnull', False)), _connector='OR'), name='one_thing_is_put_right')],
            },
        ),
        migrations.RunPython(install_of_corrections, elidable=False),
    ]
