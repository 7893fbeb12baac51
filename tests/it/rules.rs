//! The rules: their table, every outcome of each, and laws that hold for all.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;

use fairdraw::model::{
    Answer, Class, Draw, Kind, Look, Looks, MachineState, Method, Moment, Number, Outcome, Place,
    Point, PurgeStage, RuleSet, Texts,
};
use fairdraw::rules::page::{docs_markdown, page};
use fairdraw::rules::parameter::Form;
use fairdraw::rules::{
    COUNT, InForce, PreparedPoint, Rulebook, SecondFills, SetMember, Situation, cards, place_of,
};
use proptest::prelude::*;
use serde::Deserialize;

use crate::support::{assert_snapshot, fixture, root};

/// The table of the scoring contract, written down apart from the code: id, class, weight,
/// decisive, kinds, whom it answers to.
const CONTRACT: [(&str, &str, u32, bool, &str, &str); COUNT] = [
    (
        "running-or-hot",
        "sample",
        20,
        true,
        "circulating sump",
        "technician",
    ),
    (
        "flush-met",
        "sample",
        16,
        true,
        "circulating sump",
        "technician",
    ),
    (
        "same-point",
        "sample",
        12,
        false,
        "circulating sump",
        "technician",
    ),
    (
        "same-method",
        "sample",
        10,
        false,
        "circulating sump tank grease",
        "technician",
    ),
    (
        "point-suited",
        "sample",
        12,
        false,
        "circulating sump tank grease",
        "plant",
    ),
    (
        "point-cleaned",
        "sample",
        8,
        false,
        "circulating sump tank grease",
        "technician",
    ),
    ("tube-depth", "sample", 8, false, "sump", "technician"),
    (
        "fresh-tube",
        "sample",
        10,
        false,
        "circulating sump tank grease",
        "technician",
    ),
    (
        "bottle-fit",
        "sample",
        12,
        true,
        "circulating sump tank grease",
        "technician",
    ),
    (
        "capped-at-once",
        "sample",
        6,
        false,
        "circulating sump tank grease",
        "technician",
    ),
    (
        "fill-level",
        "sample",
        8,
        false,
        "circulating sump tank",
        "technician",
    ),
    (
        "oil-worked-in",
        "sample",
        8,
        false,
        "circulating sump",
        "planner",
    ),
    (
        "age-at-dispatch",
        "sample",
        8,
        false,
        "circulating sump tank grease",
        "dispatch",
    ),
    (
        "looked-at",
        "sample",
        4,
        false,
        "circulating sump tank",
        "technician",
    ),
    (
        "second-fill",
        "sample",
        8,
        false,
        "circulating sump tank",
        "technician",
    ),
    ("level-set", "sample", 20, false, "tank", "technician"),
    ("grease-midway", "sample", 20, true, "grease", "technician"),
    (
        "label-complete",
        "record",
        10,
        false,
        "circulating sump tank grease",
        "technician",
    ),
    (
        "bottle-unique",
        "record",
        10,
        false,
        "circulating sump tank grease",
        "desk",
    ),
    (
        "times-in-order",
        "record",
        10,
        false,
        "circulating sump tank grease",
        "desk",
    ),
    (
        "hours-forward",
        "record",
        6,
        false,
        "circulating sump",
        "desk",
    ),
    (
        "registered",
        "record",
        6,
        false,
        "circulating sump tank grease",
        "desk",
    ),
    (
        "age-at-receipt",
        "record",
        6,
        false,
        "circulating sump tank grease",
        "dispatch",
    ),
    (
        "interval-kept",
        "record",
        6,
        false,
        "circulating sump tank grease",
        "planner",
    ),
    (
        "safety-confirmed",
        "conduct",
        10,
        false,
        "circulating sump tank grease",
        "technician",
    ),
];

/// Outcomes that the contract does not let a rule give: a time or a look that is missing is
/// not a breach, and label-complete judges blanks.
const NEVER: [(&str, &str); 4] = [
    ("same-point", "unrecorded"),
    ("looked-at", "broken"),
    ("registered", "broken"),
    ("label-complete", "unrecorded"),
];

/// Rules of all kinds that still don't speak about every draw.
const SOMETIMES_SILENT: [&str; 3] = ["same-method", "fresh-tube", "interval-kept"];

