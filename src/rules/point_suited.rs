//! A point that can give a fair sample at all.
//!
//! Behind a filter the oil is clean, on the bottom lies what has sunk, and in a slow line
//! particles travel in layers. None of that is the technician's doing; the rule answers
//! to the plant. Most return lines are laminar at start-up and turbulent only when hot and
//! at full flow, so a bend, which stirs, makes up for a low Reynolds number.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Place, Places, Unit};
use crate::physics::limits;

const PLACES: &[&str] = &{
    let mut words = [""; Place::ALL.len()];
    let mut next = 0;
    while next < words.len() {
        words[next] = Place::ALL[next].as_str();
        next += 1;
    }
    words
};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "point-suited",
    class: Class::Sample,
    weight: 12,
    decisive: false,
    owner: Owner::Plant,
    kinds: Kind::ALL,
    parameters: &[
        Parameter::words(
            "circulating",
            PLACES,
            "places that suit a circulating system",
        ),
        Parameter::words("sump", PLACES, "places that suit a sump"),
        Parameter::words("tank", PLACES, "places that suit a tank"),
        Parameter::words("grease", PLACES, "places that suit a grease point"),
        Parameter::number(
            "turbulent_re",
            Unit::None,
            0.0,
            100_000.0,
            "Reynolds number from which a straight line counts as well mixed",
        ),
    ],
    only_where: "",
    asks: "Does the point sit where the oil stands for the machine: in moving, mixed oil \
           before the filter, away from the bottom?",
    judged: "Broken if the place is not among those that suit the kind, or if the point sits on a \
             straight line of a circulating system whose Reynolds number is known and below \
             turbulent_re. Unrecorded if the place is blank. Otherwise met.",
    why: "Behind a filter the evidence has been taken out; on the bottom it has piled up; in \
          a slow straight line particles keep to layers and the tap takes one of them. No \
          care in drawing makes up for a badly placed point.",
    next_time: "This one is for the plant: fit a point on the return line before the filter, \
                best on a bend, or a tube that ends in the middle of the sump. Until then \
                draw as agreed, and read the results knowing what the point can show.",
    caution: "Fitting or moving a point opens the system. It is work for qualified people with \
              the machine isolated and pressure released, under the site's permit rules.",
    source: "Before the filter and on the return side: US Navy NAVEDTRA 14105, R. K. Mobley. \
             From a turbulent section: ISO 4021:1992, 3.2. Turbulent above Re 4000: \
             handbooks, some say 2300 or 3000, so the sources conflict. Credit for a bend: \
             common practice, no source. Sump middle: Electrical Equipment Handbook, ch. 22. \
             Tank levels: ISO 3170 through its Chinese adoption GB/T 4756.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointSuited {
    /// Places that suit a circulating system.
    pub circulating: Places,
    /// Places that suit a sump.
    pub sump: Places,
    /// Places that suit a tank.
    pub tank: Places,
    /// Places that suit a grease point.
    pub grease: Places,
    /// Reynolds number from which a straight line counts as well mixed.
    pub turbulent_re: f64,
}

impl Default for PointSuited {
    fn default() -> Self {
        PointSuited {
            circulating: Places::of(&[Place::ReturnLine, Place::SupplyLine]),
            sump: Places::of(&[Place::SumpMiddle]),
            tank: Places::of(&[Place::TankUpper, Place::TankMiddle, Place::TankLower]),
            grease: Places::of(&[Place::BearingHousing, Place::GreaseOutlet]),
            turbulent_re: 4000.0,
        }
    }
}

impl Rule for PointSuited {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let point = situation.point.point;
        let suited = match point.kind {
            Kind::Circulating => self.circulating,
            Kind::Sump => self.sump,
            Kind::Tank => self.tank,
            Kind::Grease => self.grease,
        };
        let Some(place) = point.place else {
            return Answer::unrecorded(Phrase::Blank, Phrase::AnyPlace(suited));
        };
        let seen = Phrase::Text(place.as_str());
        if !suited.has(place) {
            return Answer::broken(seen, Phrase::AnyPlace(suited));
        }
        match situation.point.reynolds {
            Some(reynolds)
                if point.kind == Kind::Circulating
                    && !point.is_at_bend()
                    && !limits::at_least(reynolds, self.turbulent_re) =>
            {
                Answer::broken(
                    Phrase::Flow(place, reynolds),
                    Phrase::Turbulent(self.turbulent_re),
                )
            }
            _ => Answer::met(seen, Phrase::AnyPlace(suited)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::Case;

    #[test]
    fn each_kind_has_places_of_its_own() {
        let rule = PointSuited::default();
        let suited = [
            (Kind::Circulating, "return-line supply-line"),
            (Kind::Sump, "sump-middle"),
            (Kind::Tank, "tank-upper tank-middle tank-lower"),
            (Kind::Grease, "bearing-housing grease-outlet"),
        ];
        for (kind, places) in suited {
            let mut case = Case::of(kind);
            assert_eq!(case.outcome(&rule), Unrecorded);
            for place in Place::ALL {
                case.point.place = Some(*place);
                let met = places.split(' ').any(|name| name == place.as_str());
                let expected = if met { Met } else { Broken };
                assert_eq!(case.outcome(&rule), expected, "{kind} {place}");
            }
        }
    }

    /// 60 L/min through 25 mm at 46 mm²/s: Re 1107.16, a worked example of the trade's
    /// handbooks (recomputed).
    #[test]
    fn a_slow_straight_line_is_broken_unless_it_bends() {
        let mut case = Case::of(Kind::Circulating);
        case.point.place = Some(Place::ReturnLine);
        case.point.line_flow_l_min = Some(60.0);
        case.point.line_bore_mm = Some(25.0);
        case.point.iso_vg = Some(46.0);
        case.point.normal_temp_c = Some(40.0);
        let answer = case.judge(&PointSuited::default());
        assert_eq!(answer.outcome, Broken);
        assert_eq!(
            answer.seen.to_string(),
            "return-line, Reynolds number 1107, not at a bend"
        );
        let lenient = PointSuited {
            turbulent_re: 1107.0,
            ..PointSuited::default()
        };
        assert_eq!(case.outcome(&lenient), Met);
        case.point.at_bend = Some(true);
        assert_eq!(case.outcome(&PointSuited::default()), Met);
    }
}
