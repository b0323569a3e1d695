"""Reglet: revise a novel in stages, with every earlier state kept."""

__version__ = "0.1.0"
