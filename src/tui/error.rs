//! What can keep the interface from running.

/// What can keep the interface from running.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Standard input or output is a file or a pipe.
    #[error(
        "the screens need a terminal, and standard input or output is none; the other commands work without one (fairdraw --help lists them)"
    )]
    NoTerminal,
    /// The terminal refused.
    #[error(
        "the terminal could not be used: {0}; try another terminal, or the commands without screens"
    )]
    Terminal(#[from] std::io::Error),
    /// Linear text could not be written.
    #[error("standard output could not be written to: {0}")]
    Output(#[source] std::io::Error),
    /// The programme could not be read; in words.
    #[error("{0}")]
    Unread(String),
    /// A mistake in this program itself.
    #[error(
        "fairdraw met a mistake of its own and stopped; the report above says where, and the programme file is sound"
    )]
    Mistake,
}
