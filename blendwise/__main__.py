"""``python -m blendwise``: the command line without its script."""

from blendwise.cli.main import run

if __name__ == "__main__":
    run()
