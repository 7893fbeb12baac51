//! How cells of the workbook look. Colour only repeats what a word in the cell says.

use rust_xlsxwriter::{Color, Format, FormatAlign, FormatBorder};

use crate::report::Holds;

/// The formats.
pub struct Styles {
    pub title: Format,
    pub heading: Format,
    pub head: Format,
    pub label: Format,
    pub wrapped: Format,
    pub link: Format,
    pub note: Format,
    words: Format,
    /// Words a spreadsheet would run if someone edited the cell: marked as words for good.
    quoted: Format,
    count: Format,
    number: Format,
    part: Format,
    yes_no: Format,
    time: Format,
    day: Format,
    /// Conditional: worst, between, good, open.
    pub alert: Format,
    pub doubtful: Format,
    pub good: Format,
    pub open: Format,
}

/// The ink of headings.
const INK: u32 = 0x001B_2430;

impl Styles {
    pub fn new() -> Self {
        let plain = || Format::new().set_align(FormatAlign::Top);
        let conditional = |ink: u32, ground: u32| {
            Format::new()
                .set_font_color(Color::RGB(ink))
                .set_background_color(Color::RGB(ground))
        };
        Styles {
            title: plain()
                .set_bold()
                .set_font_size(18)
                .set_font_color(Color::RGB(INK)),
            heading: plain()
                .set_bold()
                .set_font_size(12)
                .set_font_color(Color::RGB(INK)),
            head: Format::new()
                .set_bold()
                .set_text_wrap()
                .set_align(FormatAlign::Bottom)
                .set_background_color(Color::RGB(0x00E6_EEF2))
                .set_border_bottom(FormatBorder::Medium)
                .set_border_bottom_color(Color::RGB(INK)),
            label: plain().set_font_color(Color::RGB(0x0056_6170)),
            wrapped: plain().set_text_wrap(),
            link: plain()
                .set_font_color(Color::RGB(0x001C_5D78))
                .set_underline(rust_xlsxwriter::FormatUnderline::Single),
            note: plain()
                .set_text_wrap()
                .set_font_color(Color::RGB(0x0056_6170)),
            words: plain(),
            quoted: plain().set_quote_prefix(),
            count: plain().set_num_format("#,##0"),
            number: plain().set_num_format("#,##0.00##"),
            part: plain().set_num_format("0.0%"),
            yes_no: plain().set_align(FormatAlign::Left),
            time: plain()
                .set_num_format("yyyy-mm-dd hh:mm")
                .set_align(FormatAlign::Left),
            day: plain()
                .set_num_format("yyyy-mm-dd")
                .set_align(FormatAlign::Left),
            alert: conditional(0x008A_2F08, 0x00FB_E3D8),
            doubtful: conditional(0x006B_4E08, 0x00FC_F2D8),
            good: conditional(0x0014_4A60, 0x00DC_EBF1),
            open: conditional(0x0046_505C, 0x00EC_EEF0),
        }
    }

    /// The format of words.
    pub fn words(&self, is_formula: bool) -> &Format {
        if is_formula {
            &self.quoted
        } else {
            &self.words
        }
    }

    /// The format of a column's cells.
    pub fn of(&self, holds: Holds) -> &Format {
        match holds {
            Holds::Words | Holds::Verdict | Holds::Ids | Holds::Object | Holds::Items => {
                &self.words
            }
            Holds::Count => &self.count,
            Holds::Number => &self.number,
            Holds::Part => &self.part,
            Holds::YesNo => &self.yes_no,
            Holds::Time => &self.time,
            Holds::Day => &self.day,
        }
    }
}
