//! Batches taken back: the programme is as if they had never been taken in.

use fairdraw::programme::{Error, Refused};
use proptest::prelude::*;

use super::{Desk, assert_sound, said};

const POINTS: &str = "point_id,compartment_id,kind,colour\nP-1,C-1,circulating,red\n";
const TECHNICIANS: &str = "technician_id,crew\nT-1,A\n";
const HEAD: &str = "draw_id,bottle_id,point_id,technician_id,drawn_at,looks,machine_hours\n";

fn draws(rows: &[&str]) -> String {
    format!("{HEAD}{}\n", rows.join("\n"))
}

/// A desk where batch 1 brought a point, a technician and two draws.
fn desk() -> Desk {
    let mut desk = Desk::new();
    let rows = [
        "D-1,B-1,P-1,T-1,2026-03-01T08:00Z,clear,100",
        "D-2,B-2,P-1,T-1,2026-03-02T08:00Z,clear,120",
    ];
    desk.take(&[
        ("points.csv", POINTS),
        ("technicians.csv", TECHNICIANS),
        ("draws.csv", &draws(&rows)),
    ]);
    desk
}

#[test]
fn what_a_batch_changed_stands_again_as_it_was() {
    let mut desk = desk();
    let before = said(&mut desk.programme);
    let second = [
        (
            "points.csv",
            "point_id,compartment_id,kind\nP-1,C-9,sump\nP-2,C-2,sump\n",
        ),
        ("technicians.csv", "technician_id,crew\nT-1,B\nT-2,B\n"),
        (
            "trainings.csv",
            "technician_id,topic,held_on\nT-2,flush-met,2026-03-01\n",
        ),
        (
            "draws.csv",
            &draws(&[
                "D-1,B-1,P-2,T-2,2026-03-01T08:00Z,cloudy,90",
                "D-3,B-2,P-2,T-2,2026-03-03T08:00Z,clear,150",
            ]),
        ),
    ];
    let first = desk.take(&second);
    let with_both = said(&mut desk.programme);
    assert_ne!(with_both, before);
    let done = desk.take_back(2).unwrap();
    assert_eq!((done.draws_out, done.draws_restored), (2, 1));
    assert_eq!(done.rows_out, [1, 1, 1]);
    assert_eq!(said(&mut desk.programme), before);
    assert_sound(&desk.programme);
    // Taken in again, it does what it did the first time.
    let again = desk.take(&second);
    for (one, other) in first.sheets.iter().zip(&again.sheets) {
        let counts = |sheet: &fairdraw::programme::SheetReport| {
            (
                sheet.taken,
                sheet.unchanged,
                sheet.changed,
                sheet.refused_rows,
            )
        };
        assert_eq!(counts(one), counts(other), "{}", one.sheet);
        assert_eq!(
            other.remarks, one.remarks,
            "a file taken back came not before"
        );
    }
    assert_eq!(said(&mut desk.programme), with_both);
    assert_sound(&desk.programme);
}

#[test]
fn what_a_later_batch_said_too_stands() {
    let mut desk = desk();
    desk.take(&[
        ("points.csv", POINTS),
        ("technicians.csv", TECHNICIANS),
        (
            "draws.csv",
            &draws(&["D-2,B-2,P-1,T-1,2026-03-02T08:00Z,clear,120"]),
        ),
    ]);
    let done = desk.take_back(1).unwrap();
    assert_eq!((done.draws_out, done.rows_out), (1, [0, 0, 0]));
    assert_sound(&desk.programme);
    let done = desk.take_back(2).unwrap();
    assert_eq!((done.draws_out, done.rows_out), (1, [1, 1, 0]));
    assert_eq!(said(&mut desk.programme), Vec::<String>::new());
    assert_sound(&desk.programme);
    // An empty programme takes in as a new one does.
    let again = desk.take(&[("points.csv", POINTS), ("technicians.csv", TECHNICIANS)]);
    assert_eq!((again.sheets[0].taken, again.sheets[1].taken), (1, 1));
    assert_sound(&desk.programme);
}

#[test]
fn a_draw_taken_back_is_no_earlier_state() {
    let mut desk = desk();
    let row = |hours: u32| draws(&[&format!("D-1,B-1,P-1,T-1,2026-03-01T08:00Z,clear,{hours}")]);
    for hours in [200, 300, 400] {
        desk.take(&[("draws.csv", &row(hours))]);
    }
    desk.take_back(3).unwrap();
    let assessed = desk
        .programme
        .assess(&fairdraw::model::Progress::default())
        .unwrap();
    let states = desk
        .programme
        .earlier_states(assessed.judged.record[0])
        .unwrap();
    let hours: Vec<_> = states
        .iter()
        .map(|(import, draw)| (*import, draw.facts.machine_hours.get()))
        .collect();
    assert_eq!(hours, [(4, Some(200.0)), (2, Some(100.0))]);
}

