//! The places that have keys of their own.

/// Declares the zones: one line each gives its heading and says what it is.
macro_rules! zones {
    ($($name:ident = $title:literal, $about:literal;)+) => {
        /// A place that has keys of its own.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Zone { $(#[doc = $about] $name),+ }

        impl Zone {
            /// Every zone, in the order of the page of keys.
            pub const ALL: &'static [Zone] = &[$(Zone::$name),+];

            /// Its name, as a heading.
            #[must_use]
            pub const fn title(self) -> &'static str {
                match self { $(Zone::$name => $title),+ }
            }
        }
    };
}

zones! {
    Everywhere = "Everywhere but in lines of text", "Everywhere but in the lines of text.";
    Start = "Before a programme is open", "What to begin with where no programme is open yet.";
    StartBusy = "While a programme is opened or made", "While a programme is opened or the demo is made.";
    StartFailed = "Where a programme can't be opened", "What keeps a programme from being opened.";
    Share = "Share", "The Share screen.";
    ControlChart = "Share, in the large picture", "The control chart in full, on the Share screen.";
    Draws = "Draws, in the list", "The list of draws.";
    Opened = "Draws, in the opened draw", "An opened draw.";
    Strip = "Draws, in the large picture", "The draws of a compartment in full.";
    People = "People", "The People screen.";
    Points = "Points", "The Points screen.";
    Funnel = "People and Points, in the funnel", "The funnel of people or of points in full.";
    Bars = "People and Points, in the bars", "The interval bars of people or of points in full.";
    Topics = "Topics, whom to train in what", "The heat table of the Topics screen.";
    Asks = "Topics, what to ask of others", "What to ask of others, on the Topics screen.";
    Trainings = "Topics, after training", "What came after trainings, on the Topics screen.";
    Findings = "Findings, in the list", "The list of findings.";
    Finding = "Findings, in an opened finding", "An opened finding.";
    Picks = "Findings, picks", "The list of picks.";
    Pick = "Findings, in an opened pick", "An opened pick.";
    PickSheetRead = "Findings, a sheet of results as it would be entered", "A sheet of results as it would be entered.";
    Resample = "Resample, in the list", "What to sample again.";
    Compartment = "Resample, in an opened compartment", "An opened compartment of it.";
    Ledger = "Records, what was taken in", "The ledger of the Records screen.";
    Batch = "Records, in an opened batch", "An opened batch.";
    Coverage = "Records, what is filled in", "What is filled in, on the Records screen.";
    Doubts = "Records, what is hard to believe", "What is hard to believe, on the Records screen.";
    Doubt = "Records, in an opened doubt", "An opened doubt.";
    ImportMap = "Taking in, how it is read", "How a table is read, and the map proposed for it.";
    ImportRows = "Taking in, as it would be stored", "What of a table would be stored or refused.";
    Choices = "Taking in, choosing a value", "Choosing what a row of the map is.";
    ImportBusy = "Taking in, under way", "While a table is tried out or taken in.";
    ImportTried = "Taking in, tried out", "What would come of taking a table in.";
    ImportDone = "Taking in, done", "What came of it.";
    Builder = "Filter builder, terms and fields", "The terms in force and the fields of the filter builder.";
    Page = "All of what stands beside a list", "All of what stands beside or below a list, on a page of its own.";
    Narrow = "Choosing what to narrow by", "The list of values to narrow by.";
    Adjust = "Choosing what to adjust for", "The list of what the comparison can be adjusted for.";
    Find = "Finding something", "Where something is found by its name.";
    Period = "Choosing the period", "The list of periods.";
    PeriodLine = "Days of your own", "The line in which the first and the last day are written.";
    Copy = "Copying", "The panel that shows what is copied.";
    Saved = "Saved filters", "The list of saved filters.";
    Undo = "What was done", "What was done in this sitting.";
    Help = "Help", "The help page.";
    Loading = "While the programme is read", "While the programme is read and judged.";
    TextLine = "In every line of text", "Every line of text.";
    PickSheet = "Findings, choosing a sheet of results", "Choosing a filled-in sheet of a pick.";
    StartFile = "Choosing a programme file", "Choosing another programme file.";
    ImportFile = "Taking in, choosing a table", "Choosing a table to take in.";
    FilterLine = "Filter line", "The filter line.";
    Values = "Filter builder, values", "The values of the filter builder; letters narrow their list.";
    FolderLine = "Folder of plans", "The line that asks for a folder.";
    Form = "Form", "A form to fill in.";
    SavedName = "Name of a filter", "The line that asks for the name of a filter.";
    Asked = "A line that is asked for", "A line that is asked for before something is done.";
}

impl Zone {
    /// Whether keys are letters of a line of text here.
    #[must_use]
    pub const fn is_text(self) -> bool {
        matches!(
            self,
            Zone::TextLine
                | Zone::Find
                | Zone::PeriodLine
                | Zone::FilterLine
                | Zone::Values
                | Zone::FolderLine
                | Zone::Asked
                | Zone::SavedName
                | Zone::ImportFile
                | Zone::StartFile
                | Zone::PickSheet
                | Zone::Form
        )
    }

    /// The zone whose keys hold here too.
    #[must_use]
    pub const fn common(self) -> Zone {
        match self {
            // Where no programme is open there are no screens to go to.
            Zone::Start | Zone::StartBusy | Zone::StartFailed => Zone::Start,
            text if text.is_text() => Zone::TextLine,
            _ => Zone::Everywhere,
        }
    }
}
