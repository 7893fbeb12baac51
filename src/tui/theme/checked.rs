//! Measures what the palettes claim: that all text can be read, and that verdicts can be told
//! apart whatever a person's eyes tell apart.

#![allow(clippy::unwrap_used)]

use ratatui::style::{Color, Style};

use super::{Background, Rgb, Theme};
use crate::model::Verdict;

/// Backgrounds that many people have, those of well-known schemes among them.
const DARK_ONES: [Rgb; 5] = [
    Rgb(0x00, 0x00, 0x00),
    Rgb(0x1e, 0x1e, 0x1e),
    Rgb(0x28, 0x2c, 0x34),
    Rgb(0x2e, 0x34, 0x40),
    Rgb(0x00, 0x2b, 0x36),
];
const LIGHT_ONES: [Rgb; 3] = [
    Rgb(0xff, 0xff, 0xff),
    Rgb(0xfd, 0xf6, 0xe3),
    Rgb(0xef, 0xf1, 0xf5),
];

/// WCAG 2.2, success criterion 1.4.3 (level AA): text.
const TEXT: f64 = 4.5;
/// WCAG 2.2, success criterion 1.4.11 (level AA): marks that are no text.
const MARKS: f64 = 3.0;
/// The least distance in CIE Lab between two verdicts' colours, for any kind of eyes. A
/// distance of 2.3 can just be seen where two areas touch; letters stand apart and are thin.
const APART: f64 = 20.0;

