//! `docs/tour.md`, from the walks.

use std::fmt::Write as _;

use super::{Step, Walk};

const OPENING: &str = "# A tour of the screens

Three people on three occasions, on the invented programme of `fairdraw demo`
([demo.md](demo.md) tells what it is about). Every step names its keys; no step takes more than two from
the screen before, apart from what is written into a line. The steps are walked by a test, and
the pictures are the screens as they were drawn then, at 120 columns and 36 rows.
[screens.md](screens.md) describes the screens one by one, [keys.md](keys.md) has every key.
";

/// What was rethought so that no step takes more than two keys.
const CLOSING: &str = "
## What was changed for it

Walked key by key, the first version of these paths had steps that took many more keys. What was
done about them:

* *Last month* was a filter to be typed, eighteen keys of it; it is `m` `m` now, and `[` and `]` go to the
  month before and after.
* *A point or a bottle by its name* was a filter as well; `/`, a few letters and `Enter` go there.
* *Only the unrepresentative ones* was typed; `+` shows every field with its values and the draws behind
  them, and begins at the verdicts.
* *What a month was like* took `Tab` `Tab` and arrows through a list; `d` shows the chart, and its crosshair
  says the figures in words.
* *A sheet of verifications* was entered draw by draw; `i` in an opened pick takes the filled-in sheet whole.
* *Back once too often* meant walking the way again; `>` goes forward.
* *How would a script ask this?* meant reading the page of commands; `y` shows the command line of what
  is on screen.
* *What is waiting to be drawn again* stood on its own screen only; it is on the list of what is waiting
  on the first one, and `Enter` leads there.
";

/// The page.
pub fn markdown(people: &[&[Walk]]) -> String {
    let mut page = OPENING.to_owned();
    for walk in people.iter().copied().flatten() {
        let _ = write!(page, "\n## {}\n\n{}\n\n", walk.heading, walk.opening);
        for (at, step) in walk.steps.iter().enumerate() {
            let _ = writeln!(page, "{}. {}{}", at + 1, keys(step), step.says);
            if let Some((name, title)) = step.picture {
                let _ = write!(page, "\n   ![{title}](tour/{name}.svg)\n\n");
            }
        }
    }
    page.push_str(CLOSING);
    page
}

/// The keys of a step as the page writes them: `` `2`, `Enter`: ``.
fn keys(step: &Step) -> String {
    let written: Vec<String> = step
        .keys
        .split(' ')
        .filter(|key| !key.is_empty())
        .map(|key| match key.strip_prefix("type:") {
            Some(text) => format!("*{}*", text.replace('_', " ")),
            None => format!("`{}`", label(key)),
        })
        .collect();
    if written.is_empty() {
        return String::new();
    }
    format!("{}: ", written.join(" "))
}

fn label(key: &str) -> String {
    match key {
        "Down" => "↓".to_owned(),
        "Up" => "↑".to_owned(),
        "Left" => "←".to_owned(),
        "Right" => "→".to_owned(),
        other => other.replace("C-", "Ctrl-"),
    }
}
