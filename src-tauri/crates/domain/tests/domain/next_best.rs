//! A proposal keeps its promise: once the piece is brought, the fit itself says what it was worth.
//!
//! Each mounting is met with one thing known and everything that is possible there is supposed; then a person brings it, as
//! a person types it, and the uncertainty of that visit is compared with the promise. Nothing here knows a formula of the
//! supposition: the visit is built and solved as any other.

use domain::visit::{
    Assessment, Choice, Draft, Instrument, Key, Measure, Moment, PieceKind, Proposal, Spot, Timing, assess,
};
use rstest::rstest;
use uom::si::length::meter;

/// Sensing point and level as the register has them: 9 m of riser, or what the mounting makes of it.
const OPEN: &str = r#""riser":"9 m""#;
const ABOVE: &str = r#""riser":"-2 m","mounting":{"kind":"above_datum"}"#;
const PROBE: &str = r#""riser":"0.3 m","mounting":{"kind":"probe"}"#;
const DRY: &str = r#""riser":"1.2 m","mounting":{"kind":"dry_leg","top":"7 m","heights_from":"tape","vapour_density":"4 kg/m3"}"#;
const WET: &str = r#""riser":"1.2 m","mounting":{"kind":"wet_leg","top":"7 m","heights_from":"tape","vapour_density":"4 kg/m3",
    "fill":{"name":"glycol and water","density":"1050 kg/m3","at":"15 degC","uncertainty":"0.2 %"}}"#;
const ONE: &str = r#""riser":"3 m","mounting":{"kind":"one_seal","tap":"-0.4 m","heights_from":"tape",
    "fill":{"name":"oil","density":"934 kg/m3","at":"15 degC","uncertainty":"0.3 %"}}"#;
const TWO: &str = r#""riser":"3 m","mounting":{"kind":"two_seals","tap":"-0.4 m","top":"7 m","heights_from":"tape","vapour_density":"4 kg/m3",
    "fill":{"name":"oil","density":"934 kg/m3","at":"15 degC","uncertainty":"0.3 %"}}"#;
const BETWEEN: &str = r#""riser":"1.2 m","mounting":{"kind":"interface","top":"7 m","heights_from":"tape",
    "light":{"name":"oil","density":"850 kg/m3","at":"15 degC","uncertainty":"0.1 %"},
    "fill":{"name":"oil","density":"850 kg/m3","at":"15 degC","uncertainty":"0.1 %"}}"#;
const WARM_LINE: &str = r#""riser":"9 m","mounting":{"kind":"riser","line_temperature":"22 degC"}"#;

