"""`python -m cartlayout`."""

import sys

from .cli import main

sys.exit(main())
