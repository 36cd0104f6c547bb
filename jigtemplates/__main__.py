"""`python -m jigtemplates`."""

from jigtemplates.cli import main

if __name__ == "__main__":
    main()
