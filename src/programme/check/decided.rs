//! Whether the decisions make sense, and whether the rulebooks are those adopted.

use rustc_hash::FxHashSet;

use super::{Error, Programme};
use crate::analysis::{findings, picks};
use crate::model::decisions::{self, ResultSetAside, RulebookAdopted, SetAsideTakenBack};
use crate::model::trail::{Link, sha256};
use crate::store::rulebooks;

/// Results set aside that were aside already, and such taken up that were not, in words.
fn set_asides(links: &[Link]) -> Vec<String> {
    let (mut aside, mut wrong) = (FxHashSet::default(), Vec::new());
    for link in links {
        if let Some(set) = link.decision::<ResultSetAside>() {
            if !aside.insert(set.draw.clone()) {
                wrong.push(format!(
                    "link {} sets the result of draw {} aside, which is aside already",
                    link.number, set.draw
                ));
            }
        } else if let Some(back) = link.decision::<SetAsideTakenBack>()
            && !aside.remove(&back.draw)
        {
            wrong.push(format!(
                "link {} takes the result of draw {} up again, which was never set aside",
                link.number, back.draw
            ));
        }
    }
    wrong
}

/// Names decisions that can't be read or don't follow from those before, and rulebooks that
/// differ from what was adopted.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    let links = programme.trail()?;
    for link in &links {
        if !decisions::is_known(&link.kind) {
            wrong.push(format!(
                "link {} of the trail is of a kind that is not known: {}",
                link.number, link.kind
            ));
        } else if decisions::says(link).is_none() {
            wrong.push(format!(
                "what link {} of the trail ({}) says can't be read",
                link.number, link.kind
            ));
        }
    }
    wrong.extend(findings::fold(&links).1);
    wrong.extend(picks::fold(&links).1);
    wrong.extend(set_asides(&links));
    let adopted: Vec<_> = links
        .iter()
        .filter_map(|link| Some((link, link.decision::<RulebookAdopted>()?)))
        .collect();
    let kept = programme.sql(rulebooks::all(programme.store.connection()))?;
    if kept.len() < adopted.len() {
        wrong.push(format!(
            "{} rulebooks were adopted, {} are kept",
            adopted.len(),
            kept.len()
        ));
        return Ok(());
    }
    // Rulebooks from before there was a trail have no link.
    for (book, (link, decision)) in kept[kept.len() - adopted.len()..].iter().zip(adopted) {
        let is_same = book.fingerprint == decision.fingerprint
            && book.name == decision.name
            && book.revision == decision.revision
            && book.adopted_at <= link.at
            && sha256(book.text.as_bytes()) == decision.text_sha256;
        if !is_same {
            wrong.push(format!(
                "the rulebook {}, revision {}, is not the one that link {} of the trail adopted \
                 ({}, revision {}, by {})",
                book.name, book.revision, link.number, decision.name, decision.revision, link.who
            ));
        }
    }
    Ok(())
}
