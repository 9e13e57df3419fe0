"""`fedfrom rules [NAME]`: every check, with clause and example."""

from __future__ import annotations

from difflib import get_close_matches

import click

from fedfrom.cli.report import CLEAN, UNREADABLE

EXAMPLES = """\b
Examples:
  fedfrom rules                        every check, with its clause
  fedfrom rules drop-feeder            one of them: why, and a design with and without the finding
  fedfrom rules --code 'NEC 2020'      with the clauses of another edition
  fedfrom rules --format html          a page with every check
"""


@click.command("rules", short_help="List every check, or explain one.", epilog=EXAMPLES)
@click.argument("name", required=False)
@click.option("--code", default="NEC 2023", show_default=True, help="The code edition whose clauses are shown.")
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "html"]),
    default="text",
    show_default=True,
    help="Text, or a page with every check and its example designs.",
)
@click.pass_context
def command(ctx: click.Context, name: str | None, code: str, form: str) -> None:
    """List every check, or explain one."""
    from fedfrom.rules.registry import Rule, all_rules
    from fedfrom.tables import TableError, load_edition

    try:
        edition = load_edition(code)
    except TableError as error:
        raise click.UsageError(str(error), ctx) from error

    def clause(rule: Rule) -> str:
        return edition.clause(rule.clause) if rule.clause else "the language"

    if form == "html":
        from fedfrom.documents.rules_page import rules_page

        click.echo(rules_page(edition), nl=False)
        ctx.exit(CLEAN)
    rules = {rule.id: rule for rule in all_rules()}
    if name is None:
        widest = max(map(len, rules), default=0)
        for rule in rules.values():
            click.echo(f"{rule.id:<{widest}}  {rule.severity.word:<11}  {rule.title} ({clause(rule)})")
        grave = sum(rule.life_safety for rule in rules.values())
        click.echo(f"{len(rules)} checks; {grave} of them about life safety: `accept` needs a name and a date there")
        ctx.exit(CLEAN)
    if name not in rules:
        close = get_close_matches(name, rules, 3, 0.5)
        click.echo(f"error: there is no rule `{name}`." + (f" Close: {', '.join(close)}." if close else ""), err=True)
        ctx.exit(UNREADABLE)
    rule = rules[name]
    indent = "    "
    click.echo(f"{rule.id} ({rule.severity.word}): {rule.title}\nClause: {clause(rule)}\n\n{rule.why.strip()}\n")
    for title, program in (("This gives the finding", rule.bad), ("This does not", rule.good)):
        text = "\n".join(indent + line if line else "" for line in program.strip("\n").splitlines())
        click.echo(f"{title}:\n\n{text}\n")
    ctx.exit(CLEAN)
