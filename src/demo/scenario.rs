//! The invented scenario: names only. No operator, place, person or product of these
//! names is known to us; what happens to them stands in `stories.rs`.

/// The operator whose programme it is.
pub const OPERATOR: &str = "Tarnmoor Basin Works";

/// The zone whose clock the invented coast keeps, summer time included.
pub const ZONE: &str = "Europe/Lisbon";

/// The five sites of the default size: code, name.
pub const SITES: [(&str, &str); 5] = [
    ("QUE", "Quellmar Quay"),
    ("BRA", "Brannagh Ridge"),
    ("SAL", "Saltmere Pans"),
    ("FER", "Ferrowick Works"),
    ("VER", "Côte Verrane"),
];

/// First parts of the names of further sites.
const SITE_FIRST: [&str; 12] = [
    "Ashgar", "Belmyr", "Corrand", "Dunsel", "Elvarn", "Fenlock", "Garrow", "Hestmar", "Ivarn",
    "Jorvel", "Keldar", "Lorrig",
];

/// Second parts of the names of further sites.
const SITE_SECOND: [&str; 7] = [
    "Sluice", "Heights", "Basin", "Works", "Quarry", "Moor", "Landing",
];

/// Code and name of a site by its number.
#[must_use]
pub fn site(number: usize) -> (String, String) {
    if let Some((code, name)) = SITES.get(number) {
        return ((*code).to_owned(), (*name).to_owned());
    }
    let further = number - SITES.len();
    let first = SITE_FIRST[further % SITE_FIRST.len()];
    let second = SITE_SECOND[further / SITE_FIRST.len() % SITE_SECOND.len()];
    let code = format!("S{:03}", number + 1);
    let round = further / (SITE_FIRST.len() * SITE_SECOND.len());
    if round == 0 {
        (code, format!("{first} {second}"))
    } else {
        (code, format!("{first} {second} {}", round + 1))
    }
}

/// The crews of the default size, one a site.
pub const CREWS: [&str; 5] = [
    "Tide crew",
    "Ridge crew",
    "Pans crew",
    "Furnace crew",
    "Équipe Verrane",
];

/// The name of a crew by its number.
#[must_use]
pub fn crew(number: usize) -> String {
    CREWS
        .get(number)
        .map_or_else(|| format!("Crew {}", number + 1), |name| (*name).to_owned())
}

const GIVEN: [&str; 30] = [
    "Maren",
    "Tobiah",
    "Ilse",
    "Kwadjo",
    "Åsgerd",
    "Pietro",
    "Nalini",
    "Declan",
    "Zofja",
    "Emeka",
    "Runa",
    "Baptiste",
    "Imani",
    "Goran",
    "Lien",
    "Søren",
    "Amparo",
    "Yusra",
    "Hamish",
    "Noor",
    "Viktória",
    "Rafe",
    "Chidi",
    "Solveig",
    "Anselm",
    "Mehrdad",
    "Tiago",
    "Wren",
    "Dagný",
    "Ovid",
];

/// Invented family names.
const FAMILY: [&str; 31] = [
    "Varkonel",
    "Oduyarre",
    "Lindqvarn",
    "Tamsweller",
    "Brøndgaard",
    "Castevari",
    "Raghunesh",
    "Mac Orrin",
    "Wierzbonek",
    "Okafurie",
    "Hollgrím",
    "Dujardeau",
    "Ndegwari",
    "Petrovanek",
    "Thuyvanh",
    "Kjærholdt",
    "Solareño",
    "Haddanéh",
    "Strathwyn",
    "Elmasriq",
    "Kövágossy",
    "Penharrow",
    "Anozieku",
    "Fjordane-Lys",
    "Grubenrath",
    "Tehranchi-Far",
    "Quintavares",
    "Ashlocke",
    "Sigurhjarta",
    "Bellmarch",
    "Ostrander-Ruiz",
];

/// The name of a technician by number.
#[must_use]
pub fn person(number: usize) -> String {
    let given = GIVEN[number % GIVEN.len()];
    let family = FAMILY[(number + number / GIVEN.len() * 7) % FAMILY.len()];
    format!("{given} {family}")
}
