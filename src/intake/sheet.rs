//! A sheet being read: a table whose columns are those of its kind.

use std::path::Path;

use super::Error;
use super::columns::{Column, SheetKind};
use super::digest::Digest;
use super::maps::SheetMap;
use super::maps::apply::{Bound, Mapping};
use super::mended::{Origin, RefusedRow};
use super::refusal::Refusal;
use super::row::Raw;
use super::table::{How, Next, ReadAs, Table, Wanted};

/// A sheet whose header was read.
pub struct Sheet {
    kind: SheetKind,
    table: Table,
    header: Header,
    /// The column map the sheet is read by.
    mapping: Option<Box<Mapping>>,
}

/// Which column of the file holds what.
#[derive(Clone, Debug, Default)]
pub struct Header {
    /// For each column of the kind, its place in the file.
    pub places: Vec<Option<usize>>,
    /// Columns the contract does not know: place in the file, name under which their
    /// values are kept aside.
    pub unknown: Vec<(usize, String)>,
    /// How many columns the file has.
    pub width: usize,
}

/// A sheet ready to be read, or refused whole because of its header.
pub enum Opened {
    /// Rows can be read.
    Ready(Box<Sheet>),
    /// Nothing can be read from it; how it was read may tell why.
    Refused(Refusal, Box<How>),
}

impl Sheet {
    /// Opens a sheet and reads its header, by a column map if there is one.
    ///
    /// # Errors
    /// The file can't be read, or nothing of it.
    pub fn open(
        path: &Path,
        kind: SheetKind,
        read_as: &ReadAs,
        map: Option<&SheetMap>,
    ) -> Result<Opened, Error> {
        let mut table = match map {
            None => Table::open(path, read_as, &Wanted::of(kind))?,
            Some(map) => Table::open(path, &as_map_says(read_as, map), &Wanted::new(map.names()))?,
        };
        if table.names().is_empty()
            && let Next::Refused(refusal) = table.next_row()?
        {
            let how = Box::new(table.how().clone());
            return Ok(Opened::Refused(refusal, how));
        }
        let read = match map {
            None => Header::read(table.names(), kind).map(|header| (header, None)),
            Some(map) => map.bind(table.names()).map(|bound| {
                let header = Header::mapped(table.names().len(), kind, &bound);
                (header, Some(Box::new(Mapping::new(bound))))
            }),
        };
        match read {
            Ok((header, mapping)) => Ok(Opened::Ready(Box::new(Sheet {
                kind,
                table,
                header,
                mapping,
            }))),
            Err((column, reason)) => {
                let refusal = Refusal::whole(table.line(), &column, "", reason);
                Ok(Opened::Refused(refusal, Box::new(table.how().clone())))
            }
        }
    }

    /// The kind of the sheet.
    #[must_use]
    pub fn kind(&self) -> SheetKind {
        self.kind
    }

    /// How the file was read.
    #[must_use]
    pub fn how(&self) -> &How {
        self.table.how()
    }

    /// Names of the columns that the contract does not know.
    #[must_use]
    pub fn unknown_columns(&self) -> Vec<&str> {
        self.header
            .unknown
            .iter()
            .map(|(_, name)| name.as_str())
            .collect()
    }

    /// The header as it stands.
    #[must_use]
    pub fn header(&self) -> &[String] {
        self.table.names()
    }

    /// Keeps the row last read as one that is refused whole.
    pub fn keep_row(&mut self) {
        self.table.keep_row();
    }

    /// Hands over the rows that were refused whole since the last call.
    pub fn take_refused_rows(&mut self) -> Vec<RefusedRow> {
        self.table.take_refused_rows()
    }

    /// Where the row last read was refused before, if it is a mended one.
    #[must_use]
    pub fn origin(&self) -> Option<Origin> {
        self.table.origin()
    }

