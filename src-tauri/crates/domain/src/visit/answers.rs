//! The draft: answers at spots, and the pieces of evidence they belong to.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{Choice, Finished, Instrument, Key, Step, safety};

/// Which piece of evidence an answer belongs to; 0 for answers that belong to none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, Default)]
#[serde(transparent)]
pub struct PieceId(pub u32);

/// Where an answer stands: what it is about, for which piece, in which row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Spot {
    /// The piece of evidence, or none.
    pub piece: PieceId,
    /// What is asked.
    pub key: Key,
    /// The repeat, or the place in a list.
    pub row: u32,
}

impl Spot {
    /// Returns the spot of a question that is asked once.
    #[must_use]
    pub fn of(key: Key) -> Spot {
        Spot { piece: PieceId(0), key, row: 0 }
    }

    /// Returns the spot of one row of a list.
    #[must_use]
    pub fn row(key: Key, row: u32) -> Spot {
        Spot { piece: PieceId(0), key, row }
    }

    /// Returns the spot of a question about a piece of evidence.
    #[must_use]
    pub fn piece(piece: PieceId, key: Key, row: u32) -> Spot {
        Spot { piece, key, row }
    }
}

/// A moment as the phone's clock claimed it: milliseconds since 1970-01-01T00:00Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Moment(pub i64);

/// What a person typed or chose, and when.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// The text as typed, or the word of the choice.
    pub text: String,
    /// When.
    pub at: Moment,
}

