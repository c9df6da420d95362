//! One row of the register's table of sensor ranges: a sensor that the utility could fit.
//!
//! Texts as people write them, read by [`crate::quantity`]; which of them are on offer is the utility's own data.

use serde::{Deserialize, Serialize};
use uom::si::f64::{Pressure, Ratio};
use uom::si::ratio::ratio;

use super::{Fault, Known};
use crate::quantity::{EntryProblem, read_number, read_percent, read_pressure};
use crate::ranging::{Offered, Sensor, SensorErrors};

/// A sensor range on offer, as the register writes it. Gauge pressures, each with its unit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SensorRange {
    /// What the utility calls it; unique in the table.
    pub name: String,
    /// LRL, lower range limit.
    pub lrl: String,
    /// URL, upper range limit.
    pub url: String,
    /// Minimum span; empty where only a turndown is stated.
    #[serde(default)]
    pub min_span: String,
    /// The most it may be turned down, URL over span (number alone); empty where only a minimum span is stated.
    #[serde(default)]
    pub turndown: String,
    /// Maximum working pressure.
    pub max_working: String,
    /// The largest offset that can be set; empty for no stated limit.
    #[serde(default)]
    pub trim_limit: String,
    /// Reference accuracy as a percentage of URL, taken as an expanded uncertainty, k = 2.
    pub accuracy: String,
    /// What its zero may move between visits; empty where nobody states it.
    #[serde(default)]
    pub zero_allowance: String,
    /// Drift in a year as a percentage of URL; empty where nobody states it.
    #[serde(default)]
    pub drift: String,
    /// What 10 K of its own temperature may move it, as a percentage of URL; empty where nobody states it.
    #[serde(default)]
    pub ten_kelvin: String,
}

struct Reader(Vec<Fault>);

impl Reader {
    fn fault(&mut self, field: &str, text: impl Into<String>) {
        self.0.push(Fault { field: field.to_owned(), text: text.into() });
    }

    /// Reads a text that may be left out.
    fn read<E, V>(
        &mut self,
        field: &str,
        text: &str,
        read: impl Fn(&str) -> Result<E, EntryProblem<V>>,
    ) -> Option<E> {
        if text.trim().is_empty() {
            return None;
        }
        match read(text) {
            Ok(entry) => Some(entry),
            Err(problem) => {
                let ways: Vec<&str> = problem.candidates().iter().map(|way| way.text.as_str()).collect();
                let meant = if ways.is_empty() {
                    problem.remedy().to_string()
                } else {
                    format!("Write {}.", ways.join(" or "))
                };
                self.fault(field, format!("{} {meant}", problem.what()));
                None
            }
        }
    }

    fn pressure(&mut self, field: &str, text: &str) -> Option<Pressure> {
        self.read(field, text, read_pressure).map(|entry| entry.value)
    }

    fn share(&mut self, field: &str, text: &str) -> Option<Ratio> {
        self.read(field, text, read_percent).map(|entry| entry.value)
    }

    fn needed(&mut self, field: &str, text: &str) {
        if text.trim().is_empty() {
            self.fault(field, "Nothing is written. Write it in.");
        }
    }

    fn positive(&mut self, field: &str, value: Option<f64>) {
        if value.is_some_and(|value| value <= 0.0) {
            self.fault(field, "It must be more than zero. Check the number and its sign.");
        }
    }

    fn not_negative(&mut self, field: &str, value: Option<f64>) {
        if value.is_some_and(|value| value < 0.0) {
            self.fault(field, "It must not be negative. Check the number and its sign.");
        }
    }
}

impl SensorRange {
    /// Reads the row.
    ///
    /// # Errors
    ///
    /// Every field that cannot be read, each with what to write.
    pub fn read(&self) -> Result<Offered, Vec<Fault>> {
        let mut reader = Reader(Vec::new());
        let needed = [
            ("name", &self.name),
            ("lrl", &self.lrl),
            ("url", &self.url),
            ("max_working", &self.max_working),
            ("accuracy", &self.accuracy),
        ];
        for (field, text) in needed {
            reader.needed(field, text);
        }
        let offered = self.offered(&mut reader);
        match offered {
            Some(offered) if reader.0.is_empty() => Ok(offered),
            _ => Err(reader.0),
        }
    }

