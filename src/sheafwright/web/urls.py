from django.urls import path

from sheafwright.web.views import entry, harvest_day, phone, units

app_name = "web"
urlpatterns = [
    path("", entry.holdings, name="holdings"),
    path("start/", entry.start, name="start"),
    path("sign-in/", entry.sign_in, name="sign-in"),
    path("sign-out/", entry.sign_out, name="sign-out"),
    path("holdings/new/", entry.holding_new, name="holding-new"),
    path("units/", units.units, name="units"),
    path("csrf/", phone.csrf, name="csrf"),
    path("sw.js", phone.service_worker, name="service-worker"),
    path("manifest.webmanifest", phone.manifest, name="manifest"),
    path("offline/", phone.offline, name="offline"),
    path("unsent/", phone.unsent, name="unsent"),
    path("<slug:slug>/harvest-day/", harvest_day.harvest_day, name="harvest-day"),
]
