//! A visit under way: begun, changed, left, opened again, discarded.
//!
//! A change is applied and saved before anything is judged, so that nothing typed is ever lost to a mistake in
//! it. What the screen gets is worked out afresh from the saved answers each time.

use domain::visit::{Choice, Draft, Key, Moment, PieceId, Spot, Step, Timing, assess, safety};
use store::Claimed;
use tagcode::safe_text;

use crate::view::{Change, HomeView, StatedAnswer, TargetView, VisitView};
use crate::{Error, Now, Phone, draft_text, photos, show, tag, when};

/// The longest text of one answer, in characters.
const LONGEST_TEXT: u32 = 2_000;
/// The most rows of one list.
const MOST_ROWS: u32 = 200;
/// The most pieces of evidence, counting those taken away again.
const MOST_PIECES: u32 = 60;

impl Phone {
    /// Begins a visit to an instrument. One that is open for it already is opened instead: two visits to one
    /// instrument at once could each trim it.
    ///
    /// # Errors
    ///
    /// [`Error::NoInstrument`], [`Error::Refused`] where no visit may be made, and what the store says.
    pub fn visit_begin(&self, tag: &str, found_by: Choice, code: &str) -> Result<VisitView, Error> {
        let _changing = self.changing();
        let key = tag::key(tag);
        if let Some(open) = self.store().drafts()?.iter().find(|draft| tag::key(&draft.tag) == key) {
            return self.shown(open);
        }
        // Frozen with the visit, so that whoever holds it can work it out again.
        let instrument = self.row_with_past(tag)?.row;
        if let Some(refusal) = safety::refusal(&instrument) {
            return Err(Error::Refused(Box::new(refusal)));
        }
        let now = self.now();
        let mut draft = Draft::begin(instrument, now.wall);
        draft.answers.put(Spot::of(Key::ClockOffset), now.offset_minutes.to_string(), now.wall);
        draft.answers.put(Spot::of(Key::FoundBy), found_by.word().into(), now.wall);
        if !code.is_empty() {
            draft.answers.put(Spot::of(Key::CodeText), self.code_as_scanned(code), now.wall);
        }
        let id = self.new_id(now)?;
        let begun = self.save(&id, &draft, now)?;
        self.forget_offered();
        // What the first screen said of the register has been before whoever begins a visit out of it.
        if self.store().replaced_register()?.is_some() {
            self.store().seen_replaced()?;
        }
        Ok(begun)
    }

    /// Opens a visit where it stopped.
    ///
    /// # Errors
    ///
    /// [`Error::UnreadableDraft`], and what the store says.
    pub fn visit_open(&self, id: &str) -> Result<VisitView, Error> {
        let _changing = self.changing();
        self.shown(&self.kept_draft(id)?)
    }

    /// Returns where display and target stand now, while the level moves; none where there is no moving target.
    ///
    /// # Errors
    ///
    /// [`Error::UnreadableDraft`], and what the store says.
    pub fn target(&self, id: &str) -> Result<Option<TargetView>, Error> {
        let draft = draft_text::read(&self.kept_draft(id)?.body)?;
        let now = self.now();
        let assessment = assess(&draft).map_err(|_| Error::UnreadableInstrument)?;
        let target = assessment.target(&draft, now.wall);
        Ok(target.map(|target| show::target(&target, &assessment, now.offset_minutes)))
    }

    /// Applies a change and saves it, all before anything is judged.
    ///
    /// # Errors
    ///
    /// [`Error::TextTooLong`] and the other limits, [`Error::NoPiece`], and what the store says. The visit is
    /// then as it was saved before.
    pub fn visit_change(&self, id: &str, change: &Change) -> Result<VisitView, Error> {
        let _changing = self.changing();
        let now = self.now();
        let mut draft = taken_up(&self.kept_draft(id)?, now)?;
        apply(&mut draft, change, now.wall)?;
        self.save(id, &draft, now)
    }