    fn offered(&self, reader: &mut Reader) -> Option<Offered> {
        let (lrl, url) = (reader.pressure("lrl", &self.lrl), reader.pressure("url", &self.url));
        reader.positive("url", url.map(|url| url.value));
        if let (Some(lrl), Some(url)) = (lrl, url)
            && url <= lrl
        {
            reader.fault("url", "URL must be above LRL. Check both limits.");
        }
        let min_span = reader.pressure("min_span", &self.min_span);
        reader.positive("min_span", min_span.map(|span| span.value));
        let turndown = reader.read("turndown", &self.turndown, read_number).map(|entry| entry.value);
        if turndown.is_some_and(|turndown| turndown < 1.0) {
            reader.fault("turndown", "A turndown is URL over span: 20 for 20 to 1, never below 1.");
        }
        if self.min_span.trim().is_empty() && self.turndown.trim().is_empty() {
            reader.fault("min_span", "Neither a minimum span nor a turndown is written. Write one of them.");
        }
        let max_working = reader.pressure("max_working", &self.max_working);
        reader.positive("max_working", max_working.map(|most| most.value));
        let trim_limit = reader.pressure("trim_limit", &self.trim_limit);
        reader.not_negative("trim_limit", trim_limit.map(|limit| limit.value));
        let errors = self.errors(reader, url?);
        let limits = Sensor {
            lrl: lrl?,
            url: url?,
            min_span: min_span.unwrap_or_default(),
            max_working: max_working?,
            trim_limit,
        };
        let most_turndown = turndown.map(Ratio::new::<ratio>);
        Some(Offered { name: self.name.trim().to_owned(), limits, most_turndown, errors })
    }

    fn errors(&self, reader: &mut Reader, url: Pressure) -> SensorErrors {
        let shares = [("accuracy", &self.accuracy), ("drift", &self.drift), ("ten_kelvin", &self.ten_kelvin)];
        let [accuracy, drift, ten_kelvin] = shares.map(|(field, text)| {
            let share = reader.share(field, text);
            reader.not_negative(field, share.map(|share| share.value));
            url * share.unwrap_or_default()
        });
        let zero_allowance = reader.pressure("zero_allowance", &self.zero_allowance);
        reader.not_negative("zero_allowance", zero_allowance.map(|zero| zero.value));
        SensorErrors { accuracy, zero_allowance: zero_allowance.unwrap_or_default(), drift, ten_kelvin }
    }
}

