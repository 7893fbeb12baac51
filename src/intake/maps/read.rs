//! From the written form of a column map to the checked one: every mistake is collected, with
//! its place.

use super::WHAT;
use super::dates::DateForm;
use super::number::NumberForm;
use super::recipe::{
    Manner, Otherwise, Piece, Recipe, SheetMap, Skip, Source, Theirs, When, Zones, folded,
    place_of_letter,
};
use super::unit::{self, Said, Unit};
use crate::intake::SheetKind;
use crate::intake::columns::{Column, Reading};
use crate::model::time;
use crate::written::{Entry, Node, Place, Problem, Reader, Value, find, quoted, suggestion};

/// The version of the format.
const VERSION: f64 = 1.0;

/// What stands where a question was not yet answered.
pub const ASK: &str = "ask";

/// Most entries of one list in a map.
const MOST: usize = 1000;

/// The keys that say how cells are read, for a whole sheet or for one column.
const MANNER: [&str; 7] = [
    "decimal",
    "thousands",
    "dates",
    "pivot",
    "yes",
    "no",
    "blank",
];

/// Name, revision and sheets of a map. The problems go to `problems`.
pub fn check(
    root: &Node,
    file: &str,
    problems: &mut Vec<Problem>,
) -> Option<(String, String, Vec<SheetMap>)> {
    Reader::new(file, WHAT, problems).column_map(root)
}