    /// Removes a visit for good, because a person said so.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn visit_discard(&self, id: &str) -> Result<HomeView, Error> {
        let _changing = self.changing();
        self.store().discard(id)?;
        self.forget_offered();
        self.home()
    }

    /// Returns a draft as the store has it.
    pub(crate) fn kept_draft(&self, id: &str) -> Result<store::Draft, Error> {
        let kept = self.store().draft(id)?;
        Ok(kept.ok_or_else(|| store::Error::NoDraft { id: id.to_owned() })?)
    }

    fn save(&self, id: &str, draft: &Draft, now: Now) -> Result<VisitView, Error> {
        let kept = store::Draft {
            id: id.to_owned(),
            tag: draft.instrument.tag.clone(),
            body: draft_text::write(draft)?,
            saved_at: Claimed(now.wall.0),
        };
        self.store().save_draft(&kept)?;
        self.view(id, draft, now.wall, now)
    }

    /// Returns a visit as it stands, where nothing else changes meanwhile.
    pub(crate) fn shown(&self, kept: &store::Draft) -> Result<VisitView, Error> {
        let now = self.now();
        self.view(&kept.id, &taken_up(kept, now)?, Moment(kept.saved_at.0), now)
    }

    fn view(&self, id: &str, draft: &Draft, saved: Moment, now: Now) -> Result<VisitView, Error> {
        let saved = format!("Saved {}", when::second(saved, now.offset_minutes));
        let assessment = assess(draft).map_err(|_| Error::UnreadableInstrument)?;
        let photos = self.photos_on(draft.step, id)?;
        let signing = self.signing_on(draft)?;
        Ok(VisitView { photos, signing, ..show::visit(id, draft, &assessment, &saved, now) })
    }

    /// What the step says of photos; none where none are taken.
    fn photos_on(&self, step: Step, id: &str) -> Result<Option<String>, Error> {
        if !matches!(step, Step::AsFound | Step::Evidence) {
            return Ok(None);
        }
        Ok(Some(photos::said(self.photos_of_draft(id)?)))
    }

    /// A page is given a code made safe to show; the visit keeps what was scanned, however long.
    fn code_as_scanned(&self, code: &str) -> String {
        let scanned = self.scanned();
        if safe_text(&scanned) == code { scanned } else { code.chars().take(LONGEST_TEXT as usize).collect() }
    }

    fn new_id(&self, now: Now) -> Result<String, Error> {
        let mut chance = [0; 10];
        self.ports().entropy.fill(&mut chance)?;
        let millis = u64::try_from(now.wall.0).unwrap_or_default();
        Ok(uuid::Builder::from_unix_timestamp_millis(millis, &chance).into_uuid().to_string())
    }
}

/// Reads a draft as it is taken up now: after a long break some of it is asked again.
pub(crate) fn taken_up(kept: &store::Draft, now: Now) -> Result<Draft, Error> {
    let mut draft = draft_text::read(&kept.body)?;
    draft.take_up(Moment(kept.saved_at.0), now.wall);
    Ok(draft)
}

fn apply(draft: &mut Draft, change: &Change, at: Moment) -> Result<(), Error> {
    match change {
        Change::Answer { key, piece, row, text } => {
            let spot = Spot { piece: PieceId(*piece), key: *key, row: *row };
            answer(draft, spot, text, at)
        }
        Change::Add { kind, timing } => {
            if draft.next_piece > MOST_PIECES {
                return Err(Error::TooManyPieces { most: MOST_PIECES });
            }
            draft.add_piece(*kind, *timing);
            // Proposed on Shift, it is measured on Evidence: a piece that is added where nobody sees it is no help.
            if *timing == Timing::Before && draft.step == Step::Shift {
                draft.step = Step::Evidence;
            }
            Ok(())
        }
        Change::Remove { piece } => {
            // Taken away already, by a command whose answer was lost: that is what was wanted.
            if *piece != 0 {
                draft.remove_piece(PieceId(*piece));
            }
            Ok(())
        }
        Change::Together { answers } => together(draft, answers, at),
        Change::Go { step } => {
            draft.step = *step;
            Ok(())
        }
    }
}

fn answer(draft: &mut Draft, spot: Spot, text: &str, at: Moment) -> Result<(), Error> {
    if text.chars().count() > LONGEST_TEXT as usize {
        return Err(Error::TextTooLong { most: LONGEST_TEXT });
    }
    if spot.row >= MOST_ROWS {
        return Err(Error::TooManyRows { most: MOST_ROWS });
    }
    if spot.piece.0 != 0 && !draft.pieces.iter().any(|piece| piece.id == spot.piece) {
        return Err(Error::NoPiece);
    }
    // A field that is left sends its text again: that is no answer given anew, whatever it holds.
    if draft.answers.text(spot) != text {
        draft.answers.put(spot, text.to_owned(), at);
    }
    Ok(())
}

/// Puts several answers where nothing stands yet: each has its own spot and time, as if it had been given by itself.
fn together(draft: &mut Draft, answers: &[StatedAnswer], at: Moment) -> Result<(), Error> {
    for stated in answers {
        let spot = Spot::row(stated.key, stated.row);
        if draft.answers.get(spot).is_none() {
            answer(draft, spot, &stated.text, at)?;
        }
    }
    let complete = assess(draft).is_ok_and(|assessment| assessment.complete(draft.step));
    if let Some(next) = draft.step.next().filter(|_| complete) {
        draft.step = next;
    }
    Ok(())
}
