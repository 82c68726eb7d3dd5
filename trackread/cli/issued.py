"""`trackread issued`: the sheets that are out, or all that ever were."""

from __future__ import annotations

from pathlib import Path

import click

from trackread.cli.production import json_option, print_json, production_option


@click.command()
@click.argument("shot", required=False)
@click.option("--replaced", is_flag=True, help="Those that have been replaced as well.")
@production_option
@json_option
def issued(*, shot: str | None, replaced: bool, production: Path | None, as_json: bool) -> None:
    """List the sheets that are out, and on which unit."""
    from trackread.cli.columns import print_columns
    from trackread.workflow.issuing import issued_sheets, plain_issue
    from trackread.workflow.production import open_production

    with open_production(production) as book:
        found = issued_sheets(book, shot, replaced=replaced)
    if as_json:
        print_json({"issues": [plain_issue(one) for one in found]})
        return
    if not found:
        click.echo("No sheet has been issued yet: `trackread issue SHOT --unit NAME`.")
        return
    columns = ("shot", "issue", "unit", "date", "code", "by", "reason", "")
    rows = (
        (
            one.shot,
            str(one.number),
            one.unit,
            one.date,
            one.code,
            one.author,
            one.reason,
            "" if one.current else f"replaced by issue {one.last}",
        )
        for one in found
    )
    print_columns(columns, rows, right=("issue",))
