"""The command line: `python -m app COMMAND`."""

import argparse
import contextlib
import importlib.util
import io
import os
import sys
from collections.abc import Callable

from app.bootstrap import run_inside_environment
from app.commands.refusal import Refused

OK, NOT_DONE = 0, 2
ROLES = ("practitioner", "assistant", "receptionist", "manager")
PAPER_SIZES = ("a4", "us-letter")
NEEDED = ("fastapi", "sqlmodel", "alembic", "numpy", "argon2", "typst", "ezdxf", "segno")

Run = Callable[[argparse.Namespace], None]


def main(arguments: list[str] | None = None) -> int:
    """Runs one command. Exit status 0, or 2 with one line on standard error."""
    if any(importlib.util.find_spec(name) is None for name in NEEDED):
        with contextlib.redirect_stdout(sys.stderr):
            run_inside_environment("app")
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8")
    chosen = build_parser().parse_args(arguments)
    run: Run = chosen.run
    try:
        run(chosen)
        sys.stdout.flush()
    except Refused as refusal:
        sys.stderr.write(f"{refusal}\n")
        return NOT_DONE
    except BrokenPipeError:
        # whoever read our output (head, a pager) has enough of it; what is left must not be complained about
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        sys.stderr.write("\n")
    return OK


def build_parser() -> argparse.ArgumentParser:
    """All commands with their arguments."""
    parser = argparse.ArgumentParser(prog="python -m app", description="Chair to Bench")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")

    def command(name: str, run: Run, words: str) -> argparse.ArgumentParser:
        added = commands.add_parser(name, help=words, description=words)
        added.set_defaults(run=run)
        return added

    serving = command("serve", _serve, "serve the app on this machine")
    serving.add_argument("--host", help="address of this machine, such as 127.0.0.1")
    serving.add_argument("--port", type=_port, help="port, such as 8000")
    _files(command("assess", _assess, "what follows from a fitting file, as JSON"))
    explaining = command("explain", _explain, "one check's page; without a name, all checks")
    explaining.add_argument("check", nargs="?", metavar="CHECK")
    printing = command(
        "papers", _papers, "write drawings, order sheets and files for one fitting into a folder"
    )
    printing.add_argument("file", metavar="FILE", help="a fitting file; - for standard input")
    printing.add_argument("folder", metavar="OUT", help="the folder, made where there is none")
    printing.add_argument("--paper", choices=PAPER_SIZES, default=PAPER_SIZES[0], help="for the order sheets")
    printing.add_argument(
        "--orders-address",
        default="",
        metavar="URL",
        help="address of the fitting's orders on this practice's server, such as https://…/fittings/ID/orders/:"
        " the code on the label then opens them",
    )
    importing = command("import", _import, "store a fitting file in the records")
    _files(importing)
    importing.add_argument("--by", required=True, metavar="NAME", help="sign-in name of who takes it in")
    exporting = command("export", _export, "print a stored fitting as a fitting file")
    exporting.add_argument("fitting", metavar="ID")
    _named(command("token", _token, "print a bearer token for the JSON interface"))
    _named(command("account", _account, "make an account, or set its passphrase"))
    return parser


def _files(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a fitting file; - for standard input")
    parser.add_argument("--lines", action="store_true", help="one fitting a line")


def _named(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--role", required=True, choices=ROLES)
    parser.add_argument(
        "--name", required=True, metavar="NAME", help="whose; made where there is no such account"
    )


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"a port is a number from 1 to 65535, not {text}")
    return int(text)


# Each command is loaded when it is run, so that `assess` does not wait for a web server, nor `--help` for either.


def _serve(chosen: argparse.Namespace) -> None:
    from app.commands.serve import serve

    serve(host=chosen.host, port=chosen.port)


def _assess(chosen: argparse.Namespace) -> None:
    from app.commands.assess import assess

    assess(chosen.file, lines=chosen.lines)


def _explain(chosen: argparse.Namespace) -> None:
    from app.commands.explain import explain

    explain(chosen.check)


def _papers(chosen: argparse.Namespace) -> None:
    from app.commands.papers import write_papers

    write_papers(chosen.file, chosen.folder, paper=chosen.paper, orders_address=chosen.orders_address)


def _import(chosen: argparse.Namespace) -> None:
    from app.commands.import_fittings import import_fittings

    import_fittings(chosen.file, lines=chosen.lines, by=chosen.by)


def _export(chosen: argparse.Namespace) -> None:
    from app.commands.export_fitting import export_fitting

    export_fitting(chosen.fitting)


def _token(chosen: argparse.Namespace) -> None:
    from app.commands.token import token

    token(name=chosen.name, role=chosen.role)


def _account(chosen: argparse.Namespace) -> None:
    from app.commands.account import account

    account(name=chosen.name, role=chosen.role)


if __name__ == "__main__":
    sys.exit(main())
