"""What holds in every room: laws have no deadline, and processes that tests start keep their bytecode."""

from __future__ import annotations

import os
import sys

from hypothesis import settings

# Two cores are shared, and laws are about values.
settings.register_profile("calm", deadline=None)
settings.load_profile("calm")

# Without it each process of a test would compile all of the product anew, a third of what it costs.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