fn tank(mounted: &str) -> Instrument {
    let row = format!(
        r#"{{"tag":"LT-1","service":"tank","serial":"A1","unit":"kPa",{mounted},"riser_from":"drawing",
        "site":{{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"}},
        "liquid":{{"name":"water"}},"span":"6 m","lrv":"0","urv":"58","hatch":"7 m","overflow":"6.2 m","sill":"0.1 m","floor":"-0.2 m",
        "limits":{{"lrl":"-5 bar","url":"5 bar","min_span":"0.05 bar","max_working":"20 bar","accuracy":"0.02 %","zero_allowance":"2 mbar"}},
        "tapes":[{{"id":"T1","uncertainty":"2 mm"}},{{"id":"T2","uncertainty":"3 mm","due":"2026-01-31"}}],
        "others":[{{"name":"Float","uncertainty":"18 mm"}},{{"name":"Radar","uncertainty":"18 mm","shares":"hatch"}},
            {{"name":"Probe","uncertainty":"18 mm","shares":"density"}}],
        "crew":{{"climb":true}},
        "tolerance":"5 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}}"#
    );
    serde_json::from_str(&row).unwrap()
}

struct Person {
    draft: Draft,
    clock: i64,
    /// What the display shows at every reading, and the level that is there, m.
    shown: String,
    level: f64,
    /// The offset that the unit carries, as it is typed.
    carried: String,
}

impl Person {
    /// Before a tank whose unit carries no offset, so that the standing head is in its display.
    fn at(mounted: &str, level: f64) -> Person {
        Person::before(mounted, level, false)
    }

    /// Before a tank whose unit carries the offset that takes the standing head out.
    fn at_trimmed(mounted: &str, level: f64) -> Person {
        Person::before(mounted, level, true)
    }

    fn before(mounted: &str, level: f64, trimmed: bool) -> Person {
        let begun = Moment(1_795_600_000_000);
        let draft = Draft::begin(tank(mounted), begun);
        let mut person =
            Person { draft, clock: begun.0, shown: String::new(), level, carried: String::new() };
        let safe = person.draft.instrument.safety.len();
        for row in 0..u32::try_from(safe).unwrap() {
            person.put(Spot::row(Key::SafetyItem, row), "done");
        }
        person.put(Spot::of(Key::Crew), "two_or_more");
        person.put(Spot::of(Key::StandingHeadAt), "head_in_offset");
        person.put(Spot::of(Key::VentLooked), "vent_clear");
        let known = assess(&person.draft).unwrap();
        let per = known.conditions.gradient.pressure(uom::si::f64::Length::new::<meter>(level));
        let head = known.conditions.installed.standing_head();
        let carried = if trimmed { -head } else { uom::si::f64::Pressure::default() };
        person.carried = format!("{:.2}", carried.value / 1000.0);
        person.shown = format!("{:.2}", (head + per + carried).value / 1000.0);
        let shown = person.shown.clone();
        person.put(Spot::of(Key::Display), &shown);
        person
    }

    fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    fn offset(&mut self, known: Choice, value: &str) {
        self.put(Spot::of(Key::OffsetKnown), known.word());
        if !value.is_empty() {
            self.put(Spot::of(Key::OffsetValue), value);
        }
    }

    fn piece(&mut self, kind: PieceKind, answers: &[(Key, u32, &str)]) {
        let id = self.draft.add_piece(kind, Timing::Before);
        for (key, row, text) in answers {
            self.put(Spot::piece(id, *key, *row), text);
        }
    }

    fn metres(&self, more: f64) -> String {
        format!("{:.4} m", self.level + more)
    }

    /// Dips or drops whose standard deviation is 5 mm: 0, 5 and 10 mm about their middle.
    fn dips(&mut self, kind: PieceKind, middle: f64, tape: &str) {
        let read = [-0.005, 0.0, 0.005].map(|apart| format!("{:.4} m", middle + apart));
        let shown = self.shown.clone();
        let rows = (0..).zip(&read).map(|(row, text)| (Key::Dip, row, text.as_str()));
        let answers: Vec<_> = [(Key::ReadingBefore, 0, shown.as_str()), (Key::TapeUsed, 0, tape)]
            .into_iter()
            .chain(rows)
            .collect();
        self.piece(kind, &answers);
    }

    /// Does what is proposed.
    fn does(&mut self, measure: &Measure) {
        let shown = self.shown.clone();
        let before = (Key::ReadingBefore, 0, shown.as_str());
        let known = assess(&self.draft).unwrap().known;
        match measure {
            Measure::ReadOffset => {
                let carried = self.carried.clone();
                self.offset(Choice::OffsetReadToday, &carried);
            }
            Measure::Temperature => self.put(Spot::of(Key::LiquidTemperature), "12 degC"),
            Measure::LongerSeries => {
                let rows =
                    self.draft.answers.iter().filter(|(spot, _)| spot.key == Key::DisplayRepeat).count();
                let first = u32::try_from(rows).unwrap();
                for (row, apart) in (first..).zip([0.03, -0.03].into_iter().cycle().take(10)) {
                    let text = format!("{:.2}", shown.parse::<f64>().unwrap() + apart);
                    self.put(Spot::row(Key::DisplayRepeat, row), &text);
                }
            }
            Measure::KnownEmpty => {
                self.piece(PieceKind::KnownEmpty, &[before, (Key::EmptySeen, 0, "sill_seen")])
            }
            Measure::Overflow => self.piece(PieceKind::Overflow, &[before, (Key::OverflowSeen, 0, "film")]),
            Measure::Dip(tape) => self.dips(PieceKind::Dip, self.level - known.floor.get::<meter>(), tape),
            Measure::Drop(tape) => {
                self.dips(PieceKind::Drop, known.hatch.unwrap().get::<meter>() - self.level, tape);
            }
            Measure::Other(name) => {
                let level = self.metres(0.0);
                let answers = [before, (Key::OtherUsed, 0, name.as_str()), (Key::OtherLevel, 0, &level)];
                self.piece(PieceKind::OtherInstrument, &answers);
            }
            Measure::RiserByLaser => self.riser(Choice::ByLaser),
            Measure::RiserByTape => self.riser(Choice::ByTape),
            Measure::Vented => {
                let carried = self.carried.clone();
                let answers = [(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, carried.as_str())];
                self.piece(PieceKind::Vented, &answers);
            }
        }
    }

    fn riser(&mut self, how: Choice) {
        let mounting = assess(&self.draft).unwrap().known.mounted.mounting;
        let height = match (mounting.tap(), mounting.top()) {
            (Some(tap), Some(top)) => top - tap,
            _ => mounting.riser(),
        };
        let height = format!("{:.3} m", height.get::<meter>());
        self.piece(PieceKind::Riser, &[(Key::RiserHeight, 0, &height), (Key::RiserHow, 0, how.word())]);
    }

    fn sees(&self) -> Assessment {
        assess(&self.draft).unwrap()
    }

    fn possible(&self) -> Vec<Proposal> {
        self.sees().measurable(&self.draft)
    }
}

/// Returns what was proposed, after each was done and its promise compared.
fn kept(person: &Person, what: &str) -> Vec<Measure> {
    let proposed = person.possible();
    for proposal in &proposed {
        let mut then = Person {
            draft: person.draft.clone(),
            clock: person.clock,
            shown: person.shown.clone(),
            level: person.level,
            carried: person.carried.clone(),
        };
        then.does(&proposal.measure);
        let seen = then.sees();
        let Some(result) = seen.shift.result.as_deref() else {
            panic!("{what}: {:?} gives no shift: {:?}", proposal.measure, seen.shift.remarks)
        };
        let (promised, real) = (proposal.then.get::<meter>(), result.error.expanded.get::<meter>());
        // A promise is made where the level is thought to stand, for texts of a millimetre: within one part in a hundred.
        assert!(
            (promised / real - 1.0).abs() < 0.01,
            "{what}: {:?} promises {promised:.6} m and gives {real:.6} m",
            proposal.measure
        );
    }
    proposed.into_iter().map(|one| one.measure).collect()
}

fn others() -> Vec<Measure> {
    ["Float", "Radar", "Probe"].map(|name| Measure::Other(name.into())).into()
}

fn by_tape(tape: &str) -> [Measure; 2] {
    [Measure::Dip(tape.into()), Measure::Drop(tape.into())]
}

/// With the offset read, every way to a level and every way to the standing head gives a shift.
#[rstest]
#[case::riser(OPEN, true, true, true)]
#[case::riser_warmer_than_the_tank(WARM_LINE, true, true, true)]
#[case::above_the_datum(ABOVE, true, true, true)]
#[case::probe(PROBE, true, true, false)]
#[case::dry_leg(DRY, false, true, true)]
#[case::wet_leg(WET, false, true, true)]
#[case::one_seal(ONE, true, false, true)]
#[case::two_seals(TWO, false, false, true)]
#[case::interface(BETWEEN, false, true, true)]
fn a_promise_is_kept_on_every_mounting(
    #[case] mounted: &str,
    #[case] open: bool,
    #[case] vents: bool,
    #[case] laser: bool,
) {
    let mut person = Person::at(mounted, 4.0);
    person.offset(Choice::OffsetReadToday, "0.00");
    let measures = kept(&person, "offset read");
    let mut expected = Vec::new();
    expected.extend(laser.then_some(Measure::RiserByLaser));
    expected.extend(by_tape("T1").into_iter().filter(|_| open));
    expected.push(Measure::RiserByTape);
    expected.extend(others());
    // A check of the zero gives no shift without a height.
    assert_eq!(measures, expected);

    // With a riser and the offset on record, everything is possible.
    let mut person = Person::at(mounted, 4.0);
    person.offset(Choice::OffsetFromRecord, "0.00");
    person.riser(Choice::ByDrawing);
    let measures = kept(&person, "riser and record");
    assert_eq!(measures.contains(&Measure::Vented), vents);
    assert!(
        measures.contains(&Measure::ReadOffset) && measures.contains(&Measure::Temperature),
        "{measures:?}"
    );
    assert_eq!(measures.iter().any(|one| matches!(one, Measure::Dip(_))), open);
}

/// A height measured today just as the register has it takes out the standing head that the register's heights and fills
/// make: on two seals it is the height from one to the other.
#[rstest]
#[case::riser(OPEN)]
#[case::above_the_datum(ABOVE)]
#[case::probe(PROBE)]
#[case::dry_leg(DRY)]
#[case::wet_leg(WET)]
#[case::one_seal(ONE)]
#[case::two_seals(TWO)]
#[case::interface(BETWEEN)]
fn a_height_as_registered_takes_out_the_head_as_registered(#[case] mounted: &str) {
    let mut person = Person::at(mounted, 4.0);
    person.offset(Choice::OffsetReadToday, "0.00");
    person.riser(Choice::ByTape);
    let seen = person.sees();
    let head = seen.conditions.installed.standing_head();
    let shift = seen.shift.result.unwrap().shift.value;
    assert!((shift + head).value.abs() < 1.0, "{shift:?} for a standing head of {head:?}");
}

/// The level stands at the sill, at the crest, or between them with water running; the display was read again and again.
#[rstest]
#[case::at_the_sill(0.1, Measure::KnownEmpty)]
#[case::at_the_crest(6.21, Measure::Overflow)]
#[case::between(4.0, Measure::LongerSeries)]
fn a_promise_is_kept_where_the_level_happens_to_stand(#[case] level: f64, #[case] wanted: Measure) {
    let mut person = Person::at(OPEN, level);
    person.offset(Choice::OffsetUnknown, "");
    person.put(Spot::of(Key::VentLooked), "vent_blocked");
    let shown: f64 = person.shown.parse().unwrap();
    for (row, apart) in (0..).zip([0.03, -0.03, 0.03, -0.03]) {
        person.put(Spot::row(Key::DisplayRepeat, row), &format!("{:.2}", shown + apart));
    }
    let told = person.metres(0.0);
    person.piece(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "Float"), (Key::OtherLevel, 0, &told)]);
    let measures = kept(&person, "level told");
    assert!(measures.contains(&wanted), "{measures:?}");
    assert!(!measures.contains(&Measure::Other("Float".into())), "it was heard already");
}