fn palettes() -> [(Theme, &'static [Rgb]); 2] {
    let on = |background| Theme::new(true, true).on(Some(background));
    [
        (on(Background::Dark), &DARK_ONES),
        (on(Background::Light), &LIGHT_ONES),
    ]
}

/// Every style of text.
pub(super) fn texts(theme: Theme) -> Vec<Style> {
    let mut styles = vec![
        theme.plain(),
        theme.faint(),
        theme.strong(),
        theme.title(),
        theme.key(),
        theme.chosen(),
        theme.resting(),
        theme.warning(),
        theme.caution(),
    ];
    styles.extend(Verdict::ALL.map(|verdict| theme.verdict(verdict)));
    styles
}

fn rgb(colour: Color) -> Rgb {
    match colour {
        Color::Indexed(index) => Rgb::of_index(index).unwrap(),
        other => panic!("{other} has no fixed value"),
    }
}

/// The least contrast of a style over the backgrounds; text in the terminal's own colour is the
/// terminal's affair.
fn contrast(style: Style, backgrounds: &[Rgb]) -> Option<f64> {
    let text = rgb(style.fg?);
    let over = |ground: Rgb| text.contrast(ground);
    match style.bg {
        Some(ground) => Some(over(rgb(ground))),
        None => backgrounds
            .iter()
            .map(|ground| over(*ground))
            .min_by(f64::total_cmp),
    }
}

#[test]
fn all_text_stands_out_from_every_usual_background() {
    for (theme, backgrounds) in palettes() {
        for style in texts(theme) {
            if let Some(contrast) = contrast(style, backgrounds) {
                assert!(contrast >= TEXT, "{style:?}: {contrast:.2}");
            }
        }
    }
}

#[test]
fn marks_and_the_ground_of_the_chosen_row_stand_out_too() {
    for (theme, backgrounds) in palettes() {
        let ground = Style::new().fg(theme.chosen().bg.unwrap());
        for style in [theme.line(), ground] {
            let contrast = contrast(style, backgrounds).unwrap();
            assert!(contrast >= MARKS, "{style:?}: {contrast:.2}");
        }
    }
}

#[test]
fn text_that_stands_back_stands_back() {
    for (theme, backgrounds) in palettes() {
        let plain = if backgrounds[0].is_light() {
            Rgb(0, 0, 0)
        } else {
            Rgb(255, 255, 255)
        };
        let faint = rgb(theme.faint().fg.unwrap());
        for ground in backgrounds {
            assert!(faint.contrast(*ground) < 0.6 * plain.contrast(*ground));
        }
    }
}

/// Machado, Oliveira and Fernandes: A Physiologically-based Model for Simulation of Color Vision
/// Deficiency, IEEE TVCG 15 (2009), the matrices of severity 1.0, for linear RGB. From memory,
/// and the same in several public programs.
const EYES: [(&str, [[f64; 3]; 3]); 4] = [
    ("usual", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

fn seen(colour: Rgb, eyes: &[[f64; 3]; 3]) -> [f64; 3] {
    let light = colour.linear();
    eyes.map(|row| {
        let sum: f64 = row
            .iter()
            .zip(light)
            .map(|(weight, part)| weight * part)
            .sum();
        sum.clamp(0.0, 1.0)
    })
}

/// CIE 1976 L*a*b* of linear sRGB light under D65.
fn lab([red, green, blue]: [f64; 3]) -> [f64; 3] {
    let x = (0.412_456_4 * red + 0.357_576_1 * green + 0.180_437_5 * blue) / 0.950_47;
    let y = 0.212_672_9 * red + 0.715_152_2 * green + 0.072_175_0 * blue;
    let z = (0.019_333_9 * red + 0.119_192_0 * green + 0.950_304_1 * blue) / 1.088_83;
    let curve = |part: f64| {
        if part > 216.0 / 24_389.0 {
            part.cbrt()
        } else {
            (24_389.0 / 27.0 * part + 16.0) / 116.0
        }
    };
    let (x, y, z) = (curve(x), curve(y), curve(z));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

fn distance(one: Rgb, two: Rgb, eyes: &[[f64; 3]; 3]) -> f64 {
    let (one, two) = (lab(seen(one, eyes)), lab(seen(two, eyes)));
    let squares = one.iter().zip(two).map(|(one, two)| (one - two).powi(2));
    squares.sum::<f64>().sqrt()
}

/// Lab of the primaries of sRGB under D65, as colour calculators print them; from memory.
#[test]
fn lab_is_that_of_colour_calculators() {
    for (colour, expected) in [
        (Rgb(255, 255, 255), [100.0, 0.0, 0.0]),
        (Rgb(255, 0, 0), [53.24, 80.09, 67.20]),
        (Rgb(0, 255, 0), [87.73, -86.18, 83.18]),
        (Rgb(0, 0, 255), [32.30, 79.19, -107.86]),
    ] {
        for (found, expected) in lab(colour.linear()).into_iter().zip(expected) {
            assert!(
                (found - expected).abs() < 0.02,
                "{colour:?} {found} {expected}"
            );
        }
    }
}

/// Greys stay grey, since the rows add up to 1; and full red is seen by the first kind of eyes
/// as the dark olive (109, 95, 0) that public programs give for these matrices.
#[test]
fn the_matrices_keep_greys_and_turn_red_into_olive() {
    for (name, eyes) in &EYES {
        for row in eyes {
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 2e-6, "{name}");
        }
    }
    let red = seen(Rgb(255, 0, 0), &EYES[1].1);
    for (found, expected) in red.into_iter().zip(Rgb(109, 95, 0).linear()) {
        assert!((found - expected).abs() < 2e-3, "{found} {expected}");
    }
}

#[test]
fn verdicts_keep_apart_for_all_kinds_of_eyes() {
    for (theme, _) in palettes() {
        let colours = Verdict::ALL.map(|verdict| rgb(theme.verdict(verdict).fg.unwrap()));
        for (name, eyes) in &EYES {
            for (at, one) in colours.iter().enumerate() {
                for two in &colours[at + 1..] {
                    let distance = distance(*one, *two, eyes);
                    assert!(distance >= APART, "{name}: {one:?} {two:?} {distance:.1}");
                }
            }
        }
    }
}

/// With 16 colours the terminal says what they are; these are the ones of xterm and of the VGA
/// console (from memory), on black and on white.
#[test]
fn with_few_colours_text_can_be_read_where_they_are_as_usual() {
    use super::Depth;
    const XTERM: [u32; 16] = [
        0x000000, 0xcd0000, 0x00cd00, 0xcdcd00, 0x0000ee, 0xcd00cd, 0x00cdcd, 0xe5e5e5, 0x7f7f7f,
        0xff0000, 0x00ff00, 0xffff00, 0x5c5cff, 0xff00ff, 0x00ffff, 0xffffff,
    ];
    const VGA: [u32; 16] = [
        0x000000, 0xaa0000, 0x00aa00, 0xaa5500, 0x0000aa, 0xaa00aa, 0x00aaaa, 0xaaaaaa, 0x555555,
        0xff5555, 0x55ff55, 0xffff55, 0x5555ff, 0xff55ff, 0x55ffff, 0xffffff,
    ];
    let value = |table: &[u32; 16], colour: Color| {
        let names = [
            Color::Black,
            Color::Red,
            Color::Green,
            Color::Yellow,
            Color::Blue,
            Color::Magenta,
            Color::Cyan,
            Color::Gray,
            Color::DarkGray,
            Color::LightRed,
            Color::LightGreen,
            Color::LightYellow,
            Color::LightBlue,
            Color::LightMagenta,
            Color::LightCyan,
            Color::White,
        ];
        let place = names.iter().position(|name| *name == colour)?;
        let [_, red, green, blue] = table[place].to_be_bytes();
        Some(Rgb(red, green, blue))
    };
    for (theme, backgrounds) in palettes() {
        for style in texts(theme.with_depth(Depth::Few)) {
            for table in [&XTERM, &VGA] {
                let Some(text) = style.fg.and_then(|colour| value(table, colour)) else {
                    continue;
                };
                let ground = style.bg.and_then(|colour| value(table, colour));
                let contrast = text.contrast(ground.unwrap_or(backgrounds[0]));
                assert!(contrast >= TEXT, "{style:?}: {contrast:.2}");
            }
        }
    }
}
