"""`python3 -m demo`: the demo practice, installed, filled and served on this machine."""

from app.bootstrap import run_inside_environment

run_inside_environment("demo")

from demo.practice import serve_demo  # noqa: E402

serve_demo()
