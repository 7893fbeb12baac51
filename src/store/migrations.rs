//! From an older file to the present one, a step at a time, each in its own transaction.

use std::path::{Path, PathBuf};

use rusqlite::Connection;

use super::Error;

/// Marks the file as a programme of fairdraw (`FDRW`), whatever its name.
pub const APPLICATION_ID: i32 = 0x4644_5257;

/// The steps; a file of version n has taken the first n.
pub const STEPS: &[&str] = &[
    include_str!("schema/0001_programme.sql"),
    include_str!("schema/0002_ledger.sql"),
    include_str!("schema/0003_trail.sql"),
    include_str!("schema/0004_keys.sql"),
];

/// The version of the file.
///
/// # Errors
/// What SQLite says.
pub fn version(connection: &Connection) -> rusqlite::Result<i64> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Takes the steps that are missing, after a backup copy where the file holds anything.
///
/// # Errors
/// The backup copy can't be made, or a step fails; then the file is as it was.
pub fn bring_up_to_date(
    connection: &mut Connection,
    file: Option<&Path>,
    steps: &[&str],
) -> Result<(), Error> {
    let named = file.unwrap_or(Path::new("in memory"));
    let failed = |source| Error::of(named, source);
    let found = usize::try_from(version(connection).map_err(failed)?).unwrap_or(0);
    if let (Some(file), 1..) = (file, found)
        && found < steps.len()
    {
        back_up(connection, file, found + 1)?;
    }
    // A new file takes all steps at once: cut off in between, it would be an old one.
    let at_once = if found == 0 { steps.len().max(1) } else { 1 };
    for (done, steps) in (found..)
        .step_by(at_once)
        .zip(steps[found.min(steps.len())..].chunks(at_once))
    {
        let transaction = connection
            .transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)
            .map_err(failed)?;
        // Another process may have taken the step while this one waited.
        if version(&transaction).map_err(failed)? > super::count(done as u64) {
            continue;
        }
        for step in steps {
            transaction.execute_batch(step).map_err(failed)?;
        }
        transaction
            .pragma_update(None, "application_id", APPLICATION_ID)
            .map_err(failed)?;
        transaction
            .pragma_update(
                None,
                "user_version",
                super::count((done + steps.len()) as u64),
            )
            .map_err(failed)?;
        transaction.commit().map_err(failed)?;
    }
    Ok(())
}

/// Where the copy stands that is made before step `step` is taken.
#[must_use]
pub fn backup_path(file: &Path, step: usize) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(format!(".before-migration-{step}"));
    name.into()
}

/// An older copy of the same name is kept: it is the one from before a failed attempt.
fn back_up(connection: &Connection, file: &Path, step: usize) -> Result<(), Error> {
    let backup = backup_path(file, step);
    if backup.exists() {
        return Ok(());
    }
    let failed = |reason: String| Error::NoBackup {
        backup: backup.clone(),
        reason,
    };
    // Under another name until it is whole.
    let mut part = backup.as_os_str().to_owned();
    part.push(".part");
    let part = PathBuf::from(part);
    let _ = std::fs::remove_file(&part);
    connection
        .backup("main", &part, None::<fn(rusqlite::backup::Progress)>)
        .map_err(|error| failed(error.to_string()))?;
    std::fs::rename(&part, &backup).map_err(|error| failed(error.to_string()))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    const NEXT: &str = "CREATE TABLE added (x INTEGER) STRICT;";

    fn made(folder: &Path) -> (PathBuf, Connection) {
        let file = folder.join("a.db");
        let mut connection = Connection::open(&file).unwrap();
        bring_up_to_date(&mut connection, Some(&file), STEPS).unwrap();
        (file, connection)
    }

    #[test]
    fn a_new_file_takes_all_steps_without_a_backup() {
        let folder = tempfile::tempdir().unwrap();
        let (file, connection) = made(folder.path());
        assert_eq!(version(&connection).unwrap(), STEPS.len() as i64);
        assert!(!backup_path(&file, 1).exists());
    }

    #[test]
    fn an_older_file_is_copied_before_it_is_brought_up_to_date() {
        let folder = tempfile::tempdir().unwrap();
        let (file, mut connection) = made(folder.path());
        connection
            .execute(
                "INSERT INTO imports (taken_at, program, zone) VALUES (0, 'x', 'UTC')",
                [],
            )
            .unwrap();
        let steps = [STEPS, &[NEXT]].concat();
        bring_up_to_date(&mut connection, Some(&file), &steps).unwrap();
        assert_eq!(version(&connection).unwrap(), steps.len() as i64);
        let backup = Connection::open(backup_path(&file, steps.len())).unwrap();
        assert_eq!(version(&backup).unwrap(), STEPS.len() as i64);
        let kept: String = backup
            .query_row("SELECT zone FROM imports", [], |row| row.get(0))
            .unwrap();
        assert_eq!(kept, "UTC");
    }

    #[test]
    fn a_step_that_fails_leaves_the_file_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let (file, mut connection) = made(folder.path());
        let steps = [STEPS, &["CREATE TABLE half (x) ; CREATE TABLE points (x);"]].concat();
        assert!(bring_up_to_date(&mut connection, Some(&file), &steps).is_err());
        assert_eq!(version(&connection).unwrap(), STEPS.len() as i64);
        assert!(connection.prepare("SELECT * FROM half").is_err());
    }
}
