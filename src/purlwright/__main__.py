"""`python -m purlwright` does what the command `purlwright` does."""

import sys

from purlwright.cli import main

if __name__ == "__main__":
    sys.exit(main())
