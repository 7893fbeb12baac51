//! Whether the tables and triggers are those that this program makes.

use super::{Error, Programme};
use crate::store::{Store, integrity};

/// Names what is missing, other than it was made, or there without reason.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    let found = programme.sql(integrity::schema(programme.store.connection()))?;
    let made = Store::in_memory()?;
    let made = programme.sql(integrity::schema(made.connection()))?;
    for (name, text) in &made {
        match found.get(name) {
            None => wrong.push(format!("the {} {} is missing", name.0, name.1)),
            Some(there) if there != text => wrong.push(format!(
                "the {} {} is not as fairdraw makes it",
                name.0, name.1
            )),
            Some(_) => {}
        }
    }
    for (kind, name) in found.keys() {
        if !made.contains_key(&(kind.clone(), name.clone())) {
            wrong.push(format!("the {kind} {name} is none of fairdraw's"));
        }
    }
    Ok(())
}
