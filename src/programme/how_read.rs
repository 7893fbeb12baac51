//! How a file is read, found out from its beginning.

use std::path::PathBuf;

use super::{Error, ImportRequest};
use crate::intake::SheetKind;
use crate::intake::files::tables_in;
use crate::intake::table::{How, Table, Wanted};

/// Of each file of a request, folders opened up, how it is read.
///
/// # Errors
/// A file that can't be read.
pub fn how_read(request: &ImportRequest) -> Result<Vec<(PathBuf, How)>, Error> {
    let ours = SheetKind::ALL.into_iter().flat_map(SheetKind::columns);
    let wanted = Wanted::new(ours.map(|column| column.name));
    let mut read = Vec::new();
    for path in tables_in(&request.sheets)? {
        let table = Table::open(&path, &request.read_as, &wanted)?;
        read.push((path, table.how().clone()));
    }
    Ok(read)
}
