//! Every JSON file against its schema: by a small reader of our own here, always; by
//! python's jsonschema in `outside`, where it is installed.

use serde_json::Value;

use super::made::{Desk, json, text};

/// What is wrong with the value, by the words that our schemas use.
fn wrong(schema: &Value, value: &Value, place: &str) -> Vec<String> {
    let mut found = Vec::new();
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(number) if number.is_u64() || number.is_i64() => "integer",
        Value::Number(_) => "number",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    };
    let types: Vec<&str> = match &schema["type"] {
        Value::String(one) => vec![one],
        Value::Array(several) => several.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    };
    let fits = types.is_empty()
        || types.contains(&kind)
        || (kind == "integer" && types.contains(&"number"));
    if !fits {
        found.push(format!("{place}: {kind}, not {types:?}"));
    }
    if let Some(words) = schema["enum"].as_array()
        && !words.contains(value)
    {
        found.push(format!("{place}: {value} is none of {words:?}"));
    }
    if let (Some(least), Some(number)) = (schema["minimum"].as_f64(), value.as_f64())
        && number < least
    {
        found.push(format!("{place}: {number} is below {least}"));
    }
    if let Value::Array(items) = value
        && schema["items"].is_object()
    {
        for (number, item) in items.iter().enumerate() {
            found.extend(wrong(&schema["items"], item, &format!("{place}/{number}")));
        }
    }
    if let (Value::Object(members), Some(known)) = (value, schema["properties"].as_object()) {
        for required in schema["required"].as_array().unwrap() {
            if !members.contains_key(required.as_str().unwrap()) {
                found.push(format!("{place}: without {required}"));
            }
        }
        for (name, member) in members {
            match known.get(name) {
                Some(inner) => found.extend(wrong(inner, member, &format!("{place}/{name}"))),
                None => found.push(format!("{place}: {name} is not known")),
            }
        }
    }
    found
}

#[test]
fn every_json_file_fits_its_schema() {
    let desk = Desk::with_demo();
    for is_anonymous in [false, true] {
        let to = format!("pack-{is_anonymous}");
        let mut request = desk.request(&to);
        request.is_anonymous = is_anonymous;
        desk.export_as(&request);
        let pack = desk.pack(&to);
        let mut seen = 0;
        for path in pack.keys().filter(|path| path.starts_with("schemas/")) {
            let schema = json(&pack, path);
            assert_eq!(
                schema["$schema"],
                "https://json-schema.org/draft/2020-12/schema"
            );
            let name = path
                .trim_start_matches("schemas/")
                .trim_end_matches(".schema.json");
            let values: Vec<Value> = match name {
                "pack" => vec![json(&pack, "pack.json")],
                "trail_line" => (text(&pack, "trail/trail.jsonl").lines())
                    .map(|line| serde_json::from_str(line).unwrap())
                    .collect(),
                name => vec![json(&pack, &format!("tables/{name}.json"))],
            };
            for value in values {
                assert_eq!(wrong(&schema, &value, name), Vec::<String>::new());
            }
            seen += 1;
        }
        let files = pack
            .keys()
            .filter(|path| path.ends_with(".json") && !path.starts_with("schemas/"));
        assert_eq!(seen, files.count() + 1, "a JSON file without a schema");
    }
}

#[test]
fn the_reader_of_schemas_sees_what_is_wrong() {
    let schema = serde_json::json!({
        "type": "object", "required": ["a"], "additionalProperties": false,
        "properties": {"a": {"type": ["integer", "null"], "minimum": 0}, "b": {"enum": ["x"]}},
    });
    for (value, count) in [
        (serde_json::json!({"a": 1}), 0),
        (serde_json::json!({"a": null, "b": "x"}), 0),
        (serde_json::json!({"a": 1.5}), 1),
        (serde_json::json!({"a": -1}), 1),
        (serde_json::json!({"b": "y"}), 2),
        (serde_json::json!({"a": 1, "c": 1}), 1),
        (serde_json::json!([]), 1),
    ] {
        assert_eq!(wrong(&schema, &value, "").len(), count, "{value}");
    }
}
