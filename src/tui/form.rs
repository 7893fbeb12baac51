//! A form: a few fields one after another, each a line of text or a choice of words, with what
//! is wrong said below the field. Nothing written is lost without a word: Esc asks once.

use super::action::Command;
use super::line_edit::LineEdit;

/// What a field holds.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    /// A line of text.
    Text(LineEdit),
    /// One of these words.
    Choice(Vec<&'static str>, usize),
}

/// A field.
#[derive(Clone, Debug)]
pub(crate) struct Field {
    /// Its name, also by which it is read.
    pub(crate) label: &'static str,
    /// What belongs into it, said while the keys act on it.
    pub(crate) hint: String,
    pub(crate) value: Value,
    /// What is wrong with it.
    pub(crate) said: Option<String>,
    /// What stood in it at first.
    began: String,
}

impl Field {
    /// A line of text that begins as this.
    pub(crate) fn text(label: &'static str, begins: &str, hint: &str) -> Self {
        Field {
            label,
            hint: hint.to_owned(),
            value: Value::Text(LineEdit::new(begins)),
            said: None,
            began: begins.to_owned(),
        }
    }

    /// A choice that begins with the word at this place.
    pub(crate) fn choice(
        label: &'static str,
        words: &[&'static str],
        at: usize,
        hint: &str,
    ) -> Self {
        Field {
            label,
            hint: hint.to_owned(),
            value: Value::Choice(words.to_vec(), at),
            said: None,
            began: words[at].to_owned(),
        }
    }

    /// What stands in it.
    pub(crate) fn held(&self) -> &str {
        match &self.value {
            Value::Text(line) => line.text(),
            Value::Choice(words, at) => words[*at],
        }
    }

    fn turn(&mut self, by: usize) {
        if let Value::Choice(words, at) = &mut self.value {
            *at = (*at + by) % words.len();
        }
    }
}

/// A form.
#[derive(Clone, Debug)]
pub(crate) struct Form<Purpose> {
    /// What is done with it once it is sent.
    pub(crate) purpose: Purpose,
    pub(crate) title: String,
    /// What it is about, in a sentence or two.
    pub(crate) about: String,
    pub(crate) fields: Vec<Field>,
    /// The field that the keys act on.
    pub(crate) at: usize,
    /// Why it could not be done, in words.
    pub(crate) said: Option<String>,
    /// It was sent, and the answer is under way.
    pub(crate) sent: bool,
    /// Esc was pressed once with something written.
    pub(crate) leaving: bool,
}

/// What a key in a form leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Then {
    /// It stays.
    Stay,
    /// It is to be sent.
    Send,
    /// It is left.
    Leave,
    /// What is under way is to stop.
    Stop,
}

impl<Purpose> Form<Purpose> {
    pub(crate) fn new(purpose: Purpose, title: &str, about: &str, fields: Vec<Field>) -> Self {
        Form {
            purpose,
            title: title.to_owned(),
            about: about.to_owned(),
            fields,
            at: 0,
            said: None,
            sent: false,
            leaving: false,
        }
    }

    /// What stands in the field of this name, without blanks around it.
    pub(crate) fn read(&self, label: &str) -> &str {
        let field = self.fields.iter().find(|field| field.label == label);
        field.map_or("", |field| field.held().trim())
    }

    /// Says what is wrong with a field; the keys then act on the first one that is wrong.
    pub(crate) fn complain(&mut self, label: &str, words: &str) {
        let place = self.fields.iter().position(|field| field.label == label);
        let Some(place) = place else { return };
        let is_first = self.fields.iter().all(|field| field.said.is_none());
        self.fields[place].said = Some(words.to_owned());
        if is_first {
            self.at = place;
        }
    }

    /// Whether something is wrong with a field.
    pub(crate) fn is_wrong(&self) -> bool {
        self.fields.iter().any(|field| field.said.is_some())
    }

    fn is_changed(&self) -> bool {
        self.fields.iter().any(|field| field.held() != field.began)
    }

