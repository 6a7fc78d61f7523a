"""Templates as code, compiled once and kept in the user's cache folder: a page is written in less time.

What is kept is signed as everything there (``records/writing/cache.py``) and found by the template's name
and by a fingerprint of its text, so that a changed template is compiled anew.
"""

from __future__ import annotations

from base64 import b85decode, b85encode
from contextlib import suppress

from jinja2.bccache import Bucket, BytecodeCache

from blendwise.records.writing.cache import cached, keep


class KeptTemplates(BytecodeCache):
    """Each template's code under a name of its own; jinja compares the fingerprint of its text."""

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fill the bucket with what is kept; leave it empty where that is nothing or of another text."""
        kept = cached(_name(bucket))
        if isinstance(kept, str):
            with suppress(ValueError, EOFError, TypeError):
                bucket.bytecode_from_string(b85decode(kept))

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what was compiled."""
        keep(_name(bucket), b85encode(bucket.bytecode_to_string()).decode("ascii"))


def _name(bucket: Bucket) -> str:
    return f"page-{bucket.key}"
