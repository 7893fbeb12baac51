//! Points, technicians and trainings of a programme, by place and by name.

use rustc_hash::FxHashMap;

use super::{Error, Programme};
use crate::intake::{Kept, Known};
use crate::model::{DrawRecord, Point, Technician, Training};
use crate::store::{people, points};

/// All lists with their kept-aside columns, as an import compares them.
#[derive(Debug, Default)]
pub(super) struct Lists {
    pub(super) points: List<Point>,
    pub(super) technicians: List<Technician>,
    pub(super) trainings: List<Training>,
}

/// Rows by place and by identity.
#[derive(Debug)]
pub(super) struct List<T> {
    pub(super) rows: Vec<Kept<T>>,
    /// The number of every row in its table.
    pub(super) numbers: Vec<u32>,
    pub(super) places: FxHashMap<String, u32>,
}

impl<T> Default for List<T> {
    fn default() -> Self {
        List {
            rows: Vec::new(),
            numbers: Vec::new(),
            places: FxHashMap::default(),
        }
    }
}

/// What one row of a list means to the programme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    New,
    /// The row at this place says the same.
    Unchanged(u32),
    /// In place of the row at this place.
    Changed(u32),
}

impl<T: PartialEq> List<T> {
    fn of(rows: Vec<(T, String)>, numbers: Vec<u32>, identity: fn(&T) -> String) -> Self {
        let mut list = List::default();
        for ((row, kept_aside), number) in rows.into_iter().zip(numbers) {
            list.push(identity(&row), Kept { row, kept_aside }, number);
        }
        list
    }

    /// Puts a new row, stored under this number, at the end.
    pub(super) fn push(&mut self, identity: String, row: Kept<T>, number: u32) {
        self.numbers.push(number);
        let place = u32::try_from(self.rows.len()).expect("fewer rows than u32 can count");
        self.places.insert(identity, place);
        self.rows.push(row);
    }

    /// How this row stands to the one of its identity.
    pub(super) fn standing(&self, identity: &str, row: &Kept<T>) -> Standing {
        match self.places.get(identity) {
            None => Standing::New,
            Some(place) if self.rows[*place as usize] == *row => Standing::Unchanged(*place),
            Some(place) => Standing::Changed(*place),
        }
    }
}

/// The identity of a training.
pub(super) fn training_identity(training: &Training) -> String {
    format!(
        "{}\n{}\n{}",
        training.technician_id, training.topic, training.held_on
    )
}

impl Lists {
    pub(super) fn load(programme: &Programme) -> Result<Self, Error> {
        let connection = programme.store.connection();
        Ok(Lists {
            points: List::of(
                programme.sql(points::all(connection))?,
                programme.sql(points::TABLE.numbers(connection))?,
                |point| point.id.clone(),
            ),
            technicians: List::of(
                programme.sql(people::technicians(connection))?,
                programme.sql(people::TECHNICIANS.numbers(connection))?,
                |one| one.id.clone(),
            ),
            trainings: List::of(
                programme.sql(people::trainings(connection))?,
                programme.sql(people::TRAININGS.numbers(connection))?,
                training_identity,
            ),
        })
    }

    /// What a draw may refer to.
    pub(super) fn known(&self) -> Known<'_> {
        Known {
            points: &self.points.places,
            technicians: &self.technicians.places,
        }
    }

    pub(super) fn points(&self) -> Vec<Point> {
        self.points
            .rows
            .iter()
            .map(|kept| kept.row.clone())
            .collect()
    }

    pub(super) fn technicians(&self) -> Vec<Technician> {
        self.technicians
            .rows
            .iter()
            .map(|kept| kept.row.clone())
            .collect()
    }
}

/// The names of points and technicians by place.
#[derive(Debug)]
pub(super) struct Names {
    points: Vec<String>,
    technicians: Vec<String>,
}

impl Names {
    pub(super) fn load(programme: &Programme) -> Result<Self, Error> {
        let connection = programme.store.connection();
        let points = programme.sql(points::names(connection))?;
        let technicians = programme.sql(people::names(connection))?;
        Ok(Names {
            points,
            technicians,
        })
    }

    /// The names by number, of those too that are not known any more.
    pub(super) fn by_number(programme: &Programme) -> Result<Self, Error> {
        let connection = programme.store.connection();
        let points = programme.sql(points::TABLE.names_by_number(connection))?;
        let technicians = programme.sql(people::TECHNICIANS.names_by_number(connection))?;
        Ok(Names {
            points,
            technicians,
        })
    }

    /// Writes the names of point and technician into a record.
    pub(super) fn fill(&self, programme: &Programme, draw: &mut DrawRecord) -> Result<(), Error> {
        let point = self.points.get(draw.facts.point as usize);
        let technician = self.technicians.get(draw.facts.technician as usize);
        let (Some(point), Some(technician)) = (point, technician) else {
            let reason = "a draw refers to a point or technician that is not there";
            return Err(programme.store.damaged(reason).into());
        };
        draw.point_id.clone_from(point);
        draw.technician_id.clone_from(technician);
        Ok(())
    }
}
