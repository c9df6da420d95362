//! The screen of sending, and the one line that stands everywhere.

use store::{Counts, UnreadRows};

use super::lines::{host, status};
use super::{Stage, Under, whereabouts};
use crate::counted::counted;
use crate::message::saying;
use crate::view::{Grade, Message, Network, SendButton, SendView, StatusView, WaitingLine};
use crate::{Error, Phone, records, when};
use domain::visit::Moment;

/// The most visits that the screen lists.
const MOST_LINES: usize = 200;

impl Phone {
    /// Returns the one line that says where all records are, and what is going on.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn sending_status(&self, under: &Under) -> Result<StatusView, Error> {
        let counts = self.store().counts()?;
        let has_hub = self.store().hub()?.is_some();
        Ok(StatusView {
            line: status(&counts, has_hub),
            now: under.line(),
            waits: counts.entries_waiting > 0 || counts.photos_waiting > 0,
            has_hub: has_hub || self.enrol_awaited()?.is_some(),
        })
    }

    /// Returns the screen of sending: what is under way, what waits and why. `trouble` is what went wrong last.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn sending_view(&self, under: &Under, trouble: Option<Message>) -> Result<SendView, Error> {
        let counts = self.store().counts()?;
        let allowed = self.store().allowed()?;
        let hub = self.store().hub()?;
        let has_hub = hub.is_some();
        let waiting = self.store().waiting()?;
        let offset = self.now().offset_minutes;
        let lines = waiting.iter().take(MOST_LINES).map(|waiting| WaitingLine {
            id: records::id(waiting.visit.place),
            tag: waiting.visit.tag.clone(),
            service: waiting.visit.service.clone(),
            site: waiting.visit.site.clone(),
            when: when::day_and_minute(Moment(waiting.visit.signed_at.0), offset),
            whereabouts: whereabouts(&waiting.state),
        });
        let button = match (&hub, under.is_sending()) {
            (None, _) => SendButton::Enrol,
            (Some(_), true) => SendButton::Stop,
            (Some(_), false) if allowed.paused => SendButton::Resume,
            (Some(_), false) => SendButton::Send,
        };
        let photos_may_go = self.photos_may_go(under.network)?;
        let mut messages: Vec<Message> = trouble.into_iter().collect();
        messages.extend((under.refused > 0).then(|| refused(under.refused)));
        messages.extend(self.fork_messages()?);
        messages.extend(unread(&self.store().unread_rows()?));
        Ok(SendView {
            status: status(&counts, has_hub),
            why: why(&counts, has_hub, allowed.paused, photos_may_go, under),
            hub: hub
                .and_then(|hub| hub.addresses.first().map(|address| host(address).to_owned()))
                .unwrap_or_default(),
            progress: under.progress(),
            button,
            others: others(&counts, waiting.iter().filter(|one| !one.state.record.is_at_hub()).count()),
            waiting: lines.collect(),
            photos_metered: allowed.photos_metered,
            paused: allowed.paused,
            messages,
            space: self.space_view(has_hub)?,
        })
    }
}

/// Said of photos that the hub lost after they were freed here.
const NOWHERE: &str = "Some photos are neither on this phone nor at the hub, so they cannot be sent. The records are whole; \
                       take such photos again at the next visit.";

/// Why something waits. The first reason that holds is the one to do something about.
fn why(counts: &Counts, has_hub: bool, paused: bool, photos_may_go: bool, under: &Under) -> String {
    if counts.entries_waiting == 0 && counts.photos_waiting == 0 {
        return if counts.photos_missing > 0 { NOWHERE.to_owned() } else { String::new() };
    }
    let why = if !has_hub {
        "This phone belongs to no hub yet, so everything stays on it."
    } else if paused {
        "Sending is paused on this phone."
    } else if under.is_sending() {
        ""
    } else if under.network == Network::None {
        "There is no signal. It goes by itself when there is."
    } else if under.stage == Stage::Waiting {
        // What went wrong is told in a message of its own.
        ""
    } else if counts.entries_waiting > 0 {
        "It goes with the next sending."
    } else if photos_may_go {
        "The records are there; photos go after them, one by one."
    } else {
        "The records are there. Photos wait for a connection that is not paid by volume, unless you allow it below."
    };
    why.to_owned()
}

/// What waits beside the visits.
fn others(counts: &Counts, visits: usize) -> String {
    let visits = u32::try_from(visits).unwrap_or(u32::MAX);
    match counts.entries_waiting.saturating_sub(visits) {
        0 => String::new(),
        1 => "1 other record waits too (of a link, a fitted unit or a photo).".to_owned(),
        more => format!("{more} other records wait too (of links, fitted units, photos)."),
    }
}

fn refused(many: u32) -> Message {
    let text = format!("The hub did not take {} of this phone. All else went on.", counted(many, "record"));
    let remedy = "Tell whoever looks after the hub; the records are kept here and offered again.";
    saying("exchange.refused", Grade::Warning, &text, remedy)
}

/// The most tags that a message names.
const MOST_TAGS: usize = 5;

/// What of the hub's register this version cannot read; none where it reads all of it.
fn unread(rows: &UnreadRows) -> Option<Message> {
    let named: Vec<&str> = rows.tags.iter().take(MOST_TAGS).map(String::as_str).collect();
    let others = rows.tags.len() - named.len();
    let which = match (others, rows.more) {
        (0, false) => named.join(", "),
        (others, false) => format!("{} and {others} more", named.join(", ")),
        (others, true) => format!("{} and more than {others} more", named.join(", ")),
    };
    if which.is_empty() {
        return None;
    }
    let text = format!(
        "This version of Headmark cannot read what the hub's register says of {which}. On this phone it stands as it was \
         before, or is missing; all else of the register is up to date."
    );
    let remedy = "Update Headmark; it comes with the next sending after that.";
    Some(saying("register.unread_rows", Grade::Warning, &text, remedy))
}
