//! How a table is to be read, where it does not say so itself.

use clap::Args;

use crate::programme::read_as::{self, ReadAs};

/// Options that say how files are read; what is not given is found out.
#[derive(Args)]
#[command(next_help_heading = "How files are read")]
pub struct ReadAsArgs {
    /// Encoding of text files, such as windows-1252 or utf-16le [default: found out]
    #[arg(long, value_name = "LABEL", value_parser = encoding)]
    pub encoding: Option<Encoding>,
    /// Character between fields, or comma, semicolon, tab, pipe, space [default: found out]
    #[arg(long, value_name = "CHAR", value_parser = read_as::delimiter)]
    pub delimiter: Option<u8>,
    /// Quote around fields: double, single or none [default: found out]
    #[arg(long, value_name = "QUOTE", value_parser = read_as::quote)]
    pub quote: Option<read_as::Quote>,
    /// Sheet of a workbook, by name or number [default: by its name, or the best header]
    #[arg(long, value_name = "SHEET", value_parser = read_as::sheet)]
    pub sheet: Option<read_as::SheetChoice>,
    /// Row of the header, counted from 1 [default: found by its names]
    #[arg(long, value_name = "ROW", value_parser = clap::value_parser!(u64).range(1..))]
    pub header_row: Option<u64>,
}

/// An encoding as an argument.
#[derive(Clone, Copy)]
pub struct Encoding(&'static read_as::Encoding);

fn encoding(label: &str) -> Result<Encoding, String> {
    read_as::encoding(label).map(Encoding)
}

impl From<&ReadAsArgs> for ReadAs {
    fn from(args: &ReadAsArgs) -> ReadAs {
        ReadAs {
            encoding: args.encoding.map(|encoding| encoding.0),
            delimiter: args.delimiter,
            quote: args.quote,
            sheet: args.sheet.clone(),
            header_row: args.header_row,
        }
    }
}
