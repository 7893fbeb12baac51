//! Coverage against judging anew: every blank of every unproven draw is filled with values of
//! its own in a copy of the history, the whole copy is judged, and the verdicts are compared.

use fairdraw::analysis::coverage::{Column, Coverage, Sheet, coverage};
use fairdraw::analysis::{Assessed, Key, Selection, WorkedOut};
use fairdraw::demo::dice::Dice;
use fairdraw::demo::{Invented, Size};
use fairdraw::model::history::Identities;
use fairdraw::model::time::Tz;
use fairdraw::model::{
    Draw, History, Look, Looks, MachineState, Method, Moment, Number, Place, Point, Progress,
    PurgeStage, Texts, Verdict,
};
use fairdraw::rules::Rulebook;
use fairdraw::scoring::judge_all;

/// An invented programme of which some answers more are blank.
fn history(seed: u64) -> History {
    let invented = Invented::new(&Size {
        draws: 330,
        points: 44,
        technicians: 6,
        seed,
    });
    let mut texts = Texts::default();
    let mut identities = Identities::default();
    let mut draws = Vec::new();
    let mut dice = Dice::new(seed);
    let mut record_number = 0;
    invented
        .each_draw(&mut |record| {
            record_number += 1;
            let mut facts = record.facts;
            facts.record = record_number;
            facts.bottle = texts.intern(&record.bottle_id);
            facts.pair_of = texts.intern(&record.pair_of);
            facts.set_id = texts.intern(&record.set_id);
            if dice.chance(0.2) {
                facts.bottle_ok = None;
            }
            if dice.chance(0.15) {
                facts.method = None;
            }
            if dice.chance(0.15) {
                facts.flushed_ml = Number::BLANK;
            }
            if dice.chance(0.15) {
                facts.machine_state = None;
                facts.stopped_min = Number::BLANK;
            }
            if dice.chance(0.2) {
                facts.oil_temp_c = Number::BLANK;
            }
            if dice.chance(0.1) {
                facts.set_id = None;
                facts.dispatched_at = Moment::BLANK;
                facts.fill_pct = Number::BLANK;
                facts.looks = Looks::NONE;
                facts.purge_stage = None;
            }
            identities.push(&record.identity());
            draws.push(facts);
            Ok(())
        })
        .unwrap();
    let mut points = invented.plant.points;
    points[3].place = None;
    points[5].normal_temp_c = None;
    points[6].tube_bore_mm = None;
    points[7].dead_extra_ml = None;
    History {
        points,
        technicians: invented.people.technicians,
        draws,
        identities,
    }
}

fn assessed(history: &History) -> Assessed {
    let rulebook = Rulebook::standard();
    let judged = judge_all(history, &rulebook, &Progress::default()).unwrap();
    let in_force = |point: &Point| rulebook.in_force_at(point.machine_class, point.site.as_deref());
    Assessed {
        in_force: history.points.iter().map(in_force).collect(),
        points: history.points.clone(),
        technicians: history.technicians.clone(),
        trainings: Vec::new(),
        judged,
        rulebook,
        zone: Tz::UTC,
        worked_out: WorkedOut::default(),
    }
}

fn of(history: &History, assessed: &Assessed, rows: &Selection, by: Option<Key>) -> Coverage {
    coverage(history, assessed, rows, by, &Progress::default()).unwrap()
}

