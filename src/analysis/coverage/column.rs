//! The columns whose blanks are counted: where each is asked for, and whether it is blank.

use crate::model::{Draw, Kind, MachineState, Method, Point};

/// Which sheet a column stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sheet {
    /// `draws.csv`: written anew for every draw.
    Draws,
    /// `points.csv`: written once, and it speaks for every draw at the point.
    Points,
}

impl Sheet {
    /// The word for it.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Sheet::Draws => "draws",
            Sheet::Points => "points",
        }
    }
}

/// Declares the columns: name in sheets, sheet, where it is asked for, when it is blank.
macro_rules! columns {
    ($($column:ident = $name:literal, $sheet:ident, $asked:expr, $blank:expr;)+) => {
        /// A column of a sheet that may be left blank.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Column { $(#[doc = concat!("`", $name, "`.")] $column),+ }

        impl Column {
            /// Every column, those of draws first, in the order of the sheets.
            pub const ALL: &'static [Column] = &[$(Column::$column),+];

            /// Its name in sheets.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $(Column::$column => $name),+ }
            }

            /// The sheet it stands in.
            #[must_use]
            pub const fn sheet(self) -> Sheet {
                match self { $(Column::$column => Sheet::$sheet),+ }
            }

            /// Whether it has a meaning on a draw at a point: a purge stage is asked for
            /// where grease is purged, a set where the point is on a tank.
            #[must_use]
            pub fn is_asked(self, draw: &Draw, point: &Point) -> bool {
                match self {
                    $(Column::$column => {
                        let asked: fn(&Draw, &Point) -> bool = $asked;
                        asked(draw, point)
                    })+
                }
            }

            /// Whether it is blank.
            #[must_use]
            pub fn is_blank(self, draw: &Draw, point: &Point) -> bool {
                match self {
                    $(Column::$column => {
                        let blank: fn(&Draw, &Point) -> bool = $blank;
                        blank(draw, point)
                    })+
                }
            }
        }
    };
}

const ALWAYS: fn(&Draw, &Point) -> bool = |_, _| true;
const ON_MACHINES: fn(&Draw, &Point) -> bool =
    |_, point| matches!(point.kind, Kind::Circulating | Kind::Sump);
const WITH_TUBE: fn(&Draw, &Point) -> bool = |draw, _| draw.method == Some(Method::TubePump);
const NOT_GREASE: fn(&Draw, &Point) -> bool = |_, point| point.kind != Kind::Grease;
const CIRCULATING: fn(&Draw, &Point) -> bool = |_, point| point.kind == Kind::Circulating;
const MARKED_TUBE: fn(&Draw, &Point) -> bool =
    |draw, point| point.kind == Kind::Sump && draw.method == Some(Method::TubePump);

