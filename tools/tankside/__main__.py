"""`python -m tankside` is the `tankside` command."""

from tankside.cli import main

if __name__ == "__main__":
    main()
