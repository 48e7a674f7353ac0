"""Sheafwright: from a weather record and a sowing to "cut or wait"."""

__version__ = "0.1.0"
