"""`python -m shopdesk` is the `shopdesk` command."""

from shopdesk.cli import main

main()
