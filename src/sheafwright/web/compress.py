"""Pages go over the farm's network as small as they can be."""

from django.middleware.gzip import GZipMiddleware


class SmallPages(GZipMiddleware):
    """Compresses pages and answers; papers and photos, which stream, are small as is.

    That a page holds a form's token and shows what was typed would let its size tell of
    the token (BREACH); Django masks the token anew in each page and pads what it
    compresses by a random length.
    """

    def process_response(self, request, response):
        if response.streaming:
            return response
        return super().process_response(request, response)
