from django.urls import path

from sheafwright.web.views import entry

app_name = "web"
urlpatterns = [
    path("", entry.holdings, name="holdings"),
    path("start/", entry.start, name="start"),
    path("sign-in/", entry.sign_in, name="sign-in"),
    path("sign-out/", entry.sign_out, name="sign-out"),
    path("holdings/new/", entry.holding_new, name="holding-new"),
]
