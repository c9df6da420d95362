//! The first screen: who works here, what is open, what is signed.

use std::path::Path;

use domain::visit::Moment;
use store::SignedVisit;

use crate::counted::counted;
use crate::message::saying;
use crate::phone::PUT_ASIDE;
use crate::view::{DraftLine, Grade, HomeView, Message, SignedLine};
use crate::{Error, Phone, draft_text, records, sending, when};

/// How many signed visits the first screen lists.
const MOST_SIGNED: u32 = 200;

impl Phone {
    /// Returns the first screen.
    ///
    /// # Errors
    ///
    /// What the store says. A list that cannot be read is left empty and said, so that the others still show.
    pub fn home(&self) -> Result<HomeView, Error> {
        let mut messages = self.put_aside()?;
        messages.extend(self.replaced()?);
        let drafts = kept(self.draft_lines(), &mut messages)?;
        let signed = kept(self.store().signed(MOST_SIGNED).map_err(Error::from), &mut messages)?;
        let register = kept(self.store().register_name().map_err(Error::from), &mut messages)?;
        Ok(HomeView {
            technician: self.technician()?,
            has_pin: kept(self.has_pin(), &mut messages)?,
            status: sending::status(&self.store().counts()?, self.store().hub()?.is_some()),
            drafts,
            answers: kept(self.answers(), &mut messages)?,
            signed: signed.iter().map(|visit| self.signed_line(visit)).collect::<Result<_, _>>()?,
            instruments: self.store().instrument_count()?,
            register: register.map_or_else(String::new, |name| format!("{}, {}", name.name, name.dated)),
            messages,
        })
    }

    /// Keeps who works with this phone.
    ///
    /// # Errors
    ///
    /// [`Error::TextTooLong`], and what the store says.
    pub fn set_technician(&self, name: &str) -> Result<HomeView, Error> {
        self.keep_technician(name)?;
        self.home()
    }

    /// Returns the visits left open, the one touched last first.
    pub(crate) fn draft_lines(&self) -> Result<Vec<DraftLine>, Error> {
        Ok(self.store().drafts()?.iter().map(|draft| self.draft_line(draft)).collect())
    }

    /// A draft of another version still stands in the list, with what the store knows of it.
    fn draft_line(&self, kept: &store::Draft) -> DraftLine {
        let (service, site, step) = match draft_text::read(&kept.body) {
            Ok(draft) => {
                let step = draft_text::word(draft.step).to_owned();
                (draft.instrument.service, draft.instrument.site.name, step)
            }
            Err(_) => <(String, String, String)>::default(),
        };
        let when = when::day_and_minute(Moment(kept.saved_at.0), self.now().offset_minutes);
        DraftLine { id: kept.id.clone(), tag: kept.tag.clone(), service, site, step, when }
    }

    /// Returns a signed visit as a line of a list.
    pub(crate) fn signed_line(&self, visit: &SignedVisit) -> Result<SignedLine, Error> {
        Ok(SignedLine {
            id: records::id(visit.place),
            tag: visit.tag.clone(),
            service: visit.service.clone(),
            site: visit.site.clone(),
            when: when::day_and_minute(Moment(visit.signed_at.0), self.now().offset_minutes),
            verdict: visit.verdict.clone(),
            decision: self.decision_at(visit.place)?,
        })
    }

    /// Says that the hub's register took the place of one from a file, until a visit is begun.
    fn replaced(&self) -> Result<Option<Message>, Error> {
        let Some(name) = self.store().replaced_register()? else { return Ok(None) };
        let text = format!("The hub's register took the place of the one from a file ({name}).");
        let remedy = "An instrument that is not in it is for whoever keeps the hub's register to add.";
        Ok(Some(saying("register.replaced", Grade::Note, &text, remedy)))
    }

    /// Says that a damaged file was put aside, for as long as it is there.
    fn put_aside(&self) -> Result<Vec<Message>, Error> {
        let Some(path) = self.store().setting(PUT_ASIDE)? else {
            return Ok(Vec::new());
        };
        let path = Path::new(&path);
        if !path.exists() {
            return Ok(Vec::new());
        }
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let taken = self.store().salvaged()?;
        let taken = taken.iter().find(|(file, _)| *file == name).map(|(_, taken)| *taken).unwrap_or_default();
        let text = format!(
            "The data file of this phone was damaged. It was not deleted but kept as {name}, and a new one was \
             begun. What could be proved was taken over: {}, {}, {}.",
            counted(taken.entries, "signed record"),
            counted(taken.drafts, "open visit"),
            counted(taken.instruments, "instrument"),
        );
        let mut remedy =
            "Hand the old file to whoever looks after your records; load the register again.".to_owned();
        if self.store().hub()?.is_some() {
            remedy.push_str(" Then scan the hub's code again: the hub gives back what it has of the rest.");
        }
        Ok(vec![saying("store.put_aside", Grade::Warning, &text, &remedy)])
    }
}

/// Passes a list on, or says why it cannot be read and leaves it empty.
fn kept<T: Default>(list: Result<T, Error>, messages: &mut Vec<Message>) -> Result<T, Error> {
    match list {
        Err(Error::Store(error @ store::Error::Unreadable { .. })) => {
            messages.push(Error::from(error).message());
            Ok(T::default())
        }
        other => other,
    }
}
