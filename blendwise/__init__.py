"""Blendwise: a rules-based scent and colour blend advisor for cold-process soap."""

__version__ = "0.1.0"