/// A tape and a hatch mark that were used share their errors with what is measured by them again, a drop as well as an
/// instrument that hangs from that mark; another tape does not, and one whose check is overdue counts for less.
#[test]
fn a_promise_knows_the_tape_and_the_hatch() {
    let mut person = Person::at(OPEN, 4.0);
    person.offset(Choice::OffsetUnknown, "");
    person.dips(PieceKind::Drop, 3.0, "T1");
    let measures = kept(&person, "dropped once");
    for measure in by_tape("T1").into_iter().chain(by_tape("T2")).chain(others()) {
        assert!(measures.contains(&measure), "{measure:?} among {measures:?}");
    }
}

/// What a check of the zero and a riser are worth where nothing else is known: two that only speak together.
#[test]
fn a_zero_checked_promises_what_it_gives_with_a_height() {
    for mounted in [OPEN, ABOVE, DRY, WET, BETWEEN, WARM_LINE] {
        let mut person = Person::at_trimmed(mounted, 4.0);
        person.offset(Choice::OffsetUnknown, "");
        person.riser(Choice::ByLaser);
        let measures = kept(&person, "a riser alone");
        assert!(measures.contains(&Measure::Vented), "{measures:?}");
    }
}

/// Impossible ones once took the four places that are shown. Here nothing but other instruments can be had.
#[test]
fn what_cannot_be_done_takes_no_place_from_what_can() {
    let mut row = tank(TWO);
    row.crew.hatch_from_ground = true;
    let mut person = Person::at(TWO, 4.0);
    person.draft.instrument.crew = row.crew;
    person.offset(Choice::OffsetUnknown, "");
    let next = person.sees().next_best(&person.draft).unwrap();
    let measures: Vec<_> = next.proposals.iter().map(|one| one.measure.clone()).collect();
    for other in others() {
        assert!(measures.contains(&other), "{other:?} was crowded out: {measures:?}");
    }
    assert!(!measures.iter().any(|one| matches!(one, Measure::Dip(_) | Measure::Drop(_) | Measure::Vented)));
}