/// All answers of a visit, in the order of their spots.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(transparent)]
pub struct Answers(#[serde(with = "pairs")] BTreeMap<Spot, Answer>);

impl Answers {
    /// Returns the answer at a spot; a cleared one counts as none.
    #[must_use]
    pub fn get(&self, spot: Spot) -> Option<&Answer> {
        self.0.get(&spot).filter(|answer| !answer.text.trim().is_empty())
    }

    /// Returns the text at a spot, or an empty one.
    #[must_use]
    pub fn text(&self, spot: Spot) -> &str {
        self.0.get(&spot).map_or("", |answer| answer.text.as_str())
    }

    /// Returns the choice made at a spot.
    #[must_use]
    pub fn choice(&self, spot: Spot) -> Option<Choice> {
        Choice::from_word(self.text(spot))
    }

    /// Puts an answer at a spot, replacing what stood there.
    ///
    /// A text that is corrected keeps the time it was first typed: the digit mended at the gate was still read at the
    /// hatch, and the rate of a moving level hangs on when. Cleared first, it is another reading with a time of its
    /// own. What is chosen anew is done anew, and a new time of inhibition runs from when it is stated.
    pub fn put(&mut self, spot: Spot, text: String, at: Moment) {
        let corrected = spot.key != Key::InhibitMinutes && Choice::from_word(&text).is_none();
        let first = self.get(spot).map(|answer| answer.at);
        let at = first.filter(|_| corrected && !text.trim().is_empty()).unwrap_or(at);
        self.0.insert(spot, Answer { text, at });
    }

    /// Moves an answer to another spot, with the time it was given.
    pub(super) fn set_aside(&mut self, from: Spot, to: Spot) {
        if let Some(answer) = self.0.remove(&from) {
            self.0.insert(to, answer);
        }
    }

    /// Takes away every answer of a piece of evidence.
    pub fn remove_piece(&mut self, piece: PieceId) {
        self.0.retain(|spot, _| spot.piece != piece);
    }

    /// Goes through all answers in the order of their spots.
    pub fn iter(&self) -> impl Iterator<Item = (Spot, &Answer)> {
        self.0.iter().map(|(spot, answer)| (*spot, answer))
    }
}

macro_rules! pieces {
    ($($(#[$doc:meta])* $name:ident,)*) => {
        /// Kinds of evidence.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        #[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
        pub enum PieceKind { $($(#[$doc])* $name,)* }

        impl PieceKind {
            /// Every kind of evidence there is; new ones stand at the end.
            pub const ALL: &'static [PieceKind] = &[$(PieceKind::$name,)*];
        }
    };
}

pieces! {
    /// The tank is known to be empty to its outlet sill and the riser is full.
    KnownEmpty,
    /// A dip from the tank floor up to the surface.
    Dip,
    /// A drop from the hatch mark down to the surface.
    Drop,
    /// A measured riser height.
    Riser,
    /// The sensor's reading with both sides at atmosphere.
    Vented,
    /// The overflow is running: the surface stands at its crest or a little above.
    Overflow,
    /// Another instrument, with a sensor of its own, tells the level.
    OtherInstrument,
    /// An earlier visit: the offset its evidence called for, with that day's density.
    EarlierVisit,
}

/// Whether a piece was taken before the trim, and so may be what it rests on, or after it, as proof.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub enum Timing {
    /// Before the trim.
    Before,
    /// After the trim.
    After,
}

/// One piece of evidence; what was measured for it stands in the answers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Piece {
    /// Its number in this visit, from 1, never used twice.
    pub id: PieceId,
    /// What kind of evidence.
    pub kind: PieceKind,
    /// Before or after the trim.
    pub timing: Timing,
}

/// A visit under way.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Draft {
    /// The register row as it stood when the visit began.
    pub instrument: Instrument,
    /// The step on the screen.
    pub step: Step,
    /// The pieces of evidence.
    pub pieces: Vec<Piece>,
    /// The number the next piece gets.
    pub next_piece: u32,
    /// What was answered.
    pub answers: Answers,
    /// When the visit began.
    pub begun: Moment,
}

impl Draft {
    /// Begins a visit. The lists of Make safe and Back in service are written into the visit's own copy of the
    /// register row, so that a record shows what was asked and not what a later version would ask.
    #[must_use]
    pub fn begin(mut instrument: Instrument, begun: Moment) -> Draft {
        instrument.safety = safety::items(&instrument);
        if instrument.back.is_empty() {
            instrument.back = safety::back_items();
        }
        Draft {
            instrument,
            step: Step::Find,
            pieces: Vec::new(),
            next_piece: 1,
            answers: Answers::default(),
            begun,
        }
    }

    /// Returns the draft that a signed visit was, so that it can be worked out again.
    #[must_use]
    pub fn again(finished: &Finished) -> Draft {
        let mut answers = Answers::default();
        finished.answers.iter().for_each(|one| answers.put(one.spot, one.text.clone(), one.at));
        let last = finished.pieces.iter().map(|piece| piece.id.0).max().unwrap_or_default();
        Draft {
            instrument: finished.instrument.clone(),
            step: Step::Sign,
            pieces: finished.pieces.clone(),
            next_piece: last.saturating_add(1),
            answers,
            begun: finished.begun,
        }
    }

    /// Adds a piece of evidence and returns its number.
    pub fn add_piece(&mut self, kind: PieceKind, timing: Timing) -> PieceId {
        let id = PieceId(self.next_piece);
        self.next_piece = self.next_piece.saturating_add(1);
        self.pieces.push(Piece { id, kind, timing });
        id
    }

    /// Takes a piece of evidence away, with what was answered for it.
    pub fn remove_piece(&mut self, id: PieceId) {
        self.pieces.retain(|piece| piece.id != id);
        self.answers.remove_piece(id);
    }
}

/// JSON has no maps with structured keys, so answers travel as pairs.
mod pairs {
    use std::collections::BTreeMap;

    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    use super::{Answer, Spot};

    pub(super) fn serialize<S: Serializer>(map: &BTreeMap<Spot, Answer>, to: S) -> Result<S::Ok, S::Error> {
        map.iter().collect::<Vec<_>>().serialize(to)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<BTreeMap<Spot, Answer>, D::Error> {
        Ok(Vec::<(Spot, Answer)>::deserialize(from)?.into_iter().collect())
    }
}
