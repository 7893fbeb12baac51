//! Shades of a heat table: four densities that need no colour.

use super::legend::Entry;
use crate::tui::theme::Theme;

/// How many shades there are beside the blank one.
const SHADES: usize = 4;

/// The sign of a shade, from 0 for none to 4. Those of ASCII are none that could be read as a part
/// of the number behind them.
const fn sign(shade: usize, theme: Theme) -> &'static str {
    match shade {
        0 => " ",
        1 => theme.pick("░", ":"),
        2 => theme.pick("▒", "/"),
        3 => theme.pick("▓", "%"),
        _ => theme.pick("█", "#"),
    }
}

/// All shades from the least to the most, for a page that says what they mean.
pub(crate) const fn all(theme: Theme) -> &'static str {
    theme.pick("░ ▒ ▓ █", ": / % #")
}

/// The shade of a value, by the quarter of the most of any that it lies in.
pub(crate) fn shade(value: f64, most: f64, theme: Theme) -> &'static str {
    let part = SHADES as f64 * value / most;
    // A hair of rounding must not lift a value on a border into the next shade.
    let shade = (part - 1e-9).ceil().clamp(0.0, SHADES as f64);
    sign(if shade.is_nan() { 0 } else { shade as usize }, theme)
}

/// What the shades mean, in the unit of the values.
pub(crate) fn legend(most: f64, number: impl Fn(f64) -> String, theme: Theme) -> Vec<Entry> {
    (1..=SHADES)
        .map(|shade| {
            let up_to = number(most * shade as f64 / SHADES as f64);
            (sign(shade, theme), format!("up to {up_to}"))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_more_the_denser() {
        let theme = Theme::new(true, true);
        let drawn = [0.0, 0.1, 2.5, 2.6, 5.1, 7.6, 10.0].map(|value| shade(value, 10.0, theme));
        assert_eq!(drawn, [" ", "░", "░", "▒", "▓", "█", "█"]);
        let plain = Theme::new(true, false);
        let signs = [1.0, 3.0, 6.0, 9.0].map(|value| shade(value, 10.0, plain));
        assert_eq!(signs, [":", "/", "%", "#"]);
        assert_eq!(shade(0.0, 0.0, plain), " ");
        for theme in [theme, plain] {
            let signs = [1.0, 3.0, 6.0, 9.0].map(|value| shade(value, 10.0, theme));
            assert_eq!(all(theme), signs.join(" "));
        }
        let said = legend(10.0, |value| format!("{value:.1}"), theme);
        assert_eq!(said[0], ("░", "up to 2.5".to_owned()));
        assert_eq!(said[3], ("█", "up to 10.0".to_owned()));
    }
}
