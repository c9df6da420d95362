//! How long the whole of the evidence takes: eight pieces with budget, what disagrees and what to measure next, and a
//! display read more and more often.
//!
//! Both are held here. Eight pieces stay under 2 ms; and since a series is taken as one reading, ten times as many readings
//! take no more than twelve times as long: what grows with their square would take a hundred.
#![allow(
    clippy::print_stderr,
    missing_docs,
    reason = "a bench talks to who runs it, and criterion's macros write public items"
)]

use std::time::{Duration, Instant};

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use domain::visit::{Assessment, Draft, Instrument, Key, Moment, PieceKind, Spot, Timing, assess};

const ROW: &str = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"m","riser":"9 m","riser_from":"tape",
    "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
    "liquid":{"name":"water"},"span":"6 m","lrv":"0","urv":"6","hatch":"7 m","overflow":"6.2 m",
    "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %","zero_allowance":"2 mbar"},
    "tapes":[{"id":"T1","uncertainty":"2 mm"},{"id":"T2","uncertainty":"2 mm"},{"id":"T3","uncertainty":"2 mm"}],
    "others":[{"name":"LT-9","uncertainty":"20 mm"},{"name":"LT-8","uncertainty":"15 mm"}],
    "crew":{"climb":true},
    "tolerance":"20 mm","trim_rule":"true_at_zero","head_plan":"head_in_offset"}"#;

fn begun() -> (Draft, Moment) {
    let begun = Moment(1_795_600_000_000);
    let instrument: Instrument = serde_json::from_str(ROW).unwrap_or_else(|error| unreadable(&error));
    (Draft::begin(instrument, begun), begun)
}

fn unreadable(error: &serde_json::Error) -> ! {
    unreachable!("the row above is whole: {error}")
}

/// A visit that answers come into, twenty seconds apart.
struct Visit {
    draft: Draft,
    clock: i64,
}

impl Visit {
    fn begin() -> Visit {
        let (draft, begun) = begun();
        let mut visit = Visit { draft, clock: begun.0 };
        for (key, text) in [
            (Key::Display, "15.21"),
            (Key::OffsetKnown, "offset_unknown"),
            (Key::StandingHeadAt, "head_nowhere"),
            (Key::VentLooked, "vent_clear"),
            (Key::Crew, "two_or_more"),
        ] {
            visit.put(Spot::of(key), text);
        }
        // With everything safe a climb may be proposed, so that there is most to choose from.
        let safe = visit.draft.instrument.safety.len();
        (0..).take(safe).for_each(|row| visit.put(Spot::row(Key::SafetyItem, row), "done"));
        visit
    }

    fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    fn piece(&mut self, kind: PieceKind, answers: &[(Key, u32, &str)]) {
        let id = self.draft.add_piece(kind, Timing::Before);
        for (key, row, text) in answers {
            self.put(Spot::piece(id, *key, *row), text);
        }
    }

    /// Eight pieces of evidence, the dips with their readings before and after.
    fn with_eight_pieces(mut self) -> Draft {
        for (kind, read, tape) in [
            (PieceKind::Dip, "6.21 m", "T1"),
            (PieceKind::Dip, "6.212 m", "T2"),
            (PieceKind::Drop, "0.79 m", "T1"),
            (PieceKind::Drop, "0.791 m", "T2"),
        ] {
            let before = (Key::ReadingBefore, 0, "15.21");
            let dips = [0, 1, 2].map(|row| (Key::Dip, row, read));
            let rest = [(Key::ReadingAfter, 0, "15.21"), (Key::TapeUsed, 0, tape)];
            let answers: Vec<_> = [before].into_iter().chain(dips).chain(rest).collect();
            self.piece(kind, &answers);
        }
        self.piece(PieceKind::Overflow, &[(Key::OverflowSeen, 0, "film")]);
        self.piece(
            PieceKind::OtherInstrument,
            &[(Key::OtherUsed, 0, "LT-9"), (Key::OtherLevel, 0, "6.21 m")],
        );
        self.piece(PieceKind::Riser, &[(Key::RiserHeight, 0, "9.00 m"), (Key::RiserHow, 0, "by_tape")]);
        self.piece(PieceKind::Vented, &[(Key::VentAllowed, 0, "yes"), (Key::VentedReading, 0, "0.00")]);
        self.draft
    }

    /// A dip beside a display that was read many times.
    fn with_readings(mut self, many: u32) -> Draft {
        let shown = ["15.21", "15.22", "15.20"];
        for (row, text) in (0..many).zip(shown.into_iter().cycle()) {
            self.put(Spot::row(Key::DisplayRepeat, row), text);
        }
        self.piece(PieceKind::Dip, &[(Key::Dip, 0, "6.21 m"), (Key::TapeUsed, 0, "T1")]);
        self.draft
    }
}

/// What eight pieces may take with budget, slips and what to measure next.
const MOST: Duration = Duration::from_millis(2);
/// How many times as long ten times as many readings may take.
const GROWTH: f64 = 12.0;

/// How long a visit takes: the middle of a hundred goes, in the best of seven rounds, because whatever else runs on the
/// machine makes a round slower and never faster.
fn takes(draft: &Draft) -> Duration {
    let round = || {
        let mut times: Vec<Duration> = (0..100)
            .map(|_| {
                let begun = Instant::now();
                std::hint::black_box(whole(draft));
                begun.elapsed()
            })
            .collect();
        times.sort();
        times.get(times.len() / 2).copied().unwrap_or_default()
    };
    (0..7).map(|_| round()).min().unwrap_or_default()
}

fn held(eight: &Draft) {
    let took = takes(eight);
    eprintln!("eight pieces held under {MOST:?}: {took:?}");
    assert!(took <= MOST, "eight pieces take {took:?}; at most {MOST:?}");
    let [some, many] = [80, 800].map(|many| takes(&Visit::begin().with_readings(many)));
    let ratio = many.as_secs_f64() / some.as_secs_f64();
    eprintln!("800 readings held under {GROWTH} times 80: ratio {ratio:.1}");
    assert!(ratio <= GROWTH, "800 readings take {ratio:.1} times as long as 80; at most {GROWTH} times");
}

fn whole(draft: &Draft) -> Option<Assessment> {
    let seen = assess(draft).ok()?;
    std::hint::black_box(seen.next_best(draft));
    Some(seen)
}

fn evidence(bench: &mut Criterion) {
    let eight = Visit::begin().with_eight_pieces();
    held(&eight);
    bench.bench_function("eight pieces, with all that follows", |run| run.iter(|| whole(&eight)));
    let seen = assess(&eight).ok();
    bench.bench_function("eight pieces, what to measure next alone", |run| {
        run.iter(|| seen.as_ref().map(|seen| seen.next_best(&eight)));
    });
    let mut readings = bench.benchmark_group("display read many times");
    for many in [8, 80, 800] {
        let draft = Visit::begin().with_readings(many);
        readings.bench_with_input(BenchmarkId::from_parameter(many), &draft, |run, draft| {
            run.iter(|| whole(draft));
        });
    }
    readings.finish();
}

criterion_group!(benches, evidence);
criterion_main!(benches);
