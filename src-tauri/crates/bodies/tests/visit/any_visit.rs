//! Visits of any content at all, likely or not.

use bodies::{Confirmed, PersonId, Technician, Visit};
use domain::quantity::Decimal;
use domain::visit::{
    Answered, Crew, Earlier, Elevation, Filling, Finished, Hazards, Instrument, Key, Limits, Liquid,
    Measured, Moment, Mounted, Other, Overpressure, Piece, PieceId, PieceKind, ResultKey, ResultLine,
    RiserPipe, Said, Site, Spot, Tape, Timing, WorkLine,
};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::select;
use record::PayloadHash;

/// The smallest visit that has one of everything that most cases change.
pub(crate) fn plain() -> Visit {
    let text = String::new;
    let number = Measured { value: Decimal { mantissa: 15, exponent: -1 }, unit: "m".into() };
    let spot = Spot::piece(PieceId(1), Key::Dip, 0);
    let at = Moment(1_790_000_060_000);
    Visit {
        technician: Technician { person: PersonId([4; 16]), confirmed: Confirmed::Pin },
        app: "0.1.0".into(),
        finished: Finished {
            model: 1,
            instrument: instrument_of(&mut || Some(text())),
            begun: Moment(1_790_000_000_000),
            pieces: vec![Piece { id: PieceId(1), kind: PieceKind::Dip, timing: Timing::Before }],
            answers: vec![Answered { spot, text: "1.5 m".into(), at, value: Some(number.clone()) }],
            results: vec![ResultLine { key: ResultKey::Level, value: number }],
            verdict: Said { code: "verdict.inside".into(), text: text() },
            assumptions: vec![Said { code: "zero.assumed".into(), text: text() }],
            warnings: vec![],
            working: vec![],
        },
        cited: vec![],
    }
}

/// An instrument whose texts come one after the other from `next`; lists and flags are put in by the caller.
fn instrument_of(next: &mut impl FnMut() -> Option<String>) -> Instrument {
    let mut text = || next().unwrap_or_default();
    Instrument {
        tag: text(),
        service: text(),
        serial: text(),
        codes: vec![],
        site: Site {
            name: text(),
            latitude: text(),
            altitude: text(),
            hazards: Hazards { zoned: false, pit: false, permit: text(), phone_allowed: true, note: text() },
            liquid_temperature: text(),
            coldest: text(),
            warmest: text(),
            lengths: text(),
        },
        liquid: Liquid {
            name: text(),
            density: text(),
            at: text(),
            expansion: text(),
            uncertainty: text(),
            drinking: false,
            harmful: false,
        },
        unit: text(),
        riser: text(),
        riser_from: text(),
        span: text(),
        lrv: text(),
        urv: text(),
        reverse: false,
        limits: Limits {
            lrl: text(),
            url: text(),
            min_span: text(),
            max_working: text(),
            trim_limit: text(),
            accuracy: text(),
            zero_allowance: text(),
        },
        sill: text(),
        floor: text(),
        hatch: text(),
        overflow: text(),
        tolerance: text(),
        adjust_limit: text(),
        trim_rule: text(),
        head_plan: text(),
        offset_on_record: text(),
        offset_date: text(),
        adjust_note: text(),
        safety: vec![],
        back: vec![],
        tapes: vec![],
        safety_function: false,
        mounting: None,
        others: vec![],
        elevations: vec![],
        crew: Crew::default(),
        position: text(),
        due: text(),
        work: text(),
        interval: text(),
        earlier: vec![],
        riser_pipe: None,
        overpressure: Overpressure { surge: text(), shut_off: text(), hydrotest: text() },
    }
}

/// Any text; often an empty one, which is left out of the body.
fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![1 => Just(String::new()), 3 => "\\PC{0,30}"]
}

fn texts() -> impl Strategy<Value = Vec<String>> {
    vec(any_text(), 0..4)
}

prop_compose! {
    fn filling()(texts in vec(any_text(), 5)) -> Filling {
        let mut next = texts.into_iter();
        let mut text = || next.next().unwrap_or_default();
        Filling { name: text(), density: text(), at: text(), expansion: text(), uncertainty: text() }
    }
}

prop_compose! {
    fn mounted()(
        texts in vec(any_text(), 9), fill in proptest::option::of(filling()), light in proptest::option::of(filling()),
    ) -> Mounted {
        let mut next = texts.into_iter();
        let mut text = || next.next().unwrap_or_default();
        Mounted {
            kind: text(), top: text(), tap: text(), heights_from: text(), fill, light, vapour_density: text(),
            vapour_molar_mass: text(), working_pressure: text(), line_temperature: text(), fill_temperature: text(),
        }
    }
}

prop_compose! {
    fn riser_pipe()(texts in vec(any_text(), 7), dead_leg in any::<bool>()) -> RiserPipe {
        let mut next = texts.into_iter();
        let mut text = || next.next().unwrap_or_default();
        RiserPipe {
            bore: text(), most_flow: text(), length: text(), roughness: text(), entry: text(), fittings: text(),
            viscosity: text(), dead_leg,
        }
    }
}

