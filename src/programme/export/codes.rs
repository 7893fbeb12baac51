//! Codes that stand for people in an anonymous pack.
//!
//! A code is the beginning of an HMAC-SHA-256 (RFC 2104) of the name under a random key that
//! stays in the programme file. Without the key no one can try names out; with it the same
//! name has the same code in every pack of the programme.

use std::collections::BTreeSet;

use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;

use super::PackError;
use crate::analysis::{Assessed, Filter, FilterKey};
use crate::programme::{Error, Programme};
use crate::store::keys;

/// The name of the key in the programme file.
const KEY: &str = "codes of people";

/// Digits and letters that no one takes for another (those of D. Crockford's base 32).
const SIGNS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// The fewest signs of a code, enough for hundreds of people.
const FEWEST: usize = 6;
/// The most: 160 of the 256 bits.
const MOST: usize = 32;

/// Turns names into codes.
pub(super) struct Codes {
    key: [u8; keys::LENGTH],
    /// How many signs each code has, so that no two names share one.
    signs: usize,
}

/// Whose name a code stands for.
#[derive(Clone, Copy)]
pub(super) enum Whose {
    /// A technician, by id.
    Technician,
    /// A crew.
    Crew,
    /// Someone who decided.
    Person,
}

impl Whose {
    const fn letter(self) -> char {
        match self {
            Whose::Technician => 'T',
            Whose::Crew => 'C',
            Whose::Person => 'P',
        }
    }
}

impl Codes {
    /// Codes under the programme's key, long enough that those of its technicians and crews
    /// and of these people differ. Makes the key where there is none.
    pub fn of(
        programme: &Programme,
        assessed: &Assessed,
        people: &BTreeSet<&str>,
    ) -> Result<Self, Error> {
        let mut codes = Codes {
            key: key(programme)?,
            signs: FEWEST,
        };
        let technicians = assessed.technicians.iter();
        let ids: BTreeSet<&str> = technicians.clone().map(|it| it.id.as_str()).collect();
        let crews: BTreeSet<&str> = technicians.filter_map(|it| it.crew.as_deref()).collect();
        let differ = |codes: &Codes, whose: Whose, names: &BTreeSet<&str>| {
            let all: BTreeSet<String> = names.iter().map(|name| codes.code(whose, name)).collect();
            all.len() == names.len()
        };
        while codes.signs < MOST
            && !(differ(&codes, Whose::Technician, &ids)
                && differ(&codes, Whose::Crew, &crews)
                && differ(&codes, Whose::Person, people))
        {
            codes.signs += 2;
        }
        Ok(codes)
    }

    /// The code of a name.
    pub fn code(&self, whose: Whose, name: &str) -> String {
        let mut mac = Hmac::<Sha256>::new_from_slice(&self.key).expect("a key of any length fits");
        mac.update(&[u8::try_from(whose.letter()).unwrap_or_default(), 0]);
        mac.update(name.as_bytes());
        let bytes = mac.finalize().into_bytes();
        let mut code = format!("{}-", whose.letter());
        for sign in 0..self.signs {
            let bit = sign * 5;
            let two = u16::from_be_bytes([bytes[bit / 8], bytes[bit / 8 + 1]]);
            let place = (two >> (11 - bit % 8)) & 31;
            code.push(char::from(SIGNS[usize::from(place)]));
        }
        code
    }

    /// Puts codes in place of the technicians' ids and crews, and leaves their names out.
    pub fn hide(&self, assessed: &mut Assessed) {
        for technician in &mut assessed.technicians {
            technician.id = self.code(Whose::Technician, &technician.id);
            technician.name = None;
            technician.crew = (technician.crew.as_deref()).map(|crew| self.code(Whose::Crew, crew));
        }
        for training in &mut assessed.trainings {
            training.technician_id = self.code(Whose::Technician, &training.technician_id);
        }
    }
}

/// The filter as it is told, without the names of people.
pub(super) fn told(filter: &Filter, is_anonymous: bool) -> String {
    if !is_anonymous {
        return filter.to_string();
    }
    let terms = filter.terms().iter().map(|term| match term.key() {
        key @ (FilterKey::Technician | FilterKey::Crew) => {
            let minus = if term.excludes() { "-" } else { "" };
            format!("{minus}{}:(not told)", key.as_str())
        }
        _ => term.to_string(),
    });
    terms.collect::<Vec<_>>().join(" ")
}

/// The programme's key for codes, made if need be.
fn key(programme: &Programme) -> Result<[u8; keys::LENGTH], Error> {
    if let Some(key) = programme.sql(keys::read(programme.store.connection(), KEY))? {
        return Ok(key);
    }
    let mut key = [0; keys::LENGTH];
    getrandom::fill(&mut key).map_err(|error| {
        Error::from(PackError::NoRandom {
            reason: error.to_string(),
        })
    })?;
    let transaction = programme.store.begin()?;
    // Another process may have made one while this one waited.
    if let Some(key) = programme.sql(keys::read(&transaction, KEY))? {
        return Ok(key);
    }
    programme.sql(keys::keep(&transaction, KEY, &key))?;
    programme.sql(transaction.commit())?;
    Ok(key)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Recomputed with `openssl dgst -sha256 -mac HMAC` (OpenSSL 3.0) over `T\0T001` under a
    /// key of 32 bytes 07.
    #[test]
    fn a_code_is_the_beginning_of_the_keyed_hash() {
        let codes = Codes {
            key: [7; keys::LENGTH],
            signs: FEWEST,
        };
        assert_eq!(codes.code(Whose::Technician, "T001"), "T-F8S625");
        let longer = Codes {
            signs: MOST,
            ..codes
        };
        let code = longer.code(Whose::Technician, "T001");
        assert_eq!(code.len(), MOST + 2);
        assert_ne!(code, longer.code(Whose::Person, "T001"));
    }
}
