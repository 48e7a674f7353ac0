"""The last answer of a service, kept in a folder, with when it may be asked again."""

import contextlib
import dataclasses
import datetime
import hashlib
import json
import os
import tempfile
from pathlib import Path

from sheafwright.core.errors import UnreadableInput
from sheafwright.feeds.telling import Telling, packed

NEVER = datetime.datetime(1970, 1, 1, tzinfo=datetime.UTC)


@dataclasses.dataclass(frozen=True)
class Copy:
    """What a service last sent, and what it asked of us."""

    content: bytes = b""
    """Empty where it has sent nothing yet."""
    last_modified: str = ""
    """Its own words, to be given back to it."""
    confirmed: datetime.datetime = NEVER
    """When it last sent the content, or said that it still holds."""
    not_before: datetime.datetime = NEVER
    """It may not be asked before then."""
    rest: str = ""
    """Why not, where the reason is other than that the content still holds."""
    remark: str = ""
    """What the service said of itself, such as that it will close."""


@dataclasses.dataclass(frozen=True)
class Slot:
    """The place of one address and one asker in the folder."""

    folder: Path
    address: str
    asker: str

    @property
    def path(self):
        """The file; a refusal of one asker says nothing of another."""
        name = hashlib.sha256(f"{self.asker}\n{self.address}".encode()).hexdigest()
        return Path(self.folder) / f"forecast-{name[:32]}"

    def load(self):
        """The kept copy; an empty one where there is none or it is damaged."""
        try:
            head, content = self.path.read_bytes().split(b"\n", 1)
            fields = json.loads(head, cls=Telling)
            if fields.pop("sha256") != hashlib.sha256(content).hexdigest():
                return Copy()
            for name in ("confirmed", "not_before"):
                fields[name] = datetime.datetime.fromisoformat(fields[name])
            return Copy(content, **fields)
        except (OSError, ValueError, LookupError, TypeError, AttributeError):
            return Copy()

    def save(self, copy):
        """Keep a copy, whole or not at all."""
        fields = dataclasses.asdict(copy)
        content = fields.pop("content")
        fields["sha256"] = hashlib.sha256(content).hexdigest()
        # Whoever reads it next may have another language.
        fields = packed(fields)
        head = json.dumps(fields, default=datetime.datetime.isoformat).encode()
        try:
            self._replace(head + b"\n" + content)
        except OSError as error:
            raise UnreadableInput(
                "Forecasts cannot be kept in {folder} ({error}); the folder should be "
                "one that can be written to.",
                folder=str(self.folder),
                error=error.strerror,
            ) from None

    def _replace(self, content):
        self.path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=self.path.parent)
        # A rename is all or nothing, so no reader ever meets half a file.
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(name).replace(self.path)
        except OSError:
            with contextlib.suppress(OSError):
                Path(name).unlink()
            raise
