//! docs/doubts.md.
