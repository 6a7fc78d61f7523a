"""The kept features of the wordings are those that are worked out, and nothing planted is read."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from blendwise.answers.ask import reading as kept
from blendwise.answers.ask.lexicon import read_lexicon
from blendwise.answers.ask.matching import Wordings, counted_features
from blendwise.records.writing.cache import OFF, cached, keep


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A cache folder of the moment."""
    monkeypatch.delenv(OFF, raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))


def test_what_is_kept_is_what_is_worked_out() -> None:
    """The second call reads what the first kept, and a question is matched alike by both."""
    lexicon = read_lexicon()
    made, read = kept.prepared(lexicon), kept.prepared(lexicon)
    assert cached(kept.KEPT_AS) is not None
    assert counted_features(lexicon) == made == tuple(read)
    asked = lexicon.words("will the OIL turn my CUP brown")
    assert Wordings(lexicon).match(asked) == Wordings(lexicon, read).match(asked)


@pytest.mark.parametrize(
    "planted",
    [None, [], {"key": "another", "counted": [["a"], [1], [0], [1.0]]}, {"counted": 3}],
)
def test_what_does_not_fit_is_worked_out(planted: object) -> None:
    """Another key, another shape or nothing at all: the long way, and then it is kept."""
    keep(kept.KEPT_AS, planted)
    lexicon = read_lexicon()
    assert counted_features(lexicon) == kept.prepared(lexicon)


def test_kept_parts_that_do_not_hang_together_are_not_read() -> None:
    """Counts that do not sum, or a column beyond the names."""
    lexicon = read_lexicon()
    kept.prepared(lexicon)
    right = cached(kept.KEPT_AS)
    names, many, column, value = right["counted"]
    for wrong in (
        [names, many, column[:-1], value],
        [names[:1], many, column, value],
        [names, many[:-1], column, value],
    ):
        keep(kept.KEPT_AS, {"key": right["key"], "counted": wrong})
        assert counted_features(lexicon) == kept.prepared(lexicon)


def test_another_word_that_means_the_same_is_another_key() -> None:
    """What is kept hangs on every word that is read, wherever its table stands."""
    lexicon = read_lexicon()
    kept.prepared(lexicon)
    before = cached(kept.KEPT_AS)
    other = replace(lexicon, same={**lexicon.same, "fragrance": ["stench"]}, known={})
    assert counted_features(other) == kept.prepared(other)
    assert before["key"] != cached(kept.KEPT_AS)["key"]
