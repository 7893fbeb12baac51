//! The tour: three people's paths through the screens, walked on the demo programme, key by
//! key. `docs/tour.md` and its pictures come from these walks; a walk that no longer leads
//! where it says fails here before a reader finds out.
//!
//! `FAIRDRAW_WRITE_DOCS=1 cargo test --test it tour` writes the page and the pictures.

mod auditor;
mod page;
mod picture;
mod supervisor;
mod trainer;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

use fairdraw::tui::Theme;

use crate::docs::same;
use crate::screens::desk::Desk;

/// A person's path on one occasion.
pub struct Walk {
    pub heading: &'static str,
    /// Who walks it, when, and with which question.
    pub opening: &'static str,
    pub steps: &'static [Step],
    /// What stands on the screen at the end, at every size.
    pub ends_on: &'static str,
}

/// One step: from a screen to the next thing one wants to know or do.
pub struct Step {
    /// The keys, as [`Desk::keys`] reads them.
    pub keys: &'static str,
    /// What they do, and what is seen then.
    pub says: &'static str,
    /// What stands on the screen then.
    pub expects: &'static [&'static str],
    /// The name and the title of the picture that is shown then.
    pub picture: Option<(&'static str, &'static str)>,
}

impl Step {
    pub const fn new(keys: &'static str, says: &'static str) -> Self {
        Step {
            keys,
            says,
            expects: &[],
            picture: None,
        }
    }

    pub const fn expects(mut self, words: &'static [&'static str]) -> Self {
        self.expects = words;
        self
    }

    pub const fn picture(mut self, name: &'static str, title: &'static str) -> Self {
        self.picture = Some((name, title));
        self
    }

    /// The keys that are pressed; text written into a line does not count.
    pub fn pressed(&self) -> impl Iterator<Item = &'static str> {
        self.keys
            .split(' ')
            .filter(|key| !key.is_empty() && !key.starts_with("type:"))
    }
}

/// A step takes no more keys than this from the screen before.
const MOST_KEYS: usize = 2;

const WALKS: [&[Walk]; 3] = [supervisor::WALKS, trainer::WALKS, auditor::WALKS];

/// How large the pictures are, in cells.
const SIZE: (u16, u16) = (120, 36);

/// The demo programme as `fairdraw demo` makes it, decisions and all.
pub fn demo() -> &'static Path {
    static MADE: OnceLock<(tempfile::TempDir, PathBuf)> = OnceLock::new();
    let (_, file) = MADE.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("demo.db");
        let status = Command::new(env!("CARGO_BIN_EXE_fairdraw"))
            .args(["demo", "--to"])
            .arg(&file)
            .stdin(Stdio::null())
            .output()
            .unwrap()
            .status;
        assert!(status.success());
        (folder, file)
    });
    file
}

#[test]
fn no_step_takes_more_than_two_keys_from_the_screen_before() {
    for walk in WALKS.into_iter().flatten() {
        for step in walk.steps {
            let count = step.pressed().count();
            assert!(count <= MOST_KEYS, "{}: {:?}", walk.heading, step.keys);
        }
    }
}

/// Walks a walk; the pictures it passes, by name.
fn walk(walk: &Walk, size: (u16, u16), theme: Theme) -> Vec<(&'static str, String)> {
    let (width, height) = size;
    let mut desk = Desk::of_file(demo(), width, height, theme);
    let mut pictures = Vec::new();
    for step in walk.steps {
        press(&mut desk, step);
        let text = desk.text(width, height);
        for words in step.expects {
            assert!(
                text.contains(words),
                "{}, after {:?}: no {words:?} on\n{text}",
                walk.heading,
                step.keys
            );
        }
        if let Some((name, title)) = step.picture {
            let buffer = desk.buffer(width, height);
            pictures.push((name, picture::svg(&buffer, title, picture::DARK)));
        }
    }
    pictures
}

#[test]
fn the_tour_and_its_pictures_are_those_of_the_screens() {
    let mut drawn: Vec<String> = Vec::new();
    for each in WALKS.into_iter().flatten() {
        for (name, picture) in walk(each, SIZE, Theme::new(true, true)) {
            let path = format!("docs/tour/{name}.svg");
            same(&path, &picture);
            assert!(!drawn.contains(&path), "{path} is drawn twice");
            drawn.push(path);
        }
    }
    same("docs/tour.md", &page::markdown(&WALKS));
    let there = std::fs::read_dir(crate::support::root().join("docs/tour")).unwrap();
    for file in there {
        let name = file.unwrap().file_name().into_string().unwrap();
        let path = format!("docs/tour/{name}");
        assert!(drawn.contains(&path), "{path} is in no walk; remove it");
    }
}

fn press(desk: &mut Desk, step: &Step) {
    if !step.keys.is_empty() {
        desk.keys(step.keys);
    }
}

/// On a small and on a large screen the same keys lead to the same places.
#[test]
fn every_walk_can_be_walked_at_every_size() {
    // What is said may be cut on a small screen; where each walk ends is told by the header.
    for size in [(80, 24), (200, 60)] {
        for each in WALKS.into_iter().flatten() {
            let mut desk = Desk::of_file(demo(), size.0, size.1, Theme::new(true, true));
            for step in each.steps {
                press(&mut desk, step);
                desk.buffer(size.0, size.1);
            }
            let end = desk.text(size.0, size.1);
            assert!(end.contains(each.ends_on), "{}: {end}", each.heading);
        }
    }
}
