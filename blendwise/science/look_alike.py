"""Soap shaped like food: words of shapes that a child may put into its mouth.

Only a shape counts that the maker names, of a mould or of a piece set in; how a soap smells says nothing.

Formula: a word of the list stands in the name of the shape, and no word beside it says that only the scent,
    the colour or an addition is meant.
Source: Regulation (EU) 2023/988, Article 6, as a member state's official page and the trade press report it
    (soap in the shape of food is the page's example); directive 87/357/EEC before it; the words are ours.
Check: shapes with and without; scents and colours named after food.
Limits: a help to think of it, not a judgement of a shape; words in English only.
"""

from __future__ import annotations

from blendwise.science.tables import plain_key

FOOD = frozenset(
    {
        *(
            "apple",
            "banana",
            "berry",
            "blackberry",
            "blueberry",
            "cherry",
            "citrus",
            "fruit",
            "grape",
            "kiwi",
        ),
        *("lemon", "lime", "mandarin", "melon", "orange", "peach", "pear", "pineapple", "plum", "raspberry"),
        *("strawberry", "watermelon", "avocado", "carrot", "tomato", "pumpkin", "egg", "cheese", "sausage"),
        *(
            "biscuit",
            "bonbon",
            "bread",
            "brownie",
            "bun",
            "cake",
            "candy",
            "chocolate",
            "cookie",
            "croissant",
        ),
        *("cupcake", "donut", "doughnut", "dumpling", "gingerbread", "gummy", "jelly", "lollipop", "lolly"),
        *(
            "macaron",
            "macaroon",
            "marshmallow",
            "meringue",
            "muffin",
            "pancake",
            "pie",
            "popsicle",
            "praline",
        ),
        *("pretzel", "sandwich", "scone", "sundae", "sushi", "sweet", "tart", "truffle", "waffle"),
    }
)
TWO_WORDS = ("ice cream", "ice lolly")
NOT_THE_SHAPE = frozenset(
    {
        *("scented", "scent", "smelling", "fragrance", "flavour", "flavoured", "colour", "coloured", "color"),
        *(
            "colored",
            "red",
            "green",
            "yellow",
            "brown",
            "pink",
            "oil",
            "butter",
            "powder",
            "milk",
            "seed",
            "seeds",
        ),
        *(
            "cubes",
            "hearts",
            "stars",
            "leaves",
            "balls",
            "curls",
            "shreds",
            "confetti",
            "pieces",
            "soap",
            "strips",
        ),
    }
)


def like_food(shape: str) -> bool:
    """Whether a shape is named after food."""
    words = plain_key(shape).split()
    for place, word in enumerate(words):
        after = words[place + 1 : place + 2]
        if _single(word) in FOOD and not set(after) & NOT_THE_SHAPE:
            return True
    return any(two in " ".join(words) for two in TWO_WORDS)


def _single(word: str) -> str:
    if word.endswith("ies") and f"{word[:-3]}y" in FOOD:
        return f"{word[:-3]}y"
    for end in ("s", "es"):
        if word.endswith(end) and word.removesuffix(end) in FOOD:
            return word.removesuffix(end)
    return word
