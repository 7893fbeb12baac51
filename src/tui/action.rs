//! What can happen. Actions are the only way the state changes.

use std::sync::Arc;

use ratatui::layout::Size;

use super::effect::Answer;
use super::screens::import::order::IntakeAnswer;
use super::screens::records::exam::ExamAnswer;
use super::theme::Background;
use crate::analysis::{Assessed, Filter};
use crate::programme::Standing;

/// Declares the commands that keys are bound to: one line each says what the command does
/// in help, hints and `docs/keys.md`.
macro_rules! commands {
    ($($name:ident = $hint:literal, $text:literal;)+) => {
        /// What a key can ask for.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Command { $(#[doc = $text] $name),+ }

        impl Command {
            /// Every command.
            pub const ALL: &'static [Command] = &[$(Command::$name),+];

            /// What it does, for help and the page of keys.
            #[must_use]
            pub const fn text(self) -> &'static str {
                match self { $(Command::$name => $text),+ }
            }

            /// What it does, in a word or two for the line of hints.
            #[must_use]
            pub const fn hint(self) -> &'static str {
                match self { $(Command::$name => $hint),+ }
            }
        }
    };
}

commands! {
    Up = "up", "One row up";
    Down = "down", "One row down";
    PageUp = "page up", "One page up";
    PageDown = "page down", "One page down";
    First = "first", "To the first row";
    Last = "last", "To the last row";
    PaneNext = "next pane", "To the next pane";
    PaneBack = "pane before", "To the pane before";
    Open = "open", "Open what is chosen";
    Back = "back", "One step back; a filter that goes or comes with the step is named";
    Forward = "forward", "One step forward again, where a step back was one too many";
    Find = "find", "Find a technician, point, compartment, machine, site, bottle, draw, rule or screen by any letters of its name";
    SortNext = "sort", "Sort by the next column";
    SortTurn = "turn order", "Turn the order of the list around";
    AddTerm = "narrow", "Narrow the filter to the chosen value";
    DropTerm = "widen", "Take the last term out of the filter";
    EditFilter = "filter", "Edit the filter as a line";
    Period = "period", "Choose the period: last month, quarter or year, or days of your own";
    PeriodBefore = "period before", "The period before the one in the filter, as long as it; the last full month where there is none";
    PeriodAfter = "period after", "The period after it, as long as it";
    ThisMonth = "this month", "The month of the newest draw";
    LastMonth = "last month", "The month before that";
    LastQuarter = "last quarter", "The quarter before that of the newest draw";
    LastYear = "last year", "The year before that of the newest draw";
    LastTwelve = "last 12 months", "Twelve months, the last of them that of the newest draw";
    AllDays = "all", "No period: draws of all days";
    OwnDays = "own days", "Write the first and the last day";
    BuildFilter = "filter by", "Build the filter without writing it: choose a field, then its values";
    TickValue = "tick", "Tick the chosen value, or take the tick away; any of the ticked will do";
    Exclude = "exclude", "Turn the term into its opposite: draws that have none of these values";
    TakeTermOut = "take out", "Take the chosen term out of the filter";
    ValuesInOrder = "order", "Values with most draws first, or in their own order";
    Periods = "periods", "Months, quarters, years or weeks";
    Columns = "columns", "Shares in the columns, or observed against expected";
    AdjustFor = "adjust", "Adjust the comparison for site, area, class, crew, method or month";
    TickLevel = "tick", "Tick one of several to adjust for, or take the tick away";
    Whole = "all of it", "All of what stands beside or below the list, on a page of its own";
    Picture = "picture", "The large picture of the screen, or back from it";
    Leftward = "left", "The crosshair to the left";
    Rightward = "right", "The crosshair to the right";
    MarkNext = "next", "The crosshair to the next one by number of judged draws";
    MarkBack = "before", "The crosshair to the one before it by number of judged draws";
    OtherPicture = "bars or funnel", "The funnel, or a bar for each with its interval";
    ByRegained = "order", "Those with most to regain first, or by id";
    Tick = "tick", "Tick the chosen person or crew for a plan, or take the tick away";
    Plans = "plans", "Write the plans of all who are ticked";
    WritePlans = "write", "Write the plans to this folder; no file is overwritten";
    PersonNext = "right", "To the person or crew on the right";
    PersonBack = "left", "To the person or crew on the left";
    RowsNext = "more rows", "Further rows of the table, to the right";
    RowsBack = "rows before", "The rows before them, to the left";
    Crews = "crews", "Technicians or crews";
    Compartment = "compartment", "Narrow to the draws of this compartment";
    DrawNext = "next draw", "Open the next draw of the list";
    DrawBack = "draw before", "Open the draw before it in the list";
    ShowShare = "Share", "Share: how many samples can't be trusted, when, and why";
    ShowDraws = "Draws", "Draws: the list, and the draw opened up";
    ShowPeople = "People", "People: technicians and crews";
    ShowPoints = "Points", "Points: the same for sample points, with their physics";
    ShowTopics = "Topics", "Topics: whom to train in what, what to ask of others, what came of trainings";
    TakeBack = "take back", "Take the chosen batch back; a reason is asked for";
    ExportRefused = "write refused", "Write the refused rows of the chosen batch to a file, to be mended";
    GoOn = "go on", "Go on with what stands in the line";
    Import = "take a table in", "Take a table in: choose it, see what would come of it, take it in or leave it";
    TakeIn = "take it in", "Take it in";
    MakeDemo = "demo", "Look around in the demo: everything in it is invented, and kept nowhere";
    OtherFile = "another file", "Open another programme file";
    TryAll = "try all", "Read and judge all of it without storing anything";
    LeaveOut = "leave out", "Leave the chosen column out";
    SaveMap = "save map", "Write the map to a file";
    SheetNext = "next sheet", "Show the next sheet";
    SheetBack = "sheet before", "Show the sheet before it";
    DeletePart = "folder up", "Take the last part of the path away";
    ShowFindings = "Findings", "Findings: picks to verify, findings raised, answered and closed; the pack to take away";
    ShowRecords = "Records", "Records: what was taken in, what was refused, what is filled in, what to doubt";
    ShowResample = "Resample", "Resample: what to sample again, and what to do differently";
    Raise = "raise a finding", "Raise a finding about what is chosen";
    AnswerFinding = "answer", "Answer the finding: cause, correction, action against recurrence";
    CloseFinding = "close", "Close the finding after a check of effect";
    WithdrawFinding = "withdraw", "Withdraw a finding that should not have been raised";
    Export = "pack", "Write the findings pack to a folder";
    DrawPick = "draw a pick", "Draw a random sample of draws to be verified";
    PickSheet = "sheet", "Write the sheet for the verifier of the chosen pick: what each record claims, and columns to fill in";
    Agree = "agrees", "Enter for the chosen draw: the record is so";
    Disagree = "disagrees", "Enter for the chosen draw: the record is not so";
    Unverified = "not verifiable", "Enter for the chosen draw: it could not be verified";
    EnterSheet = "enter a sheet", "Enter a filled-in sheet of results as a whole; it is shown first";
    SetAside = "set aside", "Set the laboratory's result of this draw aside, or let it count again";
    Strict = "doubtful too", "Count doubtful samples as ones that can't be trusted, too";
    CompartmentNext = "next", "Open the next compartment of the list";
    CompartmentBack = "before", "Open the compartment before it in the list";
    Sheets = "sheets", "Write a sheet to print for each site";
    Send = "next", "To the next field; from the last one, send";
    SendNow = "send", "Send it";
    FieldNext = "next field", "To the next field";
    FieldBack = "field before", "To the field before";
    Copy = "copy", "Copy what is chosen, or the command line that tells the same";
    CopyNow = "copy", "Copy what is shown";
    CopyCell = "cell", "Show the chosen cell to be copied";
    CopyRow = "row", "Show the chosen row to be copied";
    CopyList = "list", "Show the list to be copied";
    CopyFilter = "filter", "Show the filter to be copied";
    CopyCommand = "command", "The command line that tells or does the same, to be copied";
    CellNext = "next cell", "To the next cell of the row";
    CellBack = "cell before", "To the cell before it";
    SavedFilters = "saved filters", "The saved filters: apply one, save the present one";
    SaveFilter = "save", "Save the present filter under a name";
    ForgetFilter = "forget", "Forget the chosen filter; it can be brought back";
    RenameFilter = "rename", "Call the chosen filter otherwise";
    Undo = "undo", "What was done in this sitting, and how it is undone";
    Reload = "reload", "Read the programme file again";
    Colours = "colours", "Colours for a dark background, for a light one, or none";
    Help = "help", "Keys of this place and what the glyphs mean";
    Suspend = "suspend", "Put fairdraw to sleep; `fg` brings it back";
    Quit = "quit", "Leave";
    Apply = "apply", "Apply the filter";
    Complete = "complete", "Complete the word before the cursor";
    CharLeft = "left", "Cursor left";
    CharRight = "right", "Cursor right";
    LineStart = "start", "Cursor to the start";
    LineEnd = "end", "Cursor to the end";
    Only = "only its draws", "Narrow the filter to the draws of what is chosen, and stay";
    DeleteBefore = "delete", "Delete the character before the cursor";
    DeleteAfter = "delete after", "Delete the character at the cursor";
    DeleteWord = "delete word", "Delete the word before the cursor";
    DeleteAll = "clear", "Empty the line";
}

