//! A report as a reader sees it, before it becomes HTML or PDF: sections of paragraphs,
//! tables and charts. Texts in it are as they were recorded; each form makes them harmless in
//! its own way.

pub mod chart;
pub mod charts;

use chart::Chart;

/// A whole report.
#[derive(Clone, Debug, Default)]
pub struct Document {
    /// What it is.
    pub title: String,
    /// Of what.
    pub subtitle: String,
    /// What to know before reading: label and value.
    pub facts: Vec<(&'static str, String)>,
    /// When it was made, in seconds since 1970 UTC.
    pub made_at: i64,
    /// What stands at the foot of every page.
    pub foot: String,
    /// Its sections.
    pub sections: Vec<Section>,
}

/// A section.
#[derive(Clone, Debug)]
pub struct Section {
    /// Its name within the report, for links.
    pub id: &'static str,
    /// Its heading.
    pub title: &'static str,
    /// What is in it.
    pub blocks: Vec<Block>,
}

impl Section {
    /// An empty section.
    #[must_use]
    pub fn new(id: &'static str, title: &'static str) -> Self {
        Section {
            id,
            title,
            blocks: Vec::new(),
        }
    }

    /// Adds a block.
    pub fn push(&mut self, block: Block) {
        self.blocks.push(block);
    }

    /// Adds a paragraph.
    pub fn say(&mut self, text: impl Into<String>) {
        self.push(Block::Paragraph(text.into()));
    }
}

/// A part of a section.
#[derive(Clone, Debug)]
pub enum Block {
    /// A heading within the section.
    Heading(String),
    /// The paragraph to read if no other is read.
    Lead(String),
    /// A paragraph.
    Paragraph(String),
    /// A remark on how far something carries.
    Remark(String),
    /// A caution where work can hurt.
    Caution(String),
    /// Points of a list.
    Points(Vec<String>),
    /// Labels with values.
    Facts(Vec<(String, String)>),
    /// Great figures.
    Figures(Vec<Figure>),
    /// A table.
    Table(Table),
    /// A chart.
    Chart(Chart),
    /// Lines to sign on, by who signs.
    Signatures(Vec<&'static str>),
}

/// A number that is seen first.
#[derive(Clone, Debug)]
pub struct Figure {
    /// What it is of.
    pub label: &'static str,
    /// The number.
    pub value: String,
    /// What belongs to it.
    pub detail: String,
}

/// A table of short texts.
#[derive(Clone, Debug)]
pub struct Table {
    /// What it shows, in a line.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Heading>,
    /// Its rows, as many cells as there are columns.
    pub rows: Vec<Vec<String>>,
}

/// The head of a column.
#[derive(Clone, Debug)]
pub struct Heading {
    /// Its words.
    pub text: &'static str,
    /// Whether the column holds numbers, which stand to the right.
    pub is_number: bool,
}

/// The head of a column of words.
#[must_use]
pub const fn words(text: &'static str) -> Heading {
    Heading {
        text,
        is_number: false,
    }
}

/// The head of a column of numbers.
#[must_use]
pub const fn numbers(text: &'static str) -> Heading {
    Heading {
        text,
        is_number: true,
    }
}