/// Fills the column of a draw, or of its point, with the value of this number; false if there
/// are no more. The values are the test's own.
fn fill(history: &mut History, place: usize, column: Column, way: usize) -> bool {
    let draw: &mut Draw = &mut history.draws[place];
    let point: &mut Point = &mut history.points[draw.point as usize];
    fn put<T>(slot: &mut Option<T>, value: Option<T>) -> bool {
        let there = value.is_some();
        *slot = value;
        there
    }
    let number = |slot: &mut Number, ways: &[f64]| {
        *slot = Number::from(ways.get(way).copied());
        way < ways.len()
    };
    let of_point = |slot: &mut Option<f64>, ways: &[f64]| put(slot, ways.get(way).copied());
    let yes_no = [false, true].get(way).copied();
    let hours = [1_i64, 47, 49, 5000];
    let later = hours.get(way).map(|hours| draw.drawn_at + hours * 3600);
    let mut moment = |slot: fn(&mut Draw) -> &mut Moment| {
        *slot(draw) = Moment::from(later);
        later.is_some()
    };
    match column {
        Column::DispatchedAt => moment(|draw| &mut draw.dispatched_at),
        Column::ReceivedAt => moment(|draw| &mut draw.received_at),
        Column::RecordedAt => moment(|draw| &mut draw.recorded_at),
        Column::RegisteredAt => moment(|draw| &mut draw.registered_at),
        Column::Method => put(&mut draw.method, Method::ALL.get(way).copied()),
        Column::MachineState => put(&mut draw.machine_state, MachineState::ALL.get(way).copied()),
        Column::StoppedMin => number(&mut draw.stopped_min, &[0.0, 1.0, 29.0, 31.0, 9999.0]),
        Column::OilTempC => number(&mut draw.oil_temp_c, &[-20.0, 40.0, 70.0, 120.0]),
        Column::MachineHours => number(&mut draw.machine_hours, &[0.0, 1e6]),
        Column::OilHours => number(&mut draw.oil_hours, &[0.0, 24.0, 500.0]),
        Column::FlushedMl => number(&mut draw.flushed_ml, &[0.0, 50.0, 1e6]),
        Column::TubeMarkCm => {
            let mark = point.tube_mark_cm.unwrap_or(30.0);
            number(&mut draw.tube_mark_cm, &[mark - 1.0, mark + 40.0])
        }
        Column::FillPct => number(&mut draw.fill_pct, &[10.0, 65.0, 95.0]),
        Column::PointCleaned => put(&mut draw.point_cleaned, yes_no),
        Column::TubeNew => put(&mut draw.tube_new, yes_no),
        Column::BottleOk => put(&mut draw.bottle_ok, yes_no),
        Column::CappedAtOnce => put(&mut draw.capped_at_once, yes_no),
        Column::SafetyConfirmed => put(&mut draw.safety_confirmed, yes_no),
        Column::PurgeStage => put(&mut draw.purge_stage, PurgeStage::ALL.get(way).copied()),
        Column::Looks => {
            let look = Look::ALL.get(way).copied();
            draw.looks = look.map_or(Looks::NONE, |look| Looks::NONE.with(look));
            look.is_some()
        }
        Column::Fluid => {
            draw.fluid_written = true;
            way == 0
        }
        Column::PointPlace => put(&mut point.place, Place::ALL.get(way).copied()),
        Column::PointMethod => put(&mut point.method, Method::ALL.get(way).copied()),
        Column::NormalTempC => of_point(&mut point.normal_temp_c, &[-10.0, 60.0, 140.0]),
        Column::TubeBoreMm => of_point(&mut point.tube_bore_mm, &[1.0, 8.0, 100.0]),
        Column::TubeLengthCm => of_point(&mut point.tube_length_cm, &[1.0, 50.0, 5000.0]),
        Column::DeadExtraMl => of_point(&mut point.dead_extra_ml, &[0.0, 5.0, 50_000.0]),
        Column::PointTubeMarkCm => of_point(&mut point.tube_mark_cm, &[5.0, 60.0]),
        Column::OilDepthCm => of_point(&mut point.oil_depth_cm, &[1.0, 300.0]),
        Column::Viscosity => of_point(&mut point.iso_vg, &[10.0, 1000.0]),
        Column::LineFlowLMin => of_point(&mut point.line_flow_l_min, &[0.1, 10_000.0]),
        Column::LineBoreMm => of_point(&mut point.line_bore_mm, &[1.0, 500.0]),
        Column::Interval => of_point(&mut point.interval_days, &[1.0, 900.0]),
        Column::PointFluid => put(&mut point.fluid, (way == 0).then(|| "Halmyr 46".to_owned())),
        // A text that nobody else wrote; what others wrote is tried in the unit itself.
        Column::BottleId => {
            draw.bottle = unheard_of();
            way == 0
        }
        Column::SetId => {
            draw.set_id = unheard_of();
            way == 0
        }
        Column::PairOf => {
            draw.pair_of = unheard_of();
            way == 0
        }
    }
}

fn unheard_of() -> Option<fairdraw::model::TextId> {
    let mut texts = Texts::default();
    for number in 0..5000 {
        texts.intern(&number.to_string());
    }
    texts.intern("unheard of")
}

/// Whether the draw is judged in every filled copy of the history.
fn judged_anew(history: &History, place: usize, columns: &[Column]) -> bool {
    let Some((column, rest)) = columns.split_first() else {
        let record = history.draws[place].record;
        let judged = judge_all(history, &Rulebook::standard(), &Progress::default()).unwrap();
        let row = judged.record.iter().position(|it| *it == record).unwrap();
        return judged.verdict[row] != Verdict::Unproven;
    };
    let draw = &history.draws[place];
    let point = &history.points[draw.point as usize];
    if !column.is_blank(draw, point) {
        return judged_anew(history, place, rest);
    }
    (0..)
        .map_while(|way| {
            let mut filled = history.clone();
            fill(&mut filled, place, *column, way).then_some(filled)
        })
        .all(|filled| judged_anew(&filled, place, rest))
}

