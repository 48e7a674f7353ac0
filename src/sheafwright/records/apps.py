from django.apps import AppConfig


class RecordsConfig(AppConfig):
    name = "sheafwright.records"
    label = "records"
