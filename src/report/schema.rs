//! JSON Schema (draft 2020-12) of what is written as JSON, made from the columns.

use serde_json::{Map, Value, json};

use super::{Column, Holds, Place};
use crate::model::Verdict;

/// Which draft the schemas are of.
const DRAFT: &str = "https://json-schema.org/draft/2020-12/schema";

/// The schema of an array of rows of these columns.
#[must_use]
pub fn of_rows(title: &str, about: &str, columns: &[Column]) -> Value {
    json!({
        "$schema": DRAFT,
        "title": title,
        "description": about,
        "type": "array",
        "items": of_row(columns),
    })
}

/// The schema of one row of these columns, alone in its file or line.
#[must_use]
pub fn of_one(title: &str, about: &str, columns: &[Column]) -> Value {
    let mut schema = of_row(columns);
    for (name, value) in [("$schema", DRAFT), ("title", title), ("description", about)] {
        schema[name] = json!(value);
    }
    schema
}

fn of_row(columns: &[Column]) -> Value {
    let shown = || columns.iter().filter(|it| it.place != Place::TableOnly);
    let properties: Map<String, Value> = shown()
        .map(|column| (column.name.to_owned(), of_value(column)))
        .collect();
    let required: Vec<&str> = shown().map(|column| column.name).collect();
    json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    })
}

fn of_value(column: &Column) -> Value {
    let mut schema = match column.holds {
        Holds::Words => json!({"type": ["string", "null"]}),
        Holds::Count => json!({"type": ["integer", "null"], "minimum": 0}),
        Holds::Number | Holds::Part => json!({"type": ["number", "null"]}),
        Holds::YesNo => json!({"type": ["boolean", "null"]}),
        Holds::Time => json!({"type": ["string", "null"], "format": "date-time"}),
        Holds::Day => json!({"type": ["string", "null"], "format": "date"}),
        Holds::Verdict => {
            let words = Verdict::ALL.map(Verdict::as_str).map(Value::from);
            let words: Vec<Value> = words.into_iter().chain([Value::Null]).collect();
            json!({ "enum": words })
        }
        Holds::Ids => json!({"type": ["array", "null"], "items": {"type": "string"}}),
        Holds::Object => json!({"type": ["object", "null"]}),
        Holds::Items => json!({"type": ["array", "null"]}),
    };
    schema["description"] = json!(column.meaning);
    schema
}
