//! Colours on the real screens: whatever is drawn can be read on every usual background, and F2
//! turns from dark to light to none.

use fairdraw::tui::Theme;
use fairdraw::tui::theme::{Background, Rgb};
use ratatui::buffer::Cell;
use ratatui::style::{Color, Modifier};

use super::desk::{Desk, styles};
use super::looks::SCREENS;
use crate::support::assert_snapshot;

const BACKGROUNDS: [(Background, &[Rgb]); 2] = [
    (
        Background::Dark,
        &[Rgb(0, 0, 0), Rgb(0x1e, 0x1e, 0x1e), Rgb(0x2e, 0x34, 0x40)],
    ),
    (
        Background::Light,
        &[Rgb(0xff, 0xff, 0xff), Rgb(0xfd, 0xf6, 0xe3)],
    ),
];

fn rgb(colour: Color) -> Option<Rgb> {
    match colour {
        Color::Reset => None,
        Color::Indexed(index) => Rgb::of_index(index),
        other => panic!("{other} has no value of its own"),
    }
}

/// Lines, blocks and dots are marks: WCAG 2.2 asks 3 of them, and 4.5 of text.
fn least(symbol: &str) -> f64 {
    let is_mark = |sign: char| matches!(sign, '\u{2500}'..='\u{25ff}' | '·');
    if symbol.chars().all(is_mark) {
        3.0
    } else {
        4.5
    }
}

fn check(cell: &Cell, backgrounds: &[Rgb], name: &str) {
    let (mut text, mut ground) = (rgb(cell.fg), rgb(cell.bg));
    if cell.modifier.contains(Modifier::REVERSED) {
        std::mem::swap(&mut text, &mut ground);
    }
    let symbol = cell.symbol();
    // What is in the terminal's own colours is as the terminal's owner wants it.
    let Some(text) = text.filter(|_| symbol != " ") else {
        assert!(ground.is_none() || symbol == " ", "{name}: {cell:?}");
        return;
    };
    let grounds = ground.as_ref().map_or(backgrounds, std::slice::from_ref);
    for ground in grounds {
        let contrast = text.contrast(*ground);
        assert!(contrast >= least(symbol), "{name}: {cell:?} {contrast:.2}");
    }
}

#[test]
fn whatever_is_drawn_can_be_read_on_every_usual_background() {
    for (background, backgrounds) in BACKGROUNDS {
        for (name, keys) in SCREENS {
            let theme = Theme::new(true, true).on(Some(background));
            let mut desk = Desk::with(120, 40, theme);
            if !keys.is_empty() {
                desk.keys(keys);
            }
            for cell in desk.buffer(120, 40).content() {
                assert!(!cell.modifier.contains(Modifier::DIM), "{name}: {cell:?}");
                check(cell, backgrounds, name);
            }
        }
    }
}

#[test]
fn f2_turns_from_dark_to_light_to_none_and_the_words_stay() {
    let mut desk = Desk::new(120, 40);
    desk.keys("2 j j Enter");
    let words = |desk: &Desk| {
        let text = desk.text(120, 40);
        text.lines().take(39).map(str::to_owned).collect::<Vec<_>>()
    };
    let dark = (words(&desk), styles(&desk.buffer(120, 40)));
    desk.keys("F2");
    let light = (words(&desk), styles(&desk.buffer(120, 40)));
    assert_snapshot("screens", "draw-opened-light-styles", &light.1.join("\n"));
    assert!(desk.text(120, 40).contains("light background"));
    desk.keys("F2");
    let none = (words(&desk), styles(&desk.buffer(120, 40)));
    assert!(desk.text(120, 40).contains("No colours"));
    assert!(dark.0 == light.0 && light.0 == none.0);
    assert!(dark.1 != light.1 && light.1 != none.1);
    let mut colours = desk.buffer(120, 40).content().to_vec();
    colours.retain(|cell| cell.fg != Color::Reset || cell.bg != Color::Reset);
    assert!(colours.is_empty());
    desk.keys("F2 Esc");
    desk.keys("/ F2");
    assert!(desk.text(120, 40).contains("light background"));
}
