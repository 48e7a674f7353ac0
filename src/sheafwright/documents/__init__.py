"""Sheets, files and messages: plain frozen facts in, bytes out."""
