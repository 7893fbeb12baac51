//! Figures three rows high, for the one number that a screen is about.

/// Five rows of three dots a sign, as bits from left to right.
const SIGNS: [(char, [u8; 6]); 13] = [
    ('0', [0b111, 0b101, 0b101, 0b101, 0b111, 0]),
    ('1', [0b010, 0b110, 0b010, 0b010, 0b111, 0]),
    ('2', [0b111, 0b001, 0b111, 0b100, 0b111, 0]),
    ('3', [0b111, 0b001, 0b111, 0b001, 0b111, 0]),
    ('4', [0b101, 0b101, 0b111, 0b001, 0b001, 0]),
    ('5', [0b111, 0b100, 0b111, 0b001, 0b111, 0]),
    ('6', [0b111, 0b100, 0b111, 0b101, 0b111, 0]),
    ('7', [0b111, 0b001, 0b010, 0b010, 0b010, 0]),
    ('8', [0b111, 0b101, 0b111, 0b101, 0b111, 0]),
    ('9', [0b111, 0b101, 0b111, 0b001, 0b111, 0]),
    ('.', [0, 0, 0, 0, 0b010, 0]),
    ('%', [0b101, 0b001, 0b010, 0b100, 0b101, 0]),
    ('–', [0, 0, 0b111, 0, 0, 0]),
];

/// Three rows of half blocks; signs that have no picture are blank.
pub(crate) fn rows(text: &str) -> [String; 3] {
    let mut rows = [String::new(), String::new(), String::new()];
    for sign in text.chars() {
        let dots = SIGNS.iter().find(|(known, _)| *known == sign);
        let dots = dots.map_or([0; 6], |(_, dots)| *dots);
        for (at, row) in rows.iter_mut().enumerate() {
            for bit in [0b100, 0b010, 0b001] {
                let upper = dots[2 * at] & bit != 0;
                let lower = dots[2 * at + 1] & bit != 0;
                row.push(match (upper, lower) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                });
            }
            row.push(' ');
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_three_rows_of_equal_width() {
        let rows = rows("41.7 %");
        assert_eq!(rows[0], "█ █ ▄█      ▀▀█     ▀ █ ");
        assert!(rows.iter().all(|row| row.chars().count() == 24));
    }
}
