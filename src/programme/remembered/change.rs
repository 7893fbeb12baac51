//! What can be done with saved filters: save, forget, rename.

use super::memory::{MOST_SAVED, Memory, SavedFilter, fits};
use super::names::{self, is_same};
use crate::analysis::Filter;

/// What is to be done with a saved filter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// Save this filter under this name.
    Save {
        /// The name.
        name: String,
        /// The filter, as it is typed.
        filter: String,
        /// Also where another filter has that name already.
        replace: bool,
    },
    /// Forget the filter of this name.
    Forget {
        /// The name.
        name: String,
    },
    /// Call the filter of this name otherwise.
    Rename {
        /// Its name.
        from: String,
        /// Its new name.
        to: String,
    },
}

/// What was done, with what takes it back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// That it was done, in words without a capital or a full stop.
    pub words: String,
    /// What brings back what was before.
    pub back: Change,
}

/// Why nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CantChange {
    /// It can't be a name.
    #[error("{0}")]
    Name(String),
    /// Another filter has that name; it is replaced only if that is said.
    #[error("there is a filter {name} already: {filter}")]
    Taken {
        /// The name, as it is kept.
        name: String,
        /// The filter that has it.
        filter: String,
    },
    /// There is none of that name.
    #[error("there is no saved filter {name}; {known}")]
    Unknown {
        /// The name asked for.
        name: String,
        /// Which there are, and which is meant perhaps.
        known: String,
    },
    /// The filter can't be read.
    #[error("{0}")]
    Filter(String),
    /// It lets every draw pass.
    #[error("there is no filter to save; every draw is in view")]
    Empty,
    /// There are as many as there may be.
    #[error("there are {MOST_SAVED} saved filters already; forget one first")]
    TooMany,
    /// The memory can't be written.
    #[error("{0}")]
    NotKept(String),
}

impl CantChange {
    /// There is none of this name.
    #[must_use]
    pub fn unknown(memory: &Memory, name: &str) -> Self {
        let names: Vec<&str> = memory.filters.iter().map(|it| it.name.as_str()).collect();
        let known = match (memory.nearest(name), names.as_slice()) {
            (_, []) => "none is saved yet".to_owned(),
            (Some(near), _) => format!("did you mean {near}? saved are: {}", names.join(", ")),
            (None, _) => format!("saved are: {}", names.join(", ")),
        };
        CantChange::Unknown {
            name: name.trim().to_owned(),
            known,
        }
    }
}

impl Change {
    /// Makes the change.
    ///
    /// # Errors
    /// Why it can't be made; nothing is changed then.
    pub fn make(&self, memory: &mut Memory) -> Result<Changed, CantChange> {
        match self {
            Change::Save {
                name,
                filter,
                replace,
            } => save(memory, name, filter, *replace),
            Change::Forget { name } => forget(memory, name),
            Change::Rename { from, to } => rename(memory, from, to),
        }
    }
}

fn save(
    memory: &mut Memory,
    name: &str,
    filter: &str,
    replace: bool,
) -> Result<Changed, CantChange> {
    let name = names::name(name).map_err(CantChange::Name)?;
    let read = Filter::parse(filter).map_err(|error| CantChange::Filter(error.to_string()))?;
    if read.is_empty() {
        return Err(CantChange::Empty);
    }
    // Kept as it is written in one way only, whatever way it was typed.
    let filter = read.to_string();
    if !fits(&filter) {
        return Err(CantChange::Filter("the filter is too long".to_owned()));
    }
    let before = memory.saved(&name).cloned();
    let back = match before {
        Some(taken) if taken.filter != filter && !replace => {
            return Err(CantChange::Taken {
                name: taken.name,
                filter: taken.filter,
            });
        }
        Some(taken) => Change::Save {
            name: taken.name,
            filter: taken.filter,
            replace: true,
        },
        None if memory.filters.len() == MOST_SAVED => return Err(CantChange::TooMany),
        None => Change::Forget { name: name.clone() },
    };
    let words = format!("saved as {name}: {filter}");
    memory.keep(SavedFilter { name, filter });
    Ok(Changed { words, back })
}

fn forget(memory: &mut Memory, name: &str) -> Result<Changed, CantChange> {
    let Some(saved) = memory.saved(name).cloned() else {
        return Err(CantChange::unknown(memory, name));
    };
    memory.filters.retain(|it| it.name != saved.name);
    Ok(Changed {
        words: format!("the saved filter {} is forgotten", saved.name),
        back: Change::Save {
            name: saved.name,
            filter: saved.filter,
            replace: true,
        },
    })
}

