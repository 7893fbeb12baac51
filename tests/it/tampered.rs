//! A programme file changed by other hands, in every way we could think of: `check` names each.
//!
//! Every case begins with a copy of the same sound file, is changed by SQL as anyone could,
//! and is looked at by the program. A careful forger puts the triggers back as they were.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use fairdraw::analysis::Filter;
use fairdraw::demo;
use fairdraw::model::Progress;
use fairdraw::model::decisions::finding::{Grade, Subject};
use fairdraw::model::decisions::pick::{Outcome, Plan, Verified};
use fairdraw::model::trail::{Link, Who};
use fairdraw::programme::{Answer, FindingRequest, ImportRequest, PickRequest, Programme};
use fairdraw::rules::Rulebook;
use rusqlite::Connection;
use tempfile::TempDir;

use crate::cli::runner::command;

/// The sound file, made once: two imports of which the second changed a draw, a point and
/// a technician, an import taken back, two rulebooks, a pick with results, three findings.
fn sound() -> &'static Path {
    static FILE: OnceLock<(TempDir, PathBuf)> = OnceLock::new();
    let (_, file) = FILE.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let file = make(folder.path());
        (folder, file)
    });
    file
}

fn make(folder: &Path) -> PathBuf {
    let sheets = folder.join("sheets");
    let size = demo::Size {
        draws: 240,
        points: 30,
        technicians: 8,
        ..demo::Size::default()
    };
    demo::write(&sheets, &size, &Progress::default()).unwrap();
    let file = folder.join("p.db");
    let who = Who::named("Ada").unwrap();
    let mut programme = Programme::open_or_create(&file).unwrap();
    let take = |programme: &mut Programme, path: &Path| {
        let request = ImportRequest {
            sheets: vec![path.to_owned()],
            who: Some(who.clone()),
            ..ImportRequest::default()
        };
        programme
            .import(&request, &Progress::default())
            .unwrap()
            .batch
    };
    take(&mut programme, &sheets);
    let yaml = |revision: &str, weight: u8| {
        format!(
            "fairdraw_rulebook: 1\nname: ours\nrevision: \"{revision}\"\nrules:\n  fill-level: \
             {{weight: {weight}}}\n"
        )
    };
    for (revision, weight) in [("1", 3), ("2", 4)] {
        let yaml = yaml(revision, weight);
        let book = Rulebook::from_yaml(&yaml, "ours.yaml").map_err(|found| found.len());
        programme
            .adopt_rulebook(&who, &yaml, &book.unwrap())
            .unwrap();
    }
    let assessed = programme.assess(&Progress::default()).unwrap();
    let request = PickRequest {
        plan: Plan::Fixed { draws: 5 },
        seed: "s".to_owned(),
        filter: Filter::default(),
        by: None,
        at_least: 0,
    };
    let quiet = Progress::default();
    let pick = programme
        .draw_pick(&who, &request, &assessed, &quiet)
        .unwrap();
    let results = pick.drawn.draws.iter().map(|seen| Verified {
        draw: seen.draw.clone(),
        result: Outcome::Disagree,
        representative: None,
        note: String::new(),
    });
    programme
        .enter_results(&who, 1, results.collect(), None)
        .unwrap();
    for number in 0..3 {
        let request = FindingRequest {
            grade: Grade::Nonconformity,
            subject: Subject::Draws {
                ids: vec![pick.drawn.draws[number].draw.clone()],
            },
            rule: None,
            text: "the log says otherwise".to_owned(),
            owner: "Bo".to_owned(),
            due: "2027-01-01".parse().unwrap(),
            filter: Filter::default(),
        };
        programme
            .raise_finding(&who, &request, &assessed, &quiet)
            .unwrap();
    }
    let answer = Answer {
        cause: "a".to_owned(),
        correction: "b".to_owned(),
        action: "c".to_owned(),
        by: None,
    };
    programme.answer_finding(&who, 1, &answer).unwrap();
    programme.close_finding(&who, 1, "seen", None).unwrap();
    let aside = pick.drawn.draws[3].draw.clone();
    programme
        .set_result_aside(&assessed, &who, &aside, "not to be trusted")
        .unwrap();
    programme
        .take_back_set_aside(&who, &aside, "drawn again")
        .unwrap();
    // A draw, a point and a technician in another state, and rows that are refused.
    for (name, from, to) in [
        ("points.csv", 1, "changed-machine"),
        ("technicians.csv", 1, "Changed Name"),
    ] {
        let text = fs::read_to_string(sheets.join(name)).unwrap();
        let mut lines = text.lines();
        let head = lines.next().unwrap();
        let mut cells: Vec<&str> = lines.nth(from).unwrap().split(',').collect();
        let place = if name == "points.csv" { 2 } else { 1 };
        cells[place] = to;
        fs::write(folder.join(name), format!("{head}\n{}\n", cells.join(","))).unwrap();
    }
    let text = fs::read_to_string(sheets.join("draws.csv")).unwrap();
    let (head, row) = (text.lines().next().unwrap(), text.lines().nth(9).unwrap());
    let places: Vec<&str> = head.split(',').collect();
    let remarks = places.iter().position(|name| *name == "remarks").unwrap();
    let mut cells: Vec<&str> = row.split(',').collect();
    cells[remarks] = "seen again";
    fs::write(
        folder.join("draws.csv"),
        format!("{head}\n{}\nbroken,,,\n", cells.join(",")),
    )
    .unwrap();
    for name in ["points.csv", "technicians.csv", "draws.csv"] {
        take(&mut programme, &folder.join(name));
    }
    // One more draw, taken back.
    let extra = row.replacen(cells[0], "extra", 1);
    fs::write(folder.join("draws.csv"), format!("{head}\n{extra}\n")).unwrap();
    let batch = take(&mut programme, &folder.join("draws.csv"));
    programme.take_back(batch, &who, "a trial", &quiet).unwrap();
    programme.assess(&quiet).unwrap();
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
    drop(programme);
    // One file without a log beside it, so that it can be copied.
    let connection = Connection::open(&file).unwrap();
    connection
        .pragma_update(None, "journal_mode", "delete")
        .unwrap();
    file
}