    /// Size and SHA-256 of the file; what is left of it is read.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn digest(&mut self) -> Result<Digest, Error> {
        self.table.digest()
    }

    /// How many bytes were read.
    #[must_use]
    pub fn bytes_read(&self) -> u64 {
        self.table.bytes_read()
    }

    /// The row last read, with the header to find its cells by.
    pub(super) fn row(&self) -> Raw<'_> {
        Raw {
            cells: self.table.cells(),
            header: &self.header,
            line: self.table.line(),
            mapping: self.mapping.as_deref(),
        }
    }

    /// The names of the columns as the sheet has them.
    #[must_use]
    pub fn names(&self) -> &[String] {
        self.table.names()
    }

    /// The column map the sheet is read by, bound to its header.
    #[must_use]
    pub fn mapping(&self) -> Option<&Mapping> {
        self.mapping.as_deref()
    }

    /// What the column at this place of the kind's columns is made of: their columns by name.
    #[must_use]
    pub fn source_of(&self, column: usize) -> Option<&str> {
        match &self.mapping {
            Some(mapping) => mapping.bound.name(column),
            None => self.header.places[column].map(|place| self.table.names()[place].as_str()),
        }
    }

    /// What is to be told once all rows were read.
    #[must_use]
    pub fn told_at_end(&self) -> Option<String> {
        self.mapping.as_deref().and_then(Mapping::told)
    }

    /// Reads the next row that is not empty, as [`Table::next_row`] does.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn next_row(&mut self) -> Result<Next, Error> {
        let mut next = self.table.next_row()?;
        if let Some(mapping) = &mut self.mapping {
            // Refusals of whole rows name the columns of the sheet already.
            while matches!(next, Next::Row) && !mapping.row(self.table.cells(), self.table.line()) {
                next = self.table.next_row()?;
            }
            return Ok(next);
        }
        if let Next::Refused(refusal) = &mut next
            && let Some(place) = self
                .table
                .names()
                .iter()
                .position(|name| *name == refusal.column)
        {
            refusal.column = self.header.name_of(place, self.kind);
        }
        Ok(next)
    }
}

/// How the table is to be read: as the user says, else as the map does.
fn as_map_says(read_as: &ReadAs, map: &SheetMap) -> ReadAs {
    let header_row = read_as.header_row.or(map.header_row.map(u64::from));
    ReadAs {
        header_row,
        ..read_as.clone()
    }
}

impl Header {
    /// The header of a sheet that a column map was bound to.
    fn mapped(width: usize, kind: SheetKind, bound: &Bound) -> Self {
        Header {
            places: vec![None; kind.columns().len()],
            unknown: bound.unknown.clone(),
            width,
        }
    }

    /// Finds the columns of this kind by name, in any case and order.
    ///
    /// # Errors
    /// The column at fault and the reason, where the sheet must be refused whole.
    fn read(names: &[String], kind: SheetKind) -> Result<Header, (String, String)> {
        let columns = kind.columns();
        let mut header = Header {
            places: vec![None; columns.len()],
            unknown: Vec::new(),
            width: names.len(),
        };
        for (place, name) in names.iter().enumerate() {
            let known = columns
                .iter()
                .position(|column| column.name.eq_ignore_ascii_case(name));
            match known {
                Some(column) if header.places[column].is_some() => {
                    return Err((
                        columns[column].name.to_owned(),
                        "the column stands twice in the header; the sheet is refused".to_owned(),
                    ));
                }
                Some(column) => header.places[column] = Some(place),
                None => {
                    let name = header.name_for_unknown(name, place);
                    header.unknown.push((place, name));
                }
            }
        }
        for (column, place) in columns.iter().zip(&header.places) {
            if column.required && place.is_none() {
                return Err((column.name.to_owned(), why_missing(names, column, kind)));
            }
        }
        Ok(header)
    }

    /// A name of its own for a column the contract does not know.
    fn name_for_unknown(&self, name: &str, place: usize) -> String {
        let name = if name.is_empty() {
            format!("column {}", place + 1)
        } else {
            name.to_owned()
        };
        if self.unknown.iter().all(|(_, other)| *other != name) {
            return name;
        }
        format!("{name} (column {})", place + 1)
    }

    fn name_of(&self, place: usize, kind: SheetKind) -> String {
        let known = self.places.iter().position(|at| *at == Some(place));
        match known {
            Some(column) => kind.columns()[column].name.to_owned(),
            None => self
                .unknown
                .iter()
                .find(|(at, _)| *at == place)
                .map(|(_, name)| name.clone())
                .unwrap_or_default(),
        }
    }
}

fn why_missing(names: &[String], column: &Column, kind: SheetKind) -> String {
    let what = format!(
        "the header lacks the required column {} of a {} sheet; the sheet is refused",
        column.name,
        kind.as_str()
    );
    match names {
        [] => format!("the sheet is empty: {what}"),
        _ => what,
    }
}
