from django.urls import include, path

urlpatterns = [path("", include("sheafwright.web.urls"))]
