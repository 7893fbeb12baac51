//! The report as a PDF: pages of A4, text as text, charts as paths, tagged so that it can be
//! read aloud.

mod draw;
mod face;
mod flow;
mod lines;
mod pages;
mod table;

use super::document::Document;
use face::Faces;
use pages::Pages;

/// The report could not be written as a PDF.
#[derive(Debug, thiserror::Error)]
#[error("the report can't be written as a PDF: {0}")]
pub struct PdfError(String);

/// The report as a PDF. Equal reports give equal bytes.
///
/// # Errors
/// The library that writes PDFs refuses it.
pub fn file(document: &Document) -> Result<Vec<u8>, PdfError> {
    let faces = Faces::new();
    let mut pages = Pages::new(&faces);
    flow::set(&mut pages, document);
    flow::feet(&mut pages, &document.foot);
    draw::file(document, pages)
}
