//! Honest visits of every sort: mountings, liquids, evidence, a history, a five-point check.

use crate::mounts::{self, MOUNTS, Mount};
use crate::story::{Check, Kind, Offset, Story, Wrong};
use crate::tower::{Register, Truth};
use suite::Chance;

/// An honest visit, whatever sort.
pub(crate) fn any(chance: &mut Chance) -> (Mount, Story) {
    let mount = chance.one_of(&MOUNTS);
    let kind = chance.one_of(mount.kinds());
    let (mut register, mut truth) = mounts::made(mount, true, chance);
    if chance.often(0.3) {
        // Today's temperature was measured, to a degree either way.
        let measured = ((truth.celsius + chance.within(1.0)) * 10.0).round() / 10.0;
        register.metre = register.metre_at(measured);
        register.measured = Some(measured);
    }
    register.more.push(others());
    let history = history(&mut register, &mut truth, kind == Kind::DipAndEarlier, chance);
    // What a trim some years ago left, and what has drifted since.
    let drifted = chance.normal(0.6 * register.tolerance) * register.metre;
    let carried = drifted - (truth.metre * truth.riser + truth.beside + truth.zero);
    let carried = register.pascals((register.number(carried) * 1000.0).round() / 1000.0);
    let offset = match chance.part() {
        _ if matches!(kind, Kind::RiserAlone | Kind::DipAndEarlier) => Offset::ReadToday(carried),
        part if part < 0.7 => Offset::ReadToday(carried),
        part if part < 0.8 => Offset::OnRecord(carried),
        part if part < 0.9 => Offset::Cleared(carried),
        _ => Offset::Unknown,
    };
    let mut story = Story::with(kind, Wrong::default(), (register, truth), offset, carried, chance);
    story.history = history;
    story.repeats = chance.often(0.2).then(|| (0..5).map(|_| chance.within(0.6)).collect());
    story.check = chance.often(0.3).then(|| Check::of(&story, chance));
    (mount, story)
}

/// Another instrument on the tank: an expanded uncertainty of 20 mm.
pub(crate) const OTHER: (&str, f64) = ("LT-9", 0.020);

pub(crate) fn others() -> String {
    let (name, expanded) = OTHER;
    format!(r#""others":[{{"name":"{name}","uncertainty":"{} mm"}}]"#, expanded * 1000.0)
}

/// Earlier visits, a year or so apart: the zero wanders within its allowance, each visit is off as it says. They rested
/// on dips with today's tape and floor, which are off today as they were then.
fn history(register: &mut Register, truth: &mut Truth, wanted: bool, chance: &mut Chance) -> usize {
    if !wanted && chance.often(0.4) {
        return 0;
    }
    let visits = 1 + (chance.part() * 8.0) as usize;
    let drift = chance.within(register.allowance / 16.0);
    let shared =
        truth.metre * (truth.tape + if register.floor == 0.0 { 0.0 } else { register.floor - truth.floor });
    let mark = if register.floor == 0.0 { 0.0 } else { 0.004 };
    let mut lines = Vec::new();
    for years in (1..=visits).rev() {
        let ago = years as f64;
        let own = chance.between(60.0, 150.0);
        let accuracy = register.url * register.accuracy / 2.0;
        let parts = [own, accuracy, register.metre * register.tape, register.metre * mark];
        let standard = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
        // Riser and line held water of that day; where a fill stands in a leg its day's density is not carried over.
        let celsius =
            if register.beside == 0.0 { register.season + chance.within(6.0) } else { truth.celsius };
        let metre = truth.metre * register.metre_at(celsius) / register.metre_at(truth.celsius);
        let zero = truth.zero - drift * ago;
        let offset =
            shared - (metre * truth.riser + truth.beside + zero + truth.under_head) + chance.normal(own);
        let density = register.liquid.density(celsius);
        lines.push(format!(
            r#"{{"date":"{}-09-{:02}","offset":"{offset:.2} Pa","density":"{density:.4} kg/m3","uncertainty":"{:.3} Pa","by":"dip","tape":"T1","serial":"A-1"}}"#,
            2026 - years,
            10 + (chance.part() * 15.0) as u32,
            2.0 * standard
        ));
    }
    register.more.push(format!(r#""earlier":[{}]"#, lines.join(",")));
    visits
}
