//! What the rules would say of a draw if blanks were filled, tried out with the rules
//! themselves.
//!
//! Columns that bear on the same rules stand in one bundle. Within a bundle every choice of
//! blanks is filled with every value that can make a difference (the ends of the range, the
//! limits of the rulebook, every word of a vocabulary), and what the rules say then is kept.
//! So nothing here repeats what a rule asks for, and a changed rule changes the answer.

use super::column::{Column, ColumnSet};
use crate::model::{
    Look, Looks, MachineState, Method, Moment, Number, Outcome, Place, Point, PurgeStage, RuleSet,
    TextId, Texts,
};
use crate::rules::{InForce, PreparedPoint, SecondFills, SetMember, Situation, place_of};
use crate::scoring::Open;

/// Further than any limit of a rulebook: a hundred years in seconds.
const FAR_S: i64 = 100 * 366 * 86_400;
/// Further than any limit of a rulebook, in the unit of the column.
const FAR: f64 = 1e9;
const NEAR: f64 = 1e-3;

/// Columns that bear on the same rules, and these rules.
struct Bundle {
    columns: &'static [Column],
    rules: &'static [&'static str],
}

/// Every column that can make an unrecorded rule of class sample speak. A test fills the
/// blanks of whole histories, those of every other column too, and judges them anew.
const BUNDLES: [Bundle; 11] = [
    Bundle {
        columns: &[
            Column::MachineState,
            Column::StoppedMin,
            Column::OilTempC,
            Column::NormalTempC,
            Column::PointPlace,
        ],
        rules: &["running-or-hot", "point-suited"],
    },
    Bundle {
        columns: &[
            Column::FlushedMl,
            Column::TubeBoreMm,
            Column::TubeLengthCm,
            Column::DeadExtraMl,
        ],
        rules: &["flush-met"],
    },
    Bundle {
        columns: &[
            Column::Method,
            Column::PointMethod,
            Column::TubeNew,
            Column::PointTubeMarkCm,
            Column::TubeMarkCm,
            Column::PurgeStage,
        ],
        rules: &["same-method", "tube-depth", "fresh-tube", "grease-midway"],
    },
    Bundle {
        columns: &[
            Column::BottleId,
            Column::Looks,
            Column::DispatchedAt,
            Column::ReceivedAt,
        ],
        rules: &["looked-at", "second-fill", "age-at-dispatch"],
    },
    one(&[Column::PointCleaned], &["point-cleaned"]),
    one(&[Column::BottleOk], &["bottle-fit"]),
    one(&[Column::CappedAtOnce], &["capped-at-once"]),
    one(&[Column::FillPct], &["fill-level"]),
    one(&[Column::OilHours], &["oil-worked-in"]),
    one(&[Column::SetId], &["level-set"]),
    one(&[], &["same-point"]),
];

const fn one(columns: &'static [Column], rules: &'static [&'static str]) -> Bundle {
    Bundle { columns, rules }
}

/// What some rules say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Said {
    pub applicable: u32,
    pub broken: u32,
    pub unrecorded: u32,
}

impl Said {
    /// Both together; they speak of different rules.
    pub const fn and(self, other: Said) -> Said {
        Said {
            applicable: self.applicable | other.applicable,
            broken: self.broken | other.broken,
            unrecorded: self.unrecorded | other.unrecorded,
        }
    }
}

/// One bundle on one draw: what its rules can say once these of its blanks are filled.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Part {
    /// The blanks that can be filled.
    pub columns: ColumnSet,
    /// For each choice of them, in ascending order of the set, all that can be said.
    tables: Vec<(ColumnSet, Vec<Said>)>,
}

impl Part {
    /// What can be said once the blanks among these columns are filled.
    pub fn said(&self, filled: ColumnSet) -> &[Said] {
        let chosen = self.columns.and(filled);
        match self.tables.binary_search_by_key(&chosen, |table| table.0) {
            Ok(place) => &self.tables[place].1,
            Err(_) => &[],
        }
    }
}

/// An unproven draw as filling sees it: what stays as it is, and what can be filled.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Question {
    /// The place of its rules in [`Rulebook::all_in_force`](crate::rules::Rulebook::all_in_force).
    pub in_force: usize,
    /// What the rules say that no blank bears on.
    pub fixed: Said,
    /// What depends on blanks.
    pub parts: Vec<Part>,
}

