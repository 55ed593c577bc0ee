"""The commands. Each parses, calls the desk and shows what it says; nothing heavy is imported before it is used."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from hoopwright import __version__
from hoopwright.cli import book_commands, exits, sizing, way_back_commands, welding
from hoopwright.cli.options import Json, ShopFolder, finish
from hoopwright.cli.show import say

app = typer.Typer(
    name="hoopwright",
    help="From the drawing of a fabricated annular liner to strip, rolls, segments, stops and papers.",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    epilog="Exit codes: " + "; ".join(f"{code} {meaning}" for code, meaning in exits.MEANING.items()) + ".",
)

app.add_typer(welding.app, name="weld")
for _command in (sizing.size, sizing.choose, sizing.study):
    app.command()(_command)
book_commands.add_to(app)
way_back_commands.add_to(app)

Full = Annotated[
    bool,
    typer.Option(
        "--full", help="With solids (STEP, glb, STL), every paper and table of every tool; needs the extra `cad`."
    ),
]


Prove = Annotated[
    bool,
    typer.Option(
        "--prove",
        help="With a proof run of every ring on the section and hoop kernels: minutes the first time, kept beside the "
        "job; tools and sizes are corrected by it.",
    ),
]


@app.callback(invoke_without_command=True)
def about(version: Annotated[bool, typer.Option("--version", help="Say the version and end.")] = False) -> None:
    """From the drawing of a fabricated annular liner to strip, rolls, segments, stops and papers."""
    if version:
        say(f"hoopwright {__version__}")
        raise typer.Exit(exits.DONE)


@app.command()
def check(
    file: Annotated[Path, typer.Argument(help="Liner file (TOML).")],
    svg: Annotated[Path | None, typer.Option("--svg", help="Folder to draw the liner and each section into.")] = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Read a liner file: every fault with its line, every geometric finding, and the sections drawn."""
    from hoopwright.cli.checking import check_file

    finish(lambda: check_file(file, svg, cards, json), json)


@app.command()
def upgrade(
    old: Annotated[Path, typer.Argument(help="File of an earlier format.")],
    out: Annotated[Path, typer.Option("--out", help="New folder for today's files.")],
    json: Json = False,
) -> None:
    """Bring a file of an earlier format up to today's, and say what was assumed."""
    from hoopwright.cli.checking import upgrade_file

    finish(lambda: upgrade_file(old, out, json), json)


