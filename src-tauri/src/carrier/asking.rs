//! Enrolling: the hub's code goes to the hub, and later on the hub is asked whether it was confirmed.

use carry::Cancel;
use carry::http::{Address, Asking, Chain, Client, EnrolError, Pins, ask as say_code, enrolled, meet};
use field::view::{EnrolView, Message};
use field::{Awaited, Met, Phone};
use record::Strict;
use tokio::runtime::Handle;

use super::carrying::{failed, of_link, said};
use super::turns::{Turn, With};

/// Meets the hub of a code, and says the code to it if the organisation certified it. It blocks.
pub(crate) fn enrol(phone: &Phone, text: &str, runtime: &Handle) -> Result<EnrolView, Message> {
    let invited = phone.enrol_begin(text).map_err(|error| error.message())?;
    let address =
        Address::read(&invited.address).ok_or(EnrolError::NoAddress).map_err(|error| worded(&error))?;
    let met = met(&invited, address, runtime).map_err(|error| worded(&error))?;
    phone.enrol_asked(&invited, &met).map_err(|error| error.message())
}

fn met(invited: &field::Invited, address: Address, runtime: &Handle) -> Result<Met, EnrolError> {
    let cancel = Cancel::default();
    let hub = meet(address.clone(), invited.organisation, &Strict, runtime.clone(), cancel.clone())?;
    let client = Client::new(address, Pins::Only(hub.pins.clone()), runtime.clone(), cancel)?;
    let asking =
        Asking { code: &invited.code, key: &invited.key, label: &invited.label, proof: &invited.proof };
    say_code(&client, asking)?;
    Ok(Met { hub: hub.hub, pins: hub.pins.into_iter().collect() })
}

/// Asks whether this phone was confirmed, if it waits for that.
pub(super) fn ask(with: &With, cancel: &Cancel) -> Turn {
    let asked = with.phone.with(|phone| {
        let Some(awaited) = phone.enrol_awaited()? else { return Ok(Turn::Nowhere) };
        Ok(match confirmed(&awaited, &with.runtime, cancel) {
            Ok(None) => Turn::Unconfirmed,
            Ok(Some(chain)) => {
                phone.enrol_confirmed(&chain.keys, &chain.entries)?;
                Turn::Nowhere
            }
            Err(EnrolError::CodeSpent) => {
                phone.enrol_give_up()?;
                let text = "The hub does not wait for this phone any more: it was sent away, or the hub began anew. \
                            Scan a new code.";
                failed(said("enrol.sent_away", text))
            }
            Err(EnrolError::Link(error)) => of_link(&error),
            Err(error) => failed(worded(&error)),
        })
    });
    asked.unwrap_or_else(|error| failed(error.message()))
}

fn confirmed(awaited: &Awaited, runtime: &Handle, cancel: &Cancel) -> Result<Option<Chain>, EnrolError> {
    let address = Address::read(&awaited.address).ok_or(EnrolError::NoAddress)?;
    let pins = Pins::Only(awaited.met.pins.iter().copied().collect());
    enrolled(&Client::new(address, pins, runtime.clone(), cancel.clone())?, awaited.log)
}

fn worded(error: &EnrolError) -> Message {
    said(error.code(), &error.to_string())
}
