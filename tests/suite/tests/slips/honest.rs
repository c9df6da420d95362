//! Ten thousand honest visits: nothing is wrong with any number in them, and every check that there is may speak.

use std::collections::BTreeMap;

use domain::visit::{Advised, Assessment, Choice, Claim, Draft, Grade, Key, PieceKind, Spot, Timing, assess};

use crate::mounts::Mount;
use crate::story::{Kind, Story};
use crate::varied;
use crate::write::Pen;
use suite::Chance;

const VISITS: u32 = 10_000;

/// What came of the visits, and how many of which sort there were.
#[derive(Default)]
struct Tally {
    alarmed: u32,
    alarms: BTreeMap<String, u32>,
    /// What is said of a unit that is off by more than it may be.
    true_of_the_unit: BTreeMap<String, u32>,
    /// Warnings that claim nothing.
    told: BTreeMap<String, u32>,
    sorts: BTreeMap<String, u32>,
    without_a_shift: u32,
}

impl Tally {
    fn count(&mut self, of: &str) {
        *self.sorts.entry(of.to_owned()).or_default() += 1;
    }

    fn take(&mut self, seed: u32, story: &Story, draft: &Draft, seen: &Assessment) {
        let mut alarms = Vec::new();
        for alarm in seen.alarms(draft) {
            match alarm.claim {
                Claim::UnitOff if is_off(story, &alarm.code) => {
                    *self.true_of_the_unit.entry(alarm.code).or_default() += 1;
                }
                _ => alarms.push((alarm.code, alarm.text)),
            }
        }
        let compared = seen.shift.result.as_deref().is_some_and(|result| result.consistency.redundancy > 0);
        if compared {
            self.count("evidence compared with itself");
        }
        let pairs = seen.shift.result.iter().flat_map(|result| &result.pairs);
        alarms.extend(
            pairs
                .filter(|pair| pair.disagrees())
                .map(|pair| ("En of a pair".to_owned(), format!("{:?}", pair.en))),
        );
        let steps = seen.past(draft).history.steps;
        alarms.extend(steps.iter().map(|step| ("step of the offset".to_owned(), format!("{:?}", step.size))));
        self.without_a_shift += u32::from(seen.shift.result.is_none());
        self.alarmed += u32::from(!alarms.is_empty());
        if std::env::var("SHOW").is_ok() && (!alarms.is_empty() || seen.shift.result.is_none()) {
            println!("{seed} {:?} {:?} {:?} {:?}", story.kind, story.offset, alarms, seen.shift.remarks);
        }
        let codes: std::collections::BTreeSet<String> = alarms.into_iter().map(|(code, _)| code).collect();
        for code in codes {
            *self.alarms.entry(code).or_default() += 1;
        }
        self.told_without_a_claim(draft, seen);
    }

    fn told_without_a_claim(&mut self, draft: &Draft, seen: &Assessment) {
        let steps = domain::visit::Step::ALL.into_iter().flat_map(|step| seen.remarks(step));
        let pieces = draft.pieces.iter().flat_map(|piece| seen.piece_remarks(piece.id));
        let said = steps.chain(pieces).chain(&seen.shift.remarks);
        let said = said.filter(|remark| remark.grade >= Grade::Warning && !remark.claim.is_alarm());
        let codes: std::collections::BTreeSet<&str> = said.map(|remark| remark.code.as_str()).collect();
        for code in codes {
            *self.told.entry(code.to_owned()).or_default() += 1;
        }
    }
}

/// Tells whether the unit really is off by more than it may be.
fn is_off(story: &Story, code: &str) -> bool {
    let tolerance = story.register.tolerance;
    match code {
        "found.outside" => story.error().abs() > tolerance,
        "five_point.found_outside" | "five_point.left_outside" => {
            let worst = story.check.as_ref().map_or(0.0, |check| check.worst);
            worst > tolerance * story.register.metre
        }
        _ => false,
    }
}

/// Does what the app advises, and looks again where there is a tape.
fn afterwards(pen: &mut Pen<'_>, story: &Story, seen: &Assessment, chance: &mut Chance) {
    let Some(result) = seen.shift.result.as_deref() else { return };
    if seen.shift.advised != Advised::Trim {
        pen.choose(Key::Decision, Choice::Leave);
        return;
    }
    pen.choose(Key::Decision, Choice::Trim);
    pen.choose(Key::TrimResult, Choice::TrimTook);
    pen.reading(Spot::of(Key::DisplayLeft), result.to.value);
    let metre = story.register.metre;
    let current = 4.0 + 16.0 * result.to.value / (metre * story.register.span);
    if (3.9..20.4).contains(&current) {
        pen.says(Key::CurrentLeft, &format!("{:.2}", current + chance.within(0.075)));
        let room = result.to.value / metre + chance.within(0.01);
        pen.says(Key::ControlRoomLeft, &story.register.length(room));
    }
    if let Some(total) = &result.total {
        pen.points(total.value.value, Key::CheckAppliedLeft, Key::CheckDisplayLeft);
    }
    if story.rate == 0.0
        && let Some(level) = story.dipped()
        && chance.often(0.5)
    {
        let mut again = story.dip_again(level, chance);
        again.shown += result.shift.value.value;
        pen.level(&again, true, Timing::After);
    }
}

#[test]
fn honest_visits_are_hardly_ever_suspected() {
    let mut tally = Tally::default();
    for seed in 0..VISITS {
        let mut chance = Chance::new(u64::from(seed) + 1);
        let (mount, story) = varied::any(&mut chance);
        let mut pen = Pen::up_to_the_shift(&story);
        let first = assess(&pen.draft).unwrap();
        afterwards(&mut pen, &story, &first, &mut chance);
        let seen = assess(&pen.draft).unwrap();
        sorts(&mut tally, mount, &story, &pen.draft);
        tally.take(seed, &story, &pen.draft, &seen);
    }
    println!(
        "{VISITS} honest visits (seeds 1 to {VISITS}): {} alarmed; by check: {:?}",
        tally.alarmed, tally.alarms
    );
    println!("of these visits: {:?}", tally.sorts);
    println!("true of the unit, no false alarm: {:?}", tally.true_of_the_unit);
    println!("said without claiming that anything is wrong: {:?}", tally.told);
    println!("{} without a shift", tally.without_a_shift);
    assert!(tally.alarmed * 100 <= VISITS, "{} of {VISITS} honest visits were suspected", tally.alarmed);
}

fn sorts(tally: &mut Tally, mount: Mount, story: &Story, draft: &Draft) {
    tally.count(&format!("mounting {mount:?}"));
    tally.count(&format!("evidence {:?}", story.kind));
    let taped = |kind| matches!(kind, PieceKind::Dip | PieceKind::Drop);
    let sorts = [
        ("liquid other than water", story.register.liquid != crate::tower::Liquid::Water),
        ("with dips or drops", draft.pieces.iter().any(|piece| taped(piece.kind))),
        ("with earlier visits", story.history > 0),
        ("with four earlier visits or more", story.history >= 4),
        ("with a five-point check", story.check.is_some()),
        ("with a loop current", story.current.is_some()),
        ("with a control room", story.room.is_some()),
        ("trimmed", draft.answers.choice(Spot::of(Key::Decision)) == Some(Choice::Trim)),
        ("dipped again after the trim", draft.pieces.iter().any(|piece| piece.timing == Timing::After)),
        ("level moving", story.kind == Kind::Bracketed),
        ("unit off by more than its tolerance", story.error().abs() > story.register.tolerance),
    ];
    for (sort, _) in sorts.into_iter().filter(|(_, is)| *is) {
        tally.count(sort);
    }
}
