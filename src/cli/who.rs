//! Who decides: the name that goes into the trail.

use super::exit::Failure;
use crate::model::trail::Who;

/// Names the one who decides, before the login name.
const VARIABLE: &str = "FAIRDRAW_AS";

/// Where a login name may stand.
const LOGIN: [&str; 3] = ["LOGNAME", "USER", "USERNAME"];

/// The name given with `--as`, else that of the variable `FAIRDRAW_AS`, else the login name.
pub fn who(given: Option<&str>) -> Result<Who, Failure> {
    named(given, &|variable| std::env::var(variable).ok())
}

fn named(given: Option<&str>, variable: &dyn Fn(&str) -> Option<String>) -> Result<Who, Failure> {
    if let Some(name) = given {
        return read("--as", name);
    }
    if let Some(name) = filled(variable(VARIABLE)) {
        return read(VARIABLE, &name);
    }
    // A login name that can't stand in the trail is as good as none.
    let login = LOGIN.iter().filter_map(|name| filled(variable(name)));
    let mut names = login.filter_map(|name| Who::named(&name));
    names.next().ok_or_else(|| {
        Failure::WrongUse(format!(
            "who decides? What is decided is kept with a name, and this computer tells no login \
             name; give yours with --as NAME or in the variable {VARIABLE}"
        ))
    })
}

fn filled(value: Option<String>) -> Option<String> {
    value.filter(|value| !value.trim().is_empty())
}

fn read(place: &str, name: &str) -> Result<Who, Failure> {
    Who::named(name).ok_or_else(|| {
        Failure::WrongUse(format!(
            "{place}: {name:?} can't stand as a name; give 1 to 100 characters, none of them a \
             control character"
        ))
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn found(given: Option<&str>, set: &[(&str, &str)]) -> Result<String, String> {
        let set = |name: &str| {
            let found = set.iter().find(|(known, _)| *known == name);
            found.map(|(_, value)| (*value).to_owned())
        };
        let who = named(given, &set);
        who.map(|who| who.to_string())
            .map_err(|error| error.to_string())
    }

    #[test]
    fn the_name_given_goes_before_the_variable_and_that_before_the_login() {
        let all = [
            ("FAIRDRAW_AS", "Bo"),
            ("LOGNAME", "c"),
            ("USER", "d"),
            ("USERNAME", "e"),
        ];
        assert_eq!(found(Some(" Ada "), &all).unwrap(), "Ada");
        assert_eq!(found(None, &all).unwrap(), "Bo");
        assert_eq!(found(None, &all[1..]).unwrap(), "c");
        assert_eq!(found(None, &all[2..]).unwrap(), "d");
        assert_eq!(found(None, &all[3..]).unwrap(), "e");
        assert_eq!(
            found(None, &[("FAIRDRAW_AS", " "), ("USER", "d")]).unwrap(),
            "d"
        );
        assert_eq!(
            found(None, &[("LOGNAME", "a\u{7}"), ("USER", "d")]).unwrap(),
            "d"
        );
    }

    #[test]
    fn without_a_name_it_says_what_to_do() {
        assert!(found(None, &[]).unwrap_err().contains("--as NAME"));
        assert!(found(Some(""), &[]).unwrap_err().starts_with("--as: "));
        let told = found(None, &[("FAIRDRAW_AS", "a\u{1b}b")]).unwrap_err();
        assert!(told.starts_with("FAIRDRAW_AS: "), "{told}");
    }
}
