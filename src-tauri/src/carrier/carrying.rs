//! One turn of sending: records, then photos.

use std::time::Duration;

use carry::http::{Address, Client, Pins};
use carry::photos::{self, KeptBy};
use carry::{Cancel, LinkError, Pace, Progress, once};
use exchange::session::Summary;
use field::view::{Grade, Message};
use field::{Phone, Way};
use record::{SecretKey, Strict};

use super::turns::{Turn, With};

/// Sends what there is to send.
pub(super) fn carry(with: &With, pace: &Pace, cancel: &Cancel) -> Turn {
    let done = with.phone.with(|phone| {
        let Some(way) = phone.way_to_hub()? else { return Ok(Turn::Nowhere) };
        Ok(over(with, phone, &way, pace, cancel))
    });
    done.unwrap_or_else(|error| failed(error.message()))
}

/// Tries each address; one that nobody answers at is passed over.
fn over(with: &With, phone: &Phone, way: &Way, pace: &Pace, cancel: &Cancel) -> Turn {
    let key = match phone.exchange_key() {
        Ok(key) => key,
        Err(error) => return failed(error.message()),
    };
    let mut turn = failed(told(&LinkError::Unreachable));
    for address in &way.addresses {
        let Some(address) = Address::read(address) else { continue };
        let pins = Pins::Only(way.pins.iter().copied().collect());
        let client = match Client::new(address, pins, with.runtime.clone(), cancel.clone()) {
            Ok(client) => client,
            Err(error) => return of_link(&error),
        };
        turn = match exchanged(with, phone, &client, &key, pace) {
            Err(carry::Error::Link(LinkError::Unreachable)) => continue,
            Err(error) => of_error(error),
            Ok(summary) => photos_after(with, phone, &client, &key, &summary),
        };
        break;
    }
    turn
}

fn exchanged(
    with: &With,
    phone: &Phone,
    client: &Client,
    key: &SecretKey,
    pace: &Pace,
) -> Result<Summary, carry::Error<impl std::error::Error + Into<field::Error> + use<>>> {
    let summary = once(phone.ledger(), key, &Strict, client, with.told.as_ref(), pace.round());
    // What came before a break is in, too.
    phone.exchanged();
    let summary = summary?;
    with.told.refused(summary.refused.len());
    tracing::info!(
        rounds = summary.rounds,
        sent = summary.sent,
        taken = summary.taken,
        "exchanged with the hub"
    );
    Ok(summary)
}

/// Records are there; photos follow where they may.
fn photos_after(with: &With, phone: &Phone, client: &Client, key: &SecretKey, summary: &Summary) -> Turn {
    let (under, _) = with.told.now();
    match phone.photos_may_go(under.network) {
        Ok(true) => {}
        Ok(false) => return Turn::Well,
        Err(error) => return failed(error.message()),
    }
    let records = Progress { records_sent: summary.sent, ..Progress::default() };
    let kept = KeptBy { waiting: || phone.photos_to_send(), piece: |photo, at| phone.photo_piece(photo, at) };
    let carried = match photos::carry(&kept, client, with.told.as_ref(), &records) {
        Err(error) => return of_error(error),
        Ok(carried) => carried,
    };
    // Only a receipt says that a photo arrived, and it comes with an exchange.
    if carried.whole > 0
        && let Err(error) = exchanged(with, phone, client, key, &Pace::default())
    {
        return of_error(error);
    }
    carried.refused.as_ref().map_or(Turn::Well, of_link)
}

fn of_error<E: std::error::Error + Into<field::Error>>(error: carry::Error<E>) -> Turn {
    let gave_way = error.gave_way();
    match error {
        carry::Error::Link(error) => of_link(&error),
        carry::Error::Exchange(error) => {
            Turn::Failed { gave_way, asked: None, message: Box::new(field::Error::Exchange(error).message()) }
        }
        carry::Error::Ledger(error) => failed(error.into().message()),
    }
}

pub(super) fn of_link(error: &LinkError) -> Turn {
    let asked = match error {
        LinkError::Stopped => return Turn::Stopped,
        LinkError::Refused { wait: Some(seconds), .. } => Some(Duration::from_secs(u64::from(*seconds))),
        _ => None,
    };
    Turn::Failed { gave_way: error.gave_way(), asked, message: Box::new(told(error)) }
}

pub(super) fn failed(message: Message) -> Turn {
    Turn::Failed { gave_way: false, asked: None, message: Box::new(message) }
}

/// The carrier's own sentences say what to do next.
pub(super) fn told(error: &LinkError) -> Message {
    said(error.code(), &error.to_string())
}

pub(super) fn said(code: &str, text: &str) -> Message {
    Message {
        code: code.to_owned(),
        grade: Grade::Warning,
        text: text.to_owned(),
        remedy: String::new(),
        reason: None,
    }
}
