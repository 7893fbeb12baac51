//! The forms of the interface: how each begins, and how what is written in it becomes a
//! decision.

use std::path::PathBuf;

use chrono::{Days, NaiveDate};

use super::action::Command;
use super::app::{App, Loading, Over, Packing, Place};
use super::decide::{Decision, Paper};
use super::effect::Effect;
use super::form::{Field, Form, Then, Value};
use super::keymap::Zone;
use super::{form_command, pick_form, text};
use crate::analysis::Filter;
use crate::analysis::findings::Finding;
use crate::model::decisions::finding::{Grade, Subject};
use crate::model::decisions::pick::{Outcome, Verified};
use crate::model::trail::Who;
use crate::programme::{Answer, ExportRequest, FindingRequest};

/// What is done with a form once it is sent.
#[derive(Clone, Debug)]
pub(crate) enum Purpose {
    SetAside(String),
    TakeBack(String),
    Raise(Subject),
    Answer(u32),
    Close(u32),
    Withdraw(u32),
    Pick,
    /// The sheet for the verifier of the pick of this number.
    PickSheet(u32),
    /// The result for a draw of a pick.
    Enter(u32, String, Outcome),
    Sheets,
    Pack,
    /// The name of the one who decides, for what asks for nothing else in a form.
    Name,
}

impl Purpose {
    /// Whether it is a decision that is kept in the trail.
    pub(crate) const fn decides(&self) -> bool {
        !matches!(
            self,
            Purpose::Sheets | Purpose::Pack | Purpose::PickSheet(_)
        )
    }
}

/// A form of the interface.
pub(crate) type Sheet = Form<Purpose>;

/// Who decides and in which file, or why nothing can be decided.
pub(crate) fn may_decide(app: &mut App) -> bool {
    let words = if let Some(words) = app.news().filter(|_| app.out_of_place.is_some()) {
        words
    } else if app.read_only {
        "This file can't be written to, so nothing can be decided in it; a copy in a folder of \
         your own can."
    } else {
        return true;
    };
    app.message = Some(words.to_owned());
    false
}

/// The field for the name of the one who decides.
const NAME: &str = "your name";

/// Whether it is known who decides; else asks for the name alone.
pub(crate) fn is_named(app: &mut App) -> bool {
    if app.who.is_none() {
        let about = "What you are about to do is kept in the trail with your name.";
        show(
            app,
            Form::new(Purpose::Name, "Who decides?", about, Vec::new()),
        );
    }
    app.who.is_some()
}

/// Shows a form; where it is not known who decides, it asks for the name first.
pub(super) fn show(app: &mut App, mut form: Sheet) {
    if form.purpose.decides() && app.who.is_none() {
        let hint = "it is kept with what you decide, for all of this sitting";
        form.fields.insert(0, Field::text(NAME, "", hint));
    }
    app.over = Some(Over::Form(Box::new(form)));
}

/// Asks for the reason to set a draw's result aside, or to let it count again.
pub(crate) fn set_aside(app: &mut App, draw: &str, is_aside: bool) {
    if !may_decide(app) {
        return;
    }
    let hint = "in one line; it is kept with your name";
    let because = vec![Field::text("because", "", hint)];
    let form = if is_aside {
        Form::new(
            Purpose::TakeBack(draw.to_owned()),
            &format!("Let the result of draw {draw} count again"),
            "The result was set aside. Say why it counts after all.",
            because,
        )
    } else {
        Form::new(
            Purpose::SetAside(draw.to_owned()),
            &format!("Set the result of draw {draw} aside"),
            "Nobody is to act on the laboratory's result of this draw. Its verdict stays as it is; \
             it no longer counts as a sample that can be trusted.",
            because,
        )
    };
    show(app, form);
}

/// The grades in the order of [`Grade::ALL`], in one word each.
const GRADES: [&str; Grade::ALL.len()] = ["nonconformity", "observation", "opportunity"];

