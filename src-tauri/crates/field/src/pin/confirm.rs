//! Confirming who signs, on the last step of a visit.

use bodies::{Confirmed, Technician};
use domain::visit::{Answered, Doubt, Draft, Finished, Remark, Said, Step};

use crate::show;
use crate::view::{Confirming, PinAsked, SigningView};
use crate::{Error, Phone};

impl Phone {
    /// Returns what the last step shows of who signs; none on the other steps, and where nobody said who works here.
    pub(crate) fn signing_on(&self, draft: &Draft) -> Result<Option<SigningView>, Error> {
        if draft.step != Step::Sign {
            return Ok(None);
        }
        let technician = self.technician()?;
        if technician.is_empty() {
            return Ok(None);
        }
        let Some(mut kept) = self.kept_pin()? else {
            let says = "No PIN is set: the record will say that nobody confirmed who signed.".to_owned();
            return Ok(Some(SigningView { technician, says, pin: None }));
        };
        let wait = self.pin_wait(&mut kept)?.map(|seconds| Error::PinWaits { seconds }.message());
        let asked = PinAsked { wait, without: show::with_reason(draft, &unconfirmed()) };
        let says = "The PIN is asked for, and the record will say that it was typed.".to_owned();
        Ok(Some(SigningView { technician, says, pin: Some(asked) }))
    }

    /// Confirms who signs a visit. Where it is gone without the PIN, the visit warns of it with the reason; where it is not,
    /// a reason that was begun is left out.
    ///
    /// # Errors
    ///
    /// [`Error::NoTechnician`]; [`Error::PinAsked`] where a PIN is set and none was typed, [`Error::NoReason`] where it is
    /// gone without and no reason is given; [`Error::NoPin`], [`Error::NotAPin`], [`Error::WrongPin`], [`Error::PinWaits`]
    /// for what was typed.
    pub(crate) fn confirm(&self, how: &Confirming, finished: &mut Finished) -> Result<Technician, Error> {
        let technician = self.signatory()?;
        let spot = unconfirmed().reason_spot();
        let is_reason = |answer: &Answered| Some(answer.spot) == spot;
        let confirmed = match (self.kept_pin()?, how) {
            (None, Confirming::Pin { .. }) => return Err(Error::NoPin),
            (None, Confirming::Nothing | Confirming::Without) => Confirmed::None,
            (Some(_), Confirming::Nothing) => return Err(Error::PinAsked),
            (Some(_), Confirming::Without) => {
                let reason = finished.answers.iter().find(|answer| is_reason(answer));
                let warning = without(reason.map_or("", |answer| answer.text.trim()))?;
                finished.warnings.push(warning);
                return Ok(technician);
            }
            (Some(kept), Confirming::Pin { pin }) => {
                self.try_pin(kept, pin)?;
                Confirmed::Pin
            }
        };
        finished.answers.retain(|answer| !is_reason(answer));
        Ok(Technician { confirmed, ..technician })
    }
}

/// What is said before a visit is signed without the PIN.
fn unconfirmed() -> Remark {
    Remark::doubt(
        Doubt::NotConfirmed,
        "Without the PIN the record will say that nobody confirmed who signed.",
        "Say why: the reason stands on the record.",
    )
}

/// What the record warns of.
fn without(reason: &str) -> Result<Said, Error> {
    if reason.is_empty() {
        return Err(Error::NoReason);
    }
    let text = format!("Signed without the technician's PIN. The reason given: {reason}");
    Ok(Said { code: Doubt::NotConfirmed.code().to_owned(), text })
}
