"""Drawings for pages, as SVG: each module makes one figure of numbers alone."""