prop_compose! {
    fn earlier()(texts in vec(any_text(), 11), moved in any::<bool>()) -> Earlier {
        let mut next = texts.into_iter();
        let mut text = || next.next().unwrap_or_default();
        Earlier {
            date: text(), offset: text(), density: text(), gravity: text(), uncertainty: text(), left: text(),
            error: text(), tolerance: text(), serial: text(), by: text(), tape: text(), moved,
        }
    }
}

prop_compose! {
    /// Half of them with nothing beyond what version 1 has.
    fn tape()(
        texts in vec(any_text(), 8), bare in any::<bool>(),
    ) -> Tape {
        let mut next = texts.into_iter();
        let mut text = || next.next().unwrap();
        let tape = Tape { id: text(), uncertainty: text(), due: text(), ..Tape::default() };
        if bare {
            return tape;
        }
        Tape { expansion: text(), at: text(), pull: text(), section: text(), modulus: text(), ..tape }
    }
}

prop_compose! {
    fn instrument()(
        texts in vec(any_text(), 52), codes in texts(), safety in texts(), back in texts(),
        tapes in vec(tape(), 0..3), flags in any::<[bool; 10]>(),
        mounting in proptest::option::of(mounted()),
        others in vec((any_text(), any_text(), any_text()), 0..3),
        elevations in vec((any_text(), any_text()), 0..3),
        earlier in vec(earlier(), 0..3),
        riser_pipe in proptest::option::of(riser_pipe()),
    ) -> Instrument {
        let mut next = texts.into_iter();
        let mut instrument = instrument_of(&mut || next.next());
        instrument.codes = codes;
        instrument.mounting = mounting;
        instrument.earlier = earlier;
        instrument.riser_pipe = riser_pipe;
        instrument.safety = safety;
        instrument.back = back;
        instrument.tapes = tapes;
        let [reverse, trips, zoned, pit, phone, drinking, harmful, climb, hatch_from_ground, never_vent] = flags;
        instrument.crew = Crew { climb, hatch_from_ground, never_vent };
        instrument.others = others.into_iter().map(|(name, uncertainty, shares)| Other { name, uncertainty, shares }).collect();
        instrument.elevations =
            elevations.into_iter().map(|(name, height)| Elevation { name, height }).collect();
        instrument.reverse = reverse;
        instrument.safety_function = trips;
        instrument.site.hazards = Hazards { zoned, pit, phone_allowed: phone, ..instrument.site.hazards };
        instrument.liquid = Liquid { drinking, harmful, ..instrument.liquid };
        instrument
    }
}

prop_compose! {
    fn measured()(
        mantissa in prop_oneof![any::<i64>(), -1_000_000i64..1_000_000], exponent in any::<i8>(), unit in any_text(),
    ) -> Measured {
        Measured { value: Decimal::trimmed(mantissa, exponent), unit }
    }
}

fn moment() -> impl Strategy<Value = Moment> {
    prop_oneof![any::<i64>(), 1_700_000_000_000i64..1_900_000_000_000].prop_map(Moment)
}

fn said() -> impl Strategy<Value = Said> {
    (any_text(), any_text()).prop_map(|(code, text)| Said { code, text })
}

prop_compose! {
    fn answered()(
        piece in any::<u32>(), key in select(Key::ALL), row in any::<u32>(), text in any_text(), at in moment(),
        value in proptest::option::of(measured()),
    ) -> Answered {
        Answered { spot: Spot { piece: PieceId(piece), key, row }, text, at, value }
    }
}

const KINDS: [PieceKind; 7] = [
    PieceKind::KnownEmpty,
    PieceKind::Dip,
    PieceKind::Drop,
    PieceKind::Riser,
    PieceKind::Vented,
    PieceKind::Overflow,
    PieceKind::OtherInstrument,
];

const TIMINGS: [Timing; 2] = [Timing::Before, Timing::After];

fn piece() -> impl Strategy<Value = Piece> {
    let parts = (any::<u32>(), select(&KINDS[..]), select(&TIMINGS[..]));
    parts.prop_map(|(id, kind, timing)| Piece { id: PieceId(id), kind, timing })
}

prop_compose! {
    fn finished()(
        model in any::<u32>(), instrument in instrument(), begun in moment(), pieces in vec(piece(), 0..4),
        answers in vec(answered(), 0..12),
        results in vec((select(ResultKey::ALL), measured()), 0..6),
        verdict in said(), assumptions in vec(said(), 0..4), warnings in vec(said(), 0..4),
        working in vec((any_text(), any_text(), any_text()), 0..4),
    ) -> Finished {
        let results = results.into_iter().map(|(key, value)| ResultLine { key, value }).collect();
        let working = working.into_iter().map(|(what, how, value)| WorkLine { what, how, value }).collect();
        Finished { model, instrument, begun, pieces, answers, results, verdict, assumptions, warnings, working }
    }
}

prop_compose! {
    /// Any visit.
    pub(crate) fn visit()(
        person in any::<[u8; 16]>(), confirmed in select(vec![Confirmed::Unlocked, Confirmed::Pin, Confirmed::None]),
        app in any_text(), finished in finished(), cited in vec(any::<[u8; 32]>().prop_map(PayloadHash), 0..3),
    ) -> Visit {
        Visit { technician: Technician { person: PersonId(person), confirmed }, app, finished, cited }
    }
}