/// A climb waits for the line of the safety list that asks about height, wind, ice and lightning.
#[rstest]
#[case::done(Some("done"), true)]
#[case::not_answered(None, false)]
#[case::nobody_means_to_climb(Some("does_not_apply"), false)]
fn a_climb_waits_for_the_weather(#[case] answer: Option<&str>, #[case] offered: bool) {
    let mut person = Person::at(OPEN, 4.0);
    let place = person.draft.instrument.safety.iter().position(|item| item.starts_with("Height:")).unwrap();
    let item = person.draft.instrument.safety[place].clone();
    assert!(item.contains("wind") && item.contains("ice") && item.contains("lightning"), "{item}");
    person.put(Spot::row(Key::SafetyItem, u32::try_from(place).unwrap()), answer.unwrap_or_default());
    person.offset(Choice::OffsetReadToday, "0.00");
    let climbs =
        |one: &Proposal| matches!(one.measure, Measure::Dip(_) | Measure::Drop(_) | Measure::RiserByTape);
    assert_eq!(person.possible().iter().any(climbs), offered);
}

/// The display was first read to 0.1 kPa and then, beside another instrument, to 0.01: an offset is read as finely as that.
#[test]
fn a_promise_is_made_by_how_finely_the_display_was_read_last() {
    let mut person = Person::at(OPEN, 4.0);
    let coarse = format!("{:.1}", person.shown.parse::<f64>().unwrap());
    person.put(Spot::of(Key::Display), &coarse);
    person.offset(Choice::OffsetUnknown, "");
    person.riser(Choice::ByLaser);
    let (shown, told) = (person.shown.clone(), person.metres(0.0));
    let answers =
        [(Key::ReadingBefore, 0, shown.as_str()), (Key::OtherUsed, 0, "Float"), (Key::OtherLevel, 0, &told)];
    person.piece(PieceKind::OtherInstrument, &answers);
    let measures = kept(&person, "read more finely");
    assert!(measures.contains(&Measure::ReadOffset) && measures.contains(&Measure::Vented), "{measures:?}");
}

