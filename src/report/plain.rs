//! Markdown of our own pages as plain text, wrapped: headings, paragraphs, quotes, bold and
//! slanted words, tables of short cells.

use super::table::wrapped;

/// Widest line of running text that reads well.
const WIDEST: usize = 88;

/// The page as plain text of at most this width.
#[must_use]
pub fn page(markdown: &str, width: usize) -> String {
    let width = width.min(WIDEST);
    let mut text = String::new();
    let mut lines = markdown.lines().peekable();
    while let Some(line) = lines.next() {
        // The head of a table says nothing that its rows, written out, do not.
        if lines.next_if(|next| next.starts_with("|---")).is_some() {
            continue;
        }
        let (hang, words) = if let Some(heading) = line.strip_prefix("## ") {
            (0, heading.to_owned())
        } else if let Some(quoted) = line.strip_prefix("> ") {
            (2, bare(quoted))
        } else if line.starts_with('|') {
            (2, bare(&row(line)))
        } else {
            (0, bare(line))
        };
        for (place, part) in wrapped(&words, width.saturating_sub(hang))
            .iter()
            .enumerate()
        {
            let indent = if place == 0 && !line.starts_with('>') {
                0
            } else {
                hang
            };
            text.push_str(&" ".repeat(indent));
            text.push_str(part);
            text.push('\n');
        }
    }
    text
}

/// Cells of a table in one line: `window_min, 30 min: longest time between stop and draw`.
fn row(line: &str) -> String {
    let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
    match cells.as_slice() {
        [name, value, meaning] => format!("- {name}, {value}: {meaning}"),
        cells => format!("- {}", cells.join(", ")),
    }
}

/// The words without `**` and without the `*` around a whole line.
fn bare(words: &str) -> String {
    let words = words.replace("**", "");
    match words
        .strip_prefix('*')
        .and_then(|rest| rest.strip_suffix('*'))
    {
        Some(inner) => inner.to_owned(),
        None => words,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_reads_as_plain_text() {
        let markdown = "## fill-level\n\n*Class sample.*\n\n**Next time.** Fill it to the \
                        line and no further.\n\n> **Caution.** Hot oil scalds.\n\n| parameter | \
                        value | meaning |\n|---|---|---|\n| min_pct | 50 % | least |\n";
        assert_eq!(
            page(markdown, 30),
            "fill-level\n\nClass sample.\n\nNext time. Fill it to the line\nand no further.\n\n  \
             Caution. Hot oil scalds.\n\n- min_pct, 50 %: least\n"
        );
    }
}
