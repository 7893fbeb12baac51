//! A sheet of a workbook: XLSX, XLSB, XLS or ODS.
//!
//! The reader of XLSX lends its rows from the workbook, so both live in a thread of their own,
//! which sends rows as they are asked for. Memory does not grow with the rows of an XLSX sheet,
//! only with its table of texts; the other formats can only be read whole.

mod biff;
mod book;
mod choice;
mod compound;
mod package;
mod value;

use std::path::Path;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Once};
use std::thread::JoinHandle;

use super::bytes::Bytes;
use super::cells::Cells;
use super::header::Wanted;
use super::read_as::ReadAs;
use super::{Begun, Next, unreadable};
use crate::intake::{Error, Refusal};
use book::{Book, BookFault, SheetRow};
use choice::{Choice, Refused};

/// Rows that are sent at a time.
const BATCH: usize = 64;
/// Batches on their way.
const ON_THE_WAY: usize = 4;

/// Rows of a sheet of a workbook, one after the other.
pub(super) struct SheetRows {
    bytes: Arc<Bytes>,
    sent: Receiver<Sent>,
    batch: std::vec::IntoIter<SheetRow>,
    /// The number of the row last read.
    pub(super) line: u64,
    /// Columns before the table, which are blank.
    left: usize,
    ended: bool,
}

/// What comes from the thread that reads.
enum Sent {
    Begun(Box<Choice>),
    Rows(Vec<SheetRow>),
    /// Nothing can be read.
    Failed(Refused),
    /// The rest can't be read.
    Broken(String),
    End,
}

impl SheetRows {
    /// Opens a workbook, finds the sheet and its header.
    pub(super) fn open(
        path: &Path,
        bytes: Bytes,
        read_as: &ReadAs,
        wanted: &Wanted,
    ) -> Result<Begun<SheetRows>, Error> {
        let bytes = Arc::new(bytes);
        let (send, sent) = sync_channel(ON_THE_WAY);
        let (shared, read_as, wanted) = (Arc::clone(&bytes), read_as.clone(), wanted.clone());
        apart(move || {
            if let Err(sent) = read(&shared, &read_as, &wanted, &send) {
                // Where nobody listens any more, nothing is lost.
                let _ = send.send(sent);
            }
        })
        .map_err(|error| unreadable(path, error))?;
        match sent.recv() {
            Ok(Sent::Begun(choice)) => Ok(Begun {
                rows: SheetRows {
                    bytes,
                    sent,
                    batch: Vec::new().into_iter(),
                    line: choice.how.header_row,
                    left: choice.left,
                    ended: false,
                },
                cells: Cells::default(),
                names: choice.names,
                how: choice.how,
                refusal: None,
            }),
            Ok(Sent::Failed(refused)) => Err(refused.into_error(path)),
            _ => Err(gave_up(path)),
        }
    }

    pub(super) fn bytes_read(&self) -> u64 {
        self.bytes.read()
    }

    /// Reads the next row that holds something.
    pub(super) fn next(&mut self, cells: &mut Cells) -> Next {
        let row = loop {
            if let Some(row) = self.batch.next() {
                break row;
            }
            if self.ended {
                return Next::End;
            }
            let reason = match self.sent.recv() {
                Ok(Sent::Rows(rows)) => {
                    self.batch = rows.into_iter();
                    continue;
                }
                Ok(Sent::End) => {
                    self.ended = true;
                    continue;
                }
                Ok(Sent::Broken(reason)) => reason,
                _ => PANICKED.to_owned(),
            };
            self.ended = true;
            return Next::Refused(Refusal::whole(
                self.line + 1,
                "",
                "",
                format!(
                    "the workbook is damaged here ({reason}); everything from here on is refused"
                ),
            ));
        };
        self.line = row.number;
        let outside = row
            .texts
            .iter()
            .take(self.left)
            .any(|text| !text.is_empty());
        if outside {
            let all: Vec<&str> = row.texts.iter().collect();
            let reason = "a cell of this row stands to the left of the table; the row is refused";
            return Next::Refused(Refusal::whole(self.line, "", &all.join(","), reason));
        }
        if self.left == 0 {
            cells.put_texts(row.texts, row.failed);
        } else {
            let texts = row.texts.iter().skip(self.left).collect();
            let failed = row.failed.iter().map(|place| place - self.left).collect();
            cells.put_texts(texts, failed);
        }
        Next::Row
    }
}

const PANICKED: &str = "its reader gave up";

/// Reads the workbook and sends what it finds; what ends the reading comes back.
fn read(
    bytes: &Bytes,
    read_as: &ReadAs,
    wanted: &Wanted,
    send: &SyncSender<Sent>,
) -> Result<(), Sent> {
    let failed = |fault| Sent::Failed(Refused::Fault(fault));
    let mut book = Book::open(bytes).map_err(failed)?;
    let choice = choice::choose(&mut book, read_as, wanted).map_err(Sent::Failed)?;
    let sheet = choice.how.sheet.clone();
    let after = choice.last_header_row;
    if send.send(Sent::Begun(Box::new(choice))).is_err() {
        return Ok(());
    }
    let Some(sheet) = sheet else {
        return Err(Sent::End);
    };
    let broken = |fault| match fault {
        BookFault::Damaged(reason) => Sent::Broken(reason),
        other => failed(other),
    };
    let mut rows = book.rows(&sheet).map_err(broken)?;
    let mut batch = Vec::with_capacity(BATCH);
    loop {
        let next = rows.next();
        if let Ok(Some(row)) = next {
            if row.number > after {
                batch.push(row);
            }
            if batch.len() < BATCH {
                continue;
            }
            if send.send(Sent::Rows(std::mem::take(&mut batch))).is_err() {
                return Ok(());
            }
            continue;
        }
        if send.send(Sent::Rows(batch)).is_err() {
            return Ok(());
        }
        return Err(match next {
            Err(reason) => Sent::Broken(reason),
            _ => Sent::End,
        });
    }
}

/// The names of the sheets of a workbook.
pub(super) fn sheet_names(path: &Path, bytes: Bytes) -> Result<Vec<String>, Error> {
    let names = apart(move || {
        let book = Book::open(&bytes)?;
        Ok(book.sheets().into_iter().map(|sheet| sheet.name).collect())
    });
    match names.map_err(|error| unreadable(path, error))?.join() {
        Ok(Ok(names)) => Ok(names),
        Ok(Err(fault)) => Err(Refused::Fault(fault).into_error(path)),
        Err(_) => Err(gave_up(path)),
    }
}

fn gave_up(path: &Path) -> Error {
    Refused::Fault(BookFault::Damaged(PANICKED.to_owned())).into_error(path)
}

/// The name of threads that read workbooks.
pub const READER: &str = "reader of workbooks";

/// Runs something in a thread for reading workbooks. The library that reads them panics on some
/// that are damaged; whoever waits for the thread tells of it as of any other damage, so the
/// panic itself is not reported.
fn apart<T: Send + 'static>(
    work: impl FnOnce() -> T + Send + 'static,
) -> std::io::Result<JoinHandle<T>> {
    static QUIET: Once = Once::new();
    QUIET.call_once(|| {
        let report = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            if std::thread::current().name() != Some(READER) {
                report(panic);
            }
        }));
    });
    std::thread::Builder::new()
        .name(READER.to_owned())
        .spawn(work)
}