columns! {
    BottleId = "bottle_id", Draws, ALWAYS, |draw, _| draw.bottle.is_none();
    RecordedAt = "recorded_at", Draws, ALWAYS, |draw, _| draw.recorded_at.is_blank();
    Method = "method", Draws, ALWAYS, |draw, _| draw.method.is_none();
    MachineState = "machine_state", Draws, ON_MACHINES, |draw, _| draw.machine_state.is_none();
    StoppedMin = "stopped_min", Draws,
        |draw, point| {
            ON_MACHINES(draw, point) && draw.machine_state != Some(MachineState::Running)
        },
        |draw, _| draw.stopped_min.is_blank();
    OilTempC = "oil_temp_c", Draws, ON_MACHINES, |draw, _| draw.oil_temp_c.is_blank();
    MachineHours = "machine_hours", Draws, ON_MACHINES, |draw, _| draw.machine_hours.is_blank();
    OilHours = "oil_hours", Draws, ON_MACHINES, |draw, _| draw.oil_hours.is_blank();
    Fluid = "fluid", Draws, ALWAYS, |draw, _| !draw.fluid_written;
    PointCleaned = "point_cleaned", Draws, ALWAYS, |draw, _| draw.point_cleaned.is_none();
    TubeNew = "tube_new", Draws, WITH_TUBE, |draw, _| draw.tube_new.is_none();
    BottleOk = "bottle_ok", Draws, ALWAYS, |draw, _| draw.bottle_ok.is_none();
    CappedAtOnce = "capped_at_once", Draws, ALWAYS, |draw, _| draw.capped_at_once.is_none();
    FlushedMl = "flushed_ml", Draws, ON_MACHINES, |draw, _| draw.flushed_ml.is_blank();
    TubeMarkCm = "tube_mark_cm", Draws, MARKED_TUBE, |draw, _| draw.tube_mark_cm.is_blank();
    FillPct = "fill_pct", Draws, NOT_GREASE, |draw, _| draw.fill_pct.is_blank();
    Looks = "looks", Draws, NOT_GREASE, |draw, _| draw.looks.is_blank();
    PairOf = "pair_of", Draws, |draw, _| draw.second_fill, |draw, _| draw.pair_of.is_none();
    SetId = "set_id", Draws, |_, point| point.kind == Kind::Tank, |draw, _| draw.set_id.is_none();
    PurgeStage = "purge_stage", Draws,
        |draw, point| {
            point.kind == Kind::Grease && draw.method == Some(Method::GreasePurge)
        },
        |draw, _| draw.purge_stage.is_none();
    RegisteredAt = "registered_at", Draws, ALWAYS, |draw, _| draw.registered_at.is_blank();
    DispatchedAt = "dispatched_at", Draws, ALWAYS, |draw, _| draw.dispatched_at.is_blank();
    ReceivedAt = "received_at", Draws, ALWAYS, |draw, _| draw.received_at.is_blank();
    SafetyConfirmed = "safety_confirmed", Draws, ALWAYS,
        |draw, _| draw.safety_confirmed.is_none();
    PointPlace = "place", Points, ALWAYS, |_, point| point.place.is_none();
    PointMethod = "method", Points, ALWAYS, |_, point| point.method.is_none();
    PointFluid = "fluid", Points, ALWAYS, |_, point| point.fluid.is_none();
    Viscosity = "viscosity", Points, ON_MACHINES,
        |_, point| {
            point.iso_vg.is_none()
                && (point.viscosity_40_cst.is_none() || point.viscosity_100_cst.is_none())
        };
    NormalTempC = "normal_temp_c", Points, ON_MACHINES, |_, point| point.normal_temp_c.is_none();
    LineFlowLMin = "line_flow_l_min", Points, CIRCULATING,
        |_, point| point.line_flow_l_min.is_none();
    LineBoreMm = "line_bore_mm", Points, CIRCULATING, |_, point| point.line_bore_mm.is_none();
    TubeBoreMm = "tube_bore_mm", Points, ON_MACHINES, |_, point| point.tube_bore_mm.is_none();
    TubeLengthCm = "tube_length_cm", Points, ON_MACHINES,
        |_, point| point.tube_length_cm.is_none();
    DeadExtraMl = "dead_extra_ml", Points, ON_MACHINES, |_, point| point.dead_extra_ml.is_none();
    PointTubeMarkCm = "tube_mark_cm", Points, MARKED_TUBE,
        |_, point| point.tube_mark_cm.is_none();
    OilDepthCm = "oil_depth_cm", Points, ON_MACHINES, |_, point| point.oil_depth_cm.is_none();
    Interval = "interval", Points, ALWAYS,
        |_, point| point.interval_h.is_none() && point.interval_days.is_none();
}

impl Column {
    /// Its place in [`Self::ALL`].
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }
}

/// A set of columns in one word.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ColumnSet(u64);

impl ColumnSet {
    /// No column.
    pub const NONE: ColumnSet = ColumnSet(0);

    /// This column alone.
    #[must_use]
    pub const fn of(column: Column) -> Self {
        ColumnSet(1 << column.index())
    }

    /// With this column too.
    #[must_use]
    pub const fn with(self, column: Column) -> Self {
        ColumnSet(self.0 | 1 << column.index())
    }

    /// Whether the column is in it.
    #[must_use]
    pub const fn has(self, column: Column) -> bool {
        self.0 & (1 << column.index()) != 0
    }

    /// What both hold.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        ColumnSet(self.0 & other.0)
    }

    /// What either holds.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        ColumnSet(self.0 | other.0)
    }

    /// Whether it holds none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The columns, in the order of [`Column::ALL`].
    pub fn iter(self) -> impl Iterator<Item = Column> {
        Column::ALL
            .iter()
            .copied()
            .filter(move |column| self.has(*column))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_holds_every_column() {
        assert!(Column::ALL.len() <= 64);
        let all = Column::ALL
            .iter()
            .fold(ColumnSet::NONE, |set, column| set.with(*column));
        assert!(all.iter().eq(Column::ALL.iter().copied()));
        assert!(ColumnSet::NONE.is_empty());
    }

    #[test]
    fn a_column_is_asked_for_where_it_has_a_meaning() {
        let mut draw = Draw::bare(0, 0, 0);
        let grease = Point::bare("P", "C", Kind::Grease);
        let sump = Point::bare("P", "C", Kind::Sump);
        assert!(!Column::PurgeStage.is_asked(&draw, &grease));
        draw.method = Some(Method::GreasePurge);
        assert!(Column::PurgeStage.is_asked(&draw, &grease));
        assert!(!Column::FillPct.is_asked(&draw, &grease));
        assert!(Column::StoppedMin.is_asked(&draw, &sump));
        draw.machine_state = Some(MachineState::Running);
        assert!(!Column::StoppedMin.is_asked(&draw, &sump));
        assert!(Column::Viscosity.is_blank(&draw, &sump));
    }
}
