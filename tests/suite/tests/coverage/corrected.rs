//! Readings and lengths that are corrected for something known, with what that leaves open: a display read again and
//! again, a tape that is warm and pulled or hangs aslant, a riser in which water runs, at a known rate or another.

use std::f64::consts::PI;

use domain::visit::{Choice, Key, PieceKind, RiserPipe, Spot};

use crate::chance::Shape;
use crate::kinds::mean;
use crate::nature;
use crate::visit::Visit;

/// A tape of glass fibre: its expansion per kelvin, the pull of its bob in newtons, its section in mm2 and, as of steel, its
/// modulus in Pa.
const EXPANSION: f64 = 2e-5;
const PULL: f64 = 20.0;
const SECTION: f64 = 3.0;
const MODULUS: f64 = 200e9;
/// What expansion and stretch may be off by, as a part of them, and the tape's temperature, in kelvin: half-widths.
const MADE: f64 = 0.1;
const KELVIN: f64 = 3.0;
/// What a rate by a meter and a pipe as described may be off by, half-widths, as parts.
const RATE: f64 = 0.05;
const PIPE: f64 = 0.15;
/// What a slant may be off by, half-width, as a part of it.
const SLANT: f64 = 0.5;

impl Visit {
    /// The display read six times, with a ripple, over a level that is dipped.
    pub(crate) fn read_again(&mut self) {
        self.choose(Key::OffsetKnown, Choice::OffsetUnknown);
        let ripple = 2.0 * self.site.step() + 40.0;
        let mut read = Vec::new();
        for row in 0..6 {
            let spot = if row == 0 { Spot::of(Key::Display) } else { Spot::row(Key::DisplayRepeat, row - 1) };
            let sensor = self.truth.under_head + ripple * self.chance.normal();
            read.push(self.reads(spot, self.truth.level, sensor).0);
            self.now += 10_000;
        }
        let (shown, shape) = mean(&read);
        let scatter = self.made(shape);
        let digit = self.made(Shape::Rectangle(self.site.step() / 2.0));
        self.piece(PieceKind::Dip);
        let told = self.dips(PieceKind::Dip, self.truth.level, "A", &[0.0]);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let level = told.level + drawn.sum(&told.plus);
            level * drawn.gradient - (shown + drawn.sum(&[scatter, digit, accuracy]))
        }));
    }

    /// One dip with a tape whose temperature was taken, and whose bob pulls it.
    pub(crate) fn warm_dip(&mut self) {
        for tape in &mut self.draft.instrument.tapes {
            tape.expansion = EXPANSION.to_string();
            (tape.pull, tape.section) = (PULL.to_string(), SECTION.to_string());
        }
        let celsius = self.chance.between(-5.0, 45.0).round();
        let stretched = PULL / (SECTION * 1e-6 * MODULUS);
        let (expansion, more) = self.source(Shape::Rectangle(EXPANSION * MADE));
        let (warmth, warmer) = self.source(Shape::Rectangle(KELVIN));
        let (stretch, longer) = self.source(Shape::Rectangle(stretched * MADE));
        let reading = self.stand(Choice::OffsetUnknown);
        let piece = self.piece(PieceKind::Dip);
        self.put(Spot::piece(piece, Key::TapeTemperature, 0), format!("{celsius} degC"));
        // The tape shows less than it hangs over by what it is longer.
        let floor = self.site.floor;
        let grown = (EXPANSION + more) * (celsius - 20.0 + warmer) + stretched + longer;
        self.tape_grown = grown;
        let told = self.dips(PieceKind::Dip, self.truth.level, "A", &[0.0]);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let error = |source: usize| drawn.errors[source];
            let grown = (EXPANSION + error(expansion)) * (celsius - 20.0 + error(warmth))
                + stretched
                + error(stretch);
            let level = told.level + drawn.sum(&told.plus) + (told.level - floor) * grown;
            level * drawn.gradient - (reading.0 + error(reading.1) + error(accuracy))
        }));
    }

    /// One dip whose line was seen to hang off plumb.
    pub(crate) fn slanted_dip(&mut self) {
        let sideways = (self.chance.between(0.05, 0.04 * self.truth.level + 0.1) * 100.0).round() / 100.0;
        let reading = self.stand(Choice::OffsetUnknown);
        let piece = self.piece(PieceKind::Dip);
        self.put(Spot::piece(piece, Key::TapeSideways, 0), format!("{sideways} m"));
        let floor = self.site.floor;
        // A line of this length spans a height that is shorter by this.
        let slant = move |along: f64| along - (along * along - sideways * sideways).sqrt();
        let along = (self.truth.level - floor).hypot(sideways);
        let (off, wrong) = self.source(Shape::Rectangle(slant(along) * SLANT));
        self.tape_aslant = slant(along) + wrong;
        let told = self.dips(PieceKind::Dip, self.truth.level, "A", &[0.0]);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let error = |source: usize| drawn.errors[source];
            let level = told.level + drawn.sum(&told.plus) - slant(told.level - floor) - error(off);
            level * drawn.gradient - (reading.0 + error(reading.1) + error(accuracy))
        }));
    }

    /// Describes the riser's pipe, and returns its bore and largest usual flow in m3/s.
    fn riser_pipe(&mut self) -> (f64, f64) {
        let bore = self.chance.one_of(&[0.15, 0.2, 0.25]);
        let most = bore * bore * PI / 4.0 * 2.5;
        self.draft.instrument.riser_pipe = Some(RiserPipe {
            bore: format!("{} mm", bore * 1000.0),
            most_flow: format!("{:.1} L/s", most * 1000.0),
            roughness: "0.15 mm".into(),
            ..RiserPipe::default()
        });
        (bore, most)
    }

    /// One dip while nobody knows how much is drawn through the riser: whatever it is, what it costs lies between nothing and
    /// what the largest flow does. Or nobody knows whether any runs: then as much to either side.
    pub(crate) fn dip_over_some_flow(&mut self, said: Choice) {
        let (bore, most) = self.riser_pipe();
        let largest = drawing(most, bore, self.site.riser, self.site.celsius);
        let (middle, half) =
            if said == Choice::FlowDrawing { (-largest / 2.0, largest / 2.0) } else { (0.0, largest) };
        let (some, by) = self.source(Shape::Rectangle(half));
        let (pipe, rougher) = self.source(Shape::Rectangle(largest * PIPE));
        self.truth.weather = middle + by + rougher;
        self.choose(Key::FlowInRiser, said);
        let reading = self.stand(Choice::OffsetUnknown);
        self.piece(PieceKind::Dip);
        let told = self.dips(PieceKind::Dip, self.truth.level, "A", &[0.0]);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let level = told.level + drawn.sum(&told.plus);
            let still = reading.0 - middle + drawn.sum(&[reading.1, accuracy]) - drawn.sum(&[some, pipe]);
            level * drawn.gradient - still
        }));
    }

    /// Water is drawn through the riser at a metered rate while the display is read over a dip.
    pub(crate) fn flowing_dip(&mut self) {
        let (bore, most) = self.riser_pipe();
        let litres = (most * self.chance.between(300.0, 900.0) * 10.0).round() / 10.0;
        let (rate, faster) = self.source(Shape::Rectangle(RATE));
        let (pipe, rougher) = self.source(Shape::Rectangle(PIPE));
        let (length, celsius) = (self.site.riser, self.site.celsius);
        let lost = move |part: f64| drawing(litres / 1000.0 * (1.0 + part), bore, length, celsius);
        self.truth.weather = -lost(faster) * (1.0 + rougher);
        self.choose(Key::FlowInRiser, Choice::FlowDrawing);
        self.put(Spot::of(Key::FlowRate), litres.to_string());
        self.choose(Key::FlowRateFrom, Choice::RateMetered);
        let reading = self.stand(Choice::OffsetUnknown);
        self.piece(PieceKind::Dip);
        let told = self.dips(PieceKind::Dip, self.truth.level, "A", &[0.0]);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let error = |source: usize| drawn.errors[source];
            let level = told.level + drawn.sum(&told.plus);
            let still = reading.0 + error(reading.1) + lost(error(rate)) * (1.0 + error(pipe));
            level * drawn.gradient - (still + error(accuracy))
        }));
    }
}

/// What the foot of a riser reads low by while water is drawn through it, Pa: friction by the explicit formula of Swamee and
/// Jain (1976), a square edge and the velocity head; viscosity by Vogel's formula. Both from memory.
fn drawing(rate: f64, bore: f64, length: f64, celsius: f64) -> f64 {
    let density = nature::Liquid::Water.density(celsius);
    let speed = rate / (PI / 4.0 * bore * bore);
    let viscosity = 2.414e-5 * 10_f64.powf(247.8 / (celsius + 273.15 - 140.0));
    let reynolds = density * speed * bore / viscosity;
    let factor = 0.25 / (0.000_15 / (3.7 * bore) + 5.74 / reynolds.powf(0.9)).log10().powi(2);
    (factor * length / bore + 1.5) * density * speed * speed / 2.0
}
