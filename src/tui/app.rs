//! The state of the interface. Only [`update`](super::update::update) changes it; drawing
//! only reads it.

use std::collections::BTreeSet;
use std::sync::Arc;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::layout::Size;
use rustc_hash::FxHashMap;

use super::action::Action;
use super::clipboard::Clipboard;
use super::decide::{Docket, Evidence, ResampleFigures};
use super::effect::Effect;
use super::folder_line::FolderEdit;
use super::forms::Sheet;
use super::frame;
use super::keymap::{self, Zone};
use super::panel::Panel;
use super::remember;
use super::screens::draws::DrawsState;
use super::screens::draws::columns::Column;
use super::screens::find::FindState;
use super::screens::findings::FindingsState;
use super::screens::findings::sheet::SheetEntry;
use super::screens::help::Help;
use super::screens::import::ImportState;
use super::screens::import::choices::Choices;
use super::screens::people::{self, PeopleFigures, PeopleState};
use super::screens::period::PeriodCounts;
use super::screens::picture;
use super::screens::points::{self, PointsFigures, PointsState};
use super::screens::records::asked::Asked;
use super::screens::records::exam::Examined;
use super::screens::records::{RecordsFigures, RecordsState};
use super::screens::resample::ResampleState;
use super::screens::share::{ShareFigures, ShareState};
use super::screens::topics::{Tab, TopicsFigures, TopicsState};
use super::sorted::Sorted;
use super::subject::{Subject, SubjectFigures};
use super::theme::Theme;
use super::undo::Deed;
use crate::analysis::attribution::{Attribution, NoAnswer};
use crate::analysis::{Adjust, Assessed, Filter, FilterKey, Offers, Selection};
use crate::model::DrawRecord;
use crate::model::trail::Who;
use crate::programme::remembered::{Keeper, Memory, NotKept};
use crate::programme::{OpenedDraw, Standing};

/// Where the user is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    Share,
    Draws,
    Opened,
    People,
    Points,
    Topics,
    Findings,
    Resample,
    Records,
    Import,
}

impl Place {
    /// The place as a sentence names it.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Place::Share => "Share",
            Place::Draws => "Draws",
            Place::Opened => "the opened draw",
            Place::People => "People",
            Place::Points => "Points",
            Place::Topics => "Topics",
            Place::Findings => "Findings",
            Place::Resample => "Resample",
            Place::Records => "Records",
            Place::Import => "the tables to take in",
        }
    }
}

/// What lies over the place and takes the keys.
#[derive(Debug)]
pub(crate) enum Over {
    /// The folder for plans is being written.
    Folder(FolderEdit),
    /// A form is being filled in.
    Form(Box<Sheet>),
    /// A line is asked for before something is done.
    Asked(Asked),
    /// A value of how a table is read is being chosen.
    Choices(Choices),
    /// A panel with a file of its own.
    Panel(Box<dyn Panel>),
    /// Help.
    Help(Help),
}

/// What the screens remember of the user's moves; small, so that a step back keeps a copy.
#[derive(Clone, Debug, Default)]
pub(crate) struct Screens {
    pub(crate) share: ShareState,
    pub(crate) draws: DrawsState,
    pub(crate) people: PeopleState,
    pub(crate) points: PointsState,
    pub(crate) topics: TopicsState,
    pub(crate) records: RecordsState,
    pub(crate) findings: FindingsState,
    pub(crate) resample: ResampleState,
}

/// One step that Esc takes back.
#[derive(Clone, Debug)]
pub(crate) struct Step {
    pub(crate) place: Place,
    pub(crate) filter: Filter,
    pub(crate) screens: Screens,
    /// The next step led straight to an opened draw, so that the way back from it leads here.
    pub(crate) straight: bool,
}

/// What the model says, or why it says nothing.
pub(crate) type Fitted = Arc<Result<Attribution, NoAnswer>>;

/// Fits of more filters than this are not remembered.
pub(crate) const MOST_FITS: usize = 8;

/// More steps than this are not remembered.
pub(crate) const MOST_STEPS: usize = 100;

/// The order of the list of draws.
#[derive(Clone, Default)]
pub(crate) struct Order {
    pub(crate) turn: u64,
    pub(crate) column: Column,
    /// Lowest value first.
    pub(crate) rows: Arc<Vec<u32>>,
}

