"""`python -m fieldbook` is the same as the `fieldbook` command."""

from fieldbook.cli.main import main

if __name__ == "__main__":
    main()
