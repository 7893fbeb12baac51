//! Coverage against judging anew.
