"""What holds for a batch that was poured past a stop."""

from __future__ import annotations

from typing import Final

POURED_ALREADY: Final = "Poured already?"
POURED: Final = (
    "Do not use it, sell it or give it away. Gloves on whenever it is touched.",
    "Set it apart, marked, where no child and no pet comes to it.",
    "It may still be noted, asked about and reviewed: “note” and “why” tell what must go back into it, if it "
    "is reworked.",
)
