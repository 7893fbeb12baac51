//! Files that people write in YAML (rulebooks, column maps): read into a tree in which
//! everything knows its place, and checked with every mistake at its line and column.

mod digest;
mod nearest;
mod parse;
mod problem;
mod reader;

pub use digest::sha256_hex;
pub use nearest::suggestion;
pub use parse::{Node, Value, parse, quoted};
pub use problem::{Place, Problem};
pub use reader::{Entry, Reader, find, utf8};