/// Answers that are under way; each question is asked once at a time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Waiting {
    pub(crate) select: bool,
    pub(crate) count: bool,
    pub(crate) offers: bool,
    pub(crate) order: bool,
    pub(crate) share: bool,
    pub(crate) people: bool,
    pub(crate) points: bool,
    pub(crate) topics: bool,
    pub(crate) plans: bool,
    pub(crate) subject: bool,
    pub(crate) records: bool,
    pub(crate) draw: bool,
    pub(crate) ledger: bool,
    pub(crate) intake: bool,
    pub(crate) docket: bool,
    pub(crate) evidence: bool,
    pub(crate) resample: bool,
    pub(crate) periods: bool,
    pub(crate) find: bool,
    pub(crate) names: bool,
    pub(crate) saved: bool,
    pub(crate) reload: bool,
}

/// Answers that have come, each with the number of the filter it belongs to.
#[derive(Clone, Default)]
pub(crate) struct Figures {
    /// How many draws pass a filter that is not applied yet.
    pub(crate) count: Option<(Filter, u64)>,
    /// What a key can be narrowed to within a filter.
    pub(crate) offers: Option<(Filter, FilterKey, Arc<Offers>)>,
    pub(crate) share: Option<(u64, Arc<ShareFigures>)>,
    pub(crate) people: Option<(u64, Arc<PeopleFigures>)>,
    pub(crate) points: Option<(u64, Arc<PointsFigures>)>,
    pub(crate) topics: Option<(u64, Arc<TopicsFigures>)>,
    pub(crate) subject: Option<(u64, Subject, Arc<SubjectFigures>)>,
    /// How many draws lie in the periods on offer.
    pub(crate) periods: Option<PeriodCounts>,
    /// Of the programme as it was read last, whatever the filter.
    pub(crate) records: RecordsFigures,
    /// Findings and picks, whatever the filter.
    pub(crate) docket: Option<Arc<Docket>>,
    /// What became of the evidence of the finding of this number.
    pub(crate) evidence: Option<(u32, Arc<Evidence>)>,
    /// How many draws pass each saved filter; none where one can't be read.
    pub(crate) saved: FxHashMap<String, Option<usize>>,
    /// What to sample again in the whole programme; with whether doubtful samples count.
    pub(crate) resample_of_all: Option<(bool, Arc<ResampleFigures>)>,
    /// What to sample again; with whether doubtful samples count.
    pub(crate) resample: Option<(u64, bool, Arc<ResampleFigures>)>,
}

/// How far reading and judging have come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Loading {
    pub(crate) stage: &'static str,
    pub(crate) done: u64,
    pub(crate) total: u64,
}

/// The findings pack that is being written.
#[derive(Clone, Debug)]
pub(crate) struct Packing {
    /// What was asked for; it comes back if that can't be done.
    pub(crate) form: Box<Sheet>,
    /// It was asked to stop.
    pub(crate) stopping: bool,
    pub(crate) progress: Loading,
}

