"""`python -m fedfrom`."""

from fedfrom.cli.main import main

if __name__ == "__main__":
    main()
