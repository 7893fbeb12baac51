//! A filter of any text: it is read, and then reads the same again as it is written, or its
//! mistake is told with a column that lies within it.
#![no_main]

use fairdraw::analysis::Filter;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| match Filter::parse(text) {
    Ok(filter) => {
        let written = filter.to_string();
        let again = Filter::parse(&written).expect("what was written can be read");
        assert_eq!(again.to_string(), written);
    }
    Err(error) => {
        assert!(!error.message.is_empty());
        assert!((1..=text.chars().count() + 1).contains(&error.column));
    }
});