/// About how long each takes, in minutes (common practice, no source).
fn minutes(measure: &Measure) -> f64 {
    match measure {
        Measure::ReadOffset | Measure::Temperature | Measure::LongerSeries => 3.0,
        Measure::Other(_) | Measure::Overflow => 5.0,
        Measure::KnownEmpty => 10.0,
        Measure::RiserByTape => 30.0,
        _ => 15.0,
    }
}

/// Of what is possible that is shown which takes a tenth off the uncertainty at least, what takes off most in a minute first;
/// four at most.
#[rstest]
#[case::a_float_heard(TWO, false)]
#[case::a_float_heard_over_an_open_tank(OPEN, false)]
#[case::a_riser_and_a_record(OPEN, true)]
#[case::a_riser_and_a_record_on_a_leg(WET, true)]
fn only_what_is_worth_a_walk_is_shown_and_the_best_first(#[case] mounted: &str, #[case] by_riser: bool) {
    let mut person = Person::at_trimmed(mounted, 4.0);
    if by_riser {
        let carried = person.carried.clone();
        person.offset(Choice::OffsetFromRecord, &carried);
        person.riser(Choice::ByDrawing);
    } else {
        person.offset(Choice::OffsetUnknown, "");
        let told = person.metres(0.0);
        person
            .piece(PieceKind::OtherInstrument, &[(Key::OtherUsed, 0, "Float"), (Key::OtherLevel, 0, &told)]);
    }
    let next = person.sees().next_best(&person.draft).unwrap();
    let now = next.now.expect("a shift is determined");
    assert!(!next.enough && !next.disagree && next.proposals.iter().all(|one| !one.settles), "{next:?}");
    let a_minute = |one: &Proposal| (now - one.then).get::<meter>() / minutes(&one.measure);
    let mut worth: Vec<Proposal> = person
        .possible()
        .into_iter()
        .filter(|one| one.then.get::<meter>() < 0.9 * now.get::<meter>())
        .collect();
    worth.sort_by(|one, two| a_minute(two).total_cmp(&a_minute(one)));
    worth.truncate(4);
    let shown: Vec<f64> = next.proposals.iter().map(a_minute).collect();
    assert_eq!(shown, worth.iter().map(a_minute).collect::<Vec<_>>(), "{next:?}");
    assert!(!shown.is_empty() && person.possible().len() > shown.len(), "something is left out");
}

/// Where nothing is determined yet, what leaves the least doubt for the least effort comes first.
#[test]
fn where_nothing_is_determined_the_least_doubt_for_the_least_effort_comes_first() {
    let mut person = Person::at(OPEN, 4.0);
    person.offset(Choice::OffsetReadToday, "0.00");
    let next = person.sees().next_best(&person.draft).unwrap();
    assert!(next.now.is_none() && next.proposals.len() == 4, "{next:?}");
    let cost = |one: &Proposal| one.then.get::<meter>() * minutes(&one.measure);
    let mut possible: Vec<f64> = person.possible().iter().map(cost).collect();
    possible.sort_by(f64::total_cmp);
    assert_eq!(next.proposals.iter().map(cost).collect::<Vec<_>>(), possible[..4]);
}