/// A copy changed by hand, and what the check says of it.
fn found(change: impl FnOnce(&Connection)) -> Result<Vec<String>, String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("p.db");
    fs::copy(sound(), &file).unwrap();
    let connection = Connection::open(&file).unwrap();
    connection
        .pragma_update(None, "foreign_keys", false)
        .unwrap();
    change(&connection);
    drop(connection);
    let programme = Programme::open(&file).map_err(|error| error.to_string())?;
    Ok(programme.check().unwrap())
}

fn says(what: &str, change: impl FnOnce(&Connection), wanted: &[&str]) {
    let said = match found(change) {
        Ok(faults) => faults.join("\n"),
        Err(error) => error,
    };
    for wanted in wanted {
        assert!(said.contains(wanted), "{what}: no {wanted:?} in\n{said}");
    }
}

/// The triggers of the trail, taken away and put back as they were.
fn unguarded(connection: &Connection, change: impl FnOnce(&Connection)) {
    let triggers: Vec<(String, String)> = connection
        .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
        .unwrap()
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    for (name, _) in &triggers {
        connection
            .execute_batch(&format!("DROP TRIGGER {name}"))
            .unwrap();
    }
    change(connection);
    for (_, sql) in &triggers {
        connection.execute_batch(sql).unwrap();
    }
}

fn links(connection: &Connection) -> Vec<Link> {
    fairdraw::store::trail::all(connection).unwrap()
}

fn write(connection: &Connection, link: &Link) {
    connection
        .execute(
            "UPDATE trail SET at = ?2, who = ?3, kind = ?4, what = ?5, previous = ?6, hash = ?7 \
             WHERE link = ?1",
            (
                link.number,
                link.at,
                &link.who,
                &link.kind,
                &link.what,
                &link.previous,
                &link.hash,
            ),
        )
        .unwrap();
}

/// The number of the first link of this kind.
fn first(connection: &Connection, kind: &str) -> i64 {
    let links = links(connection);
    let link = links.iter().find(|link| link.kind == kind);
    link.unwrap_or_else(|| panic!("no {kind}")).number
}

