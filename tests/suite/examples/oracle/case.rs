//! Cases as the file has them, and the count of what agrees.

use std::collections::BTreeMap;
use std::fmt;

use serde_json::Value;

/// One case.
pub(crate) struct Case(Value);

/// Reads the file: cases by quantity.
pub(crate) fn cases(file: &str) -> BTreeMap<String, Vec<Case>> {
    let all: Value = serde_json::from_str(file).unwrap();
    let quantities = all["quantities"].as_object().unwrap();
    let list = |cases: &Value| cases.as_array().unwrap().iter().cloned().map(Case).collect();
    quantities.iter().map(|(name, cases)| (name.clone(), list(cases))).collect()
}

impl Case {
    /// A number.
    pub(crate) fn number(&self, name: &str) -> f64 {
        self.optional(name).unwrap_or_else(|| panic!("no number {name} in {}", self.0))
    }

    /// A place in a list.
    pub(crate) fn place(&self, name: &str) -> usize {
        usize::try_from(self.0[name].as_u64().unwrap()).unwrap()
    }

    /// A number that may be missing.
    pub(crate) fn optional(&self, name: &str) -> Option<f64> {
        self.0[name].as_f64()
    }

    /// A text.
    pub(crate) fn text(&self, name: &str) -> &str {
        self.0[name].as_str().unwrap_or_else(|| panic!("no text {name} in {}", self.0))
    }

    /// Yes or no.
    pub(crate) fn flag(&self, name: &str) -> bool {
        self.0[name].as_bool().unwrap_or_else(|| panic!("no flag {name} in {}", self.0))
    }

    /// A part, where it is there.
    pub(crate) fn part(&self, name: &str) -> Option<Case> {
        Some(&self.0[name]).filter(|part| part.is_object()).cloned().map(Case)
    }

    /// A list of parts.
    pub(crate) fn list(&self, name: &str) -> Vec<Case> {
        self.0[name].as_array().unwrap().iter().cloned().map(Case).collect()
    }

    /// A list of texts.
    pub(crate) fn texts(&self, name: &str) -> Vec<&str> {
        self.0[name].as_array().unwrap().iter().map(|text| text.as_str().unwrap()).collect()
    }

    /// Pairs of numbers by name.
    pub(crate) fn pairs(&self, name: &str) -> BTreeMap<String, (f64, f64)> {
        let pair = |value: &Value| (value[0].as_f64().unwrap(), value[1].as_f64().unwrap());
        let all = self.0[name].as_object().unwrap();
        all.iter().map(|(name, value)| (name.clone(), pair(value))).collect()
    }
}

/// What was compared so far.
#[derive(Default)]
pub(crate) struct Compared {
    wrong: Vec<String>,
    failed: usize,
    this_failed: bool,
    furthest: f64,
}

impl Compared {
    /// Compares one case.
    pub(crate) fn of(&mut self, case: &Case, compare: fn(&Case, &mut Compared)) {
        let before = self.wrong.len();
        self.this_failed = false;
        compare(case, self);
        self.failed += usize::from(self.this_failed);
        if let Some(last) = self.wrong.get_mut(before..).and_then(<[String]>::last_mut) {
            last.push_str(&format!(" in {}", case.0));
        }
    }

    /// Holds a value to an expected one within what is allowed.
    pub(crate) fn near(&mut self, what: &str, seen: f64, expected: f64, allowed: f64) {
        let apart = (seen - expected).abs() / allowed;
        self.furthest = self.furthest.max(apart);
        self.hold(apart <= 1.0, || format!("{what} is {seen}, expected {expected} within {allowed}"));
    }

    /// Holds something to be so.
    pub(crate) fn hold(&mut self, so: bool, otherwise: impl Fn() -> String) {
        if !so {
            self.this_failed = true;
            self.wrong.push(otherwise());
        }
    }

    /// How many cases did not agree.
    pub(crate) fn failed(&self) -> usize {
        self.failed
    }
}

impl fmt::Display for Compared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "furthest at {:.2} of what is allowed", self.furthest)?;
        self.wrong.iter().take(3).try_for_each(|wrong| write!(f, "\n  {wrong}"))
    }
}
