"""What somebody asks for in an address or a form, however it was typed."""


def whole(text, digits=4):
    """The whole number that a text says; None if it says none, or one too long."""
    is_one = text.isascii() and text.isdigit() and len(text) <= digits
    return int(text) if is_one else None


def year_of(request, years):
    """The one of these years that the address asks for; None if it asks for none."""
    asked = whole(request.GET.get("year", ""))
    return asked if asked in years else None
