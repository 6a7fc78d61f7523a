"""On how many random examples a law is tried: few here, 1,000 by `python tests/long.py laws`."""

from __future__ import annotations

import os

from hypothesis import settings


def few(examples: int) -> settings:
    """So many examples, without a deadline; the environment's BLENDWISE_EXAMPLES asks for more."""
    return settings(max_examples=int(os.environ.get("BLENDWISE_EXAMPLES", examples)), deadline=None)