/// The whole state.
pub struct App {
    pub(crate) theme: Theme,
    pub(crate) size: Size,
    pub(crate) title: String,
    pub(crate) data: Option<Arc<Assessed>>,
    pub(crate) loading: Loading,
    /// An answer has been under way for longer than a moment.
    pub(crate) slow: bool,
    pub(crate) failed: Option<String>,
    pub(crate) place: Place,
    pub(crate) over: Option<Over>,
    pub(crate) steps: Vec<Step>,
    /// Steps that were taken back, the newest last; something new empties it.
    pub(crate) ahead: Vec<Step>,
    pub(crate) filter: Filter,
    /// Filters applied so far, as they are written; the latest last.
    pub(crate) history: Vec<String>,
    pub(crate) turn: u64,
    pub(crate) selection: Arc<Selection>,
    /// The draws that pass the filter but for its days, for what does not hang on the period.
    pub(crate) of_any_day: Arc<Selection>,
    pub(crate) selected_turn: u64,
    pub(crate) order: Order,
    pub(crate) screens: Screens,
    pub(crate) figures: Figures,
    /// The order of the list of points, and of that of people.
    pub(crate) sorted_points: Sorted<points::OrderKey>,
    pub(crate) sorted_people: Sorted<people::OrderKey>,
    /// What the comparison of people and points is adjusted for.
    pub(crate) adjust: Vec<Adjust>,
    /// What the model that tells people and points apart says, by filter and by what it is
    /// adjusted for; the latest last.
    pub(crate) fits: Vec<((Filter, Vec<Adjust>), Fitted)>,
    /// The filter's number of the fit under way, and what it is adjusted for.
    pub(crate) fitting: Option<(u64, Vec<Adjust>)>,
    /// The fit under way was asked to stop.
    pub(crate) stopping: bool,
    /// The filter's number when the programme was read; older answers are about an older
    /// programme.
    pub(crate) loaded_turn: u64,
    pub(crate) records: FxHashMap<u32, DrawRecord>,
    pub(crate) opened: Option<(u32, Arc<OpenedDraw>)>,
    /// The row of the draw to be set aside, or to count again, once it is read.
    pub(crate) then_set_aside: Option<u32>,
    pub(crate) waiting: Waiting,
    /// The ids of technicians whose plans are to be written.
    pub(crate) ticked: BTreeSet<String>,
    /// The folder that is offered for plans.
    pub(crate) plans_folder: String,
    /// The folder that is offered for sheets to print.
    pub(crate) sheets_folder: String,
    /// The folder that is offered for the findings pack.
    pub(crate) pack_folder: String,
    /// The findings pack that is being written; other screens work meanwhile.
    pub(crate) packing: Option<Packing>,
    /// The folder that is offered for files, with a stroke at its end.
    pub(crate) beside: String,
    /// What was found out about the records.
    pub(crate) examined: Examined,
    /// A table being taken in; it stays while the user looks elsewhere.
    pub(crate) import: ImportState,
    /// What is known for finding something by its name, and what was found lately.
    pub(crate) find: FindState,
    /// What came for a sheet of results that is being entered.
    pub(crate) sheet_entry: SheetEntry,
    /// Who decides, if that is known.
    pub(crate) who: Option<Who>,
    /// Nothing can be written to the programme file.
    pub(crate) read_only: bool,
    /// What is remembered of the programme, the saved filters among it.
    pub(crate) memory: Memory,
    /// Why what is remembered is not kept beyond this sitting; none where it is.
    pub(crate) not_kept: Option<NotKept>,
    /// The colours may be those chosen last time: none were asked for, nor are they forbidden.
    pub(crate) colours_free: bool,
    /// They were chosen, now or last time.
    pub(crate) colours_turned: bool,
    /// What was done in this sitting and may be undone, the latest last.
    pub(crate) deeds: Vec<Deed>,
    /// The programme file as it is named on the command line.
    pub(crate) file: String,
    /// How the terminal is spoken to when something is copied.
    pub(crate) clipboard: Clipboard,
    /// There is no programme file yet; taking something in makes it.
    pub(crate) new_file: bool,
    pub(crate) message: Option<String>,
    pub(crate) changed_elsewhere: bool,
    /// The programme file is no longer what was opened; nothing is decided until a reload.
    pub(crate) out_of_place: Option<Standing>,
    /// How far plans, sheets or a decision have come.
    pub(crate) writing: Loading,
    /// The reading under way follows a change of our own.
    pub(crate) quiet_reload: bool,
    /// The programme file could not be read; nothing more is asked of it until a reload.
    pub(crate) unreadable: bool,
}

impl App {
    /// The state before anything is read. `title` is the programme's name for the header.
    #[must_use]
    pub fn new(title: &str, theme: Theme, size: Size) -> Self {
        App {
            theme,
            size,
            title: title.to_owned(),
            data: None,
            loading: Loading::default(),
            slow: false,
            failed: None,
            place: Place::Share,
            over: None,
            steps: Vec::new(),
            ahead: Vec::new(),
            filter: Filter::default(),
            history: Vec::new(),
            turn: 0,
            selection: Arc::default(),
            of_any_day: Arc::default(),
            selected_turn: 0,
            order: Order::default(),
            screens: Screens::default(),
            figures: Figures::default(),
            sorted_points: Sorted::default(),
            sorted_people: Sorted::default(),
            adjust: Vec::new(),
            fits: Vec::new(),
            fitting: None,
            stopping: false,
            loaded_turn: 0,
            records: FxHashMap::default(),
            opened: None,
            then_set_aside: None,
            waiting: Waiting::default(),
            ticked: BTreeSet::new(),
            plans_folder: "plans".to_owned(),
            sheets_folder: "resample".to_owned(),
            pack_folder: "pack".to_owned(),
            packing: None,
            beside: String::new(),
            examined: Examined::default(),
            import: ImportState::default(),
            find: FindState::default(),
            sheet_entry: SheetEntry::default(),
            who: None,
            read_only: false,
            memory: Memory::default(),
            not_kept: None,
            colours_free: true,
            colours_turned: false,
            deeds: Vec::new(),
            file: title.to_owned(),
            clipboard: Clipboard::default(),
            new_file: false,
            message: None,
            changed_elsewhere: false,
            out_of_place: None,
            writing: Loading::default(),
            quiet_reload: false,
            unreadable: false,
        }
    }

