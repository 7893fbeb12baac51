//! The rulebook a programme is judged by.

use super::{Error, Programme};
use crate::model::decisions::RulebookAdopted;
use crate::model::trail::{Who, sha256};
use crate::rules::Rulebook;
use crate::store::rulebooks::{self, Adopted};

/// The rulebook in force: the one adopted last, else the standard one.
pub(super) fn current(programme: &Programme) -> Result<Rulebook, Error> {
    match programme.sql(rulebooks::current(programme.store.connection()))? {
        None => Ok(Rulebook::standard()),
        Some(adopted) => read(&adopted),
    }
}

/// The rulebook of this fingerprint, where the program still reads it as it was.
pub(super) fn of_fingerprint(
    programme: &Programme,
    fingerprint: &str,
) -> Result<Option<Rulebook>, Error> {
    let standard = Rulebook::standard();
    if standard.fingerprint() == fingerprint {
        return Ok(Some(standard));
    }
    let connection = programme.store.connection();
    let adopted = programme.sql(rulebooks::of_fingerprint(connection, fingerprint))?;
    Ok(adopted
        .and_then(|adopted| read(&adopted).ok())
        .filter(|book| book.fingerprint() == fingerprint))
}

/// Reads the text of an adopted rulebook.
fn read(adopted: &Adopted) -> Result<Rulebook, Error> {
    Rulebook::from_yaml(&adopted.text, &adopted.name).map_err(|problems| Error::Rulebook {
        reason: problems
            .first()
            .map(ToString::to_string)
            .unwrap_or_default(),
    })
}

impl Programme {
    /// Makes this text (YAML, already checked) the programme's rulebook. The next
    /// [`Self::assess`] judges anew what stands under changed rules.
    ///
    /// # Errors
    /// A store that can't be written.
    pub fn adopt_rulebook(
        &mut self,
        who: &Who,
        yaml: &str,
        rulebook: &Rulebook,
    ) -> Result<(), Error> {
        let transaction = self.store.begin()?;
        let adopted = Adopted {
            fingerprint: rulebook.fingerprint().to_owned(),
            name: rulebook.name.clone(),
            revision: rulebook.revision.clone(),
            text: yaml.to_owned(),
            adopted_at: self.now(),
        };
        self.sql(rulebooks::adopt(&transaction, &adopted))?;
        let decision = RulebookAdopted {
            fingerprint: adopted.fingerprint,
            name: adopted.name,
            revision: adopted.revision,
            text_sha256: sha256(yaml.as_bytes()),
        };
        self.append(&transaction, who, &decision)?;
        self.sql(transaction.commit())
    }

    /// The text of the rulebook in force; `None` where it is the standard one.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn rulebook_text(&self) -> Result<Option<String>, Error> {
        let current = self.sql(rulebooks::current(self.store.connection()))?;
        Ok(current.map(|adopted| adopted.text))
    }
}
