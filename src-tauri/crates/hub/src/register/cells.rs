//! The cells of one line, put together to a row as a register's own file has it.

use serde_json::{Map, Value};

use super::columns::{Column, Holds, numbered};

/// What is wrong with a cell: the column, and what to write.
pub(super) type CellProblem = (String, String);

/// Puts cells together. Empty cells leave their field out, and what they lie within with it.
pub(super) fn row<'c>(
    cells: impl Iterator<Item = (&'c str, Column, &'c str)>,
) -> Result<Value, Vec<CellProblem>> {
    let mut whole = Tree::default();
    let mut problems = Vec::new();
    for (name, column, cell) in cells {
        match value(column, cell) {
            Ok(Some(value)) => whole.put(&mut name.split('.'), value),
            Ok(None) => {}
            Err(text) => problems.push((name.to_owned(), text)),
        }
    }
    if problems.is_empty() { Ok(whole.value()) } else { Err(problems) }
}

fn value(column: Column, cell: &str) -> Result<Option<Value>, String> {
    let cell = cell.trim();
    // What must be there is judged as the empty text that it is.
    if cell.is_empty() && !column.needed {
        return Ok(None);
    }
    Ok(Some(match column.holds {
        Holds::Text => Value::String(cell.to_owned()),
        Holds::Flag => Value::Bool(flag(cell)?),
        Holds::List => {
            let items = cell.split(';').map(str::trim).filter(|item| !item.is_empty());
            Value::Array(items.map(|item| Value::String(item.to_owned())).collect())
        }
    }))
}

fn flag(cell: &str) -> Result<bool, String> {
    match cell.to_lowercase().as_str() {
        "true" | "yes" => Ok(true),
        "false" | "no" => Ok(false),
        _ => Err("This is neither yes nor no. Write true or false.".into()),
    }
}

/// A row on its way: the parts of a column's name lead down.
#[derive(Default)]
struct Tree {
    leaf: Option<Value>,
    under: std::collections::BTreeMap<String, Tree>,
}

impl Tree {
    fn put<'n>(&mut self, name: &mut impl Iterator<Item = &'n str>, value: Value) {
        match name.next() {
            None => self.leaf = Some(value),
            Some(part) => self.under.entry(part.to_owned()).or_default().put(name, value),
        }
    }

    fn value(self) -> Value {
        if let Some(leaf) = self.leaf {
            return leaf;
        }
        let under = self.under;
        if !under.is_empty() && under.keys().all(|part| numbered(part)) {
            let mut items: Vec<(u32, Tree)> =
                under.into_iter().map(|(part, tree)| (part.parse().unwrap_or(u32::MAX), tree)).collect();
            items.sort_by_key(|(place, _)| *place);
            return Value::Array(items.into_iter().map(|(_, tree)| tree.value()).collect());
        }
        let fields = under.into_iter().map(|(part, tree)| (part, tree.value()));
        Value::Object(fields.collect::<Map<_, _>>())
    }
}
