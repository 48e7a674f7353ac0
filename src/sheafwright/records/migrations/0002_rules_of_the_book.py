from django.db import migrations

from sheafwright.records.triggers import install


class Migration(migrations.Migration):
    dependencies = [("records", "0001_initial")]
    operations = [migrations.RunPython(install, elidable=False)]
