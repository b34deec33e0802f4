"""`python3 -m tests [pytest's arguments]`: fetch what the tests need once, then run them.

They are shared out among the processor's cores; `-n 0` runs them one after another, in one process.

Any Python since 2.7 must understand this file, to be told its age.
"""

import sys

if __name__ == "__main__":
    if sys.version_info < (3, 11):
        sys.stderr.write(
            "costbook: this is Python %d.%d, and costbook needs 3.11 or newer. "
            "Install a newer Python from python.org or your system's packages, "
            "then start the tests with it, as in: python3.13 -m tests\n" % sys.version_info[:2]
        )
        sys.exit(2)

    from costbook.first_run import enter

    enter(extras=("test",))

    import pytest

    sys.argv[1:1] = ["--numprocesses=auto", "--dist=worksteal"]
    sys.exit(pytest.main())
