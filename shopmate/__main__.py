"""`python -m shopmate` does what the command `shopmate` does."""

import sys

from shopmate.cli import main

if __name__ == "__main__":
    sys.exit(main())
