"""`python3 -m costbook`: see to it that what is needed is here, then run the command line.

Any Python since 2.7 must understand this file and the package's __init__, to be told its age.
"""

import signal
import sys

if __name__ == "__main__":
    if sys.version_info < (3, 11):
        sys.stderr.write(
            "costbook: this is Python %d.%d, and costbook needs 3.11 or newer. "
            "Install a newer Python from python.org or your system's packages, "
            "then start costbook with it, as in: python3.13 -m costbook\n" % sys.version_info[:2]
        )
        sys.exit(2)

    try:
        from costbook.first_run import enter

        enter()

        from costbook.cli import main
    except KeyboardInterrupt:
        sys.stderr.write("Stopped. Your workbook is as it was.\n")
        sys.exit(2)

    status = main()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # all is said: Ctrl-C would tear Python's ending
    sys.exit(status)