impl Question {
    /// Of an open draw whose rules stand at this place of all in force.
    pub fn of(open: &Open<'_>, in_force: usize, class: RuleSet, filler: &Filler) -> Self {
        let rules = open.rules.and(class);
        let mut question = Question {
            in_force,
            fixed: Said::default(),
            parts: Vec::new(),
        };
        for (bundle, of_bundle) in BUNDLES.iter().zip(filler.rules) {
            let mut trial = Trial::new(open, rules.and(of_bundle), filler);
            let now = trial.said();
            if now.unrecorded == 0 {
                question.fixed = question.fixed.and(now);
                continue;
            }
            let point = open.situation.point.point;
            let blank = |column: &&Column| {
                let draw = open.situation.draw;
                let mut with_any_method = *draw;
                let asked = |draw: &_| column.is_asked(draw, point);
                let is_asked = asked(draw)
                    || draw.method.is_none()
                        && Method::ALL.iter().any(|method| {
                            with_any_method.method = Some(*method);
                            asked(&with_any_method)
                        });
                is_asked && column.is_blank(draw, point)
            };
            let blanks: Vec<Column> = bundle.columns.iter().filter(blank).copied().collect();
            if blanks.is_empty() {
                question.fixed = question.fixed.and(now);
                continue;
            }
            let mut tables = Vec::new();
            trial.each_choice(&blanks, ColumnSet::NONE, &mut tables);
            tables.sort_unstable();
            tables.dedup();
            let mut part = Part {
                columns: blanks
                    .iter()
                    .fold(ColumnSet::NONE, |set, blank| set.with(*blank)),
                tables: Vec::new(),
            };
            for same in tables.chunk_by(|one, next| one.0 == next.0) {
                let said = same.iter().map(|(_, said)| *said).collect();
                part.tables.push((same[0].0, said));
            }
            question.parts.push(part);
        }
        question
    }
}

/// What is needed of every draw and is the same for all.
pub struct Filler {
    /// The rules of each bundle.
    rules: [RuleSet; BUNDLES.len()],
    fill_level: usize,
    /// Stands for a text that was filled in.
    text: Option<TextId>,
}

impl Filler {
    pub fn new() -> Self {
        let place = |id: &&str| place_of(id).expect("bundles name rules of the registry");
        Filler {
            rules: std::array::from_fn(|bundle| {
                let rules = BUNDLES[bundle].rules.iter().map(place);
                rules.fold(RuleSet::NONE, |set, rule| set.or(RuleSet::of(rule)))
            }),
            fill_level: place(&"fill-level"),
            text: Texts::default().intern("filled in"),
        }
    }
}

/// A draw with some of its blanks filled.
struct Trial<'a> {
    open: &'a Open<'a>,
    rules: RuleSet,
    filler: &'a Filler,
    draw: crate::model::Draw,
    /// The point, once one of its columns was filled.
    point: Option<Box<Point>>,
    second_fills: SecondFills,
    set: Option<Vec<SetMember>>,
}

impl<'a> Trial<'a> {
    fn new(open: &'a Open<'a>, rules: RuleSet, filler: &'a Filler) -> Self {
        Trial {
            open,
            rules,
            filler,
            draw: *open.situation.draw,
            point: None,
            second_fills: open.situation.second_fills,
            set: None,
        }
    }

    /// What the rules say as it stands.
    fn said(&self) -> Said {
        let given = &self.open.situation;
        let prepared;
        let point = match &self.point {
            Some(point) => {
                prepared = PreparedPoint::new(point, given.point.compartment_has_agreed);
                &prepared
            }
            None => given.point,
        };
        let situation = Situation {
            draw: &self.draw,
            point,
            previous: given.previous,
            second_fills: self.second_fills,
            set: self.set.as_deref().unwrap_or(given.set),
            bottle_bearers: given.bottle_bearers,
        };
        said(&situation, self.open.in_force, self.rules)
    }

    /// Leaves or fills each of these blanks in every way, and notes what is said.
    fn each_choice(
        &mut self,
        blanks: &[Column],
        filled: ColumnSet,
        tables: &mut Vec<(ColumnSet, Said)>,
    ) {
        let Some((column, rest)) = blanks.split_first() else {
            tables.push((filled, self.said()));
            return;
        };
        self.each_choice(rest, filled, tables);
        let before = (self.draw, self.point.clone(), self.second_fills);
        let set = self.set.clone();
        for way in 0.. {
            if !self.fill(*column, way) {
                break;
            }
            self.each_choice(rest, filled.with(*column), tables);
        }
        (self.draw, self.point, self.second_fills) = before;
        self.set = set;
    }

    fn point(&mut self) -> &mut Point {
        let given = self.open.situation.point.point;
        self.point.get_or_insert_with(|| Box::new(given.clone()))
    }

