//! Checks by programs that know nothing of ours, where they are installed: GNU sha256sum,
//! python's jsonschema and openpyxl, pdftotext (poppler). A test says when one is not there.

use std::path::Path;
use std::process::Command;

use super::made::Desk;

/// What a program prints; none if it is not there.
fn told(program: &str, arguments: &[&str], folder: &Path) -> Option<(bool, String)> {
    let output = Command::new(program)
        .args(arguments)
        .current_dir(folder)
        .output()
        .ok()?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned()
        + &String::from_utf8_lossy(&output.stderr);
    Some((output.status.success(), text))
}

/// A python that has this module.
fn python(module: &str, folder: &Path) -> Option<&'static str> {
    let found = ["python3", "/usr/bin/python3"].into_iter().find(|python| {
        told(python, &["-c", &format!("import {module}")], folder).is_some_and(|(did, _)| did)
    });
    if found.is_none() {
        println!("not checked: there is no python with {module}");
    }
    found
}

#[test]
fn sha256sum_verifies_a_pack_and_sees_an_altered_one() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let folder = desk.path("pack");
    let arguments = ["--check", "--strict", "--quiet", "SHA256SUMS"];
    let Some((did, text)) = told("sha256sum", &arguments, &folder) else {
        println!("not checked: there is no sha256sum");
        return;
    };
    assert!(did && text.is_empty(), "{text}");
    std::fs::write(folder.join("README.txt"), "other").unwrap();
    let (did, text) = told("sha256sum", &arguments, &folder).unwrap();
    assert!(!did && text.contains("README.txt"), "{text}");
}

#[test]
fn jsonschema_validates_every_file() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let folder = desk.path("pack");
    let Some(python) = python("jsonschema", &folder) else {
        return;
    };
    let script = "
import glob, json, os
from jsonschema import Draft202012Validator as V, FormatChecker
seen = 0
for path in sorted(glob.glob('schemas/*.json')):
    schema = json.load(open(path, encoding='utf-8'))
    V.check_schema(schema)
    name = os.path.basename(path)[:-len('.schema.json')]
    if name == 'pack':
        values = [json.load(open('pack.json', encoding='utf-8'))]
    elif name == 'trail_line':
        values = [json.loads(line) for line in open('trail/trail.jsonl', encoding='utf-8')]
    else:
        values = [json.load(open('tables/' + name + '.json', encoding='utf-8'))]
    for value in values:
        V(schema, format_checker=FormatChecker()).validate(value)
        seen += 1
print(seen, 'validated')
";
    let (did, text) = told(python, &["-c", script], &folder).unwrap();
    assert!(did && text.contains("validated"), "{text}");
}

#[test]
fn openpyxl_reads_the_workbook() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let folder = desk.path("pack");
    let Some(python) = python("openpyxl", &folder) else {
        return;
    };
    let script = "
import datetime, openpyxl, warnings
warnings.simplefilter('ignore')
book = openpyxl.load_workbook('workbook.xlsx')
draws = book['Draws']
head = [cell.value for cell in draws[1]]
row = {name: cell for name, cell in zip(head, draws[2])}
assert isinstance(row['Drawn at (UTC)'].value, datetime.datetime), row['Drawn at (UTC)'].value
assert row['Score'].data_type == 'n'
assert draws.freeze_panes == 'B2' and draws.auto_filter.ref.startswith('A1:')
assert all(len(sheet.title) <= 31 for sheet in book)
assert not any(cell.data_type == 'f' for sheet in book for line in sheet.iter_rows() for cell in line)
print('read', len(book.sheetnames))
";
    let (did, text) = told(python, &["-c", script], &folder).unwrap();
    assert!(did && text.contains("read"), "{text}");
}

#[test]
fn pdftotext_reads_what_the_page_says() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let folder = desk.path("pack");
    let Some((did, text)) = told("pdftotext", &["-layout", "report.pdf", "-"], &folder) else {
        println!("not checked: there is no pdftotext");
        return;
    };
    assert!(did, "{text}");
    for said in [
        "How the oil samples were drawn",
        "Summary",
        "Findings",
        "F-1: pick 1",
        "People told apart from points",
        "Method and limits",
        "Caution. Local codes",
        "Head of the trail",
        "Page 1 of ",
    ] {
        assert!(text.contains(said), "{said} is not in the PDF");
    }
    // And no person in that of an anonymous pack.
    let mut request = desk.request("anonymous");
    request.is_anonymous = true;
    desk.export_as(&request);
    let (_, text) = told("pdftotext", &["report.pdf", "-"], &desk.path("anonymous")).unwrap();
    for name in super::made::DECIDERS
        .into_iter()
        .chain(["T001", "Tide crew"])
    {
        assert!(!text.contains(name), "{name} is in the PDF");
    }
}
