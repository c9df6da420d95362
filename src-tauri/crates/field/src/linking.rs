//! Linking a code to the instrument that it stands on.
//!
//! The person says whose code it is and holds that against the plate. The link is a signed proposal to the register and
//! holds on this phone at once, as pending. Nothing is settled in silence: where another instrument claims the code, that
//! is said before, and on both afterwards.

use bodies::Proposed;
use domain::visit::{Instrument, safety};
use tagcode::safe_text;

use crate::message::saying;
use crate::view::{CodeLine, Grade, LinkView, Message};
use crate::{Error, Phone, instruments, tag};

impl Phone {
    /// Returns what to hold against the plate before a code is linked to an instrument, and what stands against it.
    ///
    /// # Errors
    ///
    /// [`Error::NoInstrument`], [`Error::CodeGone`] when the code was not the last one scanned, and what the store says.
    pub fn link_ask(&self, tag: &str, code: &str) -> Result<LinkView, Error> {
        let whole = self.scanned_as(code)?;
        let row = self.register_row(tag)?;
        let mut messages = Vec::new();
        messages.extend(safety::before_scanning(&row).iter().map(crate::message::plain).find(is_no_phone));
        let claims = self.claims(&whole)?;
        let is_known = claims.iter().any(|claim| tag::key(claim) == tag::key(&row.tag));
        messages.extend(is_known.then(already));
        messages.extend(self.declined_before(&tag::key(&row.tag), &whole)?);
        messages.extend(conflict(&whole, &others(&claims, &row)));
        Ok(LinkView {
            plate: instruments::nameplate(&row),
            tag: row.tag,
            service: row.service,
            site: row.site.name,
            code: safe_text(&whole),
            messages,
            is_known,
        })
    }

    /// Links a code to an instrument, as a proposal that holds here at once. The same once more changes nothing.
    ///
    /// # Errors
    ///
    /// As [`Phone::link_ask`]; [`Error::NoTechnician`], [`Error::Key`], and what the store says. Nothing is linked then.
    pub fn link(&self, tag: &str, code: &str) -> Result<Message, Error> {
        let _changing = self.changing();
        let whole = self.scanned_as(code)?;
        let row = self.register_row(tag)?;
        let claims = self.claims(&whole)?;
        if claims.iter().any(|claim| tag::key(claim) == tag::key(&row.tag)) {
            return Ok(already());
        }
        self.propose(&row.tag, Proposed::Code(whole))?;
        let text = "The code leads to this instrument on this phone from now on. It is not in the register yet: a signed \
                    proposal to it is kept.";
        Ok(saying("link.proposed", Grade::Note, text, ""))
    }

    /// Returns all instruments that claim a code: the register's first, then what was linked here, each once.
    pub(crate) fn claims(&self, code: &str) -> Result<Vec<String>, Error> {
        let mut claims = self.store().tags_of_code(code)?;
        for linked in self.pending()?.tags_of_code(code) {
            let key = tag::key(linked);
            // An instrument that the register no longer holds cannot be gone to.
            let is_new = !claims.iter().any(|claim| tag::key(claim) == key);
            if is_new && self.store().instrument(&key)?.is_some() {
                claims.push(linked.to_owned());
            }
        }
        Ok(claims)
    }

    /// Returns the codes on an instrument, each with whether it is pending, and what is to be said of them.
    pub(crate) fn codes_on(&self, row: &Instrument) -> Result<(Vec<CodeLine>, Vec<Message>), Error> {
        let key = tag::key(&row.tag);
        let known: Vec<&str> = row.codes.iter().map(|code| code.trim()).collect();
        let pending = self.pending()?;
        let linked: Vec<&str> = pending.codes_of(&key).filter(|code| !known.contains(code)).collect();
        let mut messages = Vec::new();
        if !linked.is_empty() {
            let text =
                "A code was linked to this instrument on this phone. It is pending: not yet in the register.";
            messages.push(saying("link.pending", Grade::Note, text, ""));
        }
        for code in known.iter().chain(&linked) {
            messages.extend(conflict(code, &others(&self.claims(code)?, row)));
        }
        let line = |code: &str, pending| CodeLine { code: safe_text(code), pending };
        let lines = known.iter().map(|code| line(code, false));
        let lines = lines.chain(linked.iter().map(|code| line(code, true))).collect();
        Ok((lines, messages))
    }

    /// Returns the code that was scanned last, if the page shows that one: only what was scanned is ever linked.
    fn scanned_as(&self, code: &str) -> Result<String, Error> {
        let scanned = self.scanned();
        if scanned.is_empty() || safe_text(&scanned) != code { Err(Error::CodeGone) } else { Ok(scanned) }
    }
}

fn is_no_phone(message: &Message) -> bool {
    message.code == "hazard.no_phone"
}

fn others(claims: &[String], row: &Instrument) -> Vec<String> {
    let own = tag::key(&row.tag);
    claims.iter().filter(|claim| tag::key(claim) != own).cloned().collect()
}

fn already() -> Message {
    let text = "This code leads to this instrument already.";
    saying("link.already", Grade::Note, text, "")
}

/// Says which other instruments claim a code, where there are any.
fn conflict(code: &str, others: &[String]) -> Option<Message> {
    if others.is_empty() {
        return None;
    }
    let text = format!("The code {} is claimed by {} too.", safe_text(code), others.join(", "));
    let remedy = "Compare both plates. Scanning it asks which is meant until the register is put right.";
    Some(saying("code.conflict", Grade::Warning, &text, remedy))
}
