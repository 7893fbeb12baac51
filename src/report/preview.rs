//! Rows as they would be stored, side by side: one line a column, one column a row.

use unicode_width::UnicodeWidthStr;

use crate::model::printable::printable;

/// One of our columns: its name with its unit, and what it is made of.
#[derive(Clone, Debug)]
pub struct Made<'a> {
    /// Our column.
    pub ours: &'a str,
    /// Its unit; empty if it has none.
    pub unit: &'a str,
    /// Their columns.
    pub theirs: &'a str,
}

/// The widest a value is shown.
const WIDEST: usize = 24;

/// The rows of a sheet as text, in as many blocks as the width asks for. Each row has its line
/// and one text a column. Columns that are blank in all of them are named at the end.
#[must_use]
pub fn page(columns: &[Made<'_>], rows: &[(u64, &[String])], width: usize) -> String {
    let is_blank = |place: &usize| rows.iter().all(|(_, cells)| cells[*place].is_empty());
    let (blank, shown): (Vec<usize>, Vec<usize>) = (0..columns.len()).partition(is_blank);
    let mut heads: Vec<[String; 2]> = vec![["our column".to_owned(), "made of".to_owned()]];
    heads.extend(shown.iter().map(|place| {
        let column = &columns[*place];
        let unit = if column.unit.is_empty() {
            String::new()
        } else {
            format!(" [{}]", column.unit)
        };
        [format!("{}{unit}", column.ours), cut(column.theirs)]
    }));
    let widths = [0, 1].map(|at| heads.iter().map(|head| head[at].width()).max().unwrap_or(0));
    let texts: Vec<Vec<String>> = (rows.iter())
        .map(|(line, cells)| {
            let cells = shown.iter().map(|place| cut(&cells[*place]));
            std::iter::once(format!("line {line}"))
                .chain(cells)
                .collect()
        })
        .collect();
    let mut out = String::new();
    let mut left = texts.as_slice();
    while !left.is_empty() {
        let mut room = width.saturating_sub(widths[0] + widths[1] + 2);
        let mut count = 0;
        let mut block: Vec<usize> = Vec::new();
        for text in left {
            let own = text.iter().map(|cell| cell.width()).max().unwrap_or(0);
            if count > 0 && own + 2 > room {
                break;
            }
            room = room.saturating_sub(own + 2);
            block.push(own);
            count += 1;
        }
        for (place, head) in heads.iter().enumerate() {
            let mut line = format!(
                "{}  {}",
                padded(&head[0], widths[0]),
                padded(&head[1], widths[1])
            );
            for (text, own) in left.iter().zip(&block) {
                line.push_str("  ");
                line.push_str(&padded(&text[place], *own));
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
        left = &left[count..];
        if !left.is_empty() {
            out.push('\n');
        }
    }
    if !blank.is_empty() && !rows.is_empty() {
        let names: Vec<&str> = blank.iter().map(|place| columns[*place].ours).collect();
        out.push_str(&format!("blank in these rows: {}\n", names.join(", ")));
    }
    out
}

fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

fn cut(text: &str) -> String {
    let text = printable(text);
    if text.width() <= WIDEST {
        return text.into_owned();
    }
    let mut short = String::new();
    for c in text.chars() {
        if short.width() + 2 > WIDEST {
            break;
        }
        short.push(c);
    }
    short.push('…');
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_side_by_side_as_far_as_the_width_goes() {
        let column = |ours, unit, theirs| Made { ours, unit, theirs };
        let columns = [
            column("point_id", "", "Stelle"),
            column("oil_temp_c", "°C", "Temp"),
            column("remarks", "", "Note"),
        ];
        let cells =
            |point: &str, temp: &str| vec![point.to_owned(), temp.to_owned(), String::new()];
        let rows = [cells("P-1", "61"), cells("P-2", "62.5"), cells("P-3", "")];
        let rows: Vec<(u64, &[String])> = (2..).zip(rows.iter().map(Vec::as_slice)).collect();
        assert_eq!(
            page(&columns, &rows, 46),
            "our column       made of  line 2  line 3\n\
             point_id         Stelle   P-1     P-2\n\
             oil_temp_c [°C]  Temp     61      62.5\n\
             \n\
             our column       made of  line 4\n\
             point_id         Stelle   P-3\n\
             oil_temp_c [°C]  Temp\n\
             blank in these rows: remarks\n"
        );
        assert_eq!(page(&columns, &[], 80), "");
    }
}
