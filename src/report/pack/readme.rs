//! The first file to read of a pack.

/// The text: what is in the pack and how to check it without this program.
#[must_use]
pub fn text(is_anonymous: bool, filter: &str) -> String {
    let mut text = String::from(
        "A findings pack of fairdraw\n\
         ===========================\n\n\
         report.html       the report, for a browser; it needs nothing else\n\
         report.pdf        the same, for print\n\
         workbook.xlsx     all tables in one workbook; its first sheet explains it\n\
         tables/           every table as CSV and as JSON\n\
         schemas/          a JSON Schema (draft 2020-12) for every JSON file\n\
         rulebook/         the rulebook as adopted, if there is one, and the standard one\n\
         trail/            what people decided, link by link, and the head of the trail\n\
         pack.json         what this pack is: when, of what, how narrowed\n\
         SHA256SUMS        the hashes of all files\n\n\
         To check that nothing was altered, in this folder:\n\n\
         \u{20}   sha256sum -c SHA256SUMS\n\n\
         With fairdraw and the programme file, also whether it came from that programme:\n\n\
         \u{20}   fairdraw check --pack . -p PROGRAMME\n\n\
         Each line of trail/trail.jsonl holds the hash of the line before. A hash is SHA-256 over\n\
         the previous hash, a line feed and the text of the field \"canonical\".\n",
    );
    if !filter.is_empty() {
        text.push_str(
            "\nThe pack is narrowed to some of the draws; pack.json says to which. The rulebook, the\n\
             imports and the trail are whole.\n",
        );
    }
    if is_anonymous {
        text.push_str(
            "\nTechnicians, crews and those who decided are replaced by codes, the same in every pack\n\
             of the programme. Free texts, file names and the words of the trail are left out; what\n\
             the adopted rulebook changes stands in tables/rules_in_force.\n",
        );
    }
    text
}