#[test]
fn the_tables_of_the_trail_refuse_to_be_rewritten() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("p.db");
    fs::copy(sound(), &file).unwrap();
    let connection = Connection::open(&file).unwrap();
    for sql in [
        "UPDATE trail SET who = 'x' WHERE link = 1",
        "DELETE FROM trail WHERE link = 1",
        "DELETE FROM trail",
        "INSERT OR REPLACE INTO trail SELECT * FROM trail WHERE link = 2",
        "REPLACE INTO trail VALUES (1, 0, '', '', '{}', '', '')",
        "INSERT INTO trail VALUES (1, 0, '', '', '{}', '', '') ON CONFLICT DO UPDATE SET who = 'x'",
        "INSERT INTO trail SELECT max(link) + 2, at, who, kind, what, hash, hash FROM trail",
        "INSERT INTO trail SELECT max(link) + 1, at, who, kind, what, previous, hash FROM trail",
        "UPDATE OR REPLACE trail SET link = 2 WHERE link = 1",
    ] {
        let refused = connection.execute_batch(sql).unwrap_err().to_string();
        assert!(refused.contains("only added to"), "{sql}: {refused}");
    }
}

#[test]
fn a_link_that_is_changed_left_out_or_put_in_is_named() {
    let update =
        |sql: &'static str| move |c: &Connection| unguarded(c, |c| c.execute_batch(sql).unwrap());
    let broken = "the trail breaks at link 2 (rulebook adopted, by Ada";
    says(
        "another text",
        update("UPDATE trail SET what = replace(what, 'ours', 'ourz') WHERE link = 2"),
        &[broken, "its hash is not that of what it says"],
    );
    says(
        "another name",
        update("UPDATE trail SET who = 'Bo' WHERE link = 3"),
        &["the trail breaks at link 3 (rulebook adopted, by Bo"],
    );
    says(
        "another time",
        update("UPDATE trail SET at = at - 86400 WHERE link = 4"),
        &["the trail breaks at link 4 (pick drawn, by Ada"],
    );
    says(
        "another kind",
        update("UPDATE trail SET kind = 'finding closed' WHERE link = 2"),
        &["the trail breaks at link 2 (finding closed"],
    );
    says(
        "another hash",
        update("UPDATE trail SET hash = replace(hash, 'a', 'b') WHERE link = 2"),
        &[broken],
    );
    says(
        "the last left out",
        update("DELETE FROM trail WHERE link = (SELECT max(link) FROM trail)"),
        &[", the last of the trail, is missing"],
    );
    says(
        "the last three left out",
        update("DELETE FROM trail WHERE link > (SELECT max(link) FROM trail) - 3"),
        &[", the last of the trail, are missing"],
    );
    says(
        "one left out in the middle",
        update("DELETE FROM trail WHERE link = 5"),
        &["link 5 of the trail is missing"],
    );
    says(
        "the first left out",
        update("DELETE FROM trail WHERE link = 1"),
        &["link 1 of the trail is missing"],
    );
    says(
        "all left out",
        update("DELETE FROM trail"),
        &["links 1 to ", "the last of the trail, are missing"],
    );
    says(
        "two swapped",
        update(
            "UPDATE trail SET link = -1 WHERE link = 2; UPDATE trail SET link = 2 WHERE link = 3; \
             UPDATE trail SET link = 3 WHERE link = -1",
        ),
        &["the trail breaks at link 2", "the hash of the link before"],
    );
    says(
        "numbers moved up",
        update("UPDATE trail SET link = -link; UPDATE trail SET link = 1 - link"),
        &["link 1 of the trail is missing"],
    );
    says(
        "a link of number 0 put before",
        update(
            "INSERT INTO trail SELECT 0, at, who, kind, what, previous, hash FROM trail WHERE link = 1",
        ),
        &["the trail breaks at link 0", "none that a link can have"],
    );
    says(
        "the count of links set back",
        update("UPDATE sqlite_sequence SET seq = 3 WHERE name = 'trail'"),
        &["the file counts 3 links of the trail"],
    );
    says(
        "the count of links removed",
        update("DELETE FROM sqlite_sequence"),
        &["the file counts 0 links of the trail"],
    );
}