#[test]
fn points_that_other_batches_draw_at_hold_their_batch() {
    let mut desk = Desk::new();
    desk.take(&[("points.csv", POINTS)]);
    desk.take(&[("technicians.csv", TECHNICIANS)]);
    desk.take(&[("draws.csv", &draws(&["D-1,,P-1,T-1,2026-03-01T08:00Z,,"]))]);
    desk.take(&[(
        "trainings.csv",
        "technician_id,topic,held_on\nT-1,flush-met,2026-03-01\n",
    )]);
    let told = |error: Error| error.to_string();
    assert_eq!(
        told(desk.take_back(1).unwrap_err()),
        "batch 1 can't be taken back: draws or trainings of batch 3 name points or technicians \
         that no other batch brings (P-1); take batch 3 back first, or import those points and \
         technicians from another sheet"
    );
    assert!(told(desk.take_back(2).unwrap_err()).contains("of batch 3, 4 name"));
    assert!(told(desk.take_back(5).unwrap_err()).contains("has batches 1 to 4"));
    assert_eq!(desk.programme.batches().unwrap().len(), 4);
    desk.take_back(3).unwrap();
    assert!(told(desk.take_back(3).unwrap_err()).contains("already, by batch 5"));
    assert!(told(desk.take_back(5).unwrap_err()).contains("import its sheets again"));
    desk.take_back(4).unwrap();
    desk.take_back(2).unwrap();
    desk.take_back(1).unwrap();
    assert_sound(&desk.programme);
    assert_eq!(said(&mut desk.programme), Vec::<String>::new());
}

#[test]
fn the_ledger_and_the_trail_tell_of_it() {
    let mut desk = desk();
    desk.take_back(1).unwrap();
    let batches = desk.programme.batches().unwrap();
    assert_eq!(batches[0].import.taken_back_in, Some(2));
    assert_eq!(batches[1].import.takes_back, Some(1));
    assert_eq!(batches[1].import.because.as_deref(), Some("a test"));
    let links = desk.programme.trail().unwrap();
    let kinds: Vec<_> = links.iter().map(|link| link.kind.as_str()).collect();
    assert_eq!(kinds, ["import taken in", "import taken back"]);
    assert_eq!(batches[1].import.link, Some(links[1].number));
}

