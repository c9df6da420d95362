//! Why a kind of evidence may not be brought here.

use super::{Assessment, Draft, PieceKind, unfit};

/// Why a kind of evidence may not be brought in a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotHere {
    /// It is in the list already, and counts once.
    InTheList,
    /// The site, the mounting or the register rules it out, for this reason.
    Because(&'static str),
}

impl Assessment {
    /// Returns why a kind of evidence may not be brought here; nothing where it may.
    #[must_use]
    pub fn not_here(&self, draft: &Draft, kind: PieceKind) -> Option<NotHere> {
        let once = matches!(
            kind,
            PieceKind::KnownEmpty | PieceKind::Riser | PieceKind::Vented | PieceKind::EarlierVisit
        );
        if once && draft.pieces.iter().any(|piece| piece.kind == kind) {
            return Some(NotHere::InTheList);
        }
        let unfit = unfit(&self.known.mounted.mounting, kind);
        unfit.or_else(|| self.not_by_the_register(draft, kind)).map(NotHere::Because)
    }

    fn not_by_the_register(&self, draft: &Draft, kind: PieceKind) -> Option<&'static str> {
        match kind {
            PieceKind::Drop if self.known.hatch.is_none() => {
                Some("The register has no hatch mark for this tank.")
            }
            PieceKind::Overflow if self.known.overflow.is_none() => {
                Some("The register has no overflow crest for this tank.")
            }
            PieceKind::Vented if draft.instrument.crew.never_vent => {
                Some("The register says that this line is never vented.")
            }
            PieceKind::EarlierVisit => self.earlier_counts(draft).err(),
            _ => None,
        }
    }
}
