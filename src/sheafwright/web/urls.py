from django.urls import include, path

from sheafwright.web.views import (
    book,
    cutting,
    entry,
    ground,
    growing,
    harvest_day,
    lots,
    phone,
    ricks,
    seed,
    settings,
    stooks,
    today,
    units,
    write,
)

app_name = "web"

of_a_holding = [
    path("today/", today.today, name="today"),
    path("ground/", ground.ground, name="ground"),
    path("fields/<uuid:field_id>/", ground.field, name="field"),
    path("seed/", seed.seed, name="seed"),
    path("growing/", growing.growing, name="growing"),
    path("cutting/", cutting.cutting, name="cutting"),
    path("harvest-day/", harvest_day.harvest_day, name="harvest-day"),
    path("stooks/", stooks.stooks, name="stooks"),
    path("ricks/", ricks.ricks, name="ricks"),
    path("threshing/", lots.threshing, name="threshing"),
    path("straw/", lots.straw, name="straw"),
    path("grain/", lots.grain, name="grain"),
    path("lots/<uuid:lot_id>/", lots.lot, name="lot"),
    path("bought/", book.bought, name="bought"),
    path("book/", book.book, name="book"),
    path("book/settle/", book.settle, name="settle"),
    path("book/<uuid:movement_id>/undo/", book.undo, name="undo"),
    path("settings/", settings.settings, name="settings"),
    path("settings/people/", settings.person_add, name="person-add"),
    path(
        "settings/people/<uuid:membership_id>/leaves/",
        settings.person_remove,
        name="person-remove",
    ),
    path("settings/place/", settings.place, name="place"),
    path("write/<slug:kind>/", write.write, name="write"),
]

urlpatterns = [
    path("", entry.holdings, name="holdings"),
    path("start/", entry.start, name="start"),
    path("sign-in/", entry.sign_in, name="sign-in"),
    path("sign-out/", entry.sign_out, name="sign-out"),
    path("holdings/new/", entry.holding_new, name="holding-new"),
    path("keys/", settings.keys, name="keys"),
    path("keys/<uuid:token_id>/end/", settings.key_end, name="key-end"),
    path("units/", units.units, name="units"),
    path("csrf/", phone.csrf, name="csrf"),
    path("sw.js", phone.service_worker, name="service-worker"),
    path("manifest.webmanifest", phone.manifest, name="manifest"),
    path("offline/", phone.offline, name="offline"),
    path("unsent/", phone.unsent, name="unsent"),
    path("<slug:slug>/", include(of_a_holding)),
]
