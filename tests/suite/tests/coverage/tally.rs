//! Visits of a kind counted: how many intervals hold the truth, and how wide they are.

use domain::visit::assess;

use crate::draws::Draws;
use crate::kinds::Kind;
use crate::trials;
use crate::visit::Visit;

/// What was seen.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seen {
    /// Intervals that hold the truth, in percent of the visits judged.
    pub(crate) covered: f64,
    /// Median of the interval's width over that of JCGM 101.
    pub(crate) width_ratio: f64,
    /// What is normal and known must be right; elsewhere no less than this is claimed.
    fine: bool,
}

impl Seen {
    /// Tells whether the intervals hold the truth as often as they say.
    pub(crate) fn covers(&self) -> bool {
        // 95 % of 10 000 visits scatter by 0.22 %; 0.7 % is three of that.
        if self.fine { (94.3..=95.7).contains(&self.covered) } else { self.covered >= 92.5 }
    }

    /// Tells whether they are no wider than honesty needs.
    pub(crate) fn narrow(&self) -> bool {
        self.width_ratio <= 1.25
    }
}

/// Simulates visits of a kind, seeds 1 and on, and prints what was seen.
pub(crate) fn tally(kind: &Kind, visits: u32) -> Seen {
    let (mut judged, mut held, mut drawn_held) = (0, 0, 0);
    let mut draws = Draws::of_block(0);
    let (mut ratios, mut uncertainties) = (Vec::new(), Vec::new());
    for seed in 1..=visits {
        let visit = kind.visit(u64::from(seed));
        let Some((shift, expanded)) = judge(&visit) else { continue };
        judged += 1;
        let right = visit.right();
        held += u32::from((shift - right).abs() <= expanded);
        uncertainties.push(expanded / visit.site.gradient() * 1000.0);
        if seed % Draws::BLOCK == 0 {
            draws = Draws::of_block(u64::from(seed));
        }
        let interval = trials::interval(&visit, &mut draws);
        drawn_held += u32::from((interval.low..=interval.high).contains(&right));
        ratios.push(2.0 * expanded / (interval.high - interval.low));
    }
    let percent = |part: u32, of: u32| 100.0 * f64::from(part) / f64::from(of);
    let seen = Seen { covered: percent(held, judged), width_ratio: median(ratios), fine: kind.fine };
    println!(
        "{}{}: {:.2} % of {judged} visits (seeds 1 to {visits}), {} refused, median U {:.1} mm; JCGM 101 {:.2} %, \
         width {:.3} of it",
        kind.name,
        if kind.fine { ", normal and known" } else { "" },
        seen.covered,
        visits - judged,
        median(uncertainties),
        percent(drawn_held, judged),
        seen.width_ratio,
    );
    // A simulated visit has all that its kind needs; a few may still meet a sensor limit.
    assert!(judged > visits / 10 * 9, "{}: {} of {visits} visits were refused", kind.name, visits - judged);
    seen
}

/// The shift and its expanded uncertainty, in pascals, as the app gives them.
fn judge(visit: &Visit) -> Option<(f64, f64)> {
    let assessment = assess(&visit.draft).unwrap();
    let result = assessment.shift.result?;
    Some((result.shift.value.value, result.shift.expanded.value))
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}
