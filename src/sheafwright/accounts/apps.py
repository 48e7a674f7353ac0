from django.apps import AppConfig


class AccountsConfig(AppConfig):
    name = "sheafwright.accounts"
    label = "accounts"
