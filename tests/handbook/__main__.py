"""``python -m tests.handbook FOLDER``: build the handbook."""

from tests.handbook.build import main

raise SystemExit(main())