#[test]
fn hashes_made_anew_do_not_help() {
    says(
        "one link with its hash",
        |c| {
            unguarded(c, |c| {
                let mut link = links(c)[1].clone();
                link.who = "Bo".to_owned();
                link.hash = link.reckoned_hash();
                write(c, &link);
            });
        },
        &["the trail breaks at link 3", "the hash of the link before"],
    );
    says(
        "the whole tail, a rulebook's name changed",
        |c| {
            rechained(c, |link| {
                if link.number == 2 {
                    link.what = link.what.replace("ours", "ourz");
                }
            })
        },
        &["the rulebook ours, revision 1, is not the one that link 2"],
    );
    says(
        "the whole tail, an answer moved to another finding",
        |c| {
            rechained(c, |link| {
                if link.kind == "finding answered" {
                    link.what = link.what.replace("\"finding\":1", "\"finding\":9");
                }
            })
        },
        &[
            "finding F-9 was answered, but it was never raised",
            "finding F-1 was closed, but it is a nonconformity that was not answered",
        ],
    );
    says(
        "the whole tail, a kind that nobody knows",
        |c| {
            rechained(c, |link| {
                if link.kind == "finding closed" {
                    link.kind = "finding forgotten".to_owned();
                }
            })
        },
        &["is of a kind that is not known: finding forgotten"],
    );
    says(
        "the whole tail, a decision that is none",
        |c| {
            rechained(c, |link| {
                if link.kind == "pick drawn" {
                    link.what = "{}".to_owned();
                }
            })
        },
        &["(pick drawn) says can't be read", "which was never drawn"],
    );
    says(
        "the whole tail, a result for a draw that was not picked",
        |c| {
            rechained(c, |link| {
                if link.kind == "pick verified" {
                    link.what = link.what.replacen("\"draw\":\"", "\"draw\":\"x", 1);
                }
            })
        },
        &["which is not in pick 1"],
    );
    for (from, to, fault) in [
        (
            "set aside taken back",
            "result set aside",
            "is aside already",
        ),
        (
            "result set aside",
            "set aside taken back",
            "was never set aside",
        ),
    ] {
        says(
            "the whole tail, a set aside turned round",
            |c| {
                rechained(c, |link| {
                    if link.kind == from {
                        link.kind = to.to_owned();
                        // The fields that the other kind has too are enough for it.
                        let mut what: serde_json::Value = serde_json::from_str(&link.what).unwrap();
                        let fields = what.as_object_mut().unwrap();
                        for name in ["point", "drawn_at", "verdict"] {
                            fields.entry(name).or_insert("x".into());
                        }
                        link.what = what.to_string();
                    }
                });
            },
            &[fault],
        );
    }
    says(
        "the whole tail, rows of a batch counted otherwise",
        |c| {
            rechained(c, |link| {
                if link.number == 1 {
                    link.what = link.what.replace("\"rows\":244", "\"rows\":243");
                }
            })
        },
        &["draws: by link 1 of the trail batch 1 brought 243 rows, 244 are there"],
    );
}

/// Changes links and makes every hash anew, as one who knows how could.
fn rechained(connection: &Connection, change: impl Fn(&mut Link)) {
    unguarded(connection, |connection| {
        let mut before = fairdraw::model::trail::NO_LINK.to_owned();
        for mut link in links(connection) {
            change(&mut link);
            link.previous = std::mem::take(&mut before);
            link.hash = link.reckoned_hash();
            before.clone_from(&link.hash);
            write(connection, &link);
        }
    });
}

/// Nothing inside a file can show that its tail was forged whole; a head noted elsewhere does.
#[test]
fn a_head_noted_elsewhere_shows_what_the_file_alone_can_not() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("p.db");
    fs::copy(sound(), &file).unwrap();
    let connection = Connection::open(&file).unwrap();
    let closed = first(&connection, "finding closed");
    let head = links(&connection).last().unwrap().hash.clone();
    let early = links(&connection)[0].hash.clone();
    rechained(&connection, |link| {
        if link.number == closed {
            link.what = link.what.replace("seen", "not seen");
        }
    });
    drop(connection);
    let programme = Programme::open(&file).unwrap();
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
    assert_eq!(programme.check_against(Some(&early)).unwrap().len(), 0);
    let wrong = programme.check_against(Some(&head)).unwrap();
    assert_eq!(wrong.len(), 1);
    assert!(wrong[0].contains("was its head once"), "{wrong:?}");
}

