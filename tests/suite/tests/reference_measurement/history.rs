//! Intervals and drift over the visits.

use domain::history::{Months, Seen, Staircase, look};
use uom::si::f64::{Pressure, Ratio, Time};
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::time::day;

use crate::facts::group;

const FACTS: &str = include_str!("../../reference/history.json");

/// The line does not care what it is laid through: a percent of span stands for a pascal here.
fn percent(value: f64) -> Pressure {
    Pressure::new::<pascal>(value)
}

fn months(months: f64) -> Time {
    Time::new::<day>(months * 365.25 / 12.0)
}

#[test]
fn the_staircase_of_the_guide() {
    for fact in group(FACTS, "stair", 3) {
        let part = Ratio::new::<ratio>(fact.input("error") / fact.input("mpe"));
        let next = Staircase::default().next(Months(fact.input("interval")), part).unwrap();
        fact.hold("ratio", "1", next.ratio.get::<ratio>());
        assert_eq!(next.act.word(), fact.expected_text("action"), "{}", fact.about());
        fact.hold("next", "month", next.next.0);
    }
}

#[test]
fn the_control_chart_of_the_guide() {
    for fact in group(FACTS, "chart", 2) {
        let times = fact.text("t").split(',').map(|time| time.parse::<f64>().unwrap());
        let visits: Vec<Seen> = times
            .zip(fact.inputs("y"))
            .map(|(time, error)| Seen {
                at: months(time),
                offset: percent(error),
                standard: None,
                serial: String::new(),
                moved: false,
            })
            .collect();
        let drift = look(&visits).drift.unwrap();
        fact.hold("drift_per_year", "% span/yr", drift.per_year.get::<pascal>());
        fact.hold("intercept", "% span", drift.value_at(months(0.0)).get::<pascal>());
        fact.hold("s_res", "% span", drift.scatter.unwrap().get::<pascal>());
        let reached = drift.crosses(percent(0.0), percent(fact.input("limit"))).unwrap();
        fact.hold("months_to_limit", "month", reached.get::<day>() / months(1.0).get::<day>());
    }
}

/// The guide's thermometer: eleven readings between 21.5 and 26.5 degC, a correction in degC each. A degree above 20 stands
/// for a year and a degree of correction for a pascal; the uncertainty comes from the scatter alone, nine degrees of
/// freedom. A history is not asked for the intercept's own uncertainty, nor for its correlation with the slope.
#[test]
fn the_line_of_the_guide_to_uncertainty() {
    let fact = &group(FACTS, "line", 1)[0];
    let (t, b) = (fact.inputs("t"), fact.inputs("b"));
    assert_eq!((t.len(), b.len()), (11, 11));
    let visits = t.iter().zip(&b).map(|(t, b)| Seen {
        at: months(12.0 * (t - fact.input("t0"))),
        offset: percent(*b),
        standard: None,
        serial: String::new(),
        moved: false,
    });
    let line = look(&visits.collect::<Vec<_>>()).drift.unwrap();
    fact.hold("y1", "degC", line.value_at(months(0.0)).get::<pascal>());
    fact.hold("y2", "1", line.per_year.get::<pascal>());
    fact.hold("u_y2", "1", line.standard.get::<pascal>());
    fact.hold("b30", "degC", line.value_at(months(12.0 * (30.0 - fact.input("t0")))).get::<pascal>());
    assert!((line.freedom - 9.0).abs() < 1e-12, "{}", line.freedom);
}
