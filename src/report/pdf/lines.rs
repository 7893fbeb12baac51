//! Breaking texts into lines.

use super::face::Face;

/// The text in lines of at most this width at this size. Lines break at blanks; a word that is
/// wider than a line breaks anywhere.
pub fn broken(face: &Face, text: &str, size: f64, width: f64) -> Vec<String> {
    let most = width / size;
    let blank = face.width(" ");
    let mut lines = Vec::new();
    let (mut line, mut reached) = (String::new(), 0.0);
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let mut wide = face.width(word);
        if !line.is_empty() && reached + blank + wide <= most {
            line.push(' ');
            line.push_str(word);
            reached += blank + wide;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut rest = word;
        while wide > most {
            let (part, after) = rest.split_at(fitting(face, rest, most));
            lines.push(part.to_owned());
            rest = after;
            wide = face.width(rest);
        }
        rest.clone_into(&mut line);
        reached = wide;
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// How many bytes of the word fit into the width, at least one character.
fn fitting(face: &Face, word: &str, most: f64) -> usize {
    let mut reached = 0.0;
    let mut buffer = [0; 4];
    for (at, c) in word.char_indices() {
        reached += face.width(c.encode_utf8(&mut buffer));
        if reached > most && at > 0 {
            return at;
        }
    }
    word.len()
}

/// The width of the widest word at size 1.
pub fn widest_word(face: &Face, text: &str) -> f64 {
    text.split(' ')
        .map(|word| face.width(word))
        .fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::super::face::Faces;
    use super::*;

    proptest! {
        #[test]
        fn no_line_is_too_wide_and_nothing_is_lost(
            text in "[a-zA-Z0-9 ,é]{0,200}",
            width in 20.0..300.0,
        ) {
            let faces = Faces::new();
            let face = faces.face(false);
            let lines = broken(face, &text, 9.0, width);
            for line in &lines {
                prop_assert!(face.width(line) * 9.0 <= width + 1e-9 || line.chars().count() == 1);
            }
            let bare = |text: &str| text.replace(' ', "");
            prop_assert_eq!(bare(&lines.concat()), bare(&text));
        }
    }
}
