//! A terminal that does not read for a while, and one whose size changes all the time.

use std::thread::sleep;
use std::time::{Duration, Instant};

use super::used;
use crate::hard_use::Dice;
use crate::terminal;
use portable_pty::PtySize;

#[test]
fn keys_pressed_while_the_terminal_does_not_read_are_not_lost() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = terminal::open(&folder);
    let process = journey.child.process_id().unwrap();
    journey.stall();
    let begun = Instant::now();
    // Far more is drawn than a terminal holds for one that does not read.
    for _ in 0..40 {
        for screen in ["2", "3", "4", "5", "1"] {
            journey.press(screen);
            sleep(Duration::from_millis(5));
        }
    }
    let before = journey.received();
    let filter = "site:one,two,three,four,five,six,seven,eight,nine,ten";
    journey.press("2").press(":");
    for sign in filter.chars() {
        journey.press(&sign.to_string());
        sleep(Duration::from_millis(5));
    }
    sleep(Duration::from_secs(1));
    let busy = used(process);
    sleep(
        Duration::from_secs(3)
            .saturating_sub(begun.elapsed())
            .max(Duration::from_secs(1)),
    );
    if let (Some(before), Some(after)) = (busy, used(process)) {
        assert!(
            after - before <= 20,
            "{} hundredths while it waits",
            after - before
        );
    }
    assert!(journey.received() <= before + 4096, "the terminal did read");
    journey.read_on();
    journey.until(filter);
    journey.press("\x1b").until("drawn▼");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[test]
fn five_hundred_sizes_in_a_second_down_to_one_cell_and_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = terminal::open(&folder);
    let mut dice = Dice(3);
    for turn in 0..500 {
        let (rows, cols) = match turn % 5 {
            0 => (1, 1),
            1 => (1, 200),
            2 => (60, 1),
            _ => (1 + dice.below(60) as u16, 1 + dice.below(200) as u16),
        };
        let size = PtySize {
            rows,
            cols,
            ..PtySize::default()
        };
        journey.master.resize(size).unwrap();
        if turn % 50 == 0 {
            journey.press("2").press("3").press("1");
        }
        sleep(Duration::from_millis(2));
    }
    journey.resize(31, 101);
    journey.resize(30, 100);
    journey.until("Broken most").until("judged draws are");
    journey.press("2").until("drawn▼");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}