    /// The same, offering this folder for plans.
    #[must_use]
    pub fn with_plans_folder(mut self, folder: &str) -> Self {
        folder.clone_into(&mut self.plans_folder);
        self
    }

    /// The same, offering the tables of this folder to be taken in.
    #[must_use]
    pub fn with_import_folder(mut self, folder: &str) -> Self {
        self.import = ImportState::at(folder);
        folder.clone_into(&mut self.beside);
        self
    }

    /// The same, with the name of the one who decides.
    #[must_use]
    pub fn with_who(mut self, who: Option<Who>) -> Self {
        self.who = who;
        self
    }

    /// The same, offering these folders for sheets to print and for the findings pack.
    #[must_use]
    pub fn with_paper_folders(mut self, sheets: &str, pack: &str) -> Self {
        sheets.clone_into(&mut self.sheets_folder);
        pack.clone_into(&mut self.pack_folder);
        self
    }

    /// The same on a file to which nothing can be written.
    #[must_use]
    pub const fn with_read_only(mut self, read_only: bool) -> Self {
        self.read_only = read_only;
        self
    }

    /// The same, naming the programme file like this on the command line.
    #[must_use]
    pub fn with_file(mut self, file: &str) -> Self {
        file.clone_into(&mut self.file);
        self
    }

    /// The same on a terminal that is spoken to like this when something is copied.
    #[must_use]
    pub const fn with_clipboard(mut self, clipboard: Clipboard) -> Self {
        self.clipboard = clipboard;
        self
    }

    /// The same with what is remembered of the programme: the saved filters, and those of
    /// lately.
    #[must_use]
    pub fn with_memory(mut self, keeper: &Keeper) -> Self {
        let memory = keeper.memory();
        self.not_kept = keeper.not_kept();
        self.history.clone_from(&memory.lately);
        self.memory = memory.clone();
        self
    }

    /// The same where the colours are not free to be those chosen last time.
    #[must_use]
    pub const fn with_colours_free(mut self, free: bool) -> Self {
        self.colours_free = free;
        self
    }

    /// The same with the screens as they were left.
    #[must_use]
    pub fn as_it_was_left(mut self, keeper: &Keeper) -> Self {
        remember::restore(&mut self, &keeper.memory().layout);
        self
    }

    /// The same where there is no programme file yet, and taking something in makes it.
    #[must_use]
    pub const fn with_new_file(mut self, new_file: bool) -> Self {
        self.new_file = new_file;
        self
    }

    /// Whether the records are being examined, and how far that has come is to be shown.
    #[must_use]
    pub const fn is_examining(&self) -> bool {
        self.examined.under_way.is_some()
    }

    /// Whether the findings pack is being written, and how far that has come is to be shown.
    #[must_use]
    pub const fn is_packing(&self) -> bool {
        self.packing.is_some()
    }

    /// Whether a table is being read or taken in, and how far that has come is to be shown.
    #[must_use]
    pub fn is_taking_in(&self) -> bool {
        let is_taking_back = matches!(&self.over, Some(Over::Asked(asked)) if asked.busy);
        self.import.is_busy() || is_taking_back
    }

    /// Has the programme read again after a change of our own, about which something else is
    /// said.
    pub(crate) fn reload_quietly(&mut self, effects: &mut Vec<Effect>) {
        if !self.waiting.reload {
            self.waiting.reload = true;
            effects.push(Effect::Reload);
        }
        self.quiet_reload = true;
    }

