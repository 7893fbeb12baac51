//! A sheet of draws: one thread reads and compares, the other stores.

use std::sync::mpsc::{Receiver, Sender, SyncSender, channel, sync_channel};

use super::hashes;
use super::ledger::{Entry, Ledger, Seen};
use super::part::Gathering;
use super::refused::Refused;
use super::report::SheetReport;
use super::{Error, Programme};
use crate::intake::draws::blank_record;
use crate::intake::mended::Origin;
use crate::intake::{Draws, Known, Refusal, RefusedRow};
use crate::model::draw::identity;
use crate::model::time::utc_text;
use crate::model::{DrawRecord, Progress};
use crate::store::draws::{Compared, Reader, Writer};

/// Rows that go from one thread to the other at a time.
const BATCH: usize = 1024;

/// Batches on their way.
const ON_THE_WAY: usize = 4;

/// Rows to store, with room for more: batches go back and forth, so that texts keep their
/// memory.
#[derive(Default)]
struct Batch {
    rows: Vec<Item>,
    /// How many of the rows count.
    filled: usize,
    /// Records of rows that said what the programme held.
    unchanged: Vec<u32>,
    refusals: Vec<Refusal>,
    refused_rows: Vec<RefusedRow>,
    mended: Vec<Origin>,
}

struct Item {
    draw: DrawRecord,
    supersedes: Option<u32>,
    line: u64,
}

/// What a sheet of draws is taken into.
pub(super) struct Target<'a> {
    pub(super) known: Known<'a>,
    pub(super) ledger: &'a mut Ledger,
    /// Where everything will be judged: the draws as they come.
    pub(super) gathering: Option<&'a mut Gathering>,
    pub(super) progress: &'a Progress,
}

