import uuid

import pytest


@pytest.fixture
def write(marl, ann):
    """Write an entry as Ann, on Marl Hollow, with an id of its own."""

    def write(service, id=None, holding=marl, made_by=ann, **said):
        return service(id=id or uuid.uuid4(), holding=holding, made_by=made_by, **said)

    return write


@pytest.fixture
def own_folder(settings, tmp_path):
    """Files that are kept, are kept here."""
    settings.MEDIA_ROOT = tmp_path / "kept"
    return settings.MEDIA_ROOT
