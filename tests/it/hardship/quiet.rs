//! Nothing is drawn and nothing reckoned where nothing changed.

use std::thread::sleep;
use std::time::Duration;

use super::used;
use crate::terminal;

#[test]
fn an_interface_that_nobody_touches_writes_nothing_and_does_next_to_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = terminal::open(&folder);
    journey.press("3").until("no verdict on a person");
    // What is reckoned in the background comes to its end.
    let mut before = journey.received();
    loop {
        sleep(Duration::from_secs(1));
        let now = journey.received();
        if now == before {
            break;
        }
        before = now;
    }
    let process = journey.child.process_id().unwrap();
    let busy = used(process);
    sleep(Duration::from_secs(5));
    assert_eq!(journey.received(), before, "bytes in quiet times");
    if let (Some(before), Some(after)) = (busy, used(process)) {
        assert!(after - before <= 5, "{} hundredths in 5 s", after - before);
    }
    // A key that means nothing anywhere changes nothing.
    journey.press("\x1b[24~");
    sleep(Duration::from_millis(500));
    assert_eq!(
        journey.received(),
        before,
        "bytes for a key without meaning"
    );
    journey.press("q");
    assert_eq!(journey.end(), 0);
}
