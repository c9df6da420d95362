//! An earlier visit as evidence: a drop from the same hatch with the same tape, a year before, at another density.

use domain::visit::{Choice, Earlier, Key, PieceKind, Spot};

use crate::chance::Shape;
use crate::site::Site;
use crate::visit::{Drawn, Source, Visit, gradient};

/// Standard uncertainty of a surveyed mark, m.
const MARK: f64 = 0.004;

/// What the list says of that visit, and its errors.
struct Then {
    site: Site,
    /// The total offset it called for, Pa, as written.
    offset: f64,
    kelvin: Source,
    composition: Source,
    own: Source,
    moved: Source,
    hatch: Source,
    tape: Source,
}

impl Visit {
    /// The earlier visit with the offset that is read on the unit today.
    pub(crate) fn earlier_and_offset(&mut self) {
        let carried = self.offset_read();
        self.stand(Choice::OffsetReadToday);
        self.earlier(carried);
    }

    /// The same beside a drop of today, which leans on the same hatch and tape.
    pub(crate) fn earlier_and_drop(&mut self) {
        let carried = self.offset_read();
        let reading = self.stand(Choice::OffsetReadToday);
        self.piece(PieceKind::Drop);
        let told = self.dips(PieceKind::Drop, self.truth.level, "A", &[0.0]);
        self.way_by_level(reading, told, true);
        self.earlier(carried);
    }

    fn earlier(&mut self, carried: (f64, Source)) {
        let then = self.then();
        let piece = self.piece(PieceKind::EarlierVisit);
        self.put(Spot::piece(piece, Key::EarlierSame, 0), Choice::Yes.word());
        let (accuracy, gravity, air) = (self.common.accuracy, self.common.gravity, self.common.air);
        let riser = self.site.riser;
        self.ways.push(Box::new(move |drawn: &Drawn<'_>| {
            let error = |source: Source| drawn.errors[source];
            let pressed = [then.kelvin, then.composition, gravity, air].map(error);
            let pressed = gradient(&then.site, pressed);
            let shared = error(accuracy) + pressed * (error(then.tape) - error(then.hatch));
            let zero_and_head = shared - then.offset - error(then.own);
            let today = zero_and_head + error(then.moved) + (drawn.gradient - pressed) * riser;
            -(carried.0 + error(carried.1) + today)
        }));
    }

    /// Makes that visit and writes it into the row.
    fn then(&mut self) -> Then {
        let mut site = self.site.clone();
        site.celsius = (self.chance.between(6.0, 22.0) * 10.0).round() / 10.0;
        let (kelvin, warmer) = self.source(Shape::Rectangle(1.0));
        let (composition, denser) = self.source(Shape::Normal(site.composition));
        let (own, off) = {
            let standard = self.chance.between(80.0, 150.0);
            let made = self.source(Shape::Normal(standard));
            ((made.0, standard), made.1)
        };
        let (moved, since) = self.source(Shape::Rectangle(site.allowance));
        let (hatch, mark) = self.mark("hatch");
        let (tape, stretched) = self.tape("A");
        let pressed = gradient(&site, [warmer, denser, self.common_error(2), self.common_error(3)]);
        let truth = self.truth;
        let accuracy = truth.zero - truth.under_head;
        let zero = truth.zero - since;
        let offset = accuracy + pressed * (stretched - mark) - (zero + pressed * truth.height) - off;
        let offset = (offset * 100.0).round() / 100.0;
        let metre = site.gradient();
        let parts = [own.1, site.accuracy, metre * MARK, metre * site.tape];
        let standard = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
        self.draft.instrument.earlier = vec![Earlier {
            date: "2025-09-20".into(),
            offset: format!("{offset:.2} Pa"),
            density: format!("{:.4} kg/m3", site.liquid.density(site.celsius)),
            uncertainty: format!("{:.3} Pa", 2.0 * standard),
            by: "drop".into(),
            tape: "A".into(),
            ..Earlier::default()
        }];
        Then { site, offset, kelvin, composition, own: own.0, moved, hatch, tape }
    }
}
