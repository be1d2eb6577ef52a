"""Reedmace: name dragonflies and damselflies by the pond, keep the sightings, send the records."""

__version__ = "0.1.0"
