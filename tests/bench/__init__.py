"""Speed, measured and printed with the goal beside it. Run by hand: `.venv/bin/python -m tests.bench`."""
