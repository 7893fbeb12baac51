//! The closed vocabularies of the sheets: one enum each, text both ways.

use std::fmt;

/// Declares an enum whose members are written in sheets as fixed words.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$member_doc:meta])* $member:ident = $text:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[repr(u8)]
        pub enum $name { $($(#[$member_doc])* #[doc = concat!("Written `", $text, "`.")] $member),+ }

        impl $name {
            /// Every member, in the order of the contract.
            pub const ALL: &'static [$name] = &[$($name::$member),+];

            /// The word as sheets and screens write it.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $($name::$member => $text),+ }
            }

            /// Reads the word in any case; `None` for any other text.
            #[must_use]
            pub fn parse(text: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|word| word.as_str().eq_ignore_ascii_case(text))
            }

            /// The member at this place of [`Self::ALL`], as stored in one byte.
            #[must_use]
            pub fn from_index(index: u8) -> Option<Self> {
                Self::ALL.get(usize::from(index)).copied()
            }

            /// The place in [`Self::ALL`].
            #[must_use]
            pub const fn index(self) -> u8 { self as u8 }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { f.pad(self.as_str()) }
        }
    };
}

words! {
    /// How a compartment holds its oil or grease, which decides what rules apply.
    Kind { Circulating = "circulating", Sump = "sump", Tank = "tank", Grease = "grease" }
}

words! {
    /// Where the point sits on its compartment.
    Place {
        ReturnLine = "return-line",
        SupplyLine = "supply-line",
        AfterFilter = "after-filter",
        SumpMiddle = "sump-middle",
        SumpBottom = "sump-bottom",
        TankUpper = "tank-upper",
        TankMiddle = "tank-middle",
        TankLower = "tank-lower",
        TankBottom = "tank-bottom",
        BearingHousing = "bearing-housing",
        GreaseOutlet = "grease-outlet",
    }
}

words! {
    /// How a draw is taken.
    Method {
        TubePump = "tube-pump",
        LineValve = "line-valve",
        SumpValve = "sump-valve",
        Drain = "drain",
        Thief = "thief",
        GreaseNeedle = "grease-needle",
        GreasePurge = "grease-purge",
    }
}

words! {
    /// What kind of machine a point belongs to.
    MachineClass {
        DieselEngine = "diesel-engine",
        GasEngine = "gas-engine",
        Gearbox = "gearbox",
        Hydraulic = "hydraulic",
        Turbine = "turbine",
        Compressor = "compressor",
        Pump = "pump",
        Transmission = "transmission",
        FinalDrive = "final-drive",
        Tank = "tank",
        Bearing = "bearing",
        Other = "other",
    }
}

words! {
    /// The state of the machine at the draw.
    MachineState { Running = "running", Stopped = "stopped" }
}

words! {
    /// One thing seen in the bottle.
    Look {
        Clear = "clear",
        Cloudy = "cloudy",
        Emulsified = "emulsified",
        Sediment = "sediment",
        Metal = "metal",
        Water = "water",
    }
}

words! {
    /// Which part of the grease purged from a bearing was kept.
    PurgeStage { Start = "start", Middle = "middle", End = "end" }
}

words! {
    /// A field of the record that a label is asked to bear, named as its column.
    LabelField {
        BottleId = "bottle_id",
        Fluid = "fluid",
        MachineHours = "machine_hours",
        OilHours = "oil_hours",
    }
}

/// All that was seen in one bottle; empty means nothing was recorded.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Looks(u8);

impl Looks {
    /// Nothing recorded.
    pub const NONE: Looks = Looks(0);

    /// These looks with one more.
    #[must_use]
    pub const fn with(self, look: Look) -> Self {
        Looks(self.0 | 1 << look.index())
    }

    /// Whether this was among the things seen.
    #[must_use]
    pub const fn has(self, look: Look) -> bool {
        self.0 & (1 << look.index()) != 0
    }

    /// Whether nothing was recorded.
    #[must_use]
    pub const fn is_blank(self) -> bool {
        self.0 == 0
    }

    /// Whether anything but clear oil was seen: the draw asks for a second fill.
    #[must_use]
    pub const fn is_abnormal(self) -> bool {
        self.0 & !(1 << Look::Clear.index()) != 0
    }

    /// The one byte it is stored in.
    #[must_use]
    pub const fn bits(self) -> u8 {
        self.0
    }

    /// From the stored byte; unknown bits are dropped.
    #[must_use]
    pub const fn from_bits(bits: u8) -> Self {
        Looks(bits & ((1 << Look::ALL.len()) - 1))
    }

    /// The looks in the order of the contract.
    pub fn iter(self) -> impl Iterator<Item = Look> {
        Look::ALL
            .iter()
            .copied()
            .filter(move |look| self.has(*look))
    }
}

impl fmt::Display for Looks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words: Vec<&str> = self.iter().map(Look::as_str).collect();
        f.pad(&words.join(";"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_reads_back_in_any_case() {
        for method in Method::ALL {
            assert_eq!(Method::parse(method.as_str()), Some(*method));
            assert_eq!(
                Method::parse(&method.as_str().to_uppercase()),
                Some(*method)
            );
            assert_eq!(Method::from_index(method.index()), Some(*method));
        }
        assert_eq!(Method::parse("bucket"), None);
        assert_eq!(Method::from_index(200), None);
    }

    #[test]
    fn looks_hold_several_words_and_know_the_abnormal_ones() {
        let looks = Looks::NONE.with(Look::Water).with(Look::Clear);
        assert_eq!(looks.to_string(), "clear;water");
        assert!(looks.is_abnormal());
        assert!(!Looks::NONE.with(Look::Clear).is_abnormal());
        assert!(Looks::NONE.is_blank());
        assert_eq!(Looks::from_bits(looks.bits()), looks);
        assert_eq!(Looks::from_bits(0xff).bits(), 0b11_1111);
    }
}