/// Asks for a finding about this subject.
pub(crate) fn raise(app: &mut App, subject: Subject, rule: &str) {
    if !may_decide(app) {
        return;
    }
    let about = match &subject {
        Subject::Draws { .. } => "The draw as it stands now is kept as evidence.",
        Subject::Pick { .. } => {
            "The draws that disagree with the record speak for it and are kept as they stand now."
        }
        _ if app.filter.is_empty() => {
            "The draws on which the rule is broken (without a rule: the unrepresentative ones) \
             speak for it and are kept as they stand now."
        }
        _ => {
            "The draws in view on which the rule is broken (without a rule: the unrepresentative \
             ones) speak for it and are kept as they stand now."
        }
    };
    let due = today(app).and_then(|day| day.checked_add_days(Days::new(30)));
    let due = due.map_or_else(String::new, |day| day.to_string());
    let fields = vec![
        Field::text("what was found", "", "in one line, as the auditor says it"),
        Field::choice(
            "grade",
            &GRADES,
            0,
            "how much weight it has; an opportunity is one for improvement",
        ),
        Field::text(
            "rule",
            rule,
            "the rule that is not kept, by id; may stay blank",
        ),
        Field::text("owner", "", "who is to answer"),
        Field::text("due", &due, "the day by which, as 2026-03-04"),
    ];
    let title = format!("Raise a finding about {subject}");
    show(
        app,
        Form::new(Purpose::Raise(subject), &title, about, fields),
    );
}

/// The day it is, as far as it is known.
pub(super) fn today(app: &App) -> Option<NaiveDate> {
    app.figures.docket.as_ref().map(|docket| docket.today)
}

fn about(finding: &Finding) -> String {
    let raised = &finding.raised;
    format!("{} on {}: {}", raised.grade, raised.subject, raised.text)
}

/// Asks for the answer to a finding.
pub(crate) fn answer(app: &mut App, finding: &Finding) {
    if !may_decide(app) {
        return;
    }
    let fields = vec![
        Field::text("cause", "", "why it came about"),
        Field::text("correction", "", "what was done about what was found"),
        Field::text("action", "", "what is done so that it does not come back"),
        Field::text(
            "done by",
            "",
            "the day by which, as 2026-03-04; blank if it is done",
        ),
    ];
    let number = finding.number();
    let title = format!("Answer finding F-{number}");
    let form = Form::new(Purpose::Answer(number), &title, &about(finding), fields);
    show(app, form);
}

/// Asks how it was seen that the action works. `measured` is what draws tell, if they do.
pub(crate) fn close(app: &mut App, finding: &Finding, measured: Option<&str>) {
    if !may_decide(app) {
        return;
    }
    let hint = "how it was seen that the action is effective";
    let mut fields = vec![Field::text("effect", "", hint)];
    if let Some(words) = measured {
        fields.push(Field::choice("count draws", &["yes", "no"], 0, words));
    }
    let number = finding.number();
    let title = format!("Close finding F-{number} after a check of effect");
    let form = Form::new(Purpose::Close(number), &title, &about(finding), fields);
    show(app, form);
}

/// Asks why a finding is withdrawn.
pub(crate) fn withdraw(app: &mut App, finding: &Finding) {
    if !may_decide(app) {
        return;
    }
    let fields = vec![Field::text(
        "because",
        "",
        "why it should not have been raised",
    )];
    let number = finding.number();
    let title = format!("Withdraw finding F-{number}");
    let form = Form::new(Purpose::Withdraw(number), &title, &about(finding), fields);
    show(app, form);
}

/// Asks for what was found of a draw of a pick.
pub(crate) fn enter(app: &mut App, number: u32, draw: &str, result: Outcome) {
    if !may_decide(app) {
        return;
    }
    let fields = vec![
        Field::text("note", "", "what was found; may stay blank"),
        Field::choice(
            "sample",
            &["not said", "representative", "unrepresentative"],
            0,
            "whether you hold the sample for representative",
        ),
    ];
    let words = match result {
        Outcome::Agree => "the record is so",
        Outcome::Disagree => "the record is not so",
        Outcome::Unverified => "it could not be verified",
    };
    let title = format!("Pick {number}, draw {draw}: {words}");
    let purpose = Purpose::Enter(number, draw.to_owned(), result);
    let about =
        "A draw entered again takes the place of its earlier result; both stay in the trail.";
    show(app, Form::new(purpose, &title, about, fields));
}

/// Asks to enter for a draw of a pick what was known of it before.
pub(crate) fn enter_again(app: &mut App, number: u32, known: &Verified) {
    enter(app, number, &known.draw, known.result);
    if let Some(Over::Form(form)) = &mut app.over {
        let sample = match known.representative {
            None => 0,
            Some(true) => 1,
            Some(false) => 2,
        };
        for field in &mut form.fields {
            if field.label == "note" {
                *field = Field::text("note", &known.note, "as it was noted before");
            } else if let Value::Choice(_, at) = &mut field.value {
                *at = sample;
            }
        }
    }
}

/// Asks where sheets are to be written.
pub(crate) fn sheets(app: &mut App) {
    let fields = vec![Field::text(
        "folder",
        &app.sheets_folder,
        "it is made if it is not there; no file is overwritten",
    )];
    let about = "A page of HTML for each site, to print: cautions, what to do differently this \
                 time, and the record to fill in.";
    show(
        app,
        Form::new(Purpose::Sheets, "Sheets to print", about, fields),
    );
}

