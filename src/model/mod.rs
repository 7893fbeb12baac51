//! Plain data and the closed vocabularies of the trade. No logic past "is this value
//! allowed" and "how is it written".

pub mod answer;
pub mod colours;
pub mod compact;
pub mod decisions;
pub mod draw;
pub mod draw_cells;
pub mod formula;
pub mod history;
pub mod judged;
pub mod phrase;
pub mod point;
pub mod printable;
pub mod progress;
pub mod rule_set;
pub mod technician;
pub mod texts;
pub mod time;
pub mod trail;
pub mod training;
pub mod verdict;
pub mod word_set;
pub mod words;

pub use answer::Answer;
pub use colours::Colours;
pub use compact::{Moment, Number};
pub use draw::{Draw, DrawRecord};
pub use history::History;
pub use judged::Judged;
pub use phrase::{Phrase, Unit};
pub use point::Point;
pub use progress::Progress;
pub use rule_set::RuleSet;
pub use technician::Technician;
pub use texts::{TextId, Texts};
pub use training::Training;
pub use verdict::{Class, Outcome, Owner, Verdict};
pub use word_set::{LabelFields, Places};
pub use words::{
    Kind, LabelField, Look, Looks, MachineClass, MachineState, Method, Place, PurgeStage,
};
