//! `fairdraw open`: the terminal interface.

use std::io::{self, IsTerminal};
use std::path::Path;

use super::args::{FaceArgs, OpenArgs};
use super::ask;
use super::demo_making;
use super::exit::{Failure, Finish};
use super::who::who;
use super::{Faces, Interface};
use crate::demo::Size;
use crate::programme::Beginning;

/// Runs the command. The interface opens the file and says what keeps it from that; where
/// there is none to be shown, a file that can't be opened is told here.
pub fn run(file: &Path, args: &OpenArgs, faces: Faces) -> Result<Finish, Failure> {
    let file = args.file.as_deref().unwrap_or(file);
    // Whoever gives a name means it; without any, reading works all the same.
    let name = args.who.name.as_deref();
    let who = match who(name) {
        Err(error) if name.is_some() => return Err(error),
        who => who.ok(),
    };
    let interface = face(&args.face, faces);
    let Some(interface) = interface else {
        ask::open(file)?;
        return Err(Failure::CouldNot(format!(
            "could not open {}: the terminal interface needs a terminal for input and output; \
             without one, add --plain for linear text, or use `fairdraw share` or `fairdraw score`",
            file.display()
        )));
    };
    interface(Beginning {
        file: file.to_owned(),
        is_demo: false,
        who,
        colours: args.colours.colours,
        demo: demo_making::maker(Size::default(), None),
    })
    .map_err(Failure::Interface)?;
    Ok(Finish::Done)
}

/// The face that is wanted and can be shown here; none where screens are wanted and there is no
/// terminal.
pub fn face(args: &FaceArgs, faces: Faces) -> Option<Interface> {
    let is_dumb = std::env::var_os("TERM").is_some_and(|name| name == "dumb");
    match is_interactive() {
        _ if args.plain => Some(faces.plain),
        true if is_dumb => Some(faces.plain),
        true => Some(faces.screens),
        false => None,
    }
}

/// Whether a person can see and type.
pub fn is_interactive() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}