fn rename(memory: &mut Memory, from: &str, to: &str) -> Result<Changed, CantChange> {
    let to = names::name(to).map_err(CantChange::Name)?;
    let Some(saved) = memory.saved(from).cloned() else {
        return Err(CantChange::unknown(memory, from));
    };
    if let Some(taken) = memory
        .saved(&to)
        .filter(|it| !is_same(&it.name, &saved.name))
    {
        return Err(CantChange::Taken {
            name: taken.name.clone(),
            filter: taken.filter.clone(),
        });
    }
    memory.filters.retain(|it| it.name != saved.name);
    let words = format!("the saved filter {} is called {to} now", saved.name);
    let back = Change::Rename {
        from: to.clone(),
        to: saved.name,
    };
    memory.keep(SavedFilter {
        name: to,
        filter: saved.filter,
    });
    Ok(Changed { words, back })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    fn save(name: &str, filter: &str, replace: bool) -> Change {
        Change::Save {
            name: name.to_owned(),
            filter: filter.to_owned(),
            replace,
        }
    }

    fn forget(name: &str) -> Change {
        Change::Forget {
            name: name.to_owned(),
        }
    }

    fn rename(from: &str, to: &str) -> Change {
        Change::Rename {
            from: from.to_owned(),
            to: to.to_owned(),
        }
    }

    #[test]
    fn a_filter_is_replaced_only_if_that_is_said() {
        let mut memory = Memory::default();
        save("north", "site:North", false)
            .make(&mut memory)
            .unwrap();
        let again = save("NORTH", " site:North ", false).make(&mut memory);
        assert!(again.is_ok(), "it says the same");
        let other = save("North", "site:\"North pit\"", false);
        assert_eq!(
            other.make(&mut memory).unwrap_err().to_string(),
            "there is a filter NORTH already: site:North"
        );
        save("North", "site:\"North pit\"", true)
            .make(&mut memory)
            .unwrap();
        assert_eq!(memory.filters.len(), 1);
        assert_eq!(memory.saved("north").unwrap().filter, "site:\"North pit\"");
    }

    #[test]
    fn what_cannot_be_done_says_why() {
        let mut memory = Memory::default();
        for (change, words) in [
            (
                forget("north"),
                "there is no saved filter north; none is saved yet",
            ),
            (save(" ", "site:North", false), "a name must not be blank"),
            (
                save("a", "", false),
                "there is no filter to save; every draw is in view",
            ),
            (
                save("a", "verdict:good", false),
                "\"good\" is no verdict; known are all others",
            ),
        ] {
            let told = change.make(&mut memory).unwrap_err().to_string();
            assert_eq!(told.split(';').next(), words.split(';').next(), "{told}");
            assert_eq!(memory, Memory::default());
        }
        save("north", "site:North", false)
            .make(&mut memory)
            .unwrap();
        save("south", "site:South", false)
            .make(&mut memory)
            .unwrap();
        let before = memory.clone();
        assert_eq!(
            forget("nort").make(&mut memory).unwrap_err().to_string(),
            "there is no saved filter nort; did you mean north? saved are: north, south"
        );
        assert!(matches!(
            rename("north", "South").make(&mut memory),
            Err(CantChange::Taken { .. })
        ));
        assert!(matches!(
            rename("east", "west").make(&mut memory),
            Err(CantChange::Unknown { .. })
        ));
        assert_eq!(memory, before);
        rename("north", "North").make(&mut memory).unwrap();
        assert_eq!(memory.filters[0].name, "North");
        for number in memory.filters.len()..MOST_SAVED {
            save(&format!("n{number}"), "site:North", false)
                .make(&mut memory)
                .unwrap();
        }
        let one_more = save("one more", "site:North", false);
        assert_eq!(one_more.make(&mut memory), Err(CantChange::TooMany));
    }

    fn any_change() -> impl Strategy<Value = Change> {
        let name = || prop_oneof![Just("a"), Just("B"), Just("b"), Just("c d"), Just("@x")];
        let filter = prop_oneof![Just("site:North"), Just("crew:B"), Just(""), Just("x:y")];
        prop_oneof![
            (name(), filter, any::<bool>())
                .prop_map(|(name, filter, replace)| save(name, filter, replace)),
            name().prop_map(forget),
            (name(), name()).prop_map(|(from, to)| rename(from, to)),
        ]
    }

    proptest! {
        #[test]
        fn whatever_was_changed_can_be_taken_back(
            before in proptest::collection::vec(any_change(), 0..12),
            last in any_change(),
        ) {
            let mut memory = Memory::default();
            for change in before {
                let _ = change.make(&mut memory);
            }
            let was = memory.clone();
            match last.make(&mut memory) {
                Err(_) => prop_assert_eq!(&memory, &was),
                Ok(changed) => {
                    prop_assert!(changed.back.make(&mut memory).is_ok());
                    prop_assert_eq!(&memory, &was);
                }
            }
        }
    }
}