    /// What is to be known of the programme file, until it is read again.
    pub(crate) fn news(&self) -> Option<&'static str> {
        match self.out_of_place {
            Some(Standing::Replaced) => {
                Some("Another file stands in its place; r opens it. No decisions until then.")
            }
            Some(Standing::Gone) => {
                Some("The file was moved or deleted; put it back, then r. No decisions until then.")
            }
            Some(Standing::Damaged) => Some(
                "The file was cut off or written over; put a copy back, then r. No decisions yet.",
            ),
            Some(Standing::InPlace) | None if self.changed_elsewhere => {
                Some("The programme was changed elsewhere; r reads it again.")
            }
            Some(Standing::InPlace) | None => None,
        }
    }

    /// The zone of the keymap that holds at present.
    #[must_use]
    pub fn zone(&self) -> Zone {
        match &self.over {
            Some(Over::Folder(_)) => Zone::FolderLine,
            Some(Over::Form(_)) => Zone::Form,
            Some(Over::Asked(_)) => Zone::Asked,
            Some(Over::Choices(_)) => Zone::Choices,
            Some(Over::Panel(panel)) => panel.zone(),
            Some(Over::Help(..)) => Zone::Help,
            None if self.data.is_none() && self.failed.is_some() => Zone::StartFailed,
            None if self.data.is_none() => Zone::Loading,
            None => self.place_zone(),
        }
    }

    /// The zone of the place, whatever lies over it.
    pub(crate) fn place_zone(&self) -> Zone {
        if let Some(picture) = picture::open(self) {
            return picture.zone();
        }
        match self.place {
            Place::Share => Zone::Share,
            Place::Draws => Zone::Draws,
            Place::Opened => Zone::Opened,
            Place::People => Zone::People,
            Place::Points => Zone::Points,
            Place::Topics => match self.screens.topics.tab {
                Tab::Heat => Zone::Topics,
                Tab::Asks => Zone::Asks,
                Tab::Trainings => Zone::Trainings,
            },
            other => frame::screen(other).map_or(Zone::Everywhere, |screen| screen.zone(self)),
        }
    }

    /// What a key asks for here.
    #[must_use]
    pub fn action_of(&self, event: KeyEvent) -> Option<Action> {
        let zone = self.zone();
        if let Some(command) = keymap::command(zone, event) {
            return Some(Action::Command(command));
        }
        let held = KeyModifiers::CONTROL | KeyModifiers::ALT | KeyModifiers::SUPER;
        match event.code {
            KeyCode::Char(sign) if zone.is_text() => {
                (!event.modifiers.intersects(held)).then_some(Action::Type(sign))
            }
            KeyCode::Char(sign) if self.over.is_none() && self.data.is_some() => {
                (!event.modifiers.intersects(held)).then_some(Action::Unbound(sign))
            }
            _ => None,
        }
    }

    /// Whether an answer is under way; a test waits until none is.
    #[must_use]
    pub fn is_waiting(&self) -> bool {
        self.waiting != Waiting::default()
            || self.fitting.is_some()
            || self.examined.under_way.is_some()
            || self.data.is_none() && self.failed.is_none()
    }

    /// Whether the programme is being read, with nothing over it that takes keys.
    pub(crate) const fn is_reading(&self) -> bool {
        self.data.is_none() && self.failed.is_none() && self.over.is_none()
    }

    /// How many draws the list holds.
    pub(crate) fn list_len(&self) -> usize {
        self.order.rows.len()
    }

    /// The row of the judged programme at this place of the list.
    pub(crate) fn row_at(&self, place: usize) -> Option<u32> {
        let rows = &self.order.rows;
        if self.screens.draws.descending {
            rows.get(rows.len().checked_sub(place + 1)?).copied()
        } else {
            rows.get(place).copied()
        }
    }

    /// The row of the chosen draw.
    pub(crate) fn chosen_row(&self) -> Option<u32> {
        self.row_at(self.screens.draws.list.cursor)
    }

    /// The opened draw, if it is the chosen one.
    pub(crate) fn opened_draw(&self) -> Option<&Arc<OpenedDraw>> {
        let row = self.chosen_row()?;
        self.opened
            .as_ref()
            .filter(|(opened, _)| *opened == row)
            .map(|(_, draw)| draw)
    }

    /// What the model says of the present filter, adjusted as it is to be, once that is known.
    pub(crate) fn fitted(&self) -> Option<&Fitted> {
        let is_it = |(filter, adjust): &(Filter, Vec<Adjust>)| {
            *filter == self.filter && *adjust == self.adjust
        };
        let known = self.fits.iter().find(|(of, _)| is_it(of));
        known.map(|(_, fitted)| fitted)
    }

    /// Whether the list is in the order that its heading says.
    pub(crate) fn is_in_order(&self) -> bool {
        self.order.turn == self.turn && self.order.column == self.screens.draws.column
    }
}