@app.command()
def plan(
    liner: Annotated[Path, typer.Argument(help="Liner file (TOML).")],
    out: Annotated[Path, typer.Option("--out", help="Folder for the plan; written whole or not at all.")],
    ring: Annotated[
        list[str] | None, typer.Option("--ring", help="Only this ring; may be given more than once.")
    ] = None,
    date: Annotated[str | None, typer.Option("--date", help="Date to print on the papers, as 2031-03-01.")] = None,
    full: Full = False,
    prove: Prove = False,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Plan every ring: plan.json, a walk sheet (PDF) a ring, DXF of blanks, rolls and segments."""
    from hoopwright.cli.planning import plan_file

    finish(lambda: plan_file(liner, out, tuple(ring or ()), date, cards, json, full, prove), json)


@app.command()
def demo(
    out: Annotated[Path, typer.Option("--out", help="Folder for the plan.")] = Path("hoopwright-demo"),
    full: Full = False,
    prove: Prove = False,
    json: Json = False,
) -> None:
    """Plan the demonstration liner (all data invented) and say what to look at first."""
    from hoopwright.cli.planning import plan_demo

    finish(lambda: plan_demo(out, json, full, prove), json)


Of = Annotated[Path | None, typer.Option("--of", help="Liner file; the demonstration liner if left out.")]


@app.command()
def tools(
    tool: Annotated[
        str,
        typer.Argument(
            help="Tool, such as HD-402-S (-R rolls, -S segments, -B base, -T plug, -W weld bars) or HD-400-P."
        ),
    ],
    of: Of = None,
    out: Annotated[Path | None, typer.Option("--out", help="Folder for its solids, DXF and papers.")] = None,
    date: Annotated[str | None, typer.Option("--date", help="Date to print on the papers, as 2031-03-01.")] = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Build one tool as solids (STEP, glb, STL), check it, and write its drawings."""
    from hoopwright.cli.toolmaking import tool_command

    finish(lambda: tool_command(tool, of, out, date, cards, json), json)


@app.command()
def paper(
    name: Annotated[str, typer.Argument(help="Paper, such as machine-card or set-ground; `list` names them all.")],
    ring: Annotated[str, typer.Option("--ring", help="Ring it is for.")] = "",
    of: Of = None,
    out: Annotated[Path | None, typer.Option("--out", help="Folder to write it into.")] = None,
    date: Annotated[str | None, typer.Option("--date", help="Date to print on it, as 2031-03-01.")] = None,
    records: Annotated[
        str | None,
        typer.Option("--records", help="Hold it against the records: what is superseded says so."),
    ] = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Write one paper of one ring."""
    from hoopwright.cli.toolmaking import paper_command

    finish(lambda: paper_command(name, ring, of, out, date, cards, json, records), json)


History = Annotated[
    Path | None, typer.Option("--history", help="Metal temperatures through time (CSV); rules over the liner file's.")
]
PaperDate = Annotated[str | None, typer.Option("--date", help="Date to print on the papers, as 2031-03-01.")]


@app.command()
def grow(
    liner: Annotated[Path, typer.Argument(help="Liner file (TOML).")],
    out: Annotated[Path | None, typer.Option("--out", help="Folder for the growth sheet, pictures and JSON.")] = None,
    history: History = None,
    drawn_hot: Annotated[
        bool, typer.Option("--drawn-hot", help="Take the file's sizes as hot ones and say the cold ones.")
    ] = False,
    date: PaperDate = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """How the liner grows from cold to hot: every station, gaps through a start, stress at the welds."""
    from hoopwright.cli.growing import grow_file

    finish(lambda: grow_file(liner, out, history, drawn_hot, date, cards, json), json)


@app.command()
def seal(
    liner: Annotated[Path, typer.Argument(help="Liner file (TOML).")],
    out: Annotated[Path | None, typer.Option("--out", help="Folder for seal, washer and spring papers.")] = None,
    history: History = None,
    date: PaperDate = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """Float, clearance and leak of the washers, load and stress of their springs, worst case first."""
    from hoopwright.cli.growing import seal_file

    finish(lambda: seal_file(liner, out, history, date, cards, json), json)


@app.command()
def explain(
    figure: Annotated[str, typer.Argument(help="Identity of a figure, such as HD-402/size/hit-2/free-lip-dia.")],
    of: Annotated[
        Path | None, typer.Option("--of", help="Liner file or plan.json; the demonstration liner if left out.")
    ] = None,
    cards: ShopFolder = None,
    json: Json = False,
) -> None:
    """The working of a figure: formula, the same with numbers, inputs, and where each came from."""
    from hoopwright.cli.explaining import explain_figure

    finish(lambda: explain_figure(figure, of, cards, json), json)


@app.command()
def cards(
    name: Annotated[str | None, typer.Argument(help="One card, by id or kind/id; all are listed if left out.")] = None,
    folder: ShopFolder = None,
    json: Json = False,
) -> None:
    """The shelf of cards, or one card with every figure and its source."""
    from hoopwright.cli.carding import show_cards

    finish(lambda: show_cards(name, folder, json), json)


@app.command()
def tensile(
    files: Annotated[list[Path], typer.Argument(help="Tensile tests (CSV), one specimen a file.")],
    card: Annotated[str, typer.Option("--card", help="Name of the new card.")],
    folder: Annotated[Path, typer.Option("--cards", help="The shop's card folder.")],
    entered_by: Annotated[str, typer.Option("--entered-by", help="Who enters it.")],
    based_on: Annotated[str, typer.Option("--based-on", help="Card that gives what the tests do not.")] = "",
    cast: Annotated[str, typer.Option("--cast", help="Cast of the sheet.")] = "",
    direction: Annotated[
        list[float] | None, typer.Option("--direction", help="Degrees to the rolling direction, one a file.")
    ] = None,
    width: Annotated[float | None, typer.Option("--width", help="Specimen width, mm.")] = None,
    thickness: Annotated[float | None, typer.Option("--thickness", help="Specimen thickness, mm.")] = None,
    gauge: Annotated[float | None, typer.Option("--gauge-length", help="Gauge length, mm.")] = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace a card of the same name.")] = False,
    json: Json = False,
) -> None:
    """Make a card from the shop's own tensile tests: flow curve, r-value and fit error."""
    from hoopwright.cli.carding import Test, enter_tests

    test = Test(tuple(files), tuple(direction or ()), width, thickness, gauge)
    finish(lambda: enter_tests(test, card, entered_by, based_on, cast, folder, overwrite, json), json)


@app.command()
def serve(
    folder: Annotated[
        Path, typer.Argument(help="Job folder with liner.toml; a new or empty one is filled with the demonstration.")
    ] = Path("hoopwright-job"),
    host: Annotated[
        str, typer.Option("--host", help="Address to listen on; any but loopback asks for a token and speaks TLS.")
    ] = "127.0.0.1",
    port: Annotated[int, typer.Option("--port", help="Port.")] = 8412,
    name: Annotated[
        list[str] | None, typer.Option("--name", help="Further name by which the server is asked; may be repeated.")
    ] = None,
    certificate: Annotated[Path | None, typer.Option("--certificate", help="Own certificate for TLS (PEM).")] = None,
    key: Annotated[Path | None, typer.Option("--key", help="Its key (PEM).")] = None,
    new_token: Annotated[bool, typer.Option("--new-token", help="Make a new token; the old one is void.")] = False,
) -> None:
    """Open the page: at the desk, at the press, in the inspection room."""
    from hoopwright.cli.serving import serve_job

    finish(lambda: serve_job(folder, host, port, tuple(name or ()), certificate, key, new_token), False)


def main(arguments: list[str] | None = None) -> Any:
    """Run the command line; the exit code is raised as SystemExit."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    app(args=arguments, prog_name="hoopwright")
