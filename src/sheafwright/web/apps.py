from django.apps import AppConfig


class WebConfig(AppConfig):
    name = "sheafwright.web"
    label = "web"
