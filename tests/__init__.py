"""The tests, as a package so that they may share their examples."""
