//! Entries of the reference files.

use serde_json::Value;

/// One entry: what it is about, what goes in, what must come out.
pub(crate) struct Fact(Value);

/// Returns the entries of a group, of which there must be `count`.
pub(crate) fn group(file: &str, name: &str, count: usize) -> Vec<Fact> {
    let all: Value = serde_json::from_str(file).unwrap();
    let entries = all["entries"].as_array().unwrap();
    let found: Vec<_> = entries.iter().filter(|entry| entry["group"] == name).cloned().map(Fact).collect();
    assert_eq!(found.len(), count, "entries of {name}");
    for fact in &found {
        assert!(
            fact.0["source"]["title"].as_str().is_some_and(|title| !title.is_empty()),
            "{} has no source",
            fact.about()
        );
    }
    found
}

impl Fact {
    pub(crate) fn about(&self) -> &str {
        self.0["quantity"].as_str().unwrap()
    }

    fn row<'a>(&'a self, list: &str, name: &str) -> &'a Value {
        let rows = self.0[list].as_array().unwrap();
        rows.iter().find(|row| row["name"] == name).unwrap_or_else(|| panic!("{}: no {name}", self.about()))
    }

    /// A number that goes in.
    pub(crate) fn input(&self, name: &str) -> f64 {
        self.row("inputs", name)["value"].as_f64().unwrap()
    }

    /// A list of numbers that goes in.
    pub(crate) fn inputs(&self, name: &str) -> Vec<f64> {
        let values = self.row("inputs", name)["value"].as_array().unwrap();
        values.iter().map(|value| value.as_f64().unwrap()).collect()
    }

    /// A text that goes in.
    pub(crate) fn text(&self, name: &str) -> &str {
        self.row("inputs", name)["value"].as_str().unwrap()
    }

    /// A text that must come out.
    pub(crate) fn expected_text(&self, name: &str) -> &str {
        self.row("expected", name)["value"].as_str().unwrap()
    }

    /// Holds a value to what is expected under a name, in a unit, within the entry's own tolerance.
    pub(crate) fn hold(&self, name: &str, unit: &str, seen: f64) {
        self.hold_all(name, unit, &[seen]);
    }

    /// The same for a list of values.
    pub(crate) fn hold_all(&self, name: &str, unit: &str, seen: &[f64]) {
        let row = self.expected(name, unit);
        let one = std::slice::from_ref(&row["value"]);
        let expected = row["value"].as_array().map_or(one, Vec::as_slice);
        assert_eq!(expected.len(), seen.len(), "{}: {name}", self.about());
        for (expected, seen) in expected.iter().zip(seen) {
            self.near(expected.as_f64().unwrap(), *seen, row["tol"].as_f64().unwrap(), name);
        }
    }

    /// Holds a value to what is expected within a tolerance of the caller's, who says why.
    pub(crate) fn hold_within(&self, name: &str, unit: &str, seen: f64, tolerance: f64) {
        self.near(self.expected(name, unit)["value"].as_f64().unwrap(), seen, tolerance, name);
    }

    /// A number that must come out, where it is looked at another way round.
    pub(crate) fn expected_number(&self, name: &str, unit: &str) -> f64 {
        self.expected(name, unit)["value"].as_f64().unwrap()
    }

    /// The entry's own tolerance.
    pub(crate) fn tolerance(&self, name: &str, unit: &str) -> f64 {
        self.expected(name, unit)["tol"].as_f64().unwrap()
    }

    fn expected(&self, name: &str, unit: &str) -> &Value {
        let mut rows = self.0["expected"].as_array().unwrap().iter();
        let found = rows.find(|row| row["name"] == name && row["unit"].as_str().unwrap().ends_with(unit));
        found.unwrap_or_else(|| panic!("{}: nothing expects {name} in {unit}", self.about()))
    }

    /// A tolerance of zero means an exact number; a few last digits of a double are not held against it.
    fn near(&self, expected: f64, seen: f64, tolerance: f64, name: &str) {
        let allowed = tolerance.max(expected.abs() * 1e-14);
        assert!(
            (seen - expected).abs() <= allowed,
            "{}: {name} is {seen}, expected {expected} within {allowed}",
            self.about()
        );
    }
}
