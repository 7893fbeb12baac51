//! The entry of a sheet: its kind and zone, the rows passed over, and how their columns are named.

use super::manner::MANNER;
use crate::intake::SheetKind;
use crate::intake::maps::recipe::{Manner, SheetMap, Skip, Theirs, When, Zones, place_of_letter};
use crate::model::time;
use crate::written::{Entry, Node, Reader, Value, find, quoted};

/// The keys that say which of their columns is meant.
pub(super) const NAMING: [&str; 3] = ["name", "letter", "number"];

impl Reader<'_> {
    pub(super) fn sheet(&mut self, node: &Node) -> Option<SheetMap> {
        let mut keys = vec![
            "kind",
            "files",
            "sheet",
            "header_row",
            "only_named",
            "zone",
            "zones",
            "skip",
            "columns",
        ];
        keys.extend(MANNER);
        let entries = self.map(node, "a sheet", &keys)?;
        let Some(kind) = find(&entries, "kind") else {
            let message = "kind is missing; it is points, technicians, trainings or draws";
            self.problem(node.at, message);
            return None;
        };
        let kinds = SheetKind::ALL.map(SheetKind::as_str);
        let kind = self.one_word(kind, "kind", &kinds, SheetKind::parse)?;
        let usual = self.manner(&entries, &Manner::default_of_sheet());
        let mut map = SheetMap {
            kind,
            files: Vec::new(),
            sheet: None,
            header_row: None,
            only_named: false,
            zone: None,
            zones: None,
            skip: Vec::new(),
            usual,
            columns: Vec::new(),
        };
        for (name, _, value) in &entries {
            match *name {
                "files" => map.files = self.texts(value, name),
                "sheet" => map.sheet = self.text(value, name),
                "header_row" => map.header_row = self.count(value, name, 1_000_000),
                "only_named" => map.only_named = self.truth(value, name).unwrap_or_default(),
                "zone" => map.zone = self.zone(value),
                "zones" => map.zones = self.zones(value),
                "skip" => {
                    let items = self.items(value, name);
                    map.skip = (items.into_iter())
                        .filter_map(|item| self.skip(item))
                        .collect();
                }
                "columns" => map.columns = self.columns(value, kind, &map.usual),
                _ => {}
            }
        }
        Some(map)
    }

    fn zone(&mut self, node: &Node) -> Option<time::Tz> {
        let how = "give an IANA name such as Europe/Paris";
        if self.is_asked(node, "zone", how) {
            return None;
        }
        let text = node.as_text().unwrap_or_default().trim();
        let zone = time::zone(text);
        if zone.is_none() {
            let message = format!("there is no zone {}; {how}", quoted(text));
            self.problem(node.at, &message);
        }
        zone
    }

    fn zones(&mut self, node: &Node) -> Option<Zones> {
        let entries = self.map(node, "zones", &["column", "of"])?;
        let (Some(column), Some(of)) = (find(&entries, "column"), find(&entries, "of")) else {
            let message = "zones needs column (the one that names the site) and of (site: zone)";
            self.problem(node.at, message);
            return None;
        };
        let column = self.theirs(column)?;
        let of = self.pairs(of, "of");
        let of = of
            .into_iter()
            .filter_map(|(text, node)| Some((text, self.zone(node)?)));
        Some(Zones {
            column,
            of: of.collect(),
        })
    }

    fn skip(&mut self, node: &Node) -> Option<Skip> {
        let entries = self.map(node, "skip", &["column", "blank", "is", "begins", "holds"])?;
        let Some(column) = find(&entries, "column") else {
            self.problem(
                node.at,
                "skip needs column, and one of blank, is, begins, holds",
            );
            return None;
        };
        let column = self.theirs(column)?;
        let mut when = Vec::new();
        for (name, _, value) in &entries {
            match *name {
                "blank" => {
                    if self.truth(value, name)? {
                        when.push(When::Blank);
                    } else {
                        self.problem(value.at, "blank can only be true here");
                    }
                }
                "is" => when.push(When::Is(self.texts(value, name))),
                "begins" => when.push(When::Begins(self.texts(value, name))),
                "holds" => when.push(When::Holds(self.texts(value, name))),
                _ => {}
            }
        }
        if when.len() != 1 {
            let message = "skip needs exactly one of blank: true, is, begins, holds";
            self.problem(node.at, message);
            return None;
        }
        Some(Skip {
            column,
            when: when.remove(0),
        })
    }

    /// One of their columns: its header, or `{letter: C}`, or `{number: 3}`.
    fn theirs(&mut self, node: &Node) -> Option<Theirs> {
        let Value::Map(_) = node.value else {
            return Some(Theirs::Name(self.text(node, "a column")?));
        };
        let entries = self.map(node, "a column", &NAMING)?;
        self.theirs_of(node, &entries)
    }

    pub(super) fn theirs_of(&mut self, node: &Node, entries: &[Entry<'_>]) -> Option<Theirs> {
        let given: Vec<&Entry<'_>> = (entries.iter())
            .filter(|(name, _, _)| NAMING.contains(name))
            .collect();
        let [(name, _, value)] = given[..] else {
            let message = "name the column by one of name, letter (as in C) and number (from 1)";
            self.problem(node.at, message);
            return None;
        };
        match *name {
            "name" => Some(Theirs::Name(self.text(value, name)?)),
            "number" => Some(Theirs::Place(self.count(value, name, 16_384)? as usize - 1)),
            _ => {
                let place = value
                    .as_text()
                    .and_then(|text| place_of_letter(text.trim()));
                if place.is_none() {
                    let message = format!(
                        "letter must be a column's letter as in C or AB, not {}",
                        value.described()
                    );
                    self.problem(value.at, &message);
                }
                Some(Theirs::Place(place?))
            }
        }
    }
}
