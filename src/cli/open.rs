//! `fairdraw open`: the terminal interface.

use std::io::{self, IsTerminal};
use std::path::Path;

use super::Interface;
use super::ask;
use super::exit::{Failure, Finish};
use super::who::who;

/// Runs the command.
pub fn run(file: &Path, interface: Interface) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    if !is_interactive() {
        return Err(Failure::CouldNot(format!(
            "could not open {}: the terminal interface needs a terminal for input and output; \
             without one, use `fairdraw share` or `fairdraw score`",
            file.display()
        )));
    }
    interface(programme, file, who(None).ok()).map_err(Failure::Interface)?;
    Ok(Finish::Done)
}

/// Whether a person can see and type.
pub fn is_interactive() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}