/// Asks where the pack is to be written.
pub(crate) fn pack(app: &mut App) {
    if app.packing.is_some() {
        let words = "A pack is being written; one at a time.";
        app.message = Some(words.to_owned());
        return;
    }
    let fields = vec![
        Field::text("folder", &app.pack_folder, "it is made by the export"),
        Field::choice(
            "people",
            &["by name", "by code"],
            0,
            "by code: people and crews are replaced by codes whose key stays in the programme",
        ),
        Field::choice(
            "if it is there",
            &["leave it", "replace it"],
            0,
            "only a pack is ever replaced",
        ),
    ];
    let about = if app.filter.is_empty() {
        "Findings, picks, scored draws and what follows from them, with checksums.".to_owned()
    } else {
        format!("Of the draws in view: {}.", app.filter)
    };
    show(
        app,
        Form::new(Purpose::Pack, "Write the findings pack", &about, fields),
    );
}

/// Does what a key asked for in a form.
pub(crate) fn obey(
    app: &mut App,
    mut form: Box<Sheet>,
    command: Command,
    effects: &mut Vec<Effect>,
) {
    if command == Command::CopyCommand {
        form_command::copy(app, &form, effects);
        app.over = Some(Over::Form(form));
        return;
    }
    match form.obey(command) {
        Then::Leave => return,
        Then::Stay => {}
        Then::Stop => effects.push(Effect::StopDeciding),
        Then::Send => {
            for field in &mut form.fields {
                field.said = None;
            }
            let named = named(&mut form);
            let effect = sent(app, &mut form);
            if let Some(who) = named.filter(|_| !form.is_wrong()) {
                app.message = Some(format!("What you decide is now kept as {who}."));
                app.who = Some(who);
                if matches!(form.purpose, Purpose::Name) {
                    app.message = Some("Your name is known now; press the key again.".to_owned());
                    return;
                }
            }
            if let Some(effect) = effect {
                effects.push(effect);
                // A pack may take a while; the interface is free meanwhile.
                if matches!(form.purpose, Purpose::Pack) {
                    app.packing = Some(Packing {
                        form,
                        stopping: false,
                        progress: Loading::default(),
                    });
                    return;
                }
                form.sent = true;
                app.writing = Loading::default();
            }
        }
    }
    app.over = Some(Over::Form(form));
}

/// The one who decides, as the form names them, if it asks for that.
fn named(form: &mut Sheet) -> Option<Who> {
    let is_asked = form.fields.iter().any(|field| field.label == NAME);
    let who = Who::named(form.read(NAME));
    if is_asked && who.is_none() {
        let words = "Write 1 to 100 characters, none of them a control character.";
        form.complain(NAME, words);
    }
    who
}

/// What the form asks for; none if something is wrong with it, which it then says.
fn sent(app: &mut App, form: &mut Sheet) -> Option<Effect> {
    let purpose = form.purpose.clone();
    let required: &[&str] = match &purpose {
        Purpose::SetAside(_) | Purpose::TakeBack(_) | Purpose::Withdraw(_) => &["because"],
        Purpose::Raise(_) => &["what was found", "owner", "due"],
        Purpose::Answer(_) => &["cause", "correction", "action"],
        Purpose::Close(_) => &["effect"],
        Purpose::Pick => &["seed"],
        Purpose::Enter(..) | Purpose::Name => &[],
        Purpose::Sheets | Purpose::Pack => &["folder"],
        Purpose::PickSheet(_) => &["file"],
    };
    for label in required {
        if form.read(label).is_empty() {
            form.complain(label, "This must not stay blank.");
        }
    }
    let text = |label: &str| form.read(label).to_owned();
    let decision = match purpose {
        Purpose::SetAside(draw) => Decision::SetAside(draw, text("because")),
        Purpose::TakeBack(draw) => Decision::TakeBack(draw, text("because")),
        Purpose::Withdraw(number) => Decision::Withdraw(number, text("because")),
        Purpose::Close(number) => {
            Decision::Close(number, text("effect"), text("count draws") == "yes")
        }
        Purpose::Raise(subject) => {
            let request = finding(app, form, subject);
            Decision::Raise(Box::new(request?))
        }
        Purpose::Answer(number) => Decision::Answer(number, answered(form)?),
        Purpose::Pick => Decision::Pick(Box::new(pick_form::request(app, form)?)),
        Purpose::Enter(number, draw, result) => {
            let representative = match form.read("sample") {
                "representative" => Some(true),
                "unrepresentative" => Some(false),
                _ => None,
            };
            let verified = Verified {
                draw,
                result,
                representative,
                note: text("note"),
            };
            Decision::Enter(number, vec![verified])
        }
        Purpose::Sheets => {
            let folder = text("folder");
            app.sheets_folder.clone_from(&folder);
            let paper = Paper::Sheets {
                folder,
                filter: app.filter.without_days(),
                selection: app.of_any_day.clone(),
                strict: app.screens.resample.strict,
            };
            return (!form.is_wrong()).then_some(Effect::WriteOut(paper));
        }
        Purpose::PickSheet(number) => {
            let paper = Paper::PickSheet(number, text("file"));
            return (!form.is_wrong()).then_some(Effect::WriteOut(paper));
        }
        Purpose::Name => return None,
        Purpose::Pack => {
            let folder = text("folder");
            app.pack_folder.clone_from(&folder);
            let paper = Paper::Pack(ExportRequest {
                to: PathBuf::from(folder),
                filter: app.filter.clone(),
                is_anonymous: form.read("people") == "by code",
                replace: form.read("if it is there") == "replace it",
                who: app.who.clone(),
            });
            return (!form.is_wrong()).then_some(Effect::WriteOut(paper));
        }
    };
    (!form.is_wrong()).then_some(Effect::Decide(decision))
}