/// What can happen.
#[derive(Clone)]
pub enum Action {
    /// A key asked for something.
    Command(Command),
    /// A letter or sign was pressed that asks for nothing here.
    Unbound(char),
    /// A character was typed into the filter line.
    Type(char),
    /// Text was pasted.
    Paste(String),
    /// The row of this number, from 0, is chosen in the list that the keys act on.
    Row(usize),
    /// This filter is to hold from now on.
    Filter(Filter),
    /// The left button was pressed on this cell.
    Click(u16, u16),
    /// The wheel was turned over this cell, up (negative) or down, by lines.
    Wheel(u16, u16, i32),
    /// The terminal has this size.
    Resize(Size),
    /// Opening the programme has come this far: stage, steps done, steps in all.
    Progress(&'static str, u64, u64),
    /// An answer is still under way after a moment: worth saying so.
    StillWaiting,
    /// The programme is judged and in memory.
    Loaded(Arc<Assessed>),
    /// It could not be read; in words.
    Failed(String),
    /// A question was answered.
    Answered(Answer),
    /// The records were examined.
    Examined(ExamAnswer),
    /// Examining has come this far: stage, steps done, steps in all.
    ExamProgress(&'static str, u64, u64),
    /// The thread that takes tables in has an answer.
    Intake(IntakeAnswer),
    /// It has come this far: stage, steps done, steps in all.
    IntakeProgress(&'static str, u64, u64),
    /// The findings pack has come this far: stage, steps done, steps in all.
    PackProgress(&'static str, u64, u64),
    /// The terminal told its background after all.
    Background(Background),
    /// The programme file was changed by someone else.
    ChangedElsewhere,
    /// The programme file is no longer what was opened.
    OutOfPlace(Standing),
    /// Another programme file was opened in its place; whether nothing can be written to it.
    Reopened(bool),
    /// Something written in the background has come this far: stage, steps done, steps in all.
    WriteProgress(&'static str, u64, u64),
}
