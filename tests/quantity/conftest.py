"""Laws are about values, not about how busy the machine is."""

from hypothesis import settings

settings.register_profile("calm", deadline=None)
settings.load_profile("calm")
