"""Laws have no deadline here: two cores are shared."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("calm", deadline=None)
settings.load_profile("calm")