#[test]
fn the_cards_are_the_table_of_the_contract() {
    let book = Rulebook::standard();
    let rules = &book.all_in_force()[0];
    for (place, (id, class, weight, decisive, kinds, owner)) in CONTRACT.into_iter().enumerate() {
        let card = cards()[place];
        let listed: Vec<&str> = card.kinds.iter().map(|kind| kind.as_str()).collect();
        assert_eq!(card.id, id);
        assert_eq!(place_of(id), Some(place));
        assert_eq!(card.class.as_str(), class, "{id}");
        assert_eq!(
            (card.weight, rules.weights[place]),
            (weight, weight),
            "{id}"
        );
        assert_eq!(
            (card.decisive, rules.decisive.has(place)),
            (decisive, decisive),
            "{id}"
        );
        assert_eq!(listed.join(" "), kinds, "{id}");
        assert_eq!(card.owner.as_str(), owner, "{id}");
        for kind in Kind::ALL {
            let named = kinds.split(' ').any(|word| word == kind.as_str());
            assert_eq!(rules.of_kind(*kind).has(place), named, "{id} {kind}");
        }
    }
    assert_eq!(place_of("weather"), None);
}

#[test]
fn the_classes_divide_the_rules_among_them() {
    let sizes: Vec<u32> = Class::ALL
        .map(|class| InForce::of_class(class).len())
        .to_vec();
    assert_eq!(sizes, [17, 7, 1]);
    let all = Class::ALL
        .map(InForce::of_class)
        .into_iter()
        .fold(RuleSet::NONE, RuleSet::or);
    assert_eq!(all.len() as usize, COUNT);
}

#[test]
fn every_file_with_a_card_is_registered_under_its_own_name() {
    let mut files: BTreeSet<String> = BTreeSet::new();
    for entry in fs::read_dir(root().join("src/rules")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ext| ext == "rs")
            && fs::read_to_string(&path)
                .unwrap()
                .contains("pub const CARD: Card")
        {
            files.insert(
                path.file_stem()
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .replace('_', "-"),
            );
        }
    }
    let ids: BTreeSet<String> = cards().iter().map(|card| card.id.to_owned()).collect();
    assert_eq!(files, ids);
}

#[test]
fn every_card_says_what_a_trainer_needs() {
    for card in cards() {
        let id = card.id;
        assert!(card.asks.ends_with('?'), "{id}");
        for text in [card.judged, card.why, card.next_time, card.source] {
            assert!(text.ends_with('.') && text.len() > 40, "{id}: {text}");
        }
        for text in [
            card.asks,
            card.judged,
            card.why,
            card.next_time,
            card.caution,
            card.source,
        ] {
            assert!(!text.contains("  ") && !text.contains('\n'), "{id}: {text}");
        }
        // Whoever handles oil or grease reads a caution; desk work needs none.
        let hands_on = card.class != Class::Record && card.owner.as_str() == "technician";
        assert!(!hands_on || !card.caution.is_empty(), "{id}");
    }
}

#[test]
fn the_pages_hold_all_of_the_cards_and_follow_the_rulebook() {
    let text = docs_markdown();
    for card in cards() {
        let row = format!("| [{id}](#{id}) | {}", card.class, id = card.id);
        assert!(text.contains(&row) && text.contains(&format!("\n## {}\n", card.id)));
    }
    let book = Rulebook::from_yaml(
        "fairdraw_rulebook: 1\nname: A\nrevision: 1\nrules:\n  flush-met: {multiple: 7.5, on: false}\n",
        "a.yaml",
    )
    .unwrap_or_else(|problems| panic!("{problems:?}"));
    let page = page(place_of("flush-met").unwrap(), &book.all_in_force()[0]);
    assert!(page.contains("| multiple | 7.5 |") && page.contains("switched off"));
    assert_snapshot("rules", "page@flush-met", &page);
}

