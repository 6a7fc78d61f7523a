"""The version, in its one place (the package's metadata is made from it)."""

__version__ = "0.2.0"
