"""``python -m formwork`` is the ``formwork`` command."""

from formwork.cli import main

main()