    /// Takes typed or pasted text in. In a choice a blank goes on to the next word, a letter
    /// to the next word that begins with it.
    pub(crate) fn insert(&mut self, text: &str) {
        self.touched();
        let field = &mut self.fields[self.at];
        field.said = None;
        match &mut field.value {
            Value::Text(line) => line.insert(text),
            Value::Choice(words, at) => {
                let begins = |place: &usize| words[*place].starts_with(text);
                let mut others = (1..=words.len()).map(|by| (*at + by) % words.len());
                match text {
                    " " => field.turn(1),
                    _ => *at = others.find(begins).unwrap_or(*at),
                }
            }
        }
    }

    fn touched(&mut self) {
        self.leaving = false;
        self.said = None;
    }

    /// Does what a key asked for.
    pub(crate) fn obey(&mut self, command: Command) -> Then {
        let last = self.fields.len() - 1;
        match command {
            Command::Back if self.sent => return Then::Stop,
            Command::Back if self.leaving || !self.is_changed() => return Then::Leave,
            Command::Back => self.leaving = true,
            Command::Send if self.at < last => self.to(self.at + 1),
            Command::Send | Command::SendNow => {
                self.touched();
                if !self.sent {
                    return Then::Send;
                }
            }
            Command::FieldNext => self.to((self.at + 1) % (last + 1)),
            Command::FieldBack => self.to((self.at + last) % (last + 1)),
            other => {
                self.touched();
                let field = &mut self.fields[self.at];
                match (&mut field.value, other) {
                    (Value::Text(line), other) => line.obey(other),
                    (Value::Choice(..), Command::CharRight) => field.turn(1),
                    (Value::Choice(words, _), Command::CharLeft) => {
                        let back = words.len() - 1;
                        field.turn(back);
                    }
                    _ => {}
                }
                field.said = None;
            }
        }
        Then::Stay
    }

    fn to(&mut self, field: usize) {
        self.leaving = false;
        self.at = field;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form() -> Form<()> {
        let fields = vec![
            Field::text("text", "", "what was found"),
            Field::choice("grade", &["low", "high", "highest"], 0, ""),
        ];
        Form::new((), "title", "about", fields)
    }

    #[test]
    fn enter_goes_on_and_sends_from_the_last_field() {
        let mut form = form();
        form.insert("words");
        assert_eq!(form.obey(Command::Send), Then::Stay);
        form.insert("h");
        assert_eq!((form.read("text"), form.read("grade")), ("words", "high"));
        form.insert("h");
        assert_eq!(form.read("grade"), "highest");
        form.insert(" ");
        form.obey(Command::CharLeft);
        assert_eq!(form.read("grade"), "highest");
        form.insert("z");
        assert_eq!(form.read("grade"), "highest");
        assert_eq!(form.obey(Command::Send), Then::Send);
        form.sent = true;
        assert_eq!(form.obey(Command::Send), Then::Stay);
        assert_eq!(form.obey(Command::Back), Then::Stop, "it is under way");
    }

    #[test]
    fn what_is_written_is_not_lost_without_a_word() {
        let mut form = form();
        assert_eq!(form.obey(Command::Back), Then::Leave, "nothing is written");
        form.insert("w");
        assert_eq!(form.obey(Command::Back), Then::Stay);
        assert!(form.leaving);
        form.insert("o");
        assert!(!form.leaving, "another key stays");
        form.obey(Command::Back);
        assert_eq!(form.obey(Command::Back), Then::Leave);
    }

    #[test]
    fn the_first_wrong_field_takes_the_keys() {
        let mut form = form();
        form.complain("grade", "too low");
        form.complain("text", "blank");
        assert_eq!(form.at, 1);
        assert!(form.is_wrong());
        form.obey(Command::CharRight);
        form.obey(Command::FieldBack);
        form.insert("x");
        assert!(!form.is_wrong());
    }
}