#[test]
fn rows_that_the_trail_answers_for_are_named() {
    let sql = |text: &'static str| move |c: &Connection| c.execute_batch(text).unwrap();
    says(
        "a draw's value",
        sql("UPDATE draws SET fill_pct = 5 WHERE record = 7"),
        &[
            "draws: the rows of batch 1 are not those it brought",
            "D0000007 (row 7)",
        ],
    );
    says(
        "a superseded draw's value",
        sql("UPDATE draws SET fill_pct = 5 WHERE superseded_in IS NOT NULL"),
        &["draws: the rows of batch 1 are not those it brought"],
    );
    says(
        "a draw left out",
        sql("DELETE FROM draws WHERE record = 7"),
        &["draws: by link 1 of the trail batch 1 brought 244 rows, 243 are there"],
    );
    says(
        "a draw put in",
        sql(
            "INSERT INTO draws (record, imported_in, point, technician, drawn_at, second_fill) VALUES (9999, 1, 1, 1, 0, 0)",
        ),
        &["batch 1 brought 244 rows, 245 are there", "245 are stored"],
    );
    says(
        "a draw put aside",
        sql("UPDATE draws SET superseded_in = 2 WHERE record = 7"),
        &["draws count no more though nothing took their place: D0000007 (row 7)"],
    );
    says(
        "a draw put aside as if it had been taken back",
        sql(
            "UPDATE draws SET superseded_in = (SELECT import FROM imports WHERE takes_back IS NOT NULL) WHERE record = 7",
        ),
        &["took 1 draws out by the trail, 2 are marked so"],
    );
    says(
        "an old state beside the new",
        sql("UPDATE draws SET superseded_in = NULL WHERE record IN (SELECT supersedes FROM draws)"),
        &["draws count though another took their place: "],
    );
    says(
        "a draw moved to another batch",
        sql("UPDATE draws SET imported_in = 2 WHERE record = 7"),
        &["batch 1 brought 244 rows, 243 are there"],
    );
    says(
        "a point's value",
        sql("UPDATE points SET tube_length_cm = 1 WHERE number = 1"),
        &["points: the rows of batch 1 are not those it brought"],
    );
    says(
        "a point's former value",
        sql("UPDATE former_points SET machine = 'x'"),
        &["points: the rows of batch 1 are not those it brought"],
    );
    says(
        "a technician's crew",
        sql("UPDATE technicians SET crew = 'x' WHERE number = 3"),
        &["technicians: the rows of batch 1 are not those it brought"],
    );
    says(
        "a training left out",
        sql("DELETE FROM trainings WHERE number = 1"),
        &["trainings: by link 1 of the trail batch 1 brought"],
    );
    says(
        "a batch's time",
        sql("UPDATE imports SET taken_at = taken_at - 1 WHERE import = 2"),
        &["imports: the rows of batch 2 are not those it brought"],
    );
    says(
        "a batch's name",
        sql("UPDATE imports SET who = 'Bo' WHERE import = 2"),
        &["the ledger tells of batch 2 otherwise"],
    );
    says(
        "a sheet's count",
        sql("UPDATE import_sheets SET refused_rows = 0 WHERE import = 4"),
        &[
            "the ledger does not say of batch 4 what link",
            "import_sheets: the rows of batch 4",
        ],
    );
    says(
        "a sheet's hash",
        sql("UPDATE import_sheets SET sha256 = replace(sha256, 'a', 'b') WHERE import = 1"),
        &["the ledger does not say of batch 1 what link"],
    );
    says(
        "a refusal left out",
        sql("DELETE FROM refusals"),
        &["refusals: by link", "0 are there"],
    );
    says(
        "a refused row's cells",
        sql("UPDATE refused_rows SET cells = '[]'"),
        &["refused_rows: the rows of batch 4 are not those it brought"],
    );
    says(
        "a batch left out",
        sql("DELETE FROM imports WHERE import = 3"),
        &["imports", "batch 3"],
    );
    says(
        "a rulebook's text",
        sql(
            "UPDATE rulebooks SET text = replace(text, 'weight: 4', 'weight: 1') WHERE revision = '2'",
        ),
        &["the rulebook ours, revision 2, is not the one that link 3 of the trail adopted"],
    );
    says(
        "a rulebook put in force",
        sql(
            "INSERT INTO rulebooks (fingerprint, name, revision, text, adopted_at) SELECT fingerprint, name, '3', text, adopted_at FROM rulebooks WHERE revision = '1'",
        ),
        &["the rulebook ours, revision 3, is not the one that link 3"],
    );
    says(
        "a rulebook left out",
        sql("DELETE FROM rulebooks WHERE revision = '2'"),
        &["2 rulebooks were adopted, 1 are kept"],
    );
}

