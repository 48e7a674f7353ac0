"""The programs' door: the same rights, the same services, a token for each person."""

from sheafwright.web.api.door import api
from sheafwright.web.api.reading import reading
from sheafwright.web.api.writing import writing

api.add_router("", reading)
api.add_router("", writing)

__all__ = ["api"]
