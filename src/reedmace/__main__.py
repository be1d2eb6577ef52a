"""`python -m reedmace` does what `reedmace` does."""

from reedmace.cli.main import run

if __name__ == "__main__":
    run()
