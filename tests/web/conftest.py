from web.browser import chromium, page_of, served, signed_in

__all__ = ["chromium", "page_of", "served", "signed_in"]