impl Known {
    /// Returns the sensor that is fitted, as one of those on offer.
    #[must_use]
    pub fn fitted(&self, name: &str) -> Offered {
        let errors = SensorErrors {
            accuracy: self.sensor.accuracy,
            zero_allowance: self.sensor.zero_allowance,
            ..SensorErrors::default()
        };
        Offered { name: name.to_owned(), limits: self.sensor.limits, most_turndown: None, errors }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::pressure::{bar, millibar, pascal};

    use super::*;

    fn row() -> SensorRange {
        SensorRange {
            name: "MW 2.5 bar".into(),
            lrl: "-1 bar".into(),
            url: "2.5 bar".into(),
            min_span: "50 mbar".into(),
            turndown: String::new(),
            max_working: "6 bar".into(),
            trim_limit: "2 bar".into(),
            accuracy: "0.05 %".into(),
            zero_allowance: "1 mbar".into(),
            drift: "0.1 %".into(),
            ten_kelvin: "0.02 %".into(),
        }
    }

    #[test]
    fn a_good_row_is_read_in_full() {
        let offered = row().read().unwrap();
        assert!((offered.limits.url.get::<bar>() - 2.5).abs() < 1e-12);
        assert!((offered.limits.min_span.get::<millibar>() - 50.0).abs() < 1e-9);
        // 0.05 %, 0.1 % and 0.02 % of 250 000 Pa.
        assert!((offered.errors.accuracy.get::<pascal>() - 125.0).abs() < 1e-9);
        assert!((offered.errors.drift.get::<pascal>() - 250.0).abs() < 1e-9);
        assert!((offered.errors.ten_kelvin.get::<pascal>() - 50.0).abs() < 1e-9);
        assert!((offered.errors.zero_allowance.get::<pascal>() - 100.0).abs() < 1e-9);
    }

    #[rstest]
    #[case::no_trim(|row: &mut SensorRange| row.trim_limit = "0 bar".into())]
    #[case::no_drift(|row: &mut SensorRange| row.drift = "0 %".into())]
    #[case::not_turned_down(|row: &mut SensorRange| row.turndown = "1".into())]
    fn what_is_none_is_no_fault(#[case] change: fn(&mut SensorRange)) {
        let mut none = row();
        change(&mut none);
        assert!(none.read().is_ok());
    }

    /// 0.05 % of 3 bar are 150 Pa, 2 mbar 200 Pa.
    #[test]
    fn the_sensor_that_is_fitted_is_offered_with_its_own_errors() {
        let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
            "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
            "liquid":{"name":"water"},"span":"6 m","lrv":"0","urv":"6",
            "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %",
            "zero_allowance":"2 mbar"},"tolerance":"50 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;
        let offered = Known::read(&serde_json::from_str(row).unwrap()).unwrap().fitted("A1");
        assert!((offered.errors.accuracy.get::<pascal>() - 150.0).abs() < 1e-9);
        assert!((offered.errors.zero_allowance.get::<pascal>() - 200.0).abs() < 1e-9);
        assert!((offered.limits.url.get::<bar>() - 3.0).abs() < 1e-12 && offered.name == "A1");
    }

    #[test]
    fn what_nobody_states_is_left_out() {
        let none = String::new;
        let bare = SensorRange {
            min_span: none(),
            turndown: "20".into(),
            trim_limit: none(),
            zero_allowance: none(),
            drift: none(),
            ten_kelvin: none(),
            ..row()
        };
        let offered = bare.read().unwrap();
        assert_eq!(offered.limits.trim_limit, None);
        assert!(offered.most_turndown.is_some_and(|most| (most.value - 20.0).abs() < 1e-12));
        assert!(offered.errors.drift.value.abs() < 1e-12);
    }

    #[rstest]
    #[case::no_unit("url", |row: &mut SensorRange| row.url = "2.5".into())]
    #[case::upside_down("url", |row: &mut SensorRange| row.lrl = "3 bar".into())]
    #[case::nothing("max_working", |row: &mut SensorRange| row.max_working = " ".into())]
    #[case::neither("min_span", |row: &mut SensorRange| row.min_span = String::new())]
    #[case::turndown("turndown", |row: &mut SensorRange| row.turndown = "0.05".into())]
    #[case::no_sign("accuracy", |row: &mut SensorRange| row.accuracy = "0.05".into())]
    #[case::negative("drift", |row: &mut SensorRange| row.drift = "-0.1 %".into())]
    #[case::trim("trim_limit", |row: &mut SensorRange| row.trim_limit = "-2 bar".into())]
    #[case::of_no_strength("max_working", |row: &mut SensorRange| row.max_working = "0 bar".into())]
    #[case::of_no_span("min_span", |row: &mut SensorRange| row.min_span = "0 mbar".into())]
    #[case::of_no_range("url", |row: &mut SensorRange| row.url = "0 bar".into())]
    #[case::just_below_one("turndown", |row: &mut SensorRange| row.turndown = "0.999".into())]
    fn a_bad_field_is_named(#[case] field: &str, #[case] spoil: fn(&mut SensorRange)) {
        let mut bad = row();
        spoil(&mut bad);
        let faults = bad.read().unwrap_err();
        assert_eq!(
            faults.iter().map(|fault| fault.field.as_str()).collect::<Vec<_>>(),
            [field],
            "{faults:?}"
        );
        assert!(faults.iter().all(|fault| fault.text.len() > 20));
    }
}
