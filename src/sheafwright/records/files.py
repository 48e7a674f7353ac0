"""Files kept out of the web's reach, each under the id of its entry."""

import contextlib

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils.translation import gettext as _


def bytes_of(file, most, name):
    """A sent file's bytes, if they are no more than ``most``; refused of ``name``."""
    content = file.read(most + 1)
    if len(content) > most:
        raise ValidationError(
            {
                name: _("The file is larger than %(most)d MB; send a smaller one.")
                % {"most": most // 2**20}
            }
        )
    return content


@contextlib.contextmanager
def kept(name, content):
    """Keep a file while its entry is written; take it away if the entry is refused.

    An entry sent twice keeps its first file.
    """
    new = not default_storage.exists(name)
    if new:
        default_storage.save(name, ContentFile(content))
    try:
        yield name
    except BaseException:
        if new:
            default_storage.delete(name)
        raise
