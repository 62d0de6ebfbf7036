//! The JSON Schema of the site file (draft 2020-12), for editors that complete and check while one types.
//!
//! It says what the reader takes: a text may be written as a number, as in `id: 101`, and a list of one as its only item, as in
//! `needs: lab key`.

use super::raw::RawSite;
use serde_json::{Value, json};

/// The JSON Schema of the site file.
pub fn schema() -> Value {
    let mut schema = schemars::schema_for!(RawSite).to_value();
    loosen(&mut schema);
    schema
}

fn loosen(schema: &mut Value) {
    match schema {
        Value::Array(list) => list.iter_mut().for_each(loosen),
        Value::Object(map) => {
            map.values_mut().for_each(loosen);
            // The texts of a fixed list of words stay what they are.
            let free = !map.contains_key("enum") && !map.contains_key("const");
            if let Some(kind) = map.get_mut("type").filter(|_| free) {
                or_number(kind);
            }
            if is_list_of_scalars(map) {
                let items = map.get("items").cloned().unwrap_or(Value::Bool(true));
                let about = map.remove("description");
                let list = Value::Object(std::mem::take(map));
                map.insert("anyOf".to_string(), json!([list, items]));
                map.extend(about.map(|text| ("description".to_string(), text)));
            }
        }
        _ => {}
    }
}

fn or_number(kind: &mut Value) {
    match kind {
        Value::String(one) if one == "string" => *kind = json!(["string", "number"]),
        Value::Array(several) if several.iter().any(|k| k == "string") => {
            several.push(json!("number"));
        }
        _ => {}
    }
}

fn is_list_of_scalars(map: &serde_json::Map<String, Value>) -> bool {
    let is_list = map.get("type").is_some_and(|kind| kind == "array");
    let scalar = |kind: &Value| match kind {
        Value::String(one) => one != "array" && one != "object",
        Value::Array(several) => several.iter().all(|k| k != "array" && k != "object"),
        _ => false,
    };
    let items = map.get("items").and_then(|items| items.get("type"));
    is_list && !map.contains_key("minItems") && items.is_some_and(scalar)
}
