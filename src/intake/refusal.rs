//! What a sheet says that can't be taken: bad input is data, not an error.

/// A value that was refused, alone or with its row. A row refused whole gives one of these
/// for each of its faults.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The physical line on which the row begins; the header stands on line 1.
    pub line: u64,
    /// The column; empty where the row as a whole is at fault.
    pub column: String,
    /// The value as it stands in the sheet, shortened where it is long.
    pub value: String,
    /// Why, in one sentence.
    pub reason: String,
    /// Whether the whole row is refused, for this fault or another; otherwise the value alone,
    /// which is then blank.
    pub whole_row: bool,
}

const ROW_REFUSED: &str = "; the row is refused";
const LEFT_BLANK: &str = "; left blank";
const NOT_KEPT: &str = "; not kept";

/// The most characters of a value that a refusal shows.
pub const SHOWN: usize = 200;

impl Refusal {
    fn new(line: u64, column: &str, value: &str, reason: String, whole_row: bool) -> Self {
        Refusal {
            line,
            column: column.to_owned(),
            value: shortened(value),
            reason,
            whole_row,
        }
    }

    /// A row refused because of one of its values.
    #[must_use]
    pub fn row(line: u64, column: &str, value: &str, reason: &str) -> Self {
        let reason = format!("{reason}{ROW_REFUSED}");
        Refusal::new(line, column, value, reason, true)
    }

    /// A value refused alone.
    #[must_use]
    pub fn value(line: u64, column: &str, value: &str, reason: &str) -> Self {
        let reason = format!("{reason}{LEFT_BLANK}");
        Refusal::new(line, column, value, reason, false)
    }

    /// A value of an unknown column that can't be kept aside.
    #[must_use]
    pub fn not_kept(line: u64, column: &str, value: &str, reason: &str) -> Self {
        let reason = format!("{reason}{NOT_KEPT}");
        Refusal::new(line, column, value, reason, false)
    }

    /// A whole row or more refused, in these words alone.
    #[must_use]
    pub fn whole(line: u64, column: &str, value: &str, reason: impl Into<String>) -> Self {
        Refusal::new(line, column, value, reason.into(), true)
    }

    /// Adds the refusal of a row whose identity stands further up in the sheet (that one was
    /// taken) to those of its own values, which come last so far.
    pub fn second_row(refusals: &mut Vec<Refusal>, line: u64, identity: &str) {
        let others = refusals.iter().rev();
        let own = others.take_while(|other| other.line == line).count();
        let from = refusals.len() - own;
        refuse_whole(&mut refusals[from..]);
        let reason = "a row of this identity stands further up in the sheet; that one was taken";
        refusals.push(Refusal::whole(line, "", identity, reason));
    }
}

/// Makes refusals of values into refusals of the row they stand in, where that row can't be
/// taken for another reason.
pub fn refuse_whole(faults: &mut [Refusal]) {
    for fault in faults.iter_mut().filter(|fault| !fault.whole_row) {
        for ending in [LEFT_BLANK, NOT_KEPT] {
            if let Some(reason) = fault.reason.strip_suffix(ending) {
                fault.reason = format!("{reason}{ROW_REFUSED}");
                break;
            }
        }
        fault.whole_row = true;
    }
}

/// The text, cut after [`SHOWN`] characters with a note of its length.
#[must_use]
pub fn shortened(text: &str) -> String {
    match text.char_indices().nth(SHOWN) {
        None => text.to_owned(),
        Some((end, _)) => format!("{}… ({} bytes)", &text[..end], text.len()),
    }
}