// Cases from files.

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    case: String,
    point: PointPart,
    draw: DrawPart,
    previous: Option<DrawPart>,
    #[serde(default)]
    compartment_has_agreed: bool,
    second_fills: Option<String>,
    #[serde(default)]
    set: Vec<MemberPart>,
    bottle_bearers: Option<u32>,
    outcome: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PointPart {
    kind: String,
    place: Option<String>,
    at_bend: Option<bool>,
    agreed: Option<bool>,
    method: Option<String>,
    iso_vg: Option<f64>,
    viscosity_40_cst: Option<f64>,
    viscosity_100_cst: Option<f64>,
    normal_temp_c: Option<f64>,
    line_flow_l_min: Option<f64>,
    line_bore_mm: Option<f64>,
    tube_bore_mm: Option<f64>,
    tube_length_cm: Option<f64>,
    dead_extra_ml: Option<f64>,
    tube_mark_cm: Option<f64>,
    oil_depth_cm: Option<f64>,
    interval_h: Option<f64>,
    interval_days: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DrawPart {
    #[serde(default)]
    other_point: bool,
    hours_before: Option<f64>,
    method: Option<String>,
    machine_state: Option<String>,
    stopped_min: Option<f64>,
    oil_temp_c: Option<f64>,
    machine_hours: Option<f64>,
    oil_hours: Option<f64>,
    flushed_ml: Option<f64>,
    tube_mark_cm: Option<f64>,
    fill_pct: Option<f64>,
    recorded_after_h: Option<f64>,
    registered_after_h: Option<f64>,
    sent_after_h: Option<f64>,
    received_after_h: Option<f64>,
    #[serde(default)]
    bottle: bool,
    #[serde(default)]
    set: bool,
    #[serde(default)]
    fluid: bool,
    #[serde(default)]
    second_fill: bool,
    point_cleaned: Option<bool>,
    tube_new: Option<bool>,
    bottle_ok: Option<bool>,
    capped_at_once: Option<bool>,
    safety_confirmed: Option<bool>,
    #[serde(default)]
    looks: Vec<String>,
    purge_stage: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MemberPart {
    place: Option<String>,
    hours: f64,
}

/// Noon of an ordinary day, in seconds since 1970 UTC.
const NOON: i64 = 1_772_625_600;

fn after(hours: f64) -> i64 {
    NOON + (hours * 3600.0).round() as i64
}

impl PointPart {
    fn point(&self) -> Point {
        let kind = Kind::parse(&self.kind).unwrap();
        Point {
            place: self
                .place
                .as_deref()
                .map(|text| Place::parse(text).unwrap()),
            at_bend: self.at_bend,
            agreed: self.agreed,
            method: self
                .method
                .as_deref()
                .map(|text| Method::parse(text).unwrap()),
            iso_vg: self.iso_vg,
            viscosity_40_cst: self.viscosity_40_cst,
            viscosity_100_cst: self.viscosity_100_cst,
            normal_temp_c: self.normal_temp_c,
            line_flow_l_min: self.line_flow_l_min,
            line_bore_mm: self.line_bore_mm,
            tube_bore_mm: self.tube_bore_mm,
            tube_length_cm: self.tube_length_cm,
            dead_extra_ml: self.dead_extra_ml,
            tube_mark_cm: self.tube_mark_cm,
            oil_depth_cm: self.oil_depth_cm,
            interval_h: self.interval_h,
            interval_days: self.interval_days,
            ..Point::bare("P-1", "C-1", kind)
        }
    }
}

impl DrawPart {
    fn draw(&self, default_hours_before: f64) -> Draw {
        let mut texts = Texts::default();
        let hours_before = self.hours_before.unwrap_or(default_hours_before);
        let moment = |hours: Option<f64>| Moment::from(hours.map(after));
        let looks = (self.looks.iter()).fold(Looks::NONE, |looks, text| {
            looks.with(Look::parse(text).unwrap())
        });
        Draw {
            method: self
                .method
                .as_deref()
                .map(|text| Method::parse(text).unwrap()),
            machine_state: (self.machine_state.as_deref())
                .map(|text| MachineState::parse(text).unwrap()),
            stopped_min: self.stopped_min.into(),
            oil_temp_c: self.oil_temp_c.into(),
            machine_hours: self.machine_hours.into(),
            oil_hours: self.oil_hours.into(),
            flushed_ml: self.flushed_ml.into(),
            tube_mark_cm: self.tube_mark_cm.into(),
            fill_pct: self.fill_pct.into(),
            recorded_at: moment(self.recorded_after_h),
            registered_at: moment(self.registered_after_h),
            dispatched_at: moment(self.sent_after_h),
            received_at: moment(self.received_after_h),
            bottle: texts.intern(if self.bottle { "B-1" } else { "" }),
            set_id: texts.intern(if self.set { "S-1" } else { "" }),
            fluid_written: self.fluid,
            second_fill: self.second_fill,
            point_cleaned: self.point_cleaned,
            tube_new: self.tube_new,
            bottle_ok: self.bottle_ok,
            capped_at_once: self.capped_at_once,
            safety_confirmed: self.safety_confirmed,
            looks,
            purge_stage: self
                .purge_stage
                .as_deref()
                .map(|text| PurgeStage::parse(text).unwrap()),
            ..Draw::bare(u32::from(self.other_point), 0, after(-hours_before))
        }
    }
}

/// A situation that owns what it is made of.
#[derive(Clone, Debug)]
struct Owned {
    point: Point,
    compartment_has_agreed: bool,
    draw: Draw,
    previous: Option<Draw>,
    second_fills: SecondFills,
    set: Vec<SetMember>,
    bottle_bearers: u32,
}

impl Case {
    fn owned(&self) -> Owned {
        Owned {
            point: self.point.point(),
            compartment_has_agreed: self.compartment_has_agreed,
            draw: self.draw.draw(0.0),
            previous: self.previous.as_ref().map(|previous| previous.draw(240.0)),
            second_fills: match self.second_fills.as_deref() {
                None => SecondFills::None,
                Some("not-sent") => SecondFills::NotSent,
                Some("sent") => SecondFills::Sent,
                Some(other) => panic!("{other}"),
            },
            set: (self.set.iter())
                .map(|member| SetMember {
                    drawn_at: after(member.hours),
                    place: member
                        .place
                        .as_deref()
                        .map(|text| Place::parse(text).unwrap()),
                })
                .collect(),
            bottle_bearers: self.bottle_bearers.unwrap_or(u32::from(self.draw.bottle)),
        }
    }
}

impl Owned {
    /// What the rule at this place says, its kinds and on or off included.
    fn judge(&self, rules: &InForce, place: usize) -> Answer {
        let point = PreparedPoint::new(&self.point, self.compartment_has_agreed);
        let situation = Situation {
            draw: &self.draw,
            point: &point,
            previous: self.previous.as_ref(),
            second_fills: self.second_fills,
            set: &self.set,
            bottle_bearers: self.bottle_bearers,
        };
        match &rules.rules[place] {
            Some(rule) if rules.of_kind(self.point.kind).has(place) => rule.judge(&situation),
            _ => Answer::NOT_APPLICABLE,
        }
    }
}

fn cases_of(id: &str) -> Vec<Case> {
    let path = fixture(&format!("rules/{id}.yaml"));
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    serde_yaml::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

#[test]
fn each_rule_answers_its_cases_as_the_contract_says() {
    let book = Rulebook::standard();
    let rules = &book.all_in_force()[0];
    for (place, card) in cards().iter().enumerate() {
        let mut seen_outcomes = BTreeSet::new();
        let mut text = String::new();
        for case in cases_of(card.id) {
            let answer = case.owned().judge(rules, place);
            assert_eq!(
                answer.outcome.as_str(),
                case.outcome,
                "{}: {}",
                card.id,
                case.case
            );
            seen_outcomes.insert(case.outcome);
            let _ = writeln!(text, "{}\n  {}", case.case, answer.outcome);
            if answer.outcome != Outcome::NotApplicable {
                let _ = writeln!(
                    text,
                    "  seen    {}\n  wanted  {}",
                    answer.seen, answer.wanted
                );
            }
        }
        for outcome in ["met", "broken", "unrecorded", "not applicable"] {
            let always_speaks =
                card.kinds.len() == Kind::ALL.len() && !SOMETIMES_SILENT.contains(&card.id);
            let never = NEVER.contains(&(card.id, outcome))
                || (always_speaks && outcome == "not applicable");
            assert_eq!(
                seen_outcomes.contains(outcome),
                !never,
                "{}: {outcome}",
                card.id
            );
        }
        assert_snapshot("rules", card.id, &text);
    }
}

/// One row a case, one column a rule: what a draw meant for one rule does to the others.
#[test]
fn the_matrix_of_all_rules_over_all_cases_is_reviewed() {
    let book = Rulebook::standard();
    let rules = &book.all_in_force()[0];
    let mut text = String::from("m met, B broken, u unrecorded, - not applicable\n");
    for card in cards() {
        let _ = writeln!(text, "\n{}", card.id);
        for case in cases_of(card.id) {
            let owned = case.owned();
            let row: String = (0..COUNT)
                .map(|place| match owned.judge(rules, place).outcome {
                    Outcome::Met => 'm',
                    Outcome::Broken => 'B',
                    Outcome::Unrecorded => 'u',
                    Outcome::NotApplicable => '-',
                })
                .collect();
            let _ = writeln!(text, "{row}  {}", case.case);
        }
    }
    assert_snapshot("rules", "matrix", &text);
}

/// A case that is met turns broken when the parameter goes to one end of its range, and a
/// broken one turns met at an end: the parameter decides, from both sides.
#[test]
fn every_parameter_is_crossed_by_some_case_from_both_sides() {
    let book = Rulebook::standard();
    let default = &book.all_in_force()[0];
    for (place, card) in cards().iter().enumerate() {
        for parameter in card.parameters {
            let Form::Number(low, high) = parameter.form else {
                continue;
            };
            let mut turns = BTreeSet::new();
            for value in [low, high] {
                // The other parameters of a band go along, so that the band stays in order.
                let others: String = match (parameter.not_above, parameter.name) {
                    (Some(upper), _) => format!(", {upper}: 100"),
                    (None, "max_pct") => ", min_pct: 0".to_owned(),
                    _ => String::new(),
                };
                let text = format!(
                    "fairdraw_rulebook: 1\nname: A\nrevision: 1\nrules:\n  {}: {{{}: {value}{others}}}\n",
                    card.id, parameter.name
                );
                let changed = Rulebook::from_yaml(&text, "a.yaml")
                    .unwrap_or_else(|problems| panic!("{problems:?}"));
                for case in cases_of(card.id) {
                    let owned = case.owned();
                    let before = owned.judge(default, place).outcome.as_str();
                    let after = owned
                        .judge(&changed.all_in_force()[0], place)
                        .outcome
                        .as_str();
                    turns.insert((before, after));
                }
            }
            let name = format!("{}.{}: {turns:?}", card.id, parameter.name);
            assert!(turns.contains(&("met", "broken")), "{name}");
            assert!(turns.contains(&("broken", "met")), "{name}");
        }
    }
}

#[test]
fn lists_of_words_decide_as_well() {
    let judged = |rule: &str, owned: &Owned| {
        let text = format!("fairdraw_rulebook: 1\nname: A\nrevision: 1\nrules:\n  {rule}\n");
        let book = Rulebook::from_yaml(&text, "a.yaml").unwrap_or_else(|e| panic!("{e:?}"));
        let id = rule.split(':').next().unwrap();
        owned
            .judge(&book.all_in_force()[0], place_of(id).unwrap())
            .outcome
    };
    let bottom = &cases_of("point-suited")[8].owned();
    assert_eq!(judged("point-suited: {}", bottom), Outcome::Broken);
    assert_eq!(
        judged("point-suited: {sump: sump-bottom}", bottom),
        Outcome::Met
    );
    let no_oil_hours = &cases_of("label-complete")[1].owned();
    assert_eq!(judged("label-complete: {}", no_oil_hours), Outcome::Broken);
    let lenient = "label-complete: {required: [bottle_id, fluid, machine_hours]}";
    assert_eq!(judged(lenient, no_oil_hours), Outcome::Met);
}

// Laws over draws of any kind.

fn maybe<T: std::fmt::Debug + Clone + 'static>(
    values: impl Strategy<Value = T> + 'static,
) -> BoxedStrategy<Option<T>> {
    prop_oneof![1 => Just(None), 3 => values.prop_map(Some)].boxed()
}

fn word<T: Copy + std::fmt::Debug + 'static>(words: &'static [T]) -> BoxedStrategy<Option<T>> {
    maybe(prop::sample::select(words))
}

fn number(values: impl Strategy<Value = f64> + 'static) -> BoxedStrategy<Number> {
    maybe(values).prop_map(Number::from).boxed()
}

fn moment() -> BoxedStrategy<Moment> {
    maybe(-50_000i64..1_000_000)
        .prop_map(|after| Moment::from(after.map(|s| NOON + s)))
        .boxed()
}

fn any_draw() -> BoxedStrategy<Draw> {
    let numbers = (
        number(0.0..60.0),
        number(0.0..90.0),
        number(0.0..2000.0),
        number(0.0..60.0),
        number(0.0..200.0),
        number(20.0..60.0),
        number(40.0..90.0),
    );
    let times = (moment(), moment(), moment(), moment());
    let words = (
        word(Method::ALL),
        word(MachineState::ALL),
        word(PurgeStage::ALL),
        0u8..64,
        any::<(bool, bool, bool, bool)>(),
    );
    let answers = (
        maybe(any::<bool>()),
        maybe(any::<bool>()),
        maybe(any::<bool>()),
        maybe(any::<bool>()),
        maybe(any::<bool>()),
    );
    (0u32..2, numbers, times, words, answers)
        .prop_map(|(point, n, t, w, a)| {
            let mut texts = Texts::default();
            Draw {
                stopped_min: n.0,
                oil_temp_c: n.1,
                machine_hours: n.2,
                oil_hours: n.3,
                flushed_ml: n.4,
                tube_mark_cm: n.5,
                fill_pct: n.6,
                recorded_at: t.0,
                registered_at: t.1,
                dispatched_at: t.2,
                received_at: t.3,
                method: w.0,
                machine_state: w.1,
                purge_stage: w.2,
                looks: Looks::from_bits(w.3),
                bottle: texts.intern(if w.4.0 { "B" } else { "" }),
                set_id: texts.intern(if w.4.1 { "S" } else { "" }),
                fluid_written: w.4.2,
                second_fill: w.4.3,
                point_cleaned: a.0,
                tube_new: a.1,
                bottle_ok: a.2,
                capped_at_once: a.3,
                safety_confirmed: a.4,
                ..Draw::bare(point, 0, NOON)
            }
        })
        .boxed()
}

fn any_point() -> BoxedStrategy<Point> {
    let sizes = (
        maybe(prop::sample::select(vec![32.0, 46.0, 47.0, 220.0])),
        maybe(30.0..80.0),
        maybe(0.0..300.0),
        maybe(5.0..50.0),
        maybe(2.0..10.0),
        maybe(10.0..200.0),
        maybe(0.0..30.0),
        maybe(20.0..60.0),
        maybe(5.0..80.0),
        maybe(1.0..500.0),
        maybe(1.0..20.0),
    );
    let flags = (maybe(any::<bool>()), maybe(any::<bool>()));
    (
        prop::sample::select(Kind::ALL),
        word(Place::ALL),
        word(Method::ALL),
        flags,
        sizes,
    )
        .prop_map(|(kind, place, method, flags, s)| Point {
            place,
            method,
            at_bend: flags.0,
            agreed: flags.1,
            iso_vg: s.0,
            normal_temp_c: s.1,
            line_flow_l_min: s.2,
            line_bore_mm: s.3,
            tube_bore_mm: s.4,
            tube_length_cm: s.5,
            dead_extra_ml: s.6,
            tube_mark_cm: s.7,
            oil_depth_cm: s.8,
            interval_h: s.9,
            interval_days: s.10,
            ..Point::bare("P", "C", kind)
        })
        .boxed()
}

fn any_situation() -> BoxedStrategy<Owned> {
    let member = (word(Place::ALL), -100_000i64..100_000).prop_map(|(place, after)| SetMember {
        drawn_at: NOON + after,
        place,
    });
    let fills = [SecondFills::None, SecondFills::NotSent, SecondFills::Sent];
    (
        any_point(),
        any::<bool>(),
        any_draw(),
        maybe((any_draw(), 1i64..2_000_000)),
        prop::sample::select(fills.to_vec()),
        prop::collection::vec(member, 0..6),
        1u32..3,
    )
        .prop_map(
            |(point, agreed, draw, previous, second_fills, set, bearers)| Owned {
                compartment_has_agreed: agreed || point.is_agreed(),
                point,
                bottle_bearers: if draw.bottle.is_some() { bearers } else { 0 },
                set: if draw.set_id.is_some() {
                    set
                } else {
                    Vec::new()
                },
                draw,
                previous: previous.map(|(draw, before)| Draw {
                    drawn_at: NOON - before,
                    ..draw
                }),
                second_fills,
            },
        )
        .boxed()
}

/// The column a rule asks for, taken away.
fn blanked(owned: &Owned, id: &str) -> Option<Owned> {
    let mut owned = owned.clone();
    let draw = &mut owned.draw;
    match id {
        "running-or-hot" => {
            draw.machine_state = None;
            draw.stopped_min = Number::BLANK;
            draw.oil_temp_c = Number::BLANK;
        }
        "flush-met" => draw.flushed_ml = Number::BLANK,
        "same-method" | "grease-midway" => draw.method = None,
        "point-suited" => owned.point.place = None,
        "point-cleaned" => draw.point_cleaned = None,
        "tube-depth" => draw.tube_mark_cm = Number::BLANK,
        "fresh-tube" => draw.tube_new = None,
        "bottle-fit" => draw.bottle_ok = None,
        "capped-at-once" => draw.capped_at_once = None,
        "fill-level" => draw.fill_pct = Number::BLANK,
        "oil-worked-in" => draw.oil_hours = Number::BLANK,
        "age-at-dispatch" => {
            draw.dispatched_at = Moment::BLANK;
            draw.received_at = Moment::BLANK;
        }
        "looked-at" => draw.looks = Looks::NONE,
        "second-fill" | "bottle-unique" => draw.bottle = None,
        "level-set" => draw.set_id = None,
        "times-in-order" => {
            draw.recorded_at = Moment::BLANK;
            draw.dispatched_at = Moment::BLANK;
            draw.received_at = Moment::BLANK;
        }
        "hours-forward" => draw.machine_hours = Number::BLANK,
        "registered" => draw.registered_at = Moment::BLANK,
        "age-at-receipt" => draw.received_at = Moment::BLANK,
        "safety-confirmed" => draw.safety_confirmed = None,
        // label-complete judges blanks, same-point looks at no column of the draw, and
        // interval-kept falls back from hours to days.
        _ => return None,
    }
    Some(owned)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn a_blank_proves_nothing(owned in any_situation()) {
        let book = Rulebook::standard();
        let rules = &book.all_in_force()[0];
        for (place, card) in cards().iter().enumerate() {
            let Some(blank) = blanked(&owned, card.id) else { continue };
            let before = owned.judge(rules, place).outcome;
            let after = blank.judge(rules, place).outcome;
            if before != Outcome::NotApplicable {
                prop_assert_eq!(after, Outcome::Unrecorded, "{}: {} before", card.id, before);
            }
        }
    }

    /// Each answer is given on some ground: a value seen and a value wanted, without
    /// control characters, and none where the rule does not speak.
    #[test]
    fn every_answer_says_what_was_seen_and_what_was_wanted(owned in any_situation()) {
        let book = Rulebook::standard();
        let rules = &book.all_in_force()[0];
        for (place, card) in cards().iter().enumerate() {
            let answer = owned.judge(rules, place);
            let (seen, wanted) = (answer.seen.to_string(), answer.wanted.to_string());
            let speaks = answer.outcome != Outcome::NotApplicable;
            prop_assert_eq!(!seen.is_empty(), speaks, "{}: {}", card.id, seen);
            prop_assert_eq!(!wanted.is_empty(), speaks, "{}: {}", card.id, wanted);
            prop_assert!(!seen.contains("NaN") && !wanted.contains("NaN"), "{}", card.id);
        }
    }

    /// More of a good thing never turns met into broken.
    #[test]
    fn more_flush_and_younger_bottles_never_hurt(owned in any_situation(), more in 0.0..500.0f64) {
        let book = Rulebook::standard();
        let rules = &book.all_in_force()[0];
        let mut better = owned.clone();
        if let Some(flushed) = owned.draw.flushed_ml.get() {
            better.draw.flushed_ml = Number::new(flushed + more);
        }
        if let Some(sent) = owned.draw.dispatched_at.get().filter(|sent| *sent >= NOON) {
            better.draw.dispatched_at = Moment::new(NOON.max(sent - more as i64));
        }
        if let Some(stopped) = owned.draw.stopped_min.get() {
            better.draw.stopped_min = Number::new((stopped - more).max(0.0));
        }
        for id in ["flush-met", "age-at-dispatch", "running-or-hot"] {
            let place = place_of(id).unwrap();
            if owned.judge(rules, place).outcome == Outcome::Met {
                prop_assert_eq!(better.judge(rules, place).outcome, Outcome::Met, "{}", id);
            }
        }
    }
}