/// Takes a sheet of draws into the programme, as the sheet at this place of the import.
pub(super) fn take(
    programme: &Programme,
    (import, place): (i64, usize),
    draws: Draws,
    target: Target<'_>,
    report: &mut SheetReport,
    (refused, said_again): (&mut Refused<'_>, &mut Vec<u32>),
) -> Result<(), Error> {
    let connection = programme.store.connection();
    let mut writer = programme.sql(Writer::new(connection, import))?;
    let mut reader = programme.sql(Reader::new(connection))?;
    let (to_store, from_sheet) = sync_channel(ON_THE_WAY);
    let (give_back, come_back) = channel();
    std::thread::scope(|scope| {
        let reading = scope.spawn(move || read(draws, target, &to_store, &come_back));
        let stored = store(
            programme,
            (place, &mut writer, &mut reader),
            from_sheet,
            &give_back,
            report,
            (refused, said_again),
        );
        let read = match reading.join() {
            Ok(read) => read,
            Err(panic) => std::panic::resume_unwind(panic),
        };
        // Where storing failed, reading only ended because nobody took its rows.
        stored?;
        let mut draws = read?;
        report.remarks.extend(draws.remarks());
        report.about_file(draws.sheet())?;
        Ok(())
    })
}

fn read(
    mut draws: Draws,
    mut target: Target<'_>,
    to_store: &SyncSender<Batch>,
    come_back: &Receiver<Batch>,
) -> Result<Draws, Error> {
    target.ledger.begin_sheet();
    let mut scratch = Scratch::default();
    let (mut reported, mut ended) = (0, false);
    while !ended {
        if target.progress.is_stopped() {
            return Err(Error::Stopped);
        }
        let mut batch = come_back.try_recv().unwrap_or_default();
        batch.filled = 0;
        batch.unchanged.clear();
        ended = fill(&mut draws, &mut target, &mut batch, &mut scratch)?;
        let read = draws.bytes_read();
        target.progress.advance(read - reported);
        reported = read;
        if to_store.send(batch).is_err() {
            break;
        }
    }
    Ok(draws)
}

/// Memory lent to every row.
#[derive(Default)]
struct Scratch {
    identity: String,
    content: Vec<u8>,
}

/// Fills a batch; true at the end of the sheet.
fn fill(
    draws: &mut Draws,
    target: &mut Target<'_>,
    batch: &mut Batch,
    scratch: &mut Scratch,
) -> Result<bool, Error> {
    while batch
        .filled
        .max(batch.refusals.len())
        .max(batch.unchanged.len())
        < BATCH
    {
        if batch.filled == batch.rows.len() {
            batch.rows.push(Item {
                draw: blank_record(),
                supersedes: None,
                line: 0,
            });
        }
        let item = &mut batch.rows[batch.filled];
        let next = draws.next(target.known, &mut item.draw, &mut batch.refusals)?;
        let Some(line) = next else {
            batch.refused_rows.extend(draws.sheet().take_refused_rows());
            return Ok(true);
        };
        item.line = line;
        write_identity(&item.draw, &mut scratch.identity);
        let seen = target.ledger.take(Entry {
            point: item.draw.facts.point,
            identity: hashes::identity(&scratch.identity),
            content: hashes::content(&item.draw, &mut scratch.content),
            bottle: hashes::bottle(&item.draw.bottle_id),
        });
        let (record, supersedes) = match seen {
            Seen::Second => {
                Refusal::second_row(&mut batch.refusals, line, &scratch.identity);
                draws.sheet().keep_row();
                continue;
            }
            Seen::Unchanged(record) => {
                batch.mended.extend(draws.sheet().origin());
                batch.unchanged.push(record);
                continue;
            }
            Seen::New(record) => (record, None),
            Seen::Changed(record, older) => (record, Some(older)),
        };
        batch.mended.extend(draws.sheet().origin());
        item.draw.facts.record = record;
        item.supersedes = supersedes;
        if let Some(gathering) = &mut target.gathering {
            let texts = Compared {
                draw_id: &item.draw.draw_id,
                bottle_id: &item.draw.bottle_id,
                pair_of: &item.draw.pair_of,
                set_id: &item.draw.set_id,
            };
            gathering.add_named(item.draw.facts, texts, &scratch.identity);
        }
        batch.filled += 1;
    }
    batch.refused_rows.extend(draws.sheet().take_refused_rows());
    Ok(false)
}

fn write_identity(draw: &DrawRecord, into: &mut String) {
    into.clear();
    if draw.draw_id.is_empty() {
        into.push_str(&draw.bottle_id);
        into.push('@');
        into.push_str(&draw.point_id);
        into.push('@');
        into.push_str(&utc_text(draw.facts.drawn_at));
    } else {
        into.push_str(&draw.draw_id);
    }
}

fn store(
    programme: &Programme,
    (place, writer, reader): (usize, &mut Writer<'_>, &mut Reader<'_>),
    from_sheet: Receiver<Batch>,
    give_back: &Sender<Batch>,
    report: &mut SheetReport,
    (refused, said_again): (&mut Refused<'_>, &mut Vec<u32>),
) -> Result<(), Error> {
    for mut batch in from_sheet {
        for item in &batch.rows[..batch.filled] {
            if let Some(older) = item.supersedes {
                check_identity(programme, reader, older, item, report)?;
                report.changed += 1;
            } else {
                report.taken += 1;
            }
            programme.sql(writer.add(&item.draw, item.supersedes))?;
        }
        report.unchanged += batch.unchanged.len() as u64;
        said_again.extend_from_slice(&batch.unchanged);
        for origin in batch.mended.drain(..) {
            refused.mend(report, origin)?;
        }
        let rows = std::mem::take(&mut batch.refused_rows);
        refused.take(place, report, &mut batch.refusals, rows)?;
        // The reading thread may have ended already.
        let _ = give_back.send(batch);
    }
    Ok(())
}

/// Equal hashes are not yet equal identities: before a row supersedes another, that one is
/// read.
fn check_identity(
    programme: &Programme,
    reader: &mut Reader<'_>,
    older: u32,
    item: &Item,
    report: &SheetReport,
) -> Result<(), Error> {
    let draw = &item.draw;
    let same = programme.sql(reader.facts(older, |stored, texts| {
        if texts.draw_id.is_empty() && draw.draw_id.is_empty() {
            texts.bottle_id == draw.bottle_id
                && stored.point == draw.facts.point
                && stored.drawn_at == draw.facts.drawn_at
        } else {
            // A draw_id may spell out what stands for a blank one; then both are compared
            // as identities further down.
            texts.draw_id == draw.draw_id
        }
    }))?;
    if same {
        return Ok(());
    }
    let stored = programme.records(&[older])?;
    if stored.first().map(DrawRecord::identity) == Some(draw.identity()) {
        return Ok(());
    }
    Err(Error::Indistinct {
        sheet: report.sheet.clone(),
        line: item.line,
        identity: identity(
            &draw.draw_id,
            &draw.bottle_id,
            &draw.point_id,
            draw.facts.drawn_at,
        ),
    })
}
