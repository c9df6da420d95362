//! One visit, worked out again by this program's model and compared number by number.

use std::fmt;

use bodies::{VISIT, Visit};
use domain::quantity::Decimal;
use domain::visit::{Draft, Finished, MODEL, Measured, ResultLine, assess};
use hubstore::Found;

/// One number that came out otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Which number, in the record's words.
    pub what: String,
    /// What was signed; empty where nothing was.
    pub signed: String,
    /// What comes out here; empty where nothing does.
    pub here: String,
}

impl fmt::Display for Difference {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let or_nothing = |text: &str| if text.is_empty() { "nothing".to_owned() } else { text.to_owned() };
        write!(
            out,
            "{}: signed {}, worked out {}",
            self.what,
            or_nothing(&self.signed),
            or_nothing(&self.here)
        )
    }
}

/// Works a visit out again. What other kinds of entries say has nothing to be worked out.
#[must_use]
pub fn compare(entry: &record::Entry<'_>) -> Option<Found> {
    if entry.header.kind != VISIT {
        return None;
    }
    Some(match Visit::of_entry(entry) {
        Err(error) => Found::Unreadable(error.to_string()),
        Ok(visit) => found(&visit.finished),
    })
}

fn found(signed: &Finished) -> Found {
    // Only this program's own model is here: what an older one worked out is shown as such, and is no fault. A number that
    // is not known here yet vouches for nothing: anybody can write one.
    match signed.model {
        MODEL => {}
        0 => return Found::Unreadable("It names model 0, and there never was one.".into()),
        newer if newer > MODEL => return Found::NewerModel(newer),
        older => return Found::OtherModel(older),
    }
    let draft = Draft::again(signed);
    let assessment = match assess(&draft) {
        Ok(assessment) => assessment,
        Err(faults) => {
            let fields: Vec<_> = faults.into_iter().map(|fault| fault.field).collect();
            return Found::Unreadable(format!(
                "The register row in it cannot be read: {}.",
                fields.join(", ")
            ));
        }
    };
    let mut differences = results(&signed.results, &assessment.results(&draft));
    match assessment.finish(&draft) {
        Ok(again) => differences.extend(readings(signed, &again)),
        Err(missing) => {
            let codes: Vec<_> = missing.iter().map(|remark| remark.code.as_str()).collect();
            let what = "what was needed to sign".to_owned();
            differences.push(Difference { what, signed: String::new(), here: codes.join(", ") });
        }
    }
    if differences.is_empty() {
        return Found::Agrees;
    }
    let lines: Vec<String> = differences.iter().map(Difference::to_string).collect();
    Found::Differs(lines.join("; "))
}

/// Compares results, which records hold rounded to 1e-6 of their unit. One that was left out is told as well: a record that
/// says less than what was worked out hides it.
fn results(signed: &[ResultLine], here: &[ResultLine]) -> Vec<Difference> {
    let of =
        |lines: &[ResultLine], key| lines.iter().find(|line| line.key == key).map(|line| line.value.clone());
    let both = signed.iter().map(|line| (line.key, Some(line.value.clone()), of(here, line.key)));
    let left_out = here.iter().filter(|line| of(signed, line.key).is_none());
    let left_out = left_out.map(|line| (line.key, None, Some(line.value.clone())));
    let different = both
        .chain(left_out)
        .filter_map(|(key, signed, here)| difference(|| format!("{key:?}"), signed.as_ref(), here.as_ref()));
    different.collect()
}

/// Compares what answers were read as, and the verdict.
fn readings(signed: &Finished, again: &Finished) -> Vec<Difference> {
    let mut differences = Vec::new();
    if signed.verdict.code != again.verdict.code {
        let (signed, here) = (signed.verdict.code.clone(), again.verdict.code.clone());
        differences.push(Difference { what: "verdict".into(), signed, here });
    }
    // The answers are the record's own: they are the same ones here.
    let different = signed.answers.iter().filter_map(|one| {
        let here = again.answers.iter().find(|here| here.spot == one.spot);
        let here = here.and_then(|here| here.value.as_ref());
        difference(|| format!("answer {:?}", one.spot.key), one.value.as_ref(), here)
    });
    differences.extend(different);
    differences
}

fn difference(
    what: impl FnOnce() -> String,
    signed: Option<&Measured>,
    here: Option<&Measured>,
) -> Option<Difference> {
    let same = match (signed, here) {
        (None, None) => true,
        (Some(signed), Some(here)) => signed.unit == here.unit && close(signed.value, here.value),
        _ => false,
    };
    let shown = |value: Option<&Measured>| value.map(shown).unwrap_or_default();
    (!same).then(|| Difference { what: what(), signed: shown(signed), here: shown(here) })
}

/// Whether two numbers, each rounded to a millionth, may come from the same one: a last digit apart where it lay in the
/// middle between two.
fn close(one: Decimal, other: Decimal) -> bool {
    one == other
        || millionths(one).zip(millionths(other)).is_some_and(|(one, other)| one.abs_diff(other) <= 1)
}

fn millionths(value: Decimal) -> Option<i128> {
    let up = u32::try_from(i32::from(value.exponent) + 6).ok()?;
    i128::from(value.mantissa).checked_mul(10_i128.checked_pow(up)?)
}

fn shown(value: &Measured) -> String {
    format!("{} {}", value.value.to_f64(), value.unit)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::same(1_500_000, -6, 15, -1, true)]
    #[case::a_last_digit_apart(1_500_001, -6, 15, -1, true)]
    #[case::two_apart(1_500_002, -6, 15, -1, false)]
    #[case::another_sign(1, 0, -1, 0, false)]
    #[case::far_too_fine_to_be_rounded(1, -9, 0, 0, false)]
    fn numbers_are_the_same_to_a_millionth(
        #[case] one: i64,
        #[case] one_exponent: i8,
        #[case] other: i64,
        #[case] other_exponent: i8,
        #[case] same: bool,
    ) {
        let (one, other) = (
            Decimal { mantissa: one, exponent: one_exponent },
            Decimal { mantissa: other, exponent: other_exponent },
        );
        assert_eq!(close(one, other), same);
        assert_eq!(close(other, one), same);
    }
}
