//! Names of months, whole and shortened, in the languages that sheets are written in. No name
//! means two months in two of them, so all are read at once.

/// January to December; names in lower case, separated by blanks.
const NAMES: [&str; 12] = [
    // English, German, French, Spanish, Portuguese, Italian, Dutch, Polish, Swedish, Danish
    // (Unicode CLDR, calendars of these locales, and common shortenings).
    "january jan januar jänner janvier janv enero ene janeiro gennaio gen januari styczeń stycznia sty",
    "february feb februar feber février févr fév febrero fevereiro fev febbraio februari luty lutego lut",
    "march mar märz mär mrz mars marzo março maart mrt marzec marca marts",
    "april apr avril avr abril abr aprile kwiecień kwietnia kwi",
    "may mai mayo maio maggio mag mei maj maja",
    "june jun juni juin junio junho giugno giu czerwiec czerwca cze",
    "july jul juli juillet juil julio julho luglio lug lipiec lipca lip",
    "august aug août aou aoû agosto ago augustus augusti sierpień sierpnia sie",
    "september sep sept septembre septiembre set setembro settembre wrzesień września wrz",
    "october oct oktober okt octobre octubre outubro out ottobre ott październik października paź",
    "november nov novembre noviembre novembro listopad listopada lis",
    "december dec dezember dez décembre déc diciembre dic dezembro dicembre grudzień grudnia gru",
];

/// The month (1 to 12) whose name a text begins with, and how many bytes the name has, a point
/// behind it included. The name ends where its letters do.
#[must_use]
pub fn month_at_start(text: &str) -> Option<(u32, usize)> {
    let letters = text
        .char_indices()
        .find(|(_, c)| !c.is_alphabetic())
        .map_or(text.len(), |(at, _)| at);
    let name = text[..letters].to_lowercase();
    let month = (1..).zip(NAMES).find_map(|(number, names)| {
        names
            .split(' ')
            .any(|known| known == name)
            .then_some(number)
    })?;
    let point = usize::from(text[letters..].starts_with('.'));
    Some((month, letters + point))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_month_is_found_by_its_whole_name_only() {
        assert_eq!(month_at_start("März 2026"), Some((3, 5)));
        assert_eq!(month_at_start("déc. 2026"), Some((12, 5)));
        assert_eq!(month_at_start("MAJ-26"), Some((5, 3)));
        assert_eq!(month_at_start("marble"), None);
        assert_eq!(month_at_start("4"), None);
        assert_eq!(month_at_start(""), None);
    }

    #[test]
    fn no_name_means_two_months() {
        let mut seen = std::collections::BTreeMap::new();
        for (month, names) in NAMES.iter().enumerate() {
            for name in names.split(' ') {
                let before = seen.insert(name, month);
                assert!(before.is_none_or(|other| other == month), "{name}");
            }
        }
    }
}
