//! The findings pack: everything an auditor takes away, in a folder that proves itself
//! unaltered.

mod codes;
mod decided;
mod error;
mod folder;
mod hidden;
mod tables;
mod told;

use std::collections::BTreeSet;
use std::io::Write as _;
use std::path::PathBuf;

use chrono::NaiveDate;

use super::{Error, PROGRAM, Programme};
use crate::analysis::topics::peers_of;
use crate::analysis::{Assessed, Filter, Selection};
use crate::model::Progress;
use crate::model::decisions::PackExported;
use crate::model::progress::Stage;
use crate::model::trail::{Link, NO_LINK, Who};
use crate::report::audit::{self, Material};
use crate::report::document::Document;
use crate::report::pack::analysed::Analysed;
use crate::report::pack::readme;
use crate::report::pack::rows::{About, PACK, TRAIL_LINE, about, link_line};
use crate::report::xlsx::{self, Book, Opening};
use crate::report::{html, json_object, pdf, schema};
use crate::rules::default_yaml;
use codes::{Codes, told};
use decided::Decided;
use folder::{Staging, may_be_put};

pub use error::PackError;
pub use folder::{PackedFile, SUMS};

/// The file with the head of the trail.
pub const HEAD: &str = "trail/head.txt";
/// The tables as a workbook.
const WORKBOOK: &str = "workbook.xlsx";
/// The file that says what the pack is.
pub const ABOUT: &str = "pack.json";

/// What to export.
#[derive(Clone, Debug, Default)]
pub struct ExportRequest {
    /// The folder to be made.
    pub to: PathBuf,
    /// Which draws; the default is all of them.
    pub filter: Filter,
    /// People and crews are replaced by codes.
    pub is_anonymous: bool,
    /// A pack that stands there is replaced.
    pub replace: bool,
    /// Who has it made; then the export is noted in the trail.
    pub who: Option<Who>,
}

/// What was exported.
#[derive(Clone, Debug)]
pub struct ExportReport {
    /// Where the pack stands.
    pub folder: PathBuf,
    /// Its files, by path.
    pub files: Vec<PackedFile>,
    /// Draws in it.
    pub draws: u64,
    /// SHA-256 of its `SHA256SUMS`, by which alone the whole pack can be told.
    pub sums_sha256: String,
    /// The link that notes the export; none where the file is read-only or nobody is named.
    pub link: Option<i64>,
}

/// What the parts of a pack are made from.
struct Content<'a> {
    programme: &'a Programme,
    assessed: &'a Assessed,
    selection: &'a Selection,
    analysed: &'a Analysed,
    decided: &'a Decided,
    today: NaiveDate,
    trail: &'a [Link],
    codes: Option<&'a Codes>,
    progress: &'a Progress,
}

impl Content<'_> {
    fn is_anonymous(&self) -> bool {
        self.codes.is_some()
    }

    /// An error if someone asked to stop.
    fn go_on(&self) -> Result<(), Error> {
        if self.progress.is_stopped() {
            Err(Error::Stopped)
        } else {
            Ok(())
        }
    }
}

impl Programme {
    /// Writes a pack into a folder of its own, whole or not at all, and notes it in the trail.
    ///
    /// # Errors
    /// [`PackError`] for the folder; a store that can't be read (or, for the codes of a first
    /// anonymous pack, written); a stop.
    pub fn export(
        &mut self,
        request: &ExportRequest,
        progress: &Progress,
    ) -> Result<ExportReport, Error> {
        may_be_put(&request.to, request.replace)?;
        let mut assessed = self.assess(progress)?;
        let selection = request.filter.select(&assessed);
        let peers = peers_of(&request.filter).select(&assessed);
        let trail = self.trail()?;
        let who = request.who.as_ref().filter(|_| !self.is_read_only());
        let codes = if request.is_anonymous {
            let people = trail.iter().map(|link| link.who.as_str());
            let people: BTreeSet<&str> = people.chain(who.map(Who::as_str)).collect();
            let codes = Codes::of(self, &assessed, &people)?;
            codes.hide(&mut assessed);
            Some(codes)
        } else {
            None
        };
        let mut staging = Staging::beside(&request.to)?;
        progress.begin(Stage::Fitting, 0);
        let mut go_on = || !progress.is_stopped();
        let analysed = Analysed::of(&assessed, &selection, &peers, &mut go_on);
        let chosen = (&assessed, &selection);
        let decided = Decided::of(self, chosen, &trail, codes.as_ref(), progress)?;
        let content = Content {
            programme: self,
            assessed: &assessed,
            selection: &selection,
            analysed: &analysed,
            decided: &decided,
            today: self.today()?,
            trail: &trail,
            codes: codes.as_ref(),
            progress,
        };
        content.write(request, &mut staging)?;
        let sums_sha256 = staging.seal()?;
        if progress.is_stopped() {
            return Err(Error::Stopped);
        }
        let draws = selection.len() as u64;
        let noted = PackExported {
            sums_sha256: sums_sha256.clone(),
            filter: request.filter.to_string(),
            anonymous: request.is_anonymous,
            draws,
        };
        // The note and the pack come about together: the folder takes its name while the note
        // can still be taken back.
        let (link, (folder, files)) = match who {
            Some(who) => {
                let transaction = self.store.begin()?;
                let link = self.append(&transaction, who, &noted)?;
                let put = staging.put_in_place()?;
                self.sql(transaction.commit())?;
                (Some(link), put)
            }
            None => (None, staging.put_in_place()?),
        };
        Ok(ExportReport {
            folder,
            files,
            draws,
            sums_sha256,
            link,
        })
    }
}

