//! The report as one page of HTML that needs nothing else: no script, no file beside it, no
//! network.

mod svg;

use askama::Template;

use super::document::{Block, Document, Section};
use crate::model::printable::printable;
use crate::model::time::utc_text;

/// The page; askama escapes every text in it but the charts, which are ours.
#[derive(Template)]
#[template(path = "report.html", config = "src/report/html/askama.toml")]
struct Page<'a> {
    document: &'a Document,
    style: &'static str,
    made_at: String,
    /// Every section with its blocks, a chart with its drawing.
    sections: Vec<(&'a Section, Vec<(&'a Block, String)>)>,
}

/// The style of the page, on screen and in print.
const STYLE: &str = include_str!("report.css");

/// The report as a page.
#[must_use]
pub fn page(document: &Document) -> String {
    let mut number = 0;
    let mut drawn = |block: &Block| match block {
        Block::Chart(chart) => {
            number += 1;
            svg::svg(chart, number)
        }
        _ => String::new(),
    };
    let sections = document.sections.iter().map(|section| {
        let blocks = section.blocks.iter().map(|block| (block, drawn(block)));
        (section, blocks.collect())
    });
    let page = Page {
        document,
        style: STYLE,
        made_at: utc_text(document.made_at),
        sections: sections.collect(),
    };
    page.render()
        .expect("a page is written to memory, which does not fail")
}

/// A text without control characters, for the template to escape.
fn safe_text(text: &str) -> std::borrow::Cow<'_, str> {
    printable(text)
}

/// Whether a cell is one word, such as a day or an id, that is not to be broken at a hyphen.
fn is_short(text: &str) -> bool {
    text.chars().count() <= 16 && !text.contains(' ')
}

/// A text as it stands between tags or in quotes: no markup, no control characters.
fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in printable(text).chars() {
        match c {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&#39;"),
            c => escaped.push(c),
        }
    }
    escaped
}
