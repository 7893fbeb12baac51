//! A column map of any bytes: it is read, or its problems are told with their places. One that
//! is read is bound to a header.
#![no_main]

use fairdraw::intake::ColumnMap;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    match ColumnMap::from_bytes(data, "map.yaml") {
        Ok(map) => {
            let header = ["Point", "Who", "When", "Oil temp", "Flow", "A", "B"];
            let header: Vec<String> = header.iter().map(|name| (*name).to_owned()).collect();
            for sheet in &map.sheets {
                let _ = sheet.bind(&header);
            }
            let again = ColumnMap::from_yaml(map.text(), "map.yaml").expect("it was read before");
            assert_eq!(again.fingerprint(), map.fingerprint());
        }
        Err(problems) => assert!(!problems.is_empty()),
    }
});