/// Sheets of one batch: any of the four.
#[derive(Clone, Debug)]
struct Batch(Vec<(&'static str, String)>);

#[derive(Clone, Debug)]
enum Act {
    Take(Batch),
    /// Takes the batch of this place back, counted round.
    TakeBack(usize),
}

fn points() -> impl Strategy<Value = String> {
    prop::collection::vec((0..5_u8, 0..3_u8, 0..2_usize, any::<bool>()), 1..5).prop_map(|rows| {
        let mut text = "point_id,compartment_id,kind,agreed,note\n".to_owned();
        for (point, compartment, kind, agreed) in rows {
            let kind = ["circulating", "sump"][kind];
            text += &format!("P-{point},C-{compartment},{kind},{agreed},{compartment}\n");
        }
        text
    })
}

fn technicians() -> impl Strategy<Value = String> {
    prop::collection::vec((0..3_u8, 0..2_u8), 1..3).prop_map(|rows| {
        let rows = rows
            .into_iter()
            .map(|(technician, crew)| format!("T-{technician},{crew}\n"));
        format!("technician_id,crew\n{}", rows.collect::<String>())
    })
}

fn trainings() -> impl Strategy<Value = String> {
    prop::collection::vec((0..3_u8, 1..3_u8, 0..2_u8), 1..3).prop_map(|rows| {
        let rows = rows.into_iter().map(|(technician, day, place)| {
            format!("T-{technician},flush-met,2026-01-0{day},{place}\n")
        });
        format!(
            "technician_id,topic,held_on,place\n{}",
            rows.collect::<String>()
        )
    })
}

fn draw_rows() -> impl Strategy<Value = String> {
    let row = (0..9_u8, 0..5_u8, 0..3_u8, 0..4_u8, 0..3_u8, 0..6_u8);
    prop::collection::vec(row, 1..7).prop_map(|rows| {
        let mut text = HEAD.to_owned();
        for (draw, point, technician, hour, look, bottle) in rows {
            let look = ["", "clear", "cloudy"][usize::from(look)];
            let draw = if draw == 0 {
                String::new()
            } else {
                format!("D-{draw}")
            };
            text += &format!(
                "{draw},B-{bottle},P-{point},T-{technician},2026-03-01T0{hour}:00Z,{look},1{hour}\n"
            );
        }
        text
    })
}

fn batch() -> impl Strategy<Value = Batch> {
    let maybe = |weight| prop::bool::weighted(weight);
    (
        (maybe(0.5), points()),
        (maybe(0.5), technicians()),
        (maybe(0.3), trainings()),
        (maybe(0.8), draw_rows()),
    )
        .prop_map(|(points, technicians, trainings, draws)| {
            let sheets = [
                ("points.csv", points),
                ("technicians.csv", technicians),
                ("trainings.csv", trainings),
                ("draws.csv", draws),
            ];
            let chosen = sheets.into_iter().filter(|(_, (chosen, _))| *chosen);
            let mut chosen: Vec<_> = chosen.map(|(name, (_, text))| (name, text)).collect();
            if chosen.is_empty() {
                chosen.push(("technicians.csv", "technician_id\nT-0\n".to_owned()));
            }
            Batch(chosen)
        })
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        3 => batch().prop_map(Act::Take),
        2 => any::<prop::sample::Index>().prop_map(|place| Act::TakeBack(place.index(1000))),
    ]
}

/// Takes a batch in and gives the rows of it that were not refused.
fn take(desk: &mut Desk, batch: &Batch) -> Batch {
    let sheets = batch.0.iter().map(|(name, text)| (*name, text.as_str()));
    let report = desk.take(&sheets.collect::<Vec<_>>());
    let refused = desk.programme.refusals(report.batch, u32::MAX).unwrap();
    let sheets = batch.0.iter().map(|(name, text)| {
        let stays = |line: usize| {
            let same = |it: &&Refused| it.sheet.ends_with(name) && it.line == line as u64 + 1;
            !refused.iter().filter(same).any(|refused| refused.whole_row)
        };
        let rows = text.split_inclusive('\n').enumerate();
        let taken = rows.filter(|(line, _)| stays(*line)).map(|(_, row)| row);
        (*name, taken.collect::<String>())
    });
    Batch(sheets.collect())
}

/// The model: a new programme that takes in the rows that stand, in order, all points before
/// all draws. Gives it, and whether it refused any.
fn replayed<'b>(batches: impl Iterator<Item = &'b Batch> + Clone) -> (Desk, bool) {
    let mut desk = Desk::new();
    let mut refused = 0;
    for kind in [
        "points.csv",
        "technicians.csv",
        "trainings.csv",
        "draws.csv",
    ] {
        let sheets = batches.clone().flat_map(|batch| &batch.0);
        for (name, text) in sheets.filter(|(name, _)| *name == kind) {
            let report = desk.take(&[(name, text)]);
            refused += report.sheets[0].refused_rows;
        }
    }
    (desk, refused > 0)
}

/// A batch in the model: its number, the rows it brought, whether it stands.
type Kept = (i64, Batch, bool);

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn taking_in_and_back_is_taking_in_what_stands(acts in prop::collection::vec(act(), 3..9)) {
        let mut desk = Desk::new();
        let mut kept: Vec<Kept> = Vec::new();
        for act in &acts {
            match act {
                Act::Take(batch) => {
                    let number = desk.programme.imports().unwrap().len() as i64 + 1;
                    let taken = take(&mut desk, batch);
                    kept.push((number, taken, true));
                }
                Act::TakeBack(place) => {
                    let Some(place) = place.checked_rem(kept.len()) else { continue };
                    if !kept[place].2 {
                        prop_assert!(desk.take_back(kept[place].0).is_err());
                        continue;
                    }
                    let others = kept.iter().enumerate();
                    let others = others.filter(|(other, batch)| *other != place && batch.2);
                    let (_, misses_some) = replayed(others.map(|(_, batch)| &batch.1));
                    match desk.take_back(kept[place].0) {
                        Ok(_) => kept[place].2 = false,
                        Err(Error::StillNamed { .. }) => {}
                        Err(other) => prop_assert!(false, "{other}"),
                    }
                    // Rows of others that would now be refused hold it.
                    prop_assert_eq!(misses_some, kept[place].2);
                }
            }
            prop_assert_eq!(desk.programme.check().unwrap(), Vec::<String>::new());
        }
        let stand = kept.iter().filter(|batch| batch.2).map(|batch| &batch.1);
        let (mut model, _) = replayed(stand);
        prop_assert_eq!(said(&mut desk.programme), said(&mut model.programme));
    }
}
