"""Twopurse: the workshop's books, in the order in which the data flows (see DEVELOPERS.md for the map)."""

__version__ = "0.1.0"