#[test]
fn a_column_settles_what_judging_the_filled_history_anew_settles() {
    let history = history(4);
    let assessed = assessed(&history);
    let (mut rows, mut settled) = (0, 0);
    for row in 0..assessed.judged.len() {
        if assessed.judged.verdict[row] != Verdict::Unproven {
            continue;
        }
        rows += 1;
        let place = assessed.judged.record[row] as usize - 1;
        let found = of(&history, &assessed, &vec![row as u32], None);
        for filled in &found.groups[0].columns {
            if filled.unproven_without == 0 {
                assert_eq!(filled.settles.whatever, 0, "{:?}", filled.column);
                continue;
            }
            let anew = judged_anew(&history, place, &[filled.column]);
            let says = filled.settles.whatever == 1;
            settled += u64::from(says);
            if matches!(filled.column, Column::BottleId | Column::SetId) {
                // Here more is tried than a text that nobody else wrote.
                assert!(anew || !says, "row {row} {:?}", filled.column);
            } else {
                assert_eq!(says, anew, "row {row} {:?}", filled.column);
            }
        }
    }
    assert!(rows > 60 && settled > 25, "{rows} {settled}");
}

#[test]
fn the_first_two_columns_together_settle_what_judging_anew_settles() {
    let history = history(9);
    let assessed = assessed(&history);
    let all: Selection = (0..assessed.judged.len() as u32).collect();
    let found = of(&history, &assessed, &all, None);
    let group = &found.groups[0];
    let order = &group.order;
    let anew = |columns: &[Column]| {
        let unproven = all
            .iter()
            .filter(|row| assessed.judged.verdict[**row as usize] == Verdict::Unproven);
        unproven
            .filter(|row| {
                let place = assessed.judged.record[**row as usize] as usize - 1;
                judged_anew(&history, place, columns)
            })
            .count() as u64
    };
    assert_eq!(order[0].together.whatever, anew(&[order[0].column]));
    assert_eq!(
        order[1].together.whatever,
        anew(&[order[0].column, order[1].column])
    );
    let best = group.columns.iter().map(|it| it.settles.whatever).max();
    assert_eq!(Some(order[0].together.whatever), best);
    assert!(order.is_sorted_by_key(|step| step.together.whatever));
    for step in order {
        assert!(step.together.whatever <= step.together.if_kept);
        assert!(step.together.if_kept <= group.unproven - group.no_blank);
    }
}

#[test]
fn counts_are_those_of_the_draws() {
    let history = history(2);
    let assessed = assessed(&history);
    let all: Selection = (0..assessed.judged.len() as u32).collect();
    let whole = &of(&history, &assessed, &all, None).groups[0];
    let blank = history
        .draws
        .iter()
        .filter(|draw| draw.bottle_ok.is_none())
        .count() as u64;
    let bottle_ok = whole
        .columns
        .iter()
        .find(|it| it.column == Column::BottleOk)
        .unwrap();
    assert_eq!(
        (bottle_ok.asked, bottle_ok.filled),
        (whole.draws, whole.draws - blank)
    );
    assert_eq!(whole.draws, history.draws.len() as u64);
    let place = whole
        .columns
        .iter()
        .find(|it| it.column == Column::PointPlace)
        .unwrap();
    assert_eq!(
        (place.points_without, place.column.sheet()),
        (1, Sheet::Points)
    );

    for key in [
        Key::Site,
        Key::Crew,
        Key::Technician,
        Key::Month,
        Key::Method,
        Key::Point,
    ] {
        let groups = of(&history, &assessed, &all, Some(key)).groups;
        let sum = |of: fn(&fairdraw::analysis::coverage::Covered) -> u64| {
            groups.iter().map(of).sum::<u64>()
        };
        assert_eq!(sum(|it| it.draws), whole.draws, "{key:?}");
        assert_eq!(sum(|it| it.unproven), whole.unproven);
        assert_eq!(sum(|it| it.no_blank), whole.no_blank);
        let settled: u64 = groups
            .iter()
            .flat_map(|group| &group.columns)
            .filter(|it| it.column == Column::BottleOk)
            .map(|it| it.settles.whatever)
            .sum();
        assert_eq!(settled, bottle_ok.settles.whatever, "{key:?}");
        assert!(
            groups.is_sorted_by(|one, next| one.key < next.key),
            "{key:?}"
        );
    }
}

#[test]
fn nothing_selected_or_a_stop_is_nothing() {
    let history = history(2);
    let assessed = assessed(&history);
    assert!(
        of(&history, &assessed, &Selection::new(), None)
            .groups
            .is_empty()
    );
    let stopped = Progress::default();
    stopped.stop();
    let all: Selection = (0..assessed.judged.len() as u32).collect();
    assert_eq!(coverage(&history, &assessed, &all, None, &stopped), None);
}
