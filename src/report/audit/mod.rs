//! The report of a pack: what it says, section by section.

mod causes;
mod decided;
mod method;
mod summary;
mod topics;

use super::document::{Document, Section};
use super::pack::analysed::Analysed;
use super::wording::{count, day};
use crate::analysis::Assessed;
use crate::model::time::utc_text;
pub use decided::{FindingTold, PickTold, ResampleTold, Told};

/// What a report is made from.
pub struct Material<'a> {
    /// The judged programme; people and crews in it already bear the names they are to bear.
    pub assessed: &'a Assessed,
    /// What analysis says of the draws.
    pub analysed: &'a Analysed,
    /// What people decided on the draws.
    pub told: &'a Told,
    /// The name of the programme; empty where it must not be told.
    pub programme: &'a str,
    /// Who had the report made; empty if nobody is named.
    pub made_by: &'a str,
    /// When, in seconds since 1970 UTC.
    pub made_at: i64,
    /// The filter; empty for all draws.
    pub filter: &'a str,
    /// Whether people are replaced by codes.
    pub is_anonymous: bool,
    /// Draws in the programme.
    pub draws_in_all: u64,
    /// Links of the trail.
    pub links: u64,
    /// The hash of the last one.
    pub head: &'a str,
}

/// The report.
#[must_use]
pub fn report(material: &Material<'_>) -> Document {
    let mut sections = vec![summary::summary(material), summary::trend(material)];
    sections.extend(decided::sections(material));
    sections.extend(causes::sections(material));
    sections.extend(topics::sections(material));
    sections.extend(method::sections(material));
    sections.retain(|section: &Section| !section.blocks.is_empty());
    let title = "How the oil samples were drawn";
    let programme = match material.programme {
        "" => "a sampling programme",
        name => name,
    };
    Document {
        title: title.to_owned(),
        subtitle: format!("Report on the draws of {programme}"),
        facts: facts(material),
        made_at: material.made_at,
        foot: format!("{title} · {programme} · {}", utc_text(material.made_at)),
        sections,
    }
}

fn facts(material: &Material<'_>) -> Vec<(&'static str, String)> {
    let Material {
        assessed, analysed, ..
    } = material;
    let book = &assessed.rulebook;
    let mut facts = Vec::new();
    if let Some((first, last)) = analysed.between {
        let (first, last) = (day(first, assessed.zone), day(last, assessed.zone));
        facts.push((
            "Period",
            format!("{first} to {last}, days in {}", assessed.zone),
        ));
    }
    let draws = count(analysed.tally.draws);
    let of_all = match material.filter {
        "" => format!("{draws}, all of the programme"),
        _ => format!(
            "{draws} of {} in the programme",
            count(material.draws_in_all)
        ),
    };
    facts.push(("Draws", of_all));
    if !material.filter.is_empty() {
        facts.push(("Narrowed to", material.filter.to_owned()));
    }
    facts.push((
        "Rulebook",
        format!("{}, revision {}", book.name, book.revision),
    ));
    facts.push(("Made", utc_text(material.made_at)));
    if !material.made_by.is_empty() {
        facts.push(("Made by", material.made_by.to_owned()));
    }
    if material.is_anonymous {
        facts.push((
            "People",
            "technicians and crews are replaced by codes".to_owned(),
        ));
    }
    facts
}