    /// Fills a column in the way of this number; false if there are no more.
    fn fill(&mut self, column: Column, way: usize) -> bool {
        let yes_no = [true, false].get(way).copied();
        let now = self.draw.drawn_at;
        let moment = [now, now.saturating_add(FAR_S)].get(way).copied();
        let number = |ways: &[f64]| ways.get(way).copied();
        match column {
            Column::MachineState => put(
                &mut self.draw.machine_state,
                MachineState::ALL.get(way).copied(),
            ),
            Column::StoppedMin => put_number(&mut self.draw.stopped_min, number(&[0.0, FAR])),
            Column::OilTempC => put_number(&mut self.draw.oil_temp_c, number(&[-60.0, 250.0])),
            Column::OilHours => put_number(&mut self.draw.oil_hours, number(&[0.0, FAR])),
            Column::FlushedMl => put_number(&mut self.draw.flushed_ml, number(&[0.0, FAR])),
            Column::FillPct => {
                let settings = self.open.in_force.settings(self.filler.fill_level);
                let limits = settings.iter().filter_map(|it| it.value.parse().ok());
                let ways: Vec<f64> = [0.0, 100.0].into_iter().chain(limits).collect();
                put_number(&mut self.draw.fill_pct, number(&ways))
            }
            Column::TubeMarkCm => {
                let point = self
                    .point
                    .as_deref()
                    .unwrap_or(self.open.situation.point.point);
                let mark = point.tube_mark_cm.unwrap_or(1.0);
                put_number(&mut self.draw.tube_mark_cm, number(&[mark, mark + FAR]))
            }
            Column::PointTubeMarkCm => {
                let used = self.draw.tube_mark_cm.get().unwrap_or(1.0);
                put(&mut self.point().tube_mark_cm, number(&[used, used + FAR]))
            }
            Column::Method => put(&mut self.draw.method, Method::ALL.get(way).copied()),
            Column::PointMethod => put(&mut self.point().method, Method::ALL.get(way).copied()),
            Column::PurgeStage => put(
                &mut self.draw.purge_stage,
                PurgeStage::ALL.get(way).copied(),
            ),
            Column::PointPlace => put(&mut self.point().place, Place::ALL.get(way).copied()),
            Column::NormalTempC => put(&mut self.point().normal_temp_c, number(&[-60.0, 250.0])),
            Column::TubeBoreMm => put(&mut self.point().tube_bore_mm, number(&[NEAR, FAR])),
            Column::TubeLengthCm => put(&mut self.point().tube_length_cm, number(&[NEAR, FAR])),
            Column::DeadExtraMl => put(&mut self.point().dead_extra_ml, number(&[0.0, FAR])),
            Column::PointCleaned => put(&mut self.draw.point_cleaned, yes_no),
            Column::TubeNew => put(&mut self.draw.tube_new, yes_no),
            Column::BottleOk => put(&mut self.draw.bottle_ok, yes_no),
            Column::CappedAtOnce => put(&mut self.draw.capped_at_once, yes_no),
            Column::DispatchedAt => put_moment(&mut self.draw.dispatched_at, moment),
            Column::ReceivedAt => put_moment(&mut self.draw.received_at, moment),
            Column::Looks => {
                let looks = [Look::Clear, Look::Cloudy, Look::Metal].get(way);
                self.draw.looks = looks.map_or(Looks::NONE, |look| Looks::NONE.with(*look));
                looks.is_some()
            }
            Column::BottleId => {
                // A bottle that no second fill names, or one that does.
                self.draw.bottle = self.filler.text;
                let fills = [SecondFills::None, SecondFills::NotSent, SecondFills::Sent];
                self.second_fills = fills.get(way).copied().unwrap_or_default();
                way < fills.len()
            }
            Column::SetId => {
                self.draw.set_id = self.filler.text;
                let member = |place| SetMember {
                    drawn_at: now,
                    place,
                };
                let own = self.open.situation.point.point.place;
                self.set = Some(match way {
                    0 => vec![member(own)],
                    _ => Place::ALL
                        .iter()
                        .map(|place| member(Some(*place)))
                        .collect(),
                });
                way < 2
            }
            Column::RecordedAt
            | Column::MachineHours
            | Column::Fluid
            | Column::PairOf
            | Column::RegisteredAt
            | Column::SafetyConfirmed
            | Column::PointFluid
            | Column::Viscosity
            | Column::LineFlowLMin
            | Column::LineBoreMm
            | Column::OilDepthCm
            | Column::Interval => false,
        }
    }
}

fn put<T>(place: &mut Option<T>, value: Option<T>) -> bool {
    let is_some = value.is_some();
    *place = value;
    is_some
}

fn put_number(place: &mut Number, value: Option<f64>) -> bool {
    *place = Number::from(value);
    value.is_some()
}

fn put_moment(place: &mut Moment, value: Option<i64>) -> bool {
    *place = Moment::from(value);
    value.is_some()
}

/// What these rules say.
pub fn said(situation: &Situation<'_>, in_force: &InForce, rules: RuleSet) -> Said {
    let mut said = Said::default();
    for place in rules.iter() {
        let Some(rule) = &in_force.rules[place] else {
            continue;
        };
        let bit = RuleSet::of(place).0;
        let outcome = rule.judge(situation).outcome;
        if outcome != Outcome::NotApplicable {
            said.applicable |= bit;
        }
        match outcome {
            Outcome::Broken => said.broken |= bit,
            Outcome::Unrecorded => said.unrecorded |= bit,
            Outcome::Met | Outcome::NotApplicable => {}
        }
    }
    said
}
