"""Lets ``python -m cutlist`` do what the command does."""

from cutlist.command.main import main

if __name__ == "__main__":
    main()
