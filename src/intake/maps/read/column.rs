//! What one of our columns is made of: theirs, put together, cut or set, and what else is said of it.

use super::manner::MANNER;
use super::sheet::NAMING;
use crate::intake::SheetKind;
use crate::intake::columns::{Column, Reading};
use crate::intake::maps::recipe::{Manner, Otherwise, Piece, Recipe, Source, Theirs};
use crate::written::{Entry, Node, Reader, Value, find};

impl Reader<'_> {
    pub(super) fn columns(&mut self, node: &Node, kind: SheetKind, usual: &Manner) -> Vec<Recipe> {
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
        let direct = (entries.iter()).any(|(key, _, _)| NAMING.contains(key));
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
}
