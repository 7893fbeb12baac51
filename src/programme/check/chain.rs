//! Whether the chain of the trail holds, link by link.

use super::{Error, Programme};
use crate::model::trail::{Link, NO_LINK};
use crate::store::trail;

/// Names the first link that does not fit, and links that are missing at the end.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    let connection = programme.store.connection();
    let links = programme.sql(trail::all(connection))?;
    wrong.extend(first_break(&links));
    let last = links.last().map_or(0, |link| link.number);
    let highest = programme.sql(trail::highest_number(connection))?;
    wrong.extend(end(last, highest));
    Ok(())
}

/// The first link that does not fit, in words.
fn first_break(links: &[Link]) -> Option<String> {
    let (mut number, mut before) = (0, NO_LINK);
    for link in links {
        number += 1;
        let why = if link.number > number {
            return Some(match link.number - number {
                1 => format!("link {number} of the trail is missing"),
                _ => format!(
                    "links {number} to {} of the trail are missing",
                    link.number - 1
                ),
            });
        } else if link.number < number {
            "its number is none that a link can have"
        } else if link.previous != before {
            "it does not name the hash of the link before"
        } else if link.hash != link.reckoned_hash() {
            "its hash is not that of what it says"
        } else {
            before = &link.hash;
            continue;
        };
        return Some(format!(
            "the trail breaks at link {} ({}, by {}, {}): {why}",
            link.number,
            link.kind,
            link.who,
            crate::model::time::utc_text(link.at)
        ));
    }
    None
}

/// Whether the last link is the last that was ever added.
fn end(last: i64, highest: i64) -> Option<String> {
    if highest > last {
        return Some(match highest - last {
            1 => format!("link {highest}, the last of the trail, is missing"),
            _ => format!(
                "links {} to {highest}, the last of the trail, are missing",
                last + 1
            ),
        });
    }
    (highest < last).then(|| {
        format!(
            "the file counts {highest} links of the trail, {last} are there: it was written to by \
             other hands"
        )
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::model::decisions::RulebookAdopted;
    use crate::model::trail::Who;

    fn links(count: usize) -> Vec<Link> {
        let who = Who::named("Ada").unwrap();
        let mut links: Vec<Link> = Vec::new();
        for number in 0..count {
            let decision = RulebookAdopted {
                fingerprint: number.to_string(),
                name: "ours".into(),
                revision: "1".into(),
                text_sha256: String::new(),
            };
            let link = Link::after(links.last(), 0, &who, &decision).unwrap();
            links.push(link);
        }
        links
    }

    fn broken(change: impl FnOnce(&mut Vec<Link>)) -> String {
        let mut links = links(5);
        change(&mut links);
        first_break(&links).unwrap_or_default()
    }

    #[test]
    fn the_first_broken_link_is_named() {
        assert_eq!(broken(|_| ()), "");
        let place = |number: i64| {
            format!(
                "the trail breaks at link {number} (rulebook adopted, by Ada, 1970-01-01T00:00:00Z): "
            )
        };
        let changed = broken(|links| links[2].what = "{}".into());
        assert_eq!(changed, place(3) + "its hash is not that of what it says");
        let rehashed = broken(|links| {
            links[2].who = "Bo".into();
            links[2].hash = links[2].reckoned_hash();
        });
        assert_eq!(
            rehashed,
            place(4) + "it does not name the hash of the link before"
        );
        assert_eq!(
            broken(|links| drop(links.remove(1))),
            "link 2 of the trail is missing"
        );
        assert_eq!(
            broken(|links| drop(links.drain(..2))),
            "links 1 to 2 of the trail are missing"
        );
        let below = broken(|links| links[0].number = 0);
        assert!(below.ends_with("none that a link can have"), "{below}");
    }

    #[test]
    fn the_end_is_where_the_file_counts_it() {
        assert_eq!(end(5, 5), None);
        assert_eq!(
            end(4, 5).unwrap(),
            "link 5, the last of the trail, is missing"
        );
        assert_eq!(
            end(0, 5).unwrap(),
            "links 1 to 5, the last of the trail, are missing"
        );
        assert!(end(5, 0).unwrap().contains("by other hands"));
    }
}
