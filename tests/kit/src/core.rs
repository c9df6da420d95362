//! A phone's core, opened in this process as the shell opens it.

use anyhow::{Context, Result};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use domain::visit::{Choice, Step};
use field::host::{HostClock, HostEntropy, KeyFolder};
use field::view::{Change, VisitView};
use field::{MOST_PIECE, Opening, Ports};

use crate::{Phone, Story, register};

/// An open core. The app must not run on the same phone meanwhile.
pub struct Core {
    phone: field::Phone,
}

impl Core {
    /// Opens a phone's data.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn open(phone: &Phone) -> Result<Core> {
        let ports = Ports {
            clock: Box::new(HostClock::start()),
            keys: Box::new(KeyFolder::at(phone.data().join("keys"))),
            entropy: Box::new(HostEntropy),
        };
        Core::open_with(phone, ports)
    }

    /// Opens a phone's data with a clock, a key store and chance of one's own.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn open_with(phone: &Phone, ports: Ports) -> Result<Core> {
        let mut opening = Opening::at(phone.data().join("headmark.db"));
        if let Some(pages) = phone.most_pages() {
            opening = opening.most_pages(pages);
        }
        Ok(Core { phone: field::Phone::open(opening, phone.exports(), ports)? })
    }

    /// Returns the use cases.
    #[must_use]
    pub fn phone(&self) -> &field::Phone {
        &self.phone
    }

    /// Tells the phone who works with it and loads the invented utility's register.
    ///
    /// # Errors
    ///
    /// What the core says; also when a row of the register was left out.
    pub fn prepare(&self, technician: &str) -> Result<()> {
        self.prepare_with(technician, register())
    }

    /// The same with a register of one's own.
    ///
    /// # Errors
    ///
    /// As [`Core::prepare`].
    pub fn prepare_with(&self, technician: &str, register: &[u8]) -> Result<()> {
        self.phone.set_technician(technician)?;
        let upload = self.upload(register)?;
        let report = self.phone.register_load(&upload)?;
        anyhow::ensure!(
            report.problems.is_empty(),
            "rows of the register were left out: {:?}",
            report.problems
        );
        Ok(())
    }

    /// Takes a file in as the pages send it: in small pieces.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn upload(&self, bytes: &[u8]) -> Result<String> {
        let upload = self.phone.upload_begin(u32::try_from(bytes.len())?)?;
        let mut at = 0;
        for piece in bytes.chunks(usize::try_from(MOST_PIECE)?) {
            self.phone.upload_piece(&upload, at, &STANDARD.encode(piece))?;
            at += u32::try_from(piece.len())?;
        }
        Ok(upload)
    }

    /// Plays a story up to a step, leaves the visit open there, and returns its id.
    ///
    /// # Errors
    ///
    /// What the core says, or that the story does not lead to the step.
    pub fn play(&self, story: &Story, until: Step) -> Result<String> {
        self.phone.find_code(&story.code)?;
        let view = self.phone.visit_begin(&story.tag, Choice::ByCode, &story.code)?;
        Ok(self.play_from(view, story, until)?.id)
    }

    /// Plays a story on from where its visit was left.
    ///
    /// # Errors
    ///
    /// As [`Core::play`].
    pub fn play_on(&self, id: &str, story: &Story, until: Step) -> Result<VisitView> {
        self.play_from(self.phone.visit_open(id)?, story, until)
    }

    fn play_from(&self, mut view: VisitView, story: &Story, until: Step) -> Result<VisitView> {
        while view.now.step != until {
            view = self.play_step(&view, story)?;
        }
        Ok(view)
    }

    /// Does what a story does in the step that is shown, and goes on to the next.
    fn play_step(&self, view: &VisitView, story: &Story) -> Result<VisitView> {
        let mut view = view.clone();
        for act in story.acts(view.now.step) {
            view = self.phone.visit_change(&view.id, &act.change())?;
        }
        let next = &view.now.next;
        anyhow::ensure!(next.ready, "{:?} cannot be left: {:?}", view.now.step, next.missing);
        let step = next.to.context("the story has come to its end")?;
        Ok(self.phone.visit_change(&view.id, &Change::Go { step })?)
    }

    /// Plays the last step of a story and signs.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn sign(&self, id: &str, story: &Story) -> Result<field::view::RecordView> {
        for act in story.acts(Step::Sign) {
            self.phone.visit_change(id, &act.change())?;
        }
        Ok(self.phone.visit_sign(id)?)
    }
}