/// The day in a field; a mistake is said there.
fn day(form: &mut Sheet, label: &str) -> Option<NaiveDate> {
    let text = form.read(label).to_owned();
    if text.is_empty() {
        return None;
    }
    let day = text.parse::<NaiveDate>().ok();
    if day.is_none() {
        form.complain(label, "That is no day; write it as 2026-03-04.");
    }
    day
}

fn finding(app: &App, form: &mut Sheet, subject: Subject) -> Option<FindingRequest> {
    let rule = form.read("rule").to_owned();
    if !rule.is_empty() && crate::rules::place_of(&rule).is_none() {
        let ids = crate::rules::cards().iter().map(|card| card.id);
        let meant = crate::analysis::nearest(&rule, ids)
            .map_or_else(String::new, |id| format!(" Did you mean {id}?"));
        form.complain("rule", &format!("There is no rule {rule}.{meant}"));
    }
    let grade = GRADES.iter().position(|word| *word == form.read("grade"))?;
    let grade = Grade::ALL[grade];
    let due = day(form, "due");
    let filter = match subject {
        Subject::Technician { .. } | Subject::Point { .. } => app.filter.clone(),
        Subject::Draws { .. } | Subject::Pick { .. } => Filter::default(),
    };
    Some(FindingRequest {
        grade,
        subject,
        rule: (!rule.is_empty()).then_some(rule),
        text: form.read("what was found").to_owned(),
        owner: form.read("owner").to_owned(),
        due: due?,
        filter,
    })
}

fn answered(form: &mut Sheet) -> Option<Answer> {
    let by = day(form, "done by");
    if form.is_wrong() {
        return None;
    }
    Some(Answer {
        cause: form.read("cause").to_owned(),
        correction: form.read("correction").to_owned(),
        action: form.read("action").to_owned(),
        by,
    })
}

/// What was asked for was done, or not.
pub(crate) fn answered_by(app: &mut App, outcome: Result<String, String>) {
    match (outcome, &mut app.over) {
        (Err(words), Some(Over::Form(form))) => {
            form.sent = false;
            form.said = Some(words);
        }
        (Err(words), _) => app.message = Some(words),
        (Ok(words), over) => {
            if let Some(Over::Form(form)) = over
                && form.sent
            {
                // The next draw of a pick is at hand for the next result.
                if matches!(form.purpose, Purpose::Enter(..)) {
                    app.screens.findings.draws.cursor += 1;
                }
                *over = None;
            }
            if matches!(over, Some(Over::Panel(panel)) if panel.zone() == Zone::PickSheetRead) {
                *over = None;
            }
            app.message = Some(words);
        }
    }
}

/// The findings pack was written, or not. The form comes back if it was not and the user is
/// still there.
pub(crate) fn packed(app: &mut App, outcome: Result<String, String>, effects: &mut Vec<Effect>) {
    let Some(packing) = app.packing.take() else {
        return;
    };
    match outcome {
        Ok(words) => {
            // The trail now holds that it was written.
            app.reload_quietly(effects);
            app.message = Some(words);
        }
        Err(words) if packing.stopping || app.over.is_some() || app.place != Place::Findings => {
            app.message = Some(text::sentence(&words));
        }
        Err(words) => {
            let mut form = packing.form;
            form.said = Some(words);
            show(app, *form);
        }
    }
}
