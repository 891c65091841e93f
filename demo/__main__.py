"""`python3 -m demo`: the demo practice, installed, filled and served on this machine."""

from app.bootstrap import run_inside_environment

run_inside_environment("demo")

import sys  # noqa: E402

from app.commands.refusal import Refused, one_line  # noqa: E402
from app.records.errors import RecordsError  # noqa: E402
from demo.practice import serve_demo  # noqa: E402

try:
    serve_demo()
except (Refused, RecordsError) as refusal:
    sys.stderr.write(f"{one_line(refusal)}\n")
    sys.exit(2)
except KeyboardInterrupt:
    sys.stderr.write("\n")
