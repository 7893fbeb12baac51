//! How the screens were left, in words that can be kept, and how they are found again. What is
//! kept is told in [`kept`], a line each; what this program does not know is passed over.
//!
//! The filter is not among it: nobody is to look at a part of the draws without having asked for
//! it. Filters of last time stand in the history of the filter line.

mod kept;
mod thread;
mod words;

pub(crate) use thread::{Order, thread};

use super::app::{App, Place};
use super::frame;
use crate::programme::remembered::Layout;

/// How the screens stand, in words.
pub(crate) fn layout(app: &App) -> Layout {
    let entry = |kept: &kept::Kept| (kept.name.to_owned(), (kept.read)(app).to_owned());
    let mut layout: Layout = kept::ALL.iter().map(entry).collect();
    // What was not chosen stays as it is kept.
    layout.retain(|_, word| !word.is_empty());
    layout
}

/// Sets the screens as they were left, as far as the words are known.
pub(crate) fn restore(app: &mut App, layout: &Layout) {
    for kept in kept::ALL {
        if let Some(word) = layout.get(kept.name) {
            (kept.set)(app, word);
        }
    }
    // Crews have no column of crews.
    let people = &mut app.screens.people;
    if people.crews && people.by == super::screens::people::By::Crew {
        people.by = super::screens::people::By::Name;
    }
    if app.place != Place::Share {
        let name = frame::tab_of(app.place).map_or("", |tab| tab.name);
        let words = format!("As you left it last time: {name}. 1 leads to Share.");
        app.message = Some(words);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;
    use ratatui::layout::Size;

    use super::*;
    use crate::tui::Theme;

    fn fresh() -> App {
        let size = Size {
            width: 80,
            height: 24,
        };
        App::new("made-up.db", Theme::new(true, true), size)
    }

    #[test]
    fn every_word_that_is_offered_is_set_and_read_back() {
        for kept in kept::ALL {
            assert!((kept.words)().len() > 1, "{} has no choice", kept.name);
            for word in (kept.words)() {
                let mut app = fresh();
                (kept.set)(&mut app, &word);
                assert_eq!((kept.read)(&app), word, "{}", kept.name);
            }
        }
    }

    #[test]
    fn a_word_that_is_not_known_changes_nothing() {
        let usual = layout(&fresh());
        for word in ["", "teal", "by date", "date sideways", "\u{1b}[2J"] {
            let mut app = fresh();
            let strange: Layout = usual
                .keys()
                .map(|name| (name.clone(), word.to_owned()))
                .chain([("weather".to_owned(), "wet".to_owned())])
                .collect();
            restore(&mut app, &strange);
            assert_eq!(layout(&app), usual, "{word}");
            assert_eq!(app.message, None);
        }
    }

    #[test]
    fn names_stand_once() {
        let names: std::collections::BTreeSet<&str> =
            kept::ALL.iter().map(|kept| kept.name).collect();
        assert_eq!(names.len(), kept::ALL.len());
    }

    proptest! {
        #[test]
        fn however_screens_were_left_they_are_found_again(
            choices in proptest::collection::vec(0usize..20, kept::ALL.len())
        ) {
            let mut app = fresh();
            for (kept, choice) in kept::ALL.iter().zip(choices) {
                let words = (kept.words)();
                (kept.set)(&mut app, &words[choice % words.len()]);
            }
            // One choice excludes another: what is left at last is a state that can be.
            let mut left = fresh();
            restore(&mut left, &layout(&app));
            let mut found = fresh();
            restore(&mut found, &layout(&left));
            prop_assert_eq!(layout(&found), layout(&left));
        }
    }
}
