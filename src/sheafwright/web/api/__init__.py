"""The programs' door: the same rights, the same services, a token for each person."""

from sheafwright.web.api import reading, writing
from sheafwright.web.api.door import api, door

api.add_router("", door)

__all__ = ["api", "reading", "writing"]
