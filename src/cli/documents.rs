//! Documents printed from the tables of the program, so that they cannot go stale.

use std::fmt::Write as _;

use clap::CommandFactory;

use super::args::Cli;
use super::exit::Failure;
use crate::report::{Place, rows};

/// Width of the help texts in documents.
const WIDTH: usize = 88;

/// `docs/commands.md`: the help of every command.
#[must_use]
pub fn commands_markdown() -> String {
    let mut text = String::from(
        "# Commands\n\nPrinted from the program's own help; `fairdraw COMMAND --help` shows the same.\n",
    );
    let mut command = Cli::command().term_width(WIDTH);
    command.build();
    section(&mut text, &mut command);
    text
}

fn section(text: &mut String, command: &mut clap::Command) {
    let name = command.get_bin_name().unwrap_or("fairdraw").to_owned();
    let help = command.render_long_help().to_string();
    let lines: Vec<&str> = help.lines().map(str::trim_end).collect();
    // Writing to a text cannot fail.
    let _ = write!(
        text,
        "\n## {name}\n\n```text\n{}\n```\n",
        lines.join("\n").trim_end()
    );
    for inner in command.get_subcommands_mut() {
        section(text, inner);
    }
}

/// `docs/json.md`: the fields of every report.
#[must_use]
pub fn json_markdown() -> String {
    let mut text = String::from(JSON_OPENING);
    for (command, columns) in rows::REPORTS {
        let _ = write!(
            text,
            "\n## {command}\n\n{}| field | what it holds |\n|---|---|\n",
            opening(command)
        );
        for column in *columns {
            let only = match column.place {
                Place::Everywhere => "",
                Place::JsonOnly => " (JSON only)",
                Place::TableOnly => continue,
            };
            let _ = writeln!(text, "| `{}` | {}{only} |", column.name, column.meaning);
        }
    }
    text
}

/// What is to be said of a report before its fields.
fn opening(command: &str) -> &'static str {
    match command {
        "fairdraw attribute" => {
            "JSON is one object: `{\"model\": {…}, \"technicians\": [{…}, …], \"points\": [{…}, …]}`. \
             A technician and a point have the same fields, which are the columns of CSV.\n\n"
        }
        "fairdraw pick show" => {
            "JSON is one object: `{\"pick\": {…}, \"outcome\": {…}, \"parts\": [{…}, …], \"draws\": [{…}, …]}`, \
             where `pick` has the fields of `fairdraw pick list`. CSV has the draws: it is the sheet \
             for the verifier. The fields of a draw:\n\n"
        }
        "fairdraw finding show, `evidence`" => {
            "JSON is one object: `{\"finding\": {…}, \"evidence\": [{…}, …]}`, where `finding` has \
             the fields of `fairdraw finding list`. CSV has the evidence.\n\n"
        }
        _ => "",
    }
}

const JSON_OPENING: &str = "\
# JSON and CSV

Printed from the program's own tables. `--format json` writes an array of objects, one a
line (but see `fairdraw attribute`, `fairdraw pick show` and `fairdraw finding show`); `--format csv` writes the same fields as columns (RFC 4180, UTF-8, a header row).

* A blank is `null` in JSON and an empty cell in CSV. A text that is blank in its sheet is an
  empty text in both.
* Scores are percents with two decimals, the half rounded up on the exact value. Shares and
  physical quantities are written in full precision; a share is a part of one.
* Times are in UTC, as `2026-03-04T08:30:00Z`.
* Several ids stand in a JSON array; in CSV they are joined with `;`.
* A text cell that begins, after blanks, with `=`, `+`, `-` or `@` (also in their wide forms), or
  with a tab or a line break, has an apostrophe in front in CSV, so that no spreadsheet runs it.
  JSON holds it as it is.
* On a terminal, control characters in CSV are replaced by `\u{fffd}`; in JSON they are always
  escaped. Files and pipes get every text as it is.
* Fields may be added at the end; none is renamed or dropped without a word in the release.
";

/// The manual page of the program or, given its words, of one command.
pub fn manual(words: &[String]) -> Result<Vec<u8>, Failure> {
    let mut command = Cli::command();
    command.build();
    for word in words {
        command = command
            .find_subcommand(word)
            .cloned()
            .ok_or_else(|| Failure::WrongUse(format!("manual: there is no command {word}")))?;
    }
    let name = ["fairdraw"]
        .into_iter()
        .chain(words.iter().map(String::as_str));
    let title = name.collect::<Vec<_>>().join("-");
    let mut page = Vec::new();
    clap_mangen::Man::new(command.disable_help_flag(true))
        .title(title)
        .render(&mut page)?;
    Ok(page)
}
