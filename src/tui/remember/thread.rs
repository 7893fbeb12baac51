//! The thread that keeps what is remembered, so that nobody waits for a slow folder.

use std::sync::mpsc::{Sender, channel};
use std::thread::{self, JoinHandle};

use crate::programme::remembered::{CantChange, Change, Keeper, Layout, Memory};

/// What it is told.
pub(crate) enum Order {
    /// A saved filter is changed.
    Change(Change),
    /// The program is left: how the screens stand, and the filters used, the latest last.
    Leave(Layout, Vec<String>),
}

/// Starts it. `tell` hands on what stands saved after a change, or why it could not be made; it
/// says whether anybody listens.
pub(crate) fn thread(
    mut keeper: Keeper,
    tell: impl Fn(Result<Memory, CantChange>) -> bool + Send + 'static,
) -> (Sender<Order>, JoinHandle<()>) {
    let (orders, ordered) = channel();
    let thread = thread::spawn(move || {
        for order in ordered {
            match order {
                Order::Change(change) => {
                    let changed = keeper.change(&change);
                    if !tell(changed.map(|_| keeper.memory().clone())) {
                        return;
                    }
                }
                Order::Leave(layout, used) => keeper.leave(&layout, &used),
            }
        }
    });
    (orders, thread)
}
