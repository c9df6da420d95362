//! Levels told without a tape: by a running overflow, by another instrument.

use domain::visit::{Choice, Key, PieceKind, Spot};

use crate::chance::Shape;
use crate::kinds::Told;
use crate::visit::{MARK, Visit, gradient};

/// Standard uncertainty that the other instrument is stated with, m.
const OTHER: f64 = 0.009;
/// The most that a film over the crest is thick, m; and how far a measured head may be off.
const FILM: f64 = 0.020;
const HEAD: f64 = 0.005;

impl Visit {
    /// The overflow runs: the surface stands over its crest.
    pub(crate) fn overflow(&mut self, measured: bool) {
        let mark = self.mark("crest");
        let half = if measured { HEAD } else { FILM / 2.0 };
        let over = self.source(Shape::Rectangle(half));
        // A head well above nothing, so that its doubt does not reach under the crest.
        let stated = if measured { self.chance.between(0.010, 0.080) } else { FILM / 2.0 };
        let (text, stated, _) = self.site.length(stated);
        let crest = self.site.crest();
        self.truth.level = crest + mark.1 + stated + over.1;
        let reading = self.stand(Choice::OffsetUnknown);
        let piece = self.piece(PieceKind::Overflow);
        let seen = if measured { Choice::HeadMeasured } else { Choice::Film };
        self.put(Spot::piece(piece, Key::OverflowSeen, 0), seen.word());
        if measured {
            self.put(Spot::piece(piece, Key::OverflowHead, 0), text);
        }
        let told = Told { level: crest + stated, plus: vec![mark.0, over.0], minus: Vec::new() };
        self.way_by_level(reading, told, true);
    }

    /// Another instrument tells the level by the pressure under it, as if the liquid were what it is taken to be: what its
    /// density is off by is part of its stated uncertainty, and shared with everything that rests on density.
    pub(crate) fn other_by_density(&mut self) {
        let piece = self.piece(PieceKind::OtherInstrument);
        let level = self.truth.level;
        let reading = self.reads(Spot::piece(piece, Key::ReadingBefore, 0), level, self.truth.under_head);
        let nominal = self.site.gradient();
        let pressed = level * self.density_part();
        let own = self.source(Shape::Normal((OTHER * OTHER - pressed * pressed).sqrt()));
        let (text, read, step) = self.site.length(level * self.truth.gradient / nominal - own.1);
        let digit = self.made(Shape::Rectangle(step / 2.0));
        self.put(Spot::piece(piece, Key::OtherUsed, 0), "Bell");
        self.put(Spot::piece(piece, Key::OtherLevel, 0), text);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let felt = (read + drawn.sum(&[own.0, digit])) * nominal;
            felt - (reading.0 + drawn.sum(&[reading.1, accuracy]))
        }));
    }

    /// What a metre of the liquid presses, by its density alone, standard, as a share.
    fn density_part(&self) -> f64 {
        let site = &self.site;
        let pressed = |kelvin| gradient(site, [kelvin, 0.0, 0.0, 0.0]);
        let warmth = (pressed(1.0) - pressed(-1.0)) / 2.0 / 3.0_f64.sqrt();
        let strength = gradient(site, [0.0, site.composition, 0.0, 0.0]) - site.gradient();
        warmth.hypot(strength) / site.gradient()
    }

    /// Another instrument tells the level, by its own display read just now. Where it hangs from the hatch mark, what
    /// that mark is off by is part of its stated uncertainty and shared with every drop.
    pub(crate) fn other(&mut self, by_hatch: bool) {
        let piece = self.piece(PieceKind::OtherInstrument);
        let level = self.truth.level;
        let reading = self.reads(Spot::piece(piece, Key::ReadingBefore, 0), level, self.truth.under_head);
        let mark = by_hatch.then(|| self.mark("hatch"));
        let own = if by_hatch { (OTHER * OTHER - MARK * MARK).sqrt() } else { OTHER };
        let own = self.source(Shape::Normal(own));
        let off = own.1 + mark.map_or(0.0, |mark| mark.1);
        let (text, read, step) = self.site.length(level - off);
        let digit = self.made(Shape::Rectangle(step / 2.0));
        let name = if by_hatch { "Radar" } else { "Float" };
        self.put(Spot::piece(piece, Key::OtherUsed, 0), name);
        self.put(Spot::piece(piece, Key::OtherLevel, 0), text);
        let plus = [own.0, digit].into_iter().chain(mark.map(|mark| mark.0)).collect();
        self.way_by_level(reading, Told { level: read, plus, minus: Vec::new() }, true);
    }
}
