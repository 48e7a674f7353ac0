from django.urls import include, path

from sheafwright.web.api import api

urlpatterns = [path("api/", api.urls), path("", include("sheafwright.web.urls"))]
