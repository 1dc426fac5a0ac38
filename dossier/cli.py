"""The door: reads the command, calls the rest, reports, gives the exit code. The only place that prints."""

from __future__ import annotations

import gc
import json
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dossier import __version__
from dossier.errors import Unusable

if TYPE_CHECKING:
    from datetime import datetime

    from dossier.design import Design

BUILD = click.argument("build", type=click.Path(path_type=Path))
MEASURED = click.option("--measured", type=click.Path(path_type=Path), help="A file of values measured on your parts.")
KITS = click.option("--kits", type=click.IntRange(1, 10_000), default=None,
                    help="How many kits to count packs and cuts for and to plan a workshop for: one, and in the "
                         "workshop as many as the spec says, where left out.")

# The status that sysexits.h gives a fault inside a program, so that no script takes it for a missed goal.
FAULT = 70
# What a shell tells of a program whose reader has gone.
ENOUGH_SEEN = 141


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="%(prog)s %(version)s")
def commands() -> None:
    """One build spec in, a proved and printable telescope plan out.

    BUILD is always a build's folder or its build.yaml.
    """


def main() -> None:
    """Run a command and end the process with its exit status. No traceback reaches the user."""
    gc.disable()  # nothing here lives in cycles for long, and the collector would walk every module while they load
    status = _status()
    sys.stderr.flush()
    os._exit(status)  # all is written and closed; to take every module apart first would be an eighth of a check's time


def _status() -> int:
    try:
        status = commands(standalone_mode=False, prog_name="dossier")
        sys.stdout.flush()
    except click.ClickException as error:
        error.show()
        return 2
    except click.Abort:
        return 130
    except Unusable as error:
        _complain(error)
        return 2
    except (BrokenPipeError, SystemExit):  # into which click turns it; whoever reads the output has seen enough of it
        return ENOUGH_SEEN
    except OSError as error:
        named = f"{error.filename}: " if error.filename else ""
        click.echo(f"{named}{error.strerror or error}", err=True)
        return 2
    except Exception as fault:
        if sys.flags.dev_mode:
            raise
        click.echo(f"dossier: a fault of this program, not of the build: {type(fault).__name__}: {fault}\n"
                   "`python -X dev -m dossier` and the same words show where", err=True)
        return FAULT
    return status if isinstance(status, int) else 0


def _complain(error: Unusable) -> None:
    for problem in error.problems:
        click.echo(str(problem), err=True)


def _design(build: Path, measured: Path | None = None, kits: int | None = None, *, only: str = "") -> Design:
    from dossier.design import work_out
    from dossier.spec.load import load_build

    if measured is not None:
        from dossier.design.laid_over import laid_over

        return laid_over(load_build(build), load_build(build, measured), kits)
    return work_out(load_build(build), kits=kits, only=only)


@commands.command()
@BUILD
@MEASURED
@KITS
@click.option("--json", "as_data", is_flag=True, help="Print what results.json would hold.")
def check(build: Path, measured: Path | None, kits: int | None, as_data: bool) -> int:
    """Work everything out, print results and goals, write nothing.

    Exit status: 0 all goals met, 1 a goal is missed, 2 the spec is unusable.
    """
    from dossier.views.proofread import proofread

    design = _design(build, measured, kits)
    proofread(design)
    if as_data:
        from dossier.views.record import as_json

        click.echo(as_json(design), nl=False)
    else:
        from dossier.views.terminal import check_text

        click.echo(check_text(design), nl=False)
    return 1 if design.misses else 0


@commands.command()
@BUILD
@click.argument("result_id", metavar="ID")
@MEASURED
@KITS
def explain(build: Path, result_id: str, measured: Path | None, kits: int | None) -> None:
    """Print how one result was worked out, down to the author's own lines."""
    from dossier.views.terminal import explain_text

    click.echo(explain_text(_design(build, measured, kits, only=result_id), result_id), nl=False)


@commands.command()
@BUILD
@click.option("--note", required=True, help="What changed, in a sentence, for people who have the last revision.")
@click.option("--date", "on", type=click.DateTime(["%Y-%m-%d"]), help="Its date, such as 2026-09-12.")
@click.option("--accept-misses", is_flag=True, help="Issue it although goals are missed; the misses are recorded.")
def issue(build: Path, note: str, on: datetime | None, accept_misses: bool) -> int:
    """Freeze the build as its next revision, under revisions/.

    Exit status: 0 issued, 1 nothing has changed since the last, 2 unusable, or a goal is missed.
    """
    from dossier.publish import proof
    from dossier.revisions.issue import Missed, Unchanged, issue
    from dossier.views.terminal import misses_text

    design = _design(build)
    try:
        written = issue(design, note, on=on.date() if on else None, accept_misses=accept_misses, proof=proof)
    except Unchanged as last:
        click.echo(f"nothing has changed since revision {last}; nothing is issued", err=True)
        return 1
    except Missed:
        click.echo(f"{misses_text(design)}nothing is issued; --accept-misses issues it, with these on record", err=True)
        return 2
    click.echo(f"revision {written.letter} of {written.date}: {written.file}")
    return 0