#[test]
fn verdicts_and_columns_that_do_not_fit_are_named() {
    let sql = |text: &'static str| move |c: &Connection| c.execute_batch(text).unwrap();
    says(
        "a verdict",
        |c| {
            let mut data: Vec<u8> = c
                .query_row(
                    "SELECT data FROM judged_columns WHERE name = 'verdict'",
                    [],
                    |row| row.get(0),
                )
                .unwrap();
            data[11] = (data[11] + 1) % 4;
            c.execute(
                "UPDATE judged_columns SET data = ? WHERE name = 'verdict'",
                [data],
            )
            .unwrap();
        },
        &["verdicts that the rulebook does not give: of D"],
    );
    says(
        "a shorter column",
        sql("UPDATE judged_columns SET data = substr(data, 2) WHERE name = 'verdict'"),
        &["the column verdict of the verdicts does not fit the draws"],
    );
    says(
        "a column left out",
        sql("DELETE FROM judged_columns WHERE name = 'content'"),
        &["the columns by which draws are recognised are missing"],
    );
    says(
        "the stamp",
        sql("UPDATE judged SET stamp = stamp + 1"),
        &["the stamp of the verdicts does not fit the draws"],
    );
    says(
        "the rulebook of the verdicts",
        sql("UPDATE judged SET rulebook = 'x'"),
        &["the rulebook x of the verdicts is not known"],
    );
    says(
        "no verdicts",
        sql("DELETE FROM judged"),
        &["the draws were never judged"],
    );
}

#[test]
fn tables_and_triggers_that_are_missing_or_altered_are_named() {
    let sql = |text: &'static str| move |c: &Connection| c.execute_batch(text).unwrap();
    for trigger in [
        "trail_is_not_rewritten",
        "trail_is_not_shortened",
        "trail_goes_on",
    ] {
        says(
            trigger,
            |c| c.execute_batch(&format!("DROP TRIGGER {trigger}")).unwrap(),
            &[&format!("the trigger {trigger} is missing")],
        );
    }
    says(
        "a trigger that lets everything pass",
        sql(
            "DROP TRIGGER trail_is_not_rewritten; CREATE TRIGGER trail_is_not_rewritten BEFORE UPDATE ON trail BEGIN SELECT 1; END",
        ),
        &["the trigger trail_is_not_rewritten is not as fairdraw makes it"],
    );
    says(
        "a trigger that rewrites what comes in",
        sql(
            "CREATE TRIGGER helpful AFTER INSERT ON draws BEGIN UPDATE draws SET fill_pct = 80; END",
        ),
        &["the trigger helpful is none of fairdraw's"],
    );
    says(
        "the trail",
        sql("DROP TABLE trail"),
        &["the table trail is missing", "no such table: trail"],
    );
    says(
        "the refusals",
        sql("DROP TABLE refusals"),
        &["the table refusals is missing"],
    );
    says(
        "a table laid out otherwise",
        sql("ALTER TABLE rulebooks ADD COLUMN more TEXT"),
        &["the table rulebooks is not as fairdraw makes it"],
    );
    says(
        "a table beside",
        sql("CREATE TABLE notes (x)"),
        &["the table notes is none of fairdraw's"],
    );
    says(
        "another application id",
        sql("PRAGMA application_id = 7"),
        &["is not a programme file"],
    );
    says(
        "a version that is to come",
        sql("PRAGMA user_version = 99"),
        &["was written by a newer fairdraw"],
    );
    says(
        "a version that was",
        sql("PRAGMA user_version = 1"),
        &["duplicate column name"],
    );
}

#[test]
fn the_command_tells_faults_and_ends_with_status_1() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("programme.db");
    fs::copy(sound(), &file).unwrap();
    let run = |arguments: &[&str]| {
        let output = command(folder.path(), arguments).output().unwrap();
        let text = String::from_utf8(output.stdout).unwrap();
        (output.status.code().unwrap(), text)
    };
    assert_eq!(run(&["check"]).0, 0);
    let head = run(&["trail", "--format", "json"]).1;
    let head: serde_json::Value = serde_json::from_str(&head).unwrap();
    let head = head.as_array().unwrap().last().unwrap()["hash"]
        .as_str()
        .unwrap()
        .to_owned();
    assert_eq!(run(&["check", "--head", &head]).0, 0);
    assert_eq!(run(&["check", "--head", &"0".repeat(64)]).0, 1);
    assert_eq!(run(&["check", "--head", "abc"]).0, 2);
    let connection = Connection::open(&file).unwrap();
    unguarded(&connection, |c| {
        c.execute_batch("UPDATE trail SET who = 'Bo' WHERE link = 2")
            .unwrap();
    });
    drop(connection);
    let (status, text) = run(&["check", "--format", "csv"]);
    assert_eq!(status, 1);
    assert!(text.contains("the trail breaks at link 2"), "{text}");
}
