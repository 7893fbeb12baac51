//! `fairdraw open`: the terminal interface.

use std::io::{self, IsTerminal};
use std::path::Path;

use super::Interface;
use super::args::OpenArgs;
use super::ask;
use super::demo_making;
use super::exit::{Failure, Finish};
use super::who::who;
use crate::demo::Size;
use crate::programme::Beginning;

/// Runs the command. In a terminal the interface opens the file and says what keeps it from
/// that; without one that is said here.
pub fn run(file: &Path, args: &OpenArgs, interface: Interface) -> Result<Finish, Failure> {
    let file = args.file.as_deref().unwrap_or(file);
    // Whoever gives a name means it; without any, reading works all the same.
    let name = args.who.name.as_deref();
    let who = match who(name) {
        Err(error) if name.is_some() => return Err(error),
        who => who.ok(),
    };
    if !is_interactive() {
        ask::open(file)?;
        return Err(Failure::CouldNot(format!(
            "could not open {}: the terminal interface needs a terminal for input and output; \
             without one, use `fairdraw share` or `fairdraw score`",
            file.display()
        )));
    }
    interface(Beginning {
        file: file.to_owned(),
        is_demo: false,
        who,
        demo: demo_making::maker(Size::default(), None),
    })
    .map_err(Failure::Interface)?;
    Ok(Finish::Done)
}

/// Whether a person can see and type.
pub fn is_interactive() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}
