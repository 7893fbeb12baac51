//! Over a slow line the terminal may tell its background long after it was asked, when its answer
//! comes in among the keys: `Esc ]` as a key held with Alt, and the rest as letters. This takes the
//! answer out of them, so that it is never taken for keys, and hands on everything else.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};

use super::Background;
use super::background::of_answer;

/// No answer is longer.
const LONGEST: usize = 40;

/// What is handed on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Passed {
    /// An event that is no part of an answer.
    Event(Event),
    /// The answer.
    Background(Background),
}

/// Waits for a late answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Late {
    state: State,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum State {
    /// Nothing is expected any more.
    Over,
    Waiting,
    /// An answer seems to have begun: its words so far, and the events they came in as.
    Within {
        words: String,
        held: Vec<Event>,
    },
}

impl Late {
    /// Everything was answered.
    pub(crate) const fn over() -> Self {
        Late { state: State::Over }
    }

    /// Nothing was answered yet.
    pub(crate) const fn waiting() -> Self {
        Late {
            state: State::Waiting,
        }
    }

    /// An answer was there as far as these words.
    pub(crate) fn within(words: &str) -> Self {
        Late {
            state: State::Within {
                words: words.to_owned(),
                held: Vec::new(),
            },
        }
    }

    /// What is to be handed on once this event has come in.
    pub(crate) fn pass(&mut self, event: Event) -> Vec<Passed> {
        let Event::Key(key) = event else {
            return vec![Passed::Event(event)];
        };
        match &mut self.state {
            State::Over => vec![Passed::Event(event)],
            State::Waiting if is_held(key, ']', KeyModifiers::ALT) => {
                self.state = State::Within {
                    words: String::new(),
                    held: vec![event],
                };
                Vec::new()
            }
            State::Waiting => vec![Passed::Event(event)],
            State::Within { words, held } => {
                held.push(event);
                if ends(key, held)
                    && let Some(colour) = of_answer(words.trim_end_matches('\\'))
                {
                    self.state = State::Over;
                    return vec![Passed::Background(Background::of(colour))];
                }
                match key.code {
                    KeyCode::Char(sign) if key.modifiers.is_empty() => words.push(sign),
                    KeyCode::Esc => {}
                    _ => return self.release(),
                }
                if may_become_an_answer(words) {
                    Vec::new()
                } else {
                    self.release()
                }
            }
        }
    }

    /// It was no answer: all of it is handed on.
    fn release(&mut self) -> Vec<Passed> {
        match std::mem::replace(&mut self.state, State::Waiting) {
            State::Within { held, .. } => held.into_iter().map(Passed::Event).collect(),
            State::Over | State::Waiting => Vec::new(),
        }
    }
}

fn is_held(key: KeyEvent, sign: char, held: KeyModifiers) -> bool {
    key.code == KeyCode::Char(sign) && key.modifiers == held
}

/// Whether the answer ends with this key: a bell comes in as Ctrl-G, `Esc \` as a stroke with
/// Alt, or, where the line parted them, as two keys.
fn ends(key: KeyEvent, held: &[Event]) -> bool {
    let after_escape =
        held.iter().rev().nth(1).is_some_and(
            |before| matches!(before, Event::Key(before) if before.code == KeyCode::Esc),
        );
    is_held(key, 'g', KeyModifiers::CONTROL)
        || is_held(key, '\\', KeyModifiers::ALT)
        || after_escape && key.code == KeyCode::Char('\\')
}

fn may_become_an_answer(words: &str) -> bool {
    const BEGINNING: &str = "11;rgb";
    let rest = match words.strip_prefix(BEGINNING) {
        Some(rest) => rest,
        None => return BEGINNING.starts_with(words),
    };
    let is_part = |sign: char| sign.is_ascii_hexdigit() || matches!(sign, ':' | '/');
    words.len() <= LONGEST && rest.chars().all(is_part)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn key(sign: char, held: KeyModifiers) -> Event {
        Event::Key(KeyEvent::new(KeyCode::Char(sign), held))
    }

    fn typed(words: &str) -> Vec<Event> {
        words
            .chars()
            .map(|sign| key(sign, KeyModifiers::NONE))
            .collect()
    }

    fn answer(words: &str, end: &[Event]) -> Vec<Event> {
        let mut events = vec![key(']', KeyModifiers::ALT)];
        events.extend(typed(words));
        events.extend_from_slice(end);
        events
    }

    fn passed(mut late: Late, events: Vec<Event>) -> Vec<Passed> {
        events
            .into_iter()
            .flat_map(|event| late.pass(event))
            .collect()
    }

    #[test]
    fn a_late_answer_is_taken_out_of_the_keys_however_it_ends() {
        let escape = Event::Key(KeyEvent::new(KeyCode::Esc, KeyModifiers::NONE));
        for end in [
            vec![key('g', KeyModifiers::CONTROL)],
            vec![key('\\', KeyModifiers::ALT)],
            vec![escape, key('\\', KeyModifiers::NONE)],
        ] {
            let mut events = typed("2j");
            events.extend(answer("11;rgb:fdfd/f6f6/e3e3", &end));
            events.extend(typed("k"));
            let mut expected: Vec<Passed> = typed("2j").into_iter().map(Passed::Event).collect();
            expected.push(Passed::Background(Background::Light));
            expected.extend(typed("k").into_iter().map(Passed::Event));
            assert_eq!(passed(Late::waiting(), events), expected);
        }
    }

    #[test]
    fn an_answer_of_which_the_beginning_was_read_is_known_by_its_rest() {
        let mut events = typed("e/1e1e/2e2e");
        events.push(key('\\', KeyModifiers::ALT));
        assert_eq!(
            passed(Late::within("11;rgb:1e1"), events),
            [Passed::Background(Background::Dark)]
        );
    }

    #[test]
    fn keys_that_only_look_like_an_answer_are_handed_on() {
        for words in ["1", "x", "11;rgb:00/00/00", "11;rgb:zz"] {
            let mut events = answer(words, &[]);
            events.push(Event::Key(KeyEvent::new(
                KeyCode::Enter,
                KeyModifiers::NONE,
            )));
            let expected: Vec<Passed> = events.iter().cloned().map(Passed::Event).collect();
            assert_eq!(passed(Late::waiting(), events), expected, "{words}");
        }
    }

    #[test]
    fn other_events_pass_at_once_and_after_the_last_answer_all_do() {
        let mut late = Late::waiting();
        late.pass(key(']', KeyModifiers::ALT));
        let size = Event::Resize(80, 24);
        assert_eq!(late.pass(size.clone()), [Passed::Event(size)]);
        let stroke = key(']', KeyModifiers::ALT);
        assert_eq!(Late::over().pass(stroke.clone()), [Passed::Event(stroke)]);
    }
}
