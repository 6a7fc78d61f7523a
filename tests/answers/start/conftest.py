"""What the tests of a new book share."""

from tests.cli.conftest import run

__all__ = ["run"]