@commands.command()
@BUILD
@click.argument("old", default="")
@click.argument("new", default="")
@click.option("--against", type=click.Path(path_type=Path), help="A plan that somebody else made of this one.")
@click.option("--json", "as_data", is_flag=True, help="Print it as data.")
def compare(build: Path, old: str, new: str, against: Path | None, as_data: bool) -> None:
    """Print what changed from OLD to NEW, and what leads a builder from the one to the other.

    OLD and NEW are letters of revisions, or 'working' for the build as it stands, which NEW is where it is left out.
    With --against, NEW is the other plan's build.yaml or folder, and OLD may be left out as well.
    """
    from contextlib import ExitStack

    from dossier.revisions.difference import difference
    from dossier.revisions.side import WORKING, side, standing
    from dossier.revisions.upgrade import upgrade
    from dossier.views.comparison import comparison_record, comparison_text

    if against and new:
        raise click.UsageError("with --against, the other plan is the newer side; leave NEW out")
    if not against and not old:
        raise click.UsageError("says what is compared: a revision's letter, such as A, or --against FILE")
    with ExitStack() as opened:
        before = opened.enter_context(side(build, old or WORKING))
        after = standing(against) if against else opened.enter_context(side(build, new or WORKING))
        found, kit = difference(before, after), upgrade(before, after)
    if as_data:
        click.echo(json.dumps(comparison_record(found, kit), ensure_ascii=False, indent=1, allow_nan=False))
    else:
        click.echo(comparison_text(found, kit, after.design.build.readers), nl=False)


@commands.command()
@BUILD
@click.option("--vary", multiple=True, metavar="KEY=FROM:TO:STEP",
              help="A key and its values, such as primary.focal_length=900mm:1500mm:50mm, or A,B,C. Twice at most.")
@click.option("--choose", multiple=True, metavar="REF", help="A part whose other choices are tried.")
@click.option("--one-at-a-time", "alone", is_flag=True, help="Try the other choices each alone, not all combinations.")
@click.option("--show", multiple=True, metavar="ID", help="A result to show; those with a limit where left out.")
@click.option("--tolerances", type=click.IntRange(1, 1_000_000), is_flag=False, flag_value=1000, metavar="[N]",
              help="Draw N builders from the tolerances in the spec (1000 where N is left out).")
@click.option("--seed", type=click.IntRange(0, 2**32 - 1), default=0, show_default=True,
              help="What the draw begins with: the same seed, the same builders.")
@click.option("--csv", "table", type=click.Path(path_type=Path, dir_okay=False), help="Write the table to this file.")
@click.option("--json", "as_data", is_flag=True, help="Print it as data.")
@KITS
def explore(build: Path, table: Path | None, as_data: bool, kits: int | None, **asked: Any) -> None:
    """Work the build out again with other values, other choices of parts, or as builders will make it.

    With nothing asked for, the studies are worked out that the spec itself names under explore.
    """
    from dossier.views.explored import Asked, explored

    gc.enable()  # thousands of builds may be worked out, each a ring of things that know one another
    found = explored(build, Asked(**asked), kits or 1)
    if table:
        from dossier.publish.lists import as_csv

        table.write_bytes(b"\r\n".join(as_csv(each) for each in found.lists))
    click.echo(json.dumps(found.record, ensure_ascii=False, indent=1, allow_nan=False) if as_data else found.text,
               nl=as_data)


@commands.command()
def schema() -> None:
    """Print the JSON Schema of build.yaml, for editors."""
    from dossier.spec.schema import json_schema

    click.echo(json.dumps(json_schema(), ensure_ascii=False, indent=2))


@commands.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--from", "packet", type=click.Path(path_type=Path), metavar="PACKET.PDF",
              help="Take the build that this packet carries inside it.")
def begin(folder: Path, packet: Path | None) -> None:
    """Write a small complete build to start from into FOLDER, which must be empty or new."""
    from dossier.publish.begin import begin_build, begin_from

    for path in begin_build(folder) if packet is None else begin_from(folder, packet):
        click.echo(str(path))


@commands.command()
@click.argument("builds", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="BUILD...")
@click.option("--out", type=click.Path(path_type=Path), default=Path("site"), show_default=True,
              help="Folder that the published builds go to.")
@click.option("--theme", default="drawing-office", show_default=True, help="A theme's name, or the path of one.")
@MEASURED
@KITS
@click.option("--paper", type=click.Choice(["A4", "Letter"]), help="Paper of the packet, instead of the spec's.")
@click.option("--no-packet", is_flag=True, help="Write the site without packet.pdf.")
@click.option("--past-packets", is_flag=True, help="Write a packet for each earlier revision too.")
@click.option("--fresh", is_flag=True, help="Work everything out again, although nothing has changed.")
def publish(builds: tuple[Path, ...], out: Path, **options: Any) -> None:
    """Work everything out and write site and packet to OUT/<name of the build>.

    Several builds, or a folder of builds, are published as a library with an index page.
    """
    from dossier.publish import Options, publish_all

    with _Progress() as progress:
        written = publish_all(builds, out, Options(**options), progress.step, progress.remark)
    for path in written:
        click.echo(str(path))


@commands.command()
@BUILD
@click.option("--port", type=click.IntRange(0, 65535), default=8015, show_default=True)
@click.option("--theme", default="drawing-office", show_default=True, help="A theme's name, or the path of one.")
@MEASURED
def preview(build: Path, port: int, theme: str, measured: Path | None) -> None:
    """Serve the pages on 127.0.0.1 and refresh the browser when spec, content or theme change."""
    from dossier.publish.preview import serve

    gc.enable()  # this one may run all day
    serve(build, port=port, theme=theme, measured=measured, say=click.echo, complain=_complain)


class _Progress:
    """Says each step on a terminal, on one line that the next overwrites; says nothing in a pipe."""

    def __enter__(self) -> _Progress:
        self._shows = sys.stderr.isatty()
        return self

    def step(self, text: str) -> None:
        if self._shows:
            click.echo(f"\r\x1b[K{text} …", nl=False, err=True)

    def remark(self, text: str) -> None:
        click.echo(("\r\x1b[K" if self._shows else "") + text, err=True)

    def __exit__(self, *_: object) -> None:
        if self._shows:
            click.echo("\r\x1b[K", nl=False, err=True)
