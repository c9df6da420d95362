//! JSON that a person can compare line by line: what fits stands on one line, all else a line each.

use serde_json::Value;

/// The longest line.
const WIDTH: usize = 110;

/// Returns a value as lines, its keys sorted.
///
/// The sorting is done here, because whether the library keeps the order of insertion hangs on who else uses it.
pub(crate) fn lines(value: &Value) -> String {
    let mut text = String::new();
    put(value, 0, WIDTH, &mut text);
    text.push('\n');
    text
}

fn put(value: &Value, indent: usize, room: usize, text: &mut String) {
    let short = one_line(value);
    if short.chars().count() <= room {
        text.push_str(&short);
        return;
    }
    let (open, close, parts) = match value {
        Value::Array(all) => ('[', ']', all.iter().map(|one| (String::new(), one)).collect()),
        Value::Object(_) => ('{', '}', sorted(value)),
        _ => return text.push_str(&short),
    };
    let last = parts.len();
    text.push(open);
    for (place, (name, part)) in (1..).zip(parts) {
        let begin = format!("\n{:1$}{name}", "", indent + 2);
        text.push_str(&begin);
        put(part, indent + 2, WIDTH.saturating_sub(begin.chars().count()), text);
        text.push_str(if place < last { "," } else { "" });
    }
    text.push_str(&format!("\n{:1$}{close}", "", indent));
}

fn one_line(value: &Value) -> String {
    match value {
        Value::Array(all) => format!("[{}]", all.iter().map(one_line).collect::<Vec<_>>().join(", ")),
        Value::Object(all) if all.is_empty() => "{}".to_owned(),
        Value::Object(_) => {
            let parts: Vec<String> =
                sorted(value).into_iter().map(|(name, part)| format!("{name}{}", one_line(part))).collect();
            format!("{{ {} }}", parts.join(", "))
        }
        plain => plain.to_string(),
    }
}

fn sorted(value: &Value) -> Vec<(String, &Value)> {
    let mut parts: Vec<_> = value.as_object().into_iter().flatten().collect();
    parts.sort_by_key(|(name, _)| *name);
    parts.into_iter().map(|(name, part)| (format!("{}: ", Value::from(name.as_str())), part)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_fits_stands_on_one_line_with_its_keys_sorted() {
        assert_eq!(lines(&json!({ "b": [1, 2.5], "a": {} })), "{ \"a\": {}, \"b\": [1, 2.5] }\n");
    }

    #[test]
    fn what_does_not_fit_takes_a_line_each() {
        let long = "x".repeat(100);
        let text = lines(&json!({ "short": "a \"b\"", "long": [long, 1] }));
        let wanted =
            format!("{{\n  \"long\": [\n    \"{long}\",\n    1\n  ],\n  \"short\": \"a \\\"b\\\"\"\n}}\n");
        assert_eq!(text, wanted);
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap()["long"][1], 1);
    }
}
