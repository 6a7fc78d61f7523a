"""The words of worded measures, each scale in its order (least first)."""

from __future__ import annotations

BANDS = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
YELLOWS = ("none", "pale yellow", "yellow", "orange")
PINKS = ("none", "pinkish", "pink", "red-brown")
ACCELERATION = ("thins", "none", "slight", "moderate", "fast", "seizes")
RICING = ("none", "slight", "bad")
STRENGTH = ("gone", "faint", "fair", "strong")
EVIDENCE = ("hearsay", "supplier", "own cup", "own batch")
KINDS = ("fragrance oil", "essential oil", "absolute", "resinoid", "isolate")
SCENT_NOTES = ("base", "middle", "top")
PURPOSE = ("home", "sale")
GEL = ("avoid", "leave", "force")
FAMILY = ("single", "sequential", "interleaved", "thick")
BATTER = ("thin", "light", "medium", "thick")
SHEET = ("none", "partial", "complete")
VOLATILITY = ("low", "medium", "high", "very high")
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip
NOTED = ("bad", "unsaid", "good")
