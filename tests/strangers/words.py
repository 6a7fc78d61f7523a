"""Names as makers write them: several scripts, accents, spaces and signs.  All invented."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Final

SCENTS: Final = (
    "moss", "rain-kettle", "Barley Lane", "Quince Rain", "Tonka & Honey", "Café Crème",
    "Märchenwald", "Fleur d'été", "Ångström No. 5", "Naïve Rose", "Señor Limón", "Jabłko",
    "Dvořák's Pear", "O'Hara Fig", "Лаванда", "Дым и мёд", "Λεμόνι", "Θαλασσινό αλάτι", "薄荷",
    "桂花 茶", "ゆず", "さくら 湯", "유자", "לבנדר", "ورد جوري", "चंदन", "กุหลาบ", "Lavender (French)",
    "50/50 Cedar", "7 Herbs", "Vanilla: the loud one", "Peach #2", "Blood Orange 5x", "Clove, leaf",
    "Mint [old bottle]", "the grey one", "Smoke & Salt", "x",
    "A rather long name that somebody wrote on a label because two bottles looked alike",
    "Fir\u0301 needle", "100 % Patchouli", "null", "yes", "1e3", "Ginger – root", "Heu & Honig",
    "🌿 garden",
)  # fmt: skip

COLOURANTS: Final = (
    "titanium white", "Kreide", "charcoal", "soot black", "Brick Rød", "ochre", "Ultramarin",
    "mica: gold", "indigo (vat)", "madder root", "глина", "抹茶", "spirulina", "rose clay",
    "Cocoa powder", "sky #3",
)  # fmt: skip

PORTIONS: Final = (
    "a", "b", "white", "dark brown", "milk", "côté", "Überguss", "крем", "上", "下", "שמיים",
    "left half", "top", "1", "2", "the swirl", "Ebène", "pink (light)", "base", "blue & grey",
    "no scent", "drop", "ring", "κύμα",
)  # fmt: skip

PLANS: Final = (
    "first try", "harvest", "Weihnachten", "Été 26", "мёд", "春", "market-day", "gift bars", "no 12",
    "salt & smoke", "tall loaf", "test cup", "Łódź", "spin", "quiet", "the big one",
)  # fmt: skip

VERSIONS: Final = ("deep", "half & half", "été", "Б", "no 2")


def some(rng: Random, words: Sequence[str], count: int) -> list[str]:
    """So many different words, in an order of their own."""
    return rng.sample(list(words), count)


def maybe(rng: Random, chance: float) -> bool:
    """True with this chance."""
    return rng.random() < chance


def figure(rng: Random, low: float, high: float, places: int = 1) -> str:
    """A number between two others, as written."""
    return f"{rng.uniform(low, high):.{places}f}"
