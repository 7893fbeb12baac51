//! What the terminal interface begins with. The command line hands it over; neither face knows
//! the other.

use std::path::PathBuf;
use std::sync::Arc;

use super::{Error, Programme};
use crate::model::trail::Who;
use crate::model::{Colours, Progress};

/// What the terminal interface begins with.
#[derive(Clone)]
pub struct Beginning {
    /// The programme file that is opened, or that would be made by taking tables in.
    pub file: PathBuf,
    /// The invented programme is made and opened instead.
    pub is_demo: bool,
    /// Who decides, if this computer tells.
    pub who: Option<Who>,
    /// Which colours are wanted.
    pub colours: Colours,
    /// Makes the invented programme, should it be asked for.
    pub demo: MakeDemo,
}

/// Makes the invented programme; it looks now and then whether it is to stop.
pub type MakeDemo = Arc<dyn Fn(&Progress) -> Result<Demo, Error> + Send + Sync>;

/// The invented programme, made.
#[derive(Debug)]
pub struct Demo {
    /// The programme, its clock at its invented present.
    pub programme: Programme,
    /// Where its file is.
    pub file: PathBuf,
    /// Who decides in it, if this computer tells.
    pub who: Option<Who>,
}
