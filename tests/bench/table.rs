//! What parts report, and the table it ends in.

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    Seconds(f64),
    Bytes(u64),
    Count(u64),
}

/// One measurement as a part reports it: its name, a tab, a letter, the number.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub name: String,
    pub figure: Figure,
}

impl Line {
    pub fn new(name: &str, figure: Figure) -> Self {
        Line {
            name: name.to_owned(),
            figure,
        }
    }

    pub fn report(&self) {
        match self.figure {
            Figure::Seconds(seconds) => println!("{}\ts{seconds}", self.name),
            Figure::Bytes(bytes) => println!("{}\tb{bytes}", self.name),
            Figure::Count(count) => println!("{}\tn{count}", self.name),
        }
    }

    pub fn read(text: &str) -> Self {
        let (name, figure) = text.split_once('\t').unwrap();
        let (letter, number) = figure.split_at(1);
        let figure = match letter {
            "s" => Figure::Seconds(number.parse().unwrap()),
            "b" => Figure::Bytes(number.parse().unwrap()),
            _ => Figure::Count(number.parse().unwrap()),
        };
        Line::new(name, figure)
    }
}

/// Prints one column a size, one row a measurement.
pub fn print(columns: &[(u64, Vec<Line>)]) {
    let Some((_, first)) = columns.first() else {
        return;
    };
    let width = first
        .iter()
        .map(|line| line.name.chars().count())
        .max()
        .unwrap_or(0);
    let row = |name: &str, cells: Vec<String>| {
        let cells: String = cells.iter().map(|cell| format!(" {cell:>15} |")).collect();
        println!("| {name:width$} |{cells}");
    };
    let heads = columns
        .iter()
        .map(|(draws, _)| format!("{} draws", grouped(*draws)));
    row("", heads.collect());
    let rules: String = columns.iter().map(|_| format!("{:->16}:|", "")).collect();
    println!("|{:-<1$}|{rules}", "", width + 2);
    for (place, line) in first.iter().enumerate() {
        let cells = columns
            .iter()
            .map(|(_, lines)| written(lines[place].figure));
        row(&line.name, cells.collect());
    }
}

fn written(figure: Figure) -> String {
    match figure {
        Figure::Seconds(seconds) if seconds >= 1.0 => format!("{seconds:.2} s"),
        Figure::Seconds(seconds) if seconds >= 0.1 => format!("{:.0} ms", seconds * 1e3),
        Figure::Seconds(seconds) => format!("{:.2} ms", seconds * 1e3),
        Figure::Bytes(bytes) => format!("{:.0} MB", bytes as f64 / 1e6),
        Figure::Count(count) => grouped(count),
    }
}

/// A number with its thousands set apart.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}
