//! `fairdraw open`: the terminal interface.

use std::io::{self, IsTerminal};
use std::path::Path;

use super::Interface;
use super::args::OpenArgs;
use super::ask;
use super::exit::{Failure, Finish};
use super::who::who;

/// Runs the command.
pub fn run(file: &Path, args: &OpenArgs, interface: Interface) -> Result<Finish, Failure> {
    let file = args.file.as_deref().unwrap_or(file);
    // Whoever gives a name means it; without any, reading works all the same.
    let name = args.who.name.as_deref();
    let who = match who(name) {
        Err(error) if name.is_some() => return Err(error),
        who => who.ok(),
    };
    let programme = ask::open(file)?;
    if !is_interactive() {
        return Err(Failure::CouldNot(format!(
            "could not open {}: the terminal interface needs a terminal for input and output; \
             without one, use `fairdraw share` or `fairdraw score`",
            file.display()
        )));
    }
    interface(programme, file, who, args.colours.colours).map_err(Failure::Interface)?;
    Ok(Finish::Done)
}

/// Whether a person can see and type.
pub fn is_interactive() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}
