//! The findings pack, looked at from outside: hashes, schemas, workbook, pages, people.

mod anonymous;
mod checked;
mod folder;
mod hostile;
mod made;
mod narrowed;
mod outside;
mod schema;
mod whole;
mod workbook;