impl Reader<'_> {
    fn column_map(&mut self, root: &Node) -> Option<(String, String, Vec<SheetMap>)> {
        const KEYS: [&str; 4] = ["fairdraw_columns", "name", "revision", "sheets"];
        if matches!(root.value, Value::Null) {
            let message = "the file is empty; a column map begins with fairdraw_columns: 1";
            self.problem(Place::START, message);
            return None;
        }
        let entries = self.map(root, "a column map", &KEYS)?;
        match find(&entries, KEYS[0]) {
            None => self.problem(
                root.at,
                "fairdraw_columns is missing; begin the file with fairdraw_columns: 1",
            ),
            Some(node) if !matches!(node.value, Value::Number(number, _) if number == VERSION) => {
                let message = format!(
                    "fairdraw_columns is the version of the format and must be {VERSION}, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
            }
            Some(_) => {}
        }
        let name = self.required_text(root.at, &entries, "name");
        let revision = self.required_text(root.at, &entries, "revision");
        let Some(sheets) = find(&entries, "sheets") else {
            let message = "sheets is missing; list the kinds of sheets, each with its columns";
            self.problem(root.at, message);
            return None;
        };
        let sheets = self.items(sheets, "sheets");
        let sheets = sheets.into_iter().filter_map(|node| self.sheet(node));
        Some((name, revision, sheets.collect()))
    }

    /// The items of a list, or the value itself for a list of one.
    fn items<'n>(&mut self, node: &'n Node, name: &str) -> Vec<&'n Node> {
        match &node.value {
            Value::List(items) if items.is_empty() => {
                self.problem(node.at, &format!("{name} must list at least one entry"));
                Vec::new()
            }
            Value::List(items) if items.len() > MOST => {
                self.problem(node.at, &format!("more than {MOST} entries in {name}"));
                Vec::new()
            }
            Value::List(items) => items.iter().collect(),
            Value::Null => {
                self.problem(node.at, &format!("{name} is left empty"));
                Vec::new()
            }
            _ => vec![node],
        }
    }

    fn sheet(&mut self, node: &Node) -> Option<SheetMap> {
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

    /// Whether the value waits for an answer; that is a problem.
    fn is_asked(&mut self, node: &Node, name: &str, how: &str) -> bool {
        let asked = node.as_text().is_some_and(|text| text.trim() == ASK);
        if asked {
            let message = format!("{name} is a question that waits for your answer: {how}");
            self.problem(node.at, &message);
        }
        asked
    }

    /// A text that is not blank.
    fn text(&mut self, node: &Node, name: &str) -> Option<String> {
        match node.as_text() {
            Some(text) if !text.trim().is_empty() => Some(text.to_owned()),
            _ => {
                let message = format!("{name} must be a text, not {}", node.described());
                self.problem(node.at, &message);
                None
            }
        }
    }

    fn texts(&mut self, node: &Node, name: &str) -> Vec<String> {
        let items = self.items(node, name);
        (items.into_iter())
            .filter_map(|item| self.text(item, name))
            .map(|text| text.trim().to_owned())
            .collect()
    }

    fn count(&mut self, node: &Node, name: &str, high: u32) -> Option<u32> {
        let count = self.whole(node, name, high)?;
        if count == 0 {
            self.problem(node.at, &format!("{name} counts from 1"));
            return None;
        }
        Some(count)
    }

    /// One of these words.
    fn one_word<T>(
        &mut self,
        node: &Node,
        name: &str,
        known: &[&str],
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<T> {
        let text = node.as_text().map(str::trim).unwrap_or_default();
        let word = read(text);
        if word.is_none() {
            let hint = match suggestion(text, known.iter().copied()) {
                hint if hint.is_empty() => String::new(),
                hint => hint,
            };
            let message = format!(
                "{name} must be one of {}, not {}{hint}",
                known.join(", "),
                node.described()
            );
            self.problem(node.at, &message);
        }
        word
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

    /// A map of texts to values, each key once in any case.
    fn pairs<'n>(&mut self, node: &'n Node, name: &str) -> Vec<(String, &'n Node)> {
        let Value::Map(entries) = &node.value else {
            let message = format!("{name} must be a map, not {}", node.described());
            self.problem(node.at, &message);
            return Vec::new();
        };
        if entries.len() > MOST {
            self.problem(node.at, &format!("more than {MOST} entries in {name}"));
            return Vec::new();
        }
        let mut pairs: Vec<(String, &Node)> = Vec::new();
        for (key, value) in entries {
            let Some(text) = self.text(key, &format!("a key of {name}")) else {
                continue;
            };
            let text = text.trim().to_owned();
            if pairs
                .iter()
                .any(|(other, _)| folded(other) == folded(&text))
            {
                let message = format!("{} stands twice in {name}", quoted(&text));
                self.problem(key.at, &message);
            } else {
                pairs.push((text, value));
            }
        }
        pairs
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
        let entries = self.map(node, "a column", &["name", "letter", "number"])?;
        self.theirs_of(node, &entries)
    }

    fn theirs_of(&mut self, node: &Node, entries: &[Entry<'_>]) -> Option<Theirs> {
        let keys = ["name", "letter", "number"];
        let given: Vec<&Entry<'_>> = (entries.iter())
            .filter(|(name, _, _)| keys.contains(name))
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

    /// How cells are read, where nothing is said as in `usual`.
    fn manner(&mut self, entries: &[Entry<'_>], usual: &Manner) -> Manner {
        let mut manner = usual.clone();
        for (name, _, value) in entries {
            match *name {
                "decimal" => self.decimal(value, &mut manner.numbers),
                "thousands" => self.thousands(value, &mut manner.numbers),
                "pivot" => manner.pivot = self.pivot(value).unwrap_or(manner.pivot),
                "yes" | "no" => {
                    let how = format!("list the texts that mean {name}, as in [{name}, x]");
                    if !self.is_asked(value, name, &how) {
                        let texts = self.texts(value, name);
                        if *name == "yes" {
                            manner.yes = texts;
                        } else {
                            manner.no = texts;
                        }
                    }
                }
                "blank" => manner.blank = self.texts(value, name),
                _ => {}
            }
        }
        if let Some(dates) = find(entries, "dates") {
            manner.dates = self.dates(dates, manner.pivot);
        }
        // What the sheet says is told there, not again for every column.
        let numbers = manner.numbers;
        let marks = find(entries, "thousands").or(find(entries, "decimal"));
        if let Some(node) = marks
            && numbers.thousands == Some(numbers.decimal)
        {
            let message = "the same mark can't stand for the decimal and between thousands";
            self.problem(node.at, message);
        }
        let both = (manner.yes.iter())
            .find(|text| manner.no.iter().any(|other| folded(other) == folded(text)));
        if let (Some(text), Some(node)) = (both, find(entries, "no").or(find(entries, "yes"))) {
            let message = format!("{} can't mean both yes and no", quoted(text));
            self.problem(node.at, &message);
        }
        manner
    }

    fn decimal(&mut self, node: &Node, numbers: &mut NumberForm) {
        if self.is_asked(node, "decimal", "write point or comma") {
            return;
        }
        let mark = |text: &str| match text {
            "." | "point" => Some('.'),
            "," | "comma" => Some(','),
            _ => None,
        };
        if let Some(mark) = self.one_word(node, "decimal", &["point", "comma"], mark) {
            numbers.decimal = mark;
            if numbers.thousands == Some(mark) {
                numbers.thousands = None;
            }
        }
    }

    fn thousands(&mut self, node: &Node, numbers: &mut NumberForm) {
        const WORDS: [&str; 5] = ["none", "point", "comma", "blank", "apostrophe"];
        let mark = |text: &str| match text {
            "none" => Some(None),
            "." | "point" => Some(Some('.')),
            "," | "comma" => Some(Some(',')),
            "blank" => Some(Some(' ')),
            "'" | "apostrophe" => Some(Some('\'')),
            _ => None,
        };
        if let Some(mark) = self.one_word(node, "thousands", &WORDS, mark) {
            numbers.thousands = mark;
        }
    }

    fn pivot(&mut self, node: &Node) -> Option<u32> {
        let how = "two-digit years from it on are 19.., those before it 20..; write 0 to 100";
        if self.is_asked(node, "pivot", how) {
            return None;
        }
        self.whole(node, "pivot", 100)
    }

    fn dates(&mut self, node: &Node, pivot: u32) -> Vec<DateForm> {
        let how = "write the form, as in [DD/MM/YYYY] with the day first or [MM/DD/YYYY] with the month first";
        if self.is_asked(node, "dates", how) {
            return Vec::new();
        }
        let mut forms: Vec<DateForm> = Vec::new();
        for item in self.items(node, "dates") {
            let Some(text) = self.text(item, "dates") else {
                continue;
            };
            match DateForm::parse(&text) {
                Err(reason) => {
                    let message = format!("{} is no form of a date: {reason}", quoted(&text));
                    self.problem(item.at, &message);
                }
                Ok(form) => {
                    if form.has_short_year() && pivot == NO_YEAR_SAID {
                        let message = "YY needs pivot: two-digit years from it on are 19.., those before it 20..";
                        self.problem(item.at, message);
                    }
                    if let Some(other) = forms.iter().find(|other| other.conflicts(&form)) {
                        let message = format!(
                            "{} and {} would read one text as two different days; keep one of them, or give each column its own",
                            other.written, form.written
                        );
                        self.problem(item.at, &message);
                    }
                    forms.push(form);
                }
            }
        }
        forms
    }

    fn columns(&mut self, node: &Node, kind: SheetKind, usual: &Manner) -> Vec<Recipe> {
        let names: Vec<&str> = kind.columns().iter().map(|column| column.name).collect();
        let Some(entries) = self.map(node, &format!("columns of {}", kind.as_str()), &names) else {
            return Vec::new();
        };
        (entries.iter())
            .filter_map(|(name, _, value)| {
                let place = names.iter().position(|known| known == name)?;
                self.recipe(value, place, &kind.columns()[place], usual)
            })
            .collect()
    }

    fn recipe(
        &mut self,
        node: &Node,
        place: usize,
        column: &Column,
        usual: &Manner,
    ) -> Option<Recipe> {
        let theirs = Theirs::Name(String::new());
        let mut recipe = Recipe::plain(place, theirs, usual);
        if !matches!(node.value, Value::Map(_)) {
            recipe.from = self.pieces(node, column);
            return (!recipe.from.is_empty()).then_some(recipe);
        }
        let mut keys = vec![
            "from",
            "always",
            "name",
            "letter",
            "number",
            "join",
            "split",
            "part",
            "unit",
            "unit_in_cell",
            "words",
            "otherwise",
            "if_blank",
        ];
        keys.extend(MANNER);
        let entries = self.map(node, column.name, &keys)?;
        recipe.manner = self.manner(&entries, usual);
        recipe.from = self.source(node, &entries, column)?;
        for (name, _, value) in &entries {
            self.detail(name, value, column, &mut recipe);
        }
        if recipe.part.is_some() && recipe.split.is_none() {
            self.problem(node.at, "part needs split: the text between the parts");
        }
        if recipe.split.is_some()
            && recipe.part.is_none()
            && !matches!(column.reading, Reading::Words(_))
        {
            let message = format!(
                "split needs part: which of the parts is {}, from 1",
                column.name
            );
            self.problem(node.at, &message);
        }
        Some(recipe)
    }

    /// Where a column comes from: `from`, `always`, or one of theirs named at once.
    fn source(
        &mut self,
        node: &Node,
        entries: &[Entry<'_>],
        column: &Column,
    ) -> Option<Vec<Piece>> {
        let (from, always) = (find(entries, "from"), find(entries, "always"));
        let direct = (entries.iter()).any(|(key, _, _)| ["name", "letter", "number"].contains(key));
        match (from, always, direct) {
            (Some(from), None, false) => Some(self.pieces(from, column)),
            (None, Some(always), false) => {
                let text = self.text(always, "always")?;
                self.check_ours(always, &text, column);
                Some(vec![Piece::of(Source::Always(text))])
            }
            (None, None, true) => {
                let theirs = self.theirs_of(node, entries)?;
                Some(vec![Piece::of(Source::Column(theirs))])
            }
            _ => {
                let message = format!(
                    "{} needs one of from (their column), letter, number and always (a fixed text)",
                    column.name
                );
                self.problem(node.at, &message);
                None
            }
        }
    }

    /// One key of a recipe that is not about where it comes from.
    fn detail(&mut self, name: &str, value: &Node, column: &Column, recipe: &mut Recipe) {
        match name {
            "join" => {
                // A join may be empty or a blank.
                match value.as_text() {
                    Some(text) => recipe.join = text.to_owned(),
                    None => self.problem(value.at, "join must be a text"),
                }
            }
            "split" => match value.as_text() {
                Some(text) if !text.is_empty() => recipe.split = Some(text.to_owned()),
                _ => self.problem(value.at, "split must be the text between the parts"),
            },
            "part" => recipe.part = self.count(value, name, 20).map(|part| part as usize),
            "unit" => recipe.unit = self.unit(value, column),
            "unit_in_cell" => {
                recipe.unit_in_cell = self.truth(value, name).unwrap_or_default();
                if column.unit.is_empty() {
                    let message = format!("{} has no unit", column.name);
                    self.problem(value.at, &message);
                }
            }
            "words" => recipe.words = self.words_of(value, column),
            "otherwise" => {
                let read = |text: &str| match text {
                    "keep" => Some(Otherwise::Keep),
                    "refuse" => Some(Otherwise::Refuse),
                    "blank" => Some(Otherwise::Blank),
                    _ => None,
                };
                let known = ["keep", "refuse", "blank"];
                recipe.otherwise = (self.one_word(value, name, &known, read)).unwrap_or_default();
            }
            "if_blank" => {
                recipe.if_blank = self.text(value, name);
                if let Some(text) = &recipe.if_blank {
                    self.check_ours(value, text, column);
                }
            }
            _ => {}
        }
    }

    /// What a column is made of: one of their columns, or several pieces.
    fn pieces(&mut self, node: &Node, column: &Column) -> Vec<Piece> {
        if self.is_asked(node, "from", "name their column, or leave the line out") {
            return Vec::new();
        }
        let items = self.items(node, "from");
        (items.into_iter())
            .filter_map(|item| self.piece(item, column))
            .collect()
    }

    fn piece(&mut self, node: &Node, column: &Column) -> Option<Piece> {
        let Value::Map(_) = node.value else {
            let name = self.text(node, "from")?;
            return Some(Piece::of(Source::Column(Theirs::Name(name))));
        };
        let keys = ["name", "letter", "number", "always", "words", "if_blank"];
        let entries = self.map(node, "from", &keys)?;
        let source = match find(&entries, "always") {
            Some(always)
                if self.is_asked(always, "always", "write the text that is to stand there") =>
            {
                return None;
            }
            Some(always) => Source::Always(self.text(always, "always")?),
            None => Source::Column(self.theirs_of(node, &entries)?),
        };
        let words = match find(&entries, "words") {
            Some(words) => self.words_of(words, column),
            None => Vec::new(),
        };
        let if_blank = find(&entries, "if_blank").and_then(|node| self.text(node, "if_blank"));
        Some(Piece {
            source,
            words,
            if_blank,
        })
    }

    /// The unit of a column's numbers.
    fn unit(&mut self, node: &Node, column: &Column) -> Option<&'static Unit> {
        let Said::Unit(ours) = unit::said(column.unit) else {
            let message = format!("{} has no unit", column.name);
            self.problem(node.at, &message);
            return None;
        };
        let same: Vec<&str> = (unit::UNITS.iter())
            .filter(|unit| unit.quantity == ours.quantity)
            .map(|unit| unit.name)
            .collect();
        let same = same.join(", ");
        if self.is_asked(node, "unit", &format!("write one of {same}")) {
            return None;
        }
        let text = node.as_text().unwrap_or_default();
        let message = match unit::said(text) {
            Said::Unit(unit) if unit.quantity == ours.quantity => return Some(unit),
            Said::Unit(unit) => format!(
                "{} is no unit for {}, which is in {}; known are {same}",
                unit.name, column.name, column.unit
            ),
            Said::Either(us, imperial) => {
                format!(
                    "{} means two things; write {} or {}",
                    quoted(text),
                    us.name,
                    imperial.name
                )
            }
            Said::Unknown => format!("unknown unit {}; known are {same}", quoted(text)),
        };
        self.problem(node.at, &message);
        None
    }

    /// Their words and ours. Ours must be words of the column.
    fn words_of(&mut self, node: &Node, column: &Column) -> Vec<(String, String)> {
        let pairs = self.pairs(node, "words");
        let mut words = Vec::new();
        for (theirs, node) in pairs {
            let how = match listed(column) {
                Some(known) => format!("write one of {}, or blank", known.join(", ")),
                None => "write ours".to_owned(),
            };
            if self.is_asked(
                node,
                &format!("{} of {}", quoted(&theirs), column.name),
                &how,
            ) {
                continue;
            }
            if let Some(ours) = self.text(node, "words") {
                if ours != BLANK {
                    self.check_ours(node, &ours, column);
                }
                words.push((theirs, if ours == BLANK { String::new() } else { ours }));
            }
        }
        words
    }

    /// Whether a text of ours that the map puts in is one that the column takes.
    fn check_ours(&mut self, node: &Node, text: &str, column: &Column) {
        let Some(known) = listed(column) else {
            return;
        };
        let parts: Vec<&str> = match column.reading {
            Reading::Words(_) => text.split(';').map(str::trim).collect(),
            _ => vec![text.trim()],
        };
        for part in parts {
            if !known.iter().any(|word| word.eq_ignore_ascii_case(part)) {
                let hint = match suggestion(part, known.iter().copied()) {
                    hint if hint.is_empty() => format!("; known are {}", known.join(", ")),
                    hint => hint,
                };
                let message = format!("unknown word {} for {}{hint}", quoted(part), column.name);
                self.problem(node.at, &message);
            }
        }
    }
}

/// What a word of theirs is mapped to where it means nothing was recorded.
const BLANK: &str = "blank";

/// A pivot that no map can write: none was said.
const NO_YEAR_SAID: u32 = u32::MAX;

impl Manner {
    fn default_of_sheet() -> Self {
        Manner {
            pivot: NO_YEAR_SAID,
            ..Manner::default()
        }
    }
}

/// The words of a column that takes no others.
fn listed(column: &Column) -> Option<Vec<&'static str>> {
    match column.reading {
        Reading::Word(words) | Reading::Words(words) => Some(words()),
        Reading::YesNo => Some(vec!["yes", "no"]),
        Reading::Text | Reading::Number(_) | Reading::Time | Reading::Date => None,
    }
}
