"""Reglet: a desktop manuscript editor with revision stages."""

__version__ = "0.1.0"