impl Content<'_> {
    fn write(&self, request: &ExportRequest, staging: &mut Staging) -> Result<(), Error> {
        let filter = told(&request.filter, self.is_anonymous());
        let who = request.who.as_ref().map(|who| self.named(who.as_str()));
        let program = format!("fairdraw {PROGRAM}");
        let file = self.programme.path().filter(|_| !self.is_anonymous());
        let file = file.and_then(|file| file.file_name()).unwrap_or_default();
        let file = file.to_string_lossy();
        let mut book = Book::new(staging.folder()).map_err(tables::in_workbook)?;
        let tables = self.write_tables(staging, &mut book)?;
        self.write_rulebook(staging)?;
        self.write_trail(staging)?;
        let told = self.told();
        let report = audit::report(&Material {
            assessed: self.assessed,
            analysed: self.analysed,
            told: &told,
            programme: &file,
            made_by: who.as_deref().unwrap_or_default(),
            made_at: self.programme.now(),
            filter: &filter,
            is_anonymous: self.is_anonymous(),
            draws_in_all: self.assessed.judged.len() as u64,
            links: self.trail.len() as u64,
            head: self.head(),
        });
        self.write_workbook(staging, book, &report)?;
        staging.write("report.html", html::page(&report).as_bytes(), None)?;
        self.go_on()?;
        let pdf = pdf::file(&report).map_err(PackError::from)?;
        staging.write("report.pdf", &pdf, None)?;
        let readme = readme::text(self.is_anonymous(), &filter);
        staging.write("README.txt", readme.as_bytes(), None)?;
        let row = about(&About {
            program: &program,
            made_at: self.programme.now(),
            made_by: who.as_deref().unwrap_or_default(),
            programme: &file,
            zone: self.assessed.zone,
            filter: &filter,
            is_anonymous: self.is_anonymous(),
            draws: self.selection.len() as u64,
            draws_in_all: self.assessed.judged.len() as u64,
            rulebook: &self.assessed.rulebook,
            links: self.trail.len() as u64,
            head: self.head(),
            tables: &tables,
        });
        let mut text = Vec::new();
        json_object(PACK, &row, &mut text)?;
        text.push(b'\n');
        staging.write(ABOUT, &text, None)?;
        write_schema(
            staging,
            "pack",
            schema::of_one("Pack", "What a pack is.", PACK),
        )?;
        Ok(())
    }

    fn write_workbook(
        &self,
        staging: &mut Staging,
        book: Book,
        report: &Document,
    ) -> Result<(), Error> {
        let draws = self.selection.len();
        let mut remarks = Vec::new();
        if draws > xlsx::MOST_DRAWS {
            remarks.push(xlsx::left_out(draws as u64));
        }
        let opening = Opening {
            title: &report.title,
            facts: &report.facts,
            remarks,
            made_at: report.made_at,
        };
        self.progress.begin(Stage::Writing, 0);
        let file = staging.open(WORKBOOK)?;
        book.save(&opening, file).map_err(tables::in_workbook)?;
        Ok(staging.adopt(WORKBOOK)?)
    }

    fn head(&self) -> &str {
        self.trail.last().map_or(NO_LINK, |link| &link.hash)
    }

    fn write_rulebook(&self, staging: &mut Staging) -> Result<(), Error> {
        staging.write("rulebook/standard.yaml", default_yaml().as_bytes(), None)?;
        // Comments in it may name people.
        if let Some(adopted) = self.programme.rulebook_text()?
            && !self.is_anonymous()
        {
            staging.write("rulebook/adopted.yaml", adopted.as_bytes(), None)?;
        }
        Ok(())
    }

    fn write_trail(&self, staging: &mut Staging) -> Result<(), Error> {
        let mut lines = staging.create("trail/trail.jsonl")?;
        for link in self.trail {
            let line = link_line(link, self.is_anonymous());
            json_object(TRAIL_LINE, &line, &mut lines)?;
            lines.write_all(b"\n")?;
        }
        staging.finish(lines, Some(self.trail.len() as u64))?;
        let head = format!("{} {}\n", self.trail.len(), self.head());
        staging.write(HEAD, head.as_bytes(), None)?;
        write_schema(
            staging,
            "trail_line",
            schema::of_one("Link", "One line of trail.jsonl.", TRAIL_LINE),
        )?;
        Ok(())
    }
}

/// A schema beside the others.
fn write_schema(
    staging: &mut Staging,
    name: &str,
    schema: serde_json::Value,
) -> Result<(), PackError> {
    let text = format!("{schema:#}\n");
    staging.write(
        &format!("schemas/{name}.schema.json"),
        text.as_bytes(),
        None,
    )
}
